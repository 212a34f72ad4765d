package recipe

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// Decode reads a recipe file that is already in memory. It gives everything that
// is wrong with it at once, in the order of the file; the recipe is nil if
// anything is. file is the name used in findings; its last part without .toml
// becomes the slug, and has to be fit for one. Data over [MaxSize] is refused. Decode never panics.
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
	if w.full() {
		return append(w.findings[:maxFindings:maxFindings], Finding{File: w.src.file,
			What: fmt.Sprintf("more than %d findings; the rest is not shown", maxFindings), Cure: "mend these first, then check again"})
	}
	return w.findings
}

// notText finds what is no text file at all: too large, binary, wrongly encoded.
func notText(file string, data []byte) (Finding, bool) {
	f := Finding{File: file, Cure: "save the recipe as plain text in UTF-8"}
	switch {
	case len(data) > MaxSize:
		return tooLarge(file), true
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		f.What = "the file is saved as UTF-16, not UTF-8"
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		f.What = "the file begins with a byte order mark"
		f.Cure = "save it as UTF-8 without a byte order mark (BOM)"
	case bytes.IndexByte(data, 0) >= 0:
		f.What = "this is not a text file: it holds a NUL byte"
		f.Line, f.Column = newSource(file, data).at(bytes.IndexByte(data, 0))
	case !utf8.Valid(data):
		i := 0
		for rest := data; ; {
			r, size := utf8.DecodeRune(rest)
			if r == utf8.RuneError && size <= 1 {
				break
			}
			rest, i = rest[size:], i+size
		}
		f.What = "this is not UTF-8 text: a byte here belongs to no character"
		f.Line, f.Column = newSource(file, data).at(i)
	default:
		return f, false
	}
	return f, true
}

// syntaxFinding turns an error of the decoder into a finding. The decoder's own
// column counts bytes and its line is not always set, so its offset is used.
func syntaxFinding(src *source, err error) Finding {
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		return Finding{File: src.file, What: "not valid TOML: " + plain(err.Error()), Cure: "compare with the output of hepar recipe new"}
	}
	from := min(pe.Position.Start, len(src.data))
	f := src.finding(from, lineEnd(src.data, from), "not valid TOML: "+plain(pe.Message), syntaxCure(pe.Message))
	f.Text = src.text(lineStart(src.data, from), lineEnd(src.data, from))
	return f
}

// syntaxCure says what usually helps against a syntax error.
func syntaxCure(message string) string {
	m := strings.ToLower(message)
	switch {
	case strings.Contains(m, "already"):
		return "a key or table may stand only once; take one of the two away (a further step begins with [[step]])"
	case strings.Contains(m, "escape"):
		return `write a backslash twice (\\), or put the text between single quotes`
	case strings.Contains(m, "array"):
		return "close the list with ] and put a comma between its entries"
	case strings.Contains(m, "inline table"):
		return "close the braces with } and put a comma between the entries"
	}
	return `write key = "text", key = 3 or a [table] line; text and quantities stand in quotes`
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
