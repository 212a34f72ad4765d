package recipe

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe/strict"
)

// stepRule says which keys a step may have and which it must have.
type stepRule struct {
	may, must []string
}

// doings lists the steps in the order in which they usually come.
func doings() []string {
	return []string{"degrease", "matte", "heat", "pickle", "rinse", "dip", "coat", "neutralise", "dry", "relieve", "seal", "inspect", "wait"}
}

// ruleFor returns what a step may and must have. Every step may have how, note, in,
// tools and warns_of.
func ruleFor(do string) (stepRule, bool) {
	rule, ok := ruleOf(do)
	rule.may = append(rule.may, "how", "note", "in", "tools", "warns_of")
	return rule, ok
}

func ruleOf(do string) (stepRule, bool) {
	switch do {
	case "degrease":
		return stepRule{may: []string{"with", "concentration", "water", "time"}}, true
	case "dip", "coat":
		return stepRule{}, true
	case "matte":
		return stepRule{may: []string{"with"}}, true
	case "pickle", "neutralise":
		return stepRule{may: []string{"with", "concentration", "water", "time"}, must: []string{"with"}}, true
	case "rinse":
		return stepRule{may: []string{"baths", "running", "water", "time"}}, true
	case "dry":
		return stepRule{may: []string{"with", "time"}}, true
	case "heat":
		return stepRule{may: []string{"with", "time"}, must: []string{"how"}}, true
	case "relieve", "inspect", "seal":
		return stepRule{may: []string{"with"}, must: []string{"how"}}, true
	case "wait":
		return stepRule{may: []string{"with", "time"}, must: []string{"time"}}, true
	}
	return stepRule{}, false
}

// stepKeys are all the keys any step has besides do.
func stepKeys() []string {
	return []string{"with", "concentration", "water", "time", "baths", "running", "how", "note", "in", "tools", "warns_of"}
}

func (t table) steps(kind Kind) []Step {
	tables := t.subs("step", "[[step]]")
	var steps []Step
	var placed []table
	for _, s := range tables {
		if t.Full() {
			break
		}
		steps, placed = append(steps, s.step()), append(placed, s)
	}
	if len(tables) > 0 && !t.Full() {
		t.count(kind, steps, placed)
	}
	return steps
}

func (t table) step() Step {
	s := Step{Do: t.doing(), Line: t.Line(), Baths: 1}
	rule, known := ruleFor(s.Do)
	if !known { // without knowing the step, only its spelling can be checked
		t.Only(append([]string{"do"}, stepKeys()...)...)
		return s
	}
	allowed := append([]string{"do"}, rule.may...)
	t.onlyFor(s.Do, allowed)
	for _, key := range rule.must {
		if !t.Has(key) {
			t.Missing(key, fmt.Sprintf("a step %s needs %s", s.Do, key))
		}
	}
	read := func(key string) bool { return t.Has(key) && slices.Contains(rule.may, key) }
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

func (t table) doing() string {
	cure := "write one of: " + strings.Join(doings(), ", ")
	if !t.Has("do") {
		t.Missing("do", cure)
		return ""
	}
	do := t.Text("do", 40, true, cure)
	if do == "" {
		return ""
	}
	if _, ok := ruleFor(do); !ok {
		t.AtValue(t.Place("do"), didYouMean(do, doings())+cure, "unknown step %s", strict.Excerpt(do))
	}
	return do
}

// onlyFor tells keys that no step has from those that other steps have.
func (t table) onlyFor(do string, allowed []string) {
	var elsewhere []string
	for _, key := range stepKeys() {
		if t.Has(key) && !slices.Contains(allowed, key) {
			elsewhere = append(elsewhere, key)
			t.AtKey(t.Place(key), fmt.Sprintf("remove it, or put it under note; a step %s may have: %s", do, strings.Join(allowed[1:], ", ")),
				"a step %s has no %s", do, key)
		}
	}
	t.Only(append(slices.Clone(allowed), elsewhere...)...)
}

// count sees to it that the piece goes into the bath once, or is coated once.
func (t table) count(kind Kind, steps []Step, at []table) {
	var dips, coats int
	for i, s := range steps {
		switch s.Do {
		case "dip":
			dips++
			switch {
			case kind == Brushed || kind == Sprayed:
				at[i].AtValue(at[i].Place("do"), `write do = "coat"`, "a %s recipe is coated, not dipped", kind)
			case dips > 1:
				at[i].AtValue(at[i].Place("do"), "keep one step dip; how often a piece goes in is dips under [dip]", "more than one step dip")
			}
		case "coat":
			coats++
			switch {
			case kind == Immersed || kind == Pickle || kind == Stop:
				at[i].AtValue(at[i].Place("do"), `write do = "dip"`, "a recipe of kind %s is dipped, not coated", kind)
			case coats > 1:
				at[i].AtValue(at[i].Place("do"), "keep one step coat; how many coats is number under [coats]", "more than one step coat")
			}
		}
	}
	where := t.Place("step")
	if kind == Immersed && dips == 0 {
		t.AtKey(where, `add [[step]] with do = "dip" where the pieces go into the bath`, "an immersed recipe has no step dip")
	}
	if (kind == Brushed || kind == Sprayed) && coats == 0 {
		t.AtKey(where, `add [[step]] with do = "coat" where the liquid goes on`, "a %s recipe has no step coat", kind)
	}
}
