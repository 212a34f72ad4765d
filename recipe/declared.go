package recipe

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

// mostTools is the most tools that one step names.
const mostTools = 8

// tools reads the names of the tools of a step.
func (t table) tools() []string {
	tools, where := t.List("tools", 60, false, true, `write tools = ["tongs", "basket"]`)
	if len(tools) > mostTools {
		t.AtValue(where[mostTools], "name the ones that touch the liquid", "tools has more than %d entries", mostTools)
		return nil
	}
	return tools
}

// warnsOf reads what the texts of a table only warn of, by any name, and returns the
// ids and group words.
func (t table) warnsOf() []string {
	names, where := t.List("warns_of", 60, false, true, `write warns_of = ["vinegar"]`)
	var ids []string
	for i, name := range names {
		id, err := reagent.Called(name)
		switch {
		case err != nil:
			t.AtValue(where[i], fault.CureOf(err), "warns_of: %s", err.Error())
		case slices.Contains(ids, id):
			t.AtValue(where[i], "name it once", "warns_of names %s twice", strict.Excerpt(id))
		default:
			ids = append(ids, id)
		}
	}
	t.warned = append(t.warned, ids...)
	return ids
}

// scope is what one warns_of speaks for: the texts of a step, a reagent, a step of
// mixing, [hazards]; or, at the head of the file, all others.
type scope struct {
	warned []string
	texts  []text
	all    *[]*scope // every scope of the file but the first
}

// text is one text of the file and where it stands.
type text struct {
	in    table
	key   string
	at    *strict.Place
	words string
}

// within begins the scope of another warns_of.
func (s *scope) within() *scope {
	in := &scope{all: s.all}
	*s.all = append(*s.all, in)
	return in
}

// words reads a text for people, as [strict.Table.Text] does.
func (t table) words(key string, most int, required bool, cure string) string {
	s := t.Text(key, most, required, cure)
	t.texts = append(t.texts, text{t, key, t.Place(key), s})
	return s
}

// wordList reads a list of texts for people, as [strict.Table.List] does.
func (t table) wordList(key string, most int, required, empty bool, cure string) []string {
	list, where := t.List(key, most, required, empty, cure)
	for i, s := range list {
		t.texts = append(t.texts, text{t, key, where[i], s})
	}
	return list
}

// declared notes every substance that a text names and that the recipe neither uses nor
// warns of in the table of the text, and every word that looks like a slip of a name. It
// reads names only, never sentences: "no vinegar" names vinegar.
func (t table) declared(r *Recipe) {
	var used []string
	for _, g := range r.Bath.Reagents {
		used = append(used, g.Substance)
	}
	for _, s := range r.Steps {
		used = append(used, s.With)
		for _, m := range reagent.Named(strings.Join(append(s.Tools, s.In), ", ")) {
			if reagent.Group(m.ID) == reagent.LightMetal {
				used = append(used, m.ID)
			}
		}
	}
	for _, s := range append(*t.all, t.scope) {
		told := slices.Concat(used, s.warned)
		for _, x := range s.texts {
			for _, m := range reagent.Named(x.words) {
				if t.Full() {
					return
				}
				if reagent.Inert(m.ID) || slices.ContainsFunc(told, func(id string) bool { return reagent.Covers(id, m) }) {
					continue
				}
				told = append(told, m.ID) // once for each table
				x.undeclared(m)
			}
			for _, m := range reagent.Misspelt(x.words) {
				x.in.AtText(x.at, m.Name, m.Offset, "write "+m.Near+", or another word", "%s: %s is no name of a substance: do you mean %s?", x.key, strict.Excerpt(m.Name), m.Near)
			}
		}
	}
}

// undeclared notes one name, and both ways to declare it.
func (x text) undeclared(m reagent.Match) {
	name := strict.Excerpt(m.Name)
	use, banned := fmt.Sprintf("add with = %q", m.ID), false
	what := name
	if s, err := reagent.Find(m.ID); err != nil {
		what, use = name+", any of the group "+m.ID, "add with and the substance that is meant"
	} else {
		banned = s.Banned != ""
		if !strings.EqualFold(name, s.ID) {
			what = fmt.Sprintf("%s (%s)", name, s.ID)
		}
	}
	switch do := x.in.Written("do"); {
	case reagent.Group(m.ID) == reagent.LightMetal:
		what, use = name, fmt.Sprintf("add in or tools = [%q] to the step that uses it", strings.ToLower(name)+" pan")
	case do == "":
		use += " to the step that uses it, or a [[bath.reagent]]"
	case do == "dip", do == "coat":
		use = "add a [[bath.reagent]] for it if it is in the bath"
	case do == "rinse":
		use += " to a step of its own that uses it"
	default:
		use += " if this step uses it"
	}
	cure := fmt.Sprintf("add warns_of = [%q] %s if the text only warns of it", strings.ToLower(name), x.home())
	if !banned {
		cure = use + "; or " + cure
	}
	x.in.AtText(x.at, m.Name, m.Offset, cure, "%s names %s, which is not declared", x.key, what)
}

// home says where the warns_of of a text stands.
func (x text) home() string {
	switch x.key {
	case "how", "note":
		return "beside it"
	case "ventilation", "ppe", "disposal", "notes":
		return "under [hazards]"
	}
	return "at the head of the file"
}
