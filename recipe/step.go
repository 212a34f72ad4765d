package recipe

import (
	"fmt"
	"slices"
	"strings"
)

// stepRule has the keys that a step may have besides [always], and those that it must have.
type stepRule struct{ do, may, must string }

var always = []string{"how", "note", "in", "tools", "warns_of"}

// stepRules are the steps, in the order in which they usually come.
var stepRules = []stepRule{
	{"degrease", "with concentration water time", ""},
	{"matte", "with", ""},
	{"heat", "with time", "how"},
	{"pickle", "with concentration water time", "with"},
	{"rinse", "baths running water time", ""},
	{"dip", "", ""},
	{"coat", "", ""},
	{"neutralise", "with concentration water time", "with"},
	{"dry", "with time", ""},
	{"relieve", "with", "how"},
	{"seal", "with", "how"},
	{"inspect", "with", "how"},
	{"wait", "with time", "time"},
}

func (t table) steps(kind Kind) []Step {
	var steps []Step
	var placed []table
	for _, s := range t.subs("step", "[[step]]") {
		steps, placed = append(steps, s.step()), append(placed, s)
	}
	if len(steps) > 0 {
		t.count(kind, steps, placed)
	}
	return steps
}

func (t table) step() Step {
	var doings []string
	for _, r := range stepRules {
		doings = append(doings, r.do)
	}
	s := Step{Do: t.choice("do", doings, "unknown step %s"), Line: t.LineOf("")}
	all := append([]string{"with", "concentration", "water", "time", "baths", "running"}, always...)
	at := slices.Index(doings, s.Do)
	if at < 0 { // without knowing the step, only its spelling can be checked
		t.Only(append(all, "do")...)
		return s
	}
	may := append(strings.Fields(stepRules[at].may), always...)
	var elsewhere []string // keys that other steps have
	for _, key := range all {
		if t.Has(key) && !slices.Contains(may, key) {
			elsewhere = append(elsewhere, key)
			t.AtKey(t.Place(key), fmt.Sprintf("remove it, or put it under note; it may have: %s", strings.Join(may, ", ")),
				"a %s step cannot have %s", s.Do, key)
		}
	}
	t.Only(slices.Concat([]string{"do"}, may, elsewhere)...)
	if key := stepRules[at].must; key != "" && !t.Has(key) {
		t.Missing(key, fmt.Sprintf("a step %s needs %s", s.Do, key))
	}
	s.How = t.words("how", 400, false, `write how = "..." in words`)
	s.Note = t.words("note", 400, false, `write note = "..." in words`)
	s.In = t.Text("in", 60, false, `write the name of the vessel, for instance in = "stop pot"`)
	s.Tools = t.tools()
	s.WarnsOf = t.warnsOf()
	s.With = t.substance("with", false)
	if t.Has("concentration") && !t.Has("with") {
		t.AtKey(t.Place("concentration"), "name the substance: with = \"...\"", "this step has a concentration and names no substance")
	}
	s.Concentration = t.concentration(s.With, "", "")
	s.Water, s.HasWater = t.celsius("water", "")
	s.Time, _ = t.seconds("time", "")
	s.Baths = t.Whole("baths", 1, 5, 1, false)
	s.Running = t.Flag("running")
	return s
}

func (t table) count(kind Kind, steps []Step, at []table) {
	do, other, where := "dip", "coat", "where the pieces go into the bath; how often a piece goes in is dips under [dip]"
	if kind.Coated() {
		do, other, where = other, do, "where the liquid goes on; how many coats is number under [coats]"
	}
	n := 0
	for i, s := range steps {
		switch place := at[i].Place("do"); {
		case s.Do == other && kind != "":
			t.AtValue(place, fmt.Sprintf("write do = %q", do), "a recipe of kind %s has no step %s", kind, other)
		case s.Do == do:
			if n++; n > 1 {
				t.AtValue(place, fmt.Sprintf("keep one step %s, %s", do, where), "more than one step %s", do)
			}
		}
	}
	if n == 0 && (kind == Immersed || kind.Coated()) {
		t.AtKey(t.Place("step"), fmt.Sprintf("add [[step]] with do = %q %s", do, where), "a recipe of kind %s needs a step %s", kind, do)
	}
}
