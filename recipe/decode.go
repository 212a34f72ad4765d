package recipe

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// Decode reads a recipe file that is already in memory. It gives everything that
// is wrong with it at once, in the order of the file; the recipe is nil if
// anything is. file is the name used in findings; its last part without .toml
// becomes the slug, and has to be fit for one. Data over [MaxSize] is refused. Decode
// never panics.
func Decode(file string, data []byte) (r *Recipe, findings []Finding) {
	defer func() {
		// The last guard: no fault in a library may take the bench down.
		if trouble := recover(); trouble != nil {
			r, findings = nil, []Finding{{File: file, What: fmt.Sprintf("could not be read: %v", trouble),
				Cure: "compare the file with the output of hepar recipe new"}}
		}
	}()
	if f, bad := notText(file, data); bad {
		return nil, []Finding{f}
	}
	src := newSource(file, data)
	root, faults := locate(src)
	if len(faults) > 0 {
		return nil, faults
	}
	content := map[string]any{}
	if _, err := toml.Decode(string(data), &content); err != nil {
		return nil, []Finding{syntaxFinding(src, err)}
	}
	w := &walk{src: src}
	slug, named := strings.CutSuffix(filepath.Base(file), ".toml")
	if named && !ValidSlug(slug) {
		w.add(badName(file))
	}
	r = w.recipe(content, root)
	if len(w.findings) > 0 {
		return nil, w.sorted()
	}
	// Last, because the second parser takes half a minute for a million bytes
	// of keys; what has come this far has few.
	if f, differ := disagreement(src); differ {
		return nil, []Finding{f}
	}
	r.Slug = slug
	r.File, r.Text = file, string(data)
	r.Digest = Digest(r)
	return r, nil
}

// sorted gives the findings in the order of the file.
func (w *walk) sorted() []Finding {
	slices.SortStableFunc(w.findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	if !w.full() {
		return w.findings
	}
	kept := w.findings[:maxFindings:maxFindings]
	for _, f := range w.findings[maxFindings:] {
		if f.Refused { // never lost in a crowd
			kept = append(kept, f)
		}
	}
	return append(kept, Finding{File: w.src.file, What: fmt.Sprintf("more than %d findings; the rest is not shown", maxFindings),
		Cure: "mend these first, then check again"})
}

// recipe reads the whole content.
func (w *walk) recipe(content map[string]any, root *place) *Recipe {
	t := table{w, "the recipe", content, root}
	t.only("title", "revision", "kind", "alloys", "look", "source", "plated", "bath", "dip", "coats", "step", "hazards")
	r := &Recipe{
		Title:    t.text("title", 80, true, `write title = "what the finish is, on what metal"`),
		Revision: t.whole("revision", 1, 9999, 0, true),
		Kind:     t.kind(),
		Alloys:   t.alloys(),
		Look:     t.text("look", 200, true, `write look = "what it looks like when it is right"`),
		Source:   t.text("source", 300, true, `name the published work, or write source = "common practice, no published source"`),
		Plated:   t.flag("plated"),
	}
	r.Bath = t.bath(r.Kind)
	r.Dip = t.dip(r.Kind)
	r.Coats = t.coats(r.Kind)
	r.Steps = t.steps(r.Kind)
	r.Hazards = t.hazards()
	return r
}
