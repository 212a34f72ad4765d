package recipe

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"

	"hepar/recipe/strict"
)

// Finding is one thing wrong in a recipe file.
type Finding = strict.Finding

// Findings is what is wrong with one recipe, as an error, see [Library.Get].
type Findings = strict.Findings

// FindingsOf returns the findings inside an error, or nil.
func FindingsOf(err error) []Finding {
	f, _ := errors.AsType[Findings](err)
	return f
}

// table is one table of the file, with what only a recipe has in it.
type table struct {
	strict.Table
	warned *[]string // what the warns_of says that speaks for the texts of this table
	texts  *[]text   // of the file
}

// text is one text of the file and where it stands.
type text struct {
	in    table
	key   string
	at    *strict.Place
	words string
}

func (t table) sub(key, name string) (table, bool) {
	in, ok := t.Sub(key, name)
	return table{in, t.warned, t.texts}, ok
}

// within is the table with a warns_of of its own.
func (t table) within() table { return table{t.Table, new([]string), t.texts} }

// subs opens the tables of a list, each with a warns_of of its own.
func (t table) subs(key, name string) []table {
	var tables []table
	for _, in := range t.Subs(key, name) {
		tables = append(tables, table{in, nil, t.texts}.within())
	}
	return tables
}

var file = strict.Kind{Name: "recipe", Sample: "hepar recipe new", Missing: "check the name; hepar recipe new NAME makes a file to fill in",
	Further: "begin another step with [[step]]"}

// Read reads and decodes one recipe file; one over [strict.MaxSize] bytes returns a finding. The
// error means that the file cannot be read: it is missing, a directory, a device or a pipe.
func Read(path string) (*Recipe, []Finding, error) {
	data, err := file.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	r, findings := Decode(path, data)
	return r, findings, nil
}

// Decode reads a recipe file in memory and returns everything that is wrong with it, in the
// order of the file; the recipe is nil if anything is. name is that in the findings; its
// last part without .toml becomes the slug and must be a valid one. Decode never panics.
func Decode(name string, data []byte) (*Recipe, []Finding) { return decode(name, data, true) }

func decode(name string, data []byte, texts bool) (*Recipe, []Finding) {
	slug, named := strings.CutSuffix(filepath.Base(name), ".toml")
	var r *Recipe
	findings := file.Decode(name, data, func(root strict.Table) {
		if named && !ValidSlug(slug) {
			root.Add(badName(name))
		}
		r = table{root, new([]string), new([]text)}.recipe(texts)
	})
	if len(findings) > 0 || r == nil {
		return nil, findings
	}
	r.Slug, r.File, r.Text = slug, name, string(data)
	r.Digest = Digest(r)
	return r, nil
}

// recipe reads the whole content. With texts, every substance that a text names must be
// declared; a test holds that the built-in recipes do so.
func (t table) recipe(texts bool) *Recipe {
	t.Only("title", "revision", "kind", "alloys", "look", "source", "warns_of", "plated", "bath", "dip", "coats", "step", "hazards")
	r := &Recipe{
		Title:    t.words("title", 80, true, `write title = "the finish and the metal"`),
		Revision: t.Whole("revision", 1, 9999, 0, true),
		Kind:     Kind(t.choice("kind", kinds, "unknown kind %s")),
		Alloys:   t.alloys(),
		Look:     t.words("look", 200, true, `write look = "what it looks like when it is right"`),
		Source:   t.words("source", 300, true, `name the published work, or write source = "common practice, no published source"`),
		WarnsOf:  t.warnsOf(),
		Plated:   t.Flag("plated"),
	}
	r.Bath = t.bath(r.Kind)
	r.Dip = t.dip(r.Kind)
	r.Coats = t.coats(r.Kind)
	r.Steps = t.steps(r.Kind)
	r.Hazards = t.hazards()
	for _, x := range *t.texts {
		if !slices.Contains([]string{"source", "max_load_reason", "window_source"}, x.key) {
			r.texts = append(r.texts, Said{x.key, x.words, x.in.LineOf(x.key)})
		}
	}
	if texts {
		t.declared(r)
	}
	return r
}
