package recipe

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

const mostTools = 8

func (t table) tools() []string {
	tools, where := t.List("tools", 60, false, true, `write tools = ["tongs", "basket"]`)
	if len(tools) > mostTools {
		t.AtValue(where[mostTools], "name the ones that touch the liquid", "tools has more than %d entries", mostTools)
	}
	return tools
}

// names reads a list of names, and returns what each one means, once.
func (t table) names(key string, required bool, cure string, meaning func(string) (string, error)) (ids []string) {
	names, where := t.List(key, 60, required, !required, cure)
	for i, name := range names {
		id, err := meaning(name)
		switch {
		case err != nil:
			t.AtValue(where[i], fault.CureOf(err), "%s: %s", key, err.Error())
		case slices.Contains(ids, id):
			t.AtValue(where[i], "name it once", "%s names %s twice", key, strict.Excerpt(id))
		default:
			ids = append(ids, id)
		}
	}
	return ids
}

// warnsOf reads what the texts of a table only warn of, and returns the ids and group words.
func (t table) warnsOf() []string {
	ids := t.names("warns_of", false, `write warns_of = ["vinegar"]`, reagent.Called)
	*t.warned = append(*t.warned, ids...)
	return ids
}

// words reads a text for people, as [strict.Table.Text] does.
func (t table) words(key string, most int, required bool, cure string) string {
	s := t.Text(key, most, required, cure)
	*t.texts = append(*t.texts, text{t, key, t.Place(key), s})
	return s
}

// wordList reads a list of texts for people, as [strict.Table.List] does.
func (t table) wordList(key string, most int, required bool, cure string) []string {
	list, where := t.List(key, most, required, !required, cure)
	for i, s := range list {
		*t.texts = append(*t.texts, text{t, key, where[i], s})
	}
	return list
}

// declared notes every substance that a text names and that the recipe neither uses nor warns
// of in the table of the text, and every slip of a name. "no vinegar" names vinegar.
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
	for _, x := range *t.texts {
		told := x.in.warned
		for _, m := range reagent.Named(x.words) {
			covers := func(id string) bool { return reagent.Covers(id, m) }
			switch {
			case t.Count() >= strict.MaxFindings:
				return
			case !reagent.Inert(m.ID) && !slices.ContainsFunc(used, covers) && !slices.ContainsFunc(*told, covers):
				*told = append(*told, m.ID) // once for each table
				x.undeclared(m, told == t.warned)
			}
		}
		for _, m := range reagent.Misspelt(x.words) {
			x.in.AtText(x.at, m.Name, m.Offset, "write "+m.Near+", or another word", "%s: %s is not the name of a substance: do you mean %s?", x.key, strict.Excerpt(m.Name), m.Near)
		}
	}
}

// undeclared notes a name, and how to declare it; head: in the warns_of at the head of the
// file.
func (x text) undeclared(m reagent.Match, head bool) {
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
	where := "beside it"
	if head {
		where = "at the head of the file"
	}
	cure := fmt.Sprintf("add warns_of = [%q] %s if the text only warns of it", strings.ToLower(name), where)
	if !banned {
		cure = use + "; or " + cure
	}
	x.in.AtText(x.at, m.Name, m.Offset, cure, "%s names %s, which is not declared", x.key, what)
}
