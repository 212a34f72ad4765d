package recipe

import (
	"fmt"
	"slices"
	"strings"
)

// stepRule has the keys that a step may have besides [always], and those that it must have.
type stepRule struct{ do, may, must string }

// always are the keys that every step may have.
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

// stepKeys are all the keys any step has besides do.
func stepKeys() []string {
	return append([]string{"with", "concentration", "water", "time", "baths", "running"}, always...)
}

func (t table) steps(kind Kind) []Step {
	tables := t.subs("step", "[[step]]")
	var steps []Step
	var placed []table
	for _, s := range tables {
		steps, placed = append(steps, s.step()), append(placed, s)
	}
	if len(tables) > 0 {
		t.count(kind, steps, placed)
	}
	return steps
}

func (t table) step() Step {
	var doings []string
	for _, r := range stepRules {
		doings = append(doings, r.do)
	}
	s := Step{Do: t.choice("do", doings, "unknown step %s"), Line: t.Line(), Baths: 1}
	at := slices.IndexFunc(stepRules, func(r stepRule) bool { return r.do == s.Do })
	if at < 0 { // without knowing the step, only its spelling can be checked
		t.Only(append([]string{"do"}, stepKeys()...)...)
		return s
	}
	may := append(strings.Fields(stepRules[at].may), always...)
	t.onlyFor(s.Do, may)
	if key := stepRules[at].must; key != "" && !t.Has(key) {
		t.Missing(key, fmt.Sprintf("a step %s needs %s", s.Do, key))
	}
	read := func(key string) bool { return t.Has(key) && slices.Contains(may, key) }
	s.How = t.words("how", 400, false, `write how = "..." in words`)
	s.Note = t.words("note", 400, false, `write note = "..." in words`)
	s.In = t.Text("in", 60, false, `write the name of the vessel, for instance in = "stop pot"`)
	s.Tools = t.tools()
	s.WarnsOf = t.warnsOf()
	if read("with") {
		s.With = t.substance("with")
	}
	if read("concentration") {
		if !t.Has("with") {
			t.AtKey(t.Place("concentration"), "name the substance: with = \"...\"", "concentration of what? this step has no with")
		}
		s.Concentration = t.concentration(s.With, "")
	}
	if read("water") {
		s.Water, s.HasWater = t.celsius("water")
	}
	if read("time") {
		s.Time, _ = t.seconds("time")
	}
	if read("baths") {
		s.Baths = t.Whole("baths", 1, 5, 1, false)
	}
	if read("running") {
		s.Running = t.Flag("running")
	}
	return s
}

// onlyFor tells keys that no step has from those that other steps have.
func (t table) onlyFor(do string, may []string) {
	var elsewhere []string
	for _, key := range stepKeys() {
		if t.Has(key) && !slices.Contains(may, key) {
			elsewhere = append(elsewhere, key)
			t.AtKey(t.Place(key), fmt.Sprintf("remove it, or put it under note; a step %s may have: %s", do, strings.Join(may, ", ")),
				"a step %s has no %s", do, key)
		}
	}
	t.Only(slices.Concat([]string{"do"}, may, elsewhere)...)
}

// count sees to it that the piece goes into the bath once, or is coated once.
func (t table) count(kind Kind, steps []Step, at []table) {
	do, other := "dip", "coat"
	wrong, twice := "a recipe of kind %s is dipped, not coated", "how often a piece goes in is dips under [dip]"
	cure, lacks := "where the pieces go into the bath", "an %s recipe has no step dip"
	if kind == Brushed || kind == Sprayed {
		do, other = other, do
		wrong, twice = "a %s recipe is coated, not dipped", "how many coats is number under [coats]"
		cure, lacks = "where the liquid goes on", "a %s recipe has no step coat"
	}
	n := 0
	for i, s := range steps {
		switch place := at[i].Place("do"); {
		case s.Do == other && kind != "":
			t.AtValue(place, fmt.Sprintf("write do = %q", do), wrong, kind)
		case s.Do == do:
			if n++; n > 1 {
				t.AtValue(place, fmt.Sprintf("keep one step %s; %s", do, twice), "more than one step %s", do)
			}
		}
	}
	if n == 0 && (kind == Immersed || do == "coat") {
		t.AtKey(t.Place("step"), fmt.Sprintf("add [[step]] with do = %q %s", do, cure), lacks, kind)
	}
}
