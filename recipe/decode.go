package recipe

import (
	"path/filepath"
	"strings"

	"hepar/recipe/strict"
)

// table is one table of the file, with what only a recipe has in it.
type table struct{ strict.Table }

// sub opens the table under a key, as [strict.Table.Sub] does.
func (t table) sub(key, name string) (table, bool) {
	in, ok := t.Sub(key, name)
	return table{in}, ok
}

// subs opens the tables of a list, as [strict.Table.Subs] does.
func (t table) subs(key, name string) []table {
	var tables []table
	for _, in := range t.Subs(key, name) {
		tables = append(tables, table{in})
	}
	return tables
}

// fileKind is what a recipe file is called in messages.
func fileKind() strict.Kind {
	return strict.Kind{Name: "recipe", Sample: "hepar recipe new", Missing: "hepar recipe list names the recipes there are",
		Further: "a further step begins with [[step]]"}
}

// Decode reads a recipe file that is already in memory. It gives everything that
// is wrong with it at once, in the order of the file; the recipe is nil if
// anything is. file is the name used in findings; its last part without .toml
// becomes the slug, and has to be fit for one. Data over [MaxSize] is refused. Decode
// never panics.
func Decode(file string, data []byte) (*Recipe, []Finding) { return decode(fileKind(), file, data) }

func decode(kind strict.Kind, file string, data []byte) (*Recipe, []Finding) {
	slug, named := strings.CutSuffix(filepath.Base(file), ".toml")
	var r *Recipe
	findings := kind.Decode(file, data, func(root strict.Table) {
		if named && !ValidSlug(slug) {
			root.Add(badName(file))
		}
		r = table{root}.recipe()
	})
	if len(findings) > 0 || r == nil {
		return nil, findings
	}
	r.Slug = slug
	r.File, r.Text = file, string(data)
	r.Digest = Digest(r)
	return r, nil
}

// recipe reads the whole content.
func (t table) recipe() *Recipe {
	t.Only("title", "revision", "kind", "alloys", "look", "source", "plated", "bath", "dip", "coats", "step", "hazards")
	r := &Recipe{
		Title:    t.Text("title", 80, true, `write title = "what the finish is, on what metal"`),
		Revision: t.Whole("revision", 1, 9999, 0, true),
		Kind:     t.kind(),
		Alloys:   t.alloys(),
		Look:     t.Text("look", 200, true, `write look = "what it looks like when it is right"`),
		Source:   t.Text("source", 300, true, `name the published work, or write source = "common practice, no published source"`),
		Plated:   t.Flag("plated"),
	}
	r.Bath = t.bath(r.Kind)
	r.Dip = t.dip(r.Kind)
	r.Coats = t.coats(r.Kind)
	r.Steps = t.steps(r.Kind)
	r.Hazards = t.hazards()
	return r
}
