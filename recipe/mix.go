package recipe

import (
	"fmt"
	"math"
	"slices"

	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

// AddWater is what a [MixStep] adds when it adds no reagent.
const AddWater = "water"

// coldWater is the warmest water, in C, that may meet ammonia: above it the gas comes off at
// once. Common practice, no source.
const coldWater = 30

// Ammonia tells whether ammonia solution goes into the bath.
func (b Bath) Ammonia() bool {
	return slices.ContainsFunc(b.Reagents, func(r Reagent) bool { return r.Substance == "ammonia" })
}

// Mixing returns the order of the recipe, or, where it has none, the water first and then the
// reagents in their order. In a bath with ammonia that water is at 20 C and the ammonia comes
// last. The water of a step has no temperature where the bath decides.
func (b Bath) Mixing() []MixStep {
	if len(b.Mix) > 0 {
		return b.Mix
	}
	steps := []MixStep{{Add: AddWater, Part: 1}}
	var last []MixStep
	for _, r := range b.Reagents {
		if r.Substance == "ammonia" {
			steps[0].Water, steps[0].HasWater = 20, true
			last = append(last, MixStep{Add: r.Substance, Part: 1, How: "under the hood, slowly"})
			continue
		}
		steps = append(steps, MixStep{Add: r.Substance, Part: 1, How: "little by little, stirring"})
	}
	return append(steps, last...)
}

// mix reads [[bath.mix]], which adds each thing of the bath in full, and nothing else.
func (t table) mix(bath Bath) []MixStep {
	if !t.Has("mix") {
		return nil
	}
	names := []string{AddWater}
	for _, r := range bath.Reagents {
		if r.Substance != "" {
			names = append(names, r.Substance)
		}
	}
	before := t.Count()
	added := map[string]float64{}
	var steps []MixStep
	for _, in := range t.subs("mix", "[[bath.mix]]") {
		s := in.mixStep(names, bath.Ammonia())
		steps = append(steps, s)
		added[s.Add] += s.Part
	}
	if t.Count() > before {
		return steps // the sums would only repeat what is wrong already
	}
	for _, name := range names {
		switch sum := added[name]; {
		case sum == 0:
			t.AtKey(t.Place("mix"), fmt.Sprintf("add [[bath.mix]] with add = %q where it goes in", name), "the order of mixing leaves out %s", name)
		case math.Abs(sum-1) > 1e-6:
			t.AtKey(t.Place("mix"), "make its parts come to one, such as \"2/3\" and \"1/3\"", "the parts of %s in the order of mixing make %.4g, not 1", name, sum)
		}
	}
	return steps
}

// mixStep reads one [[bath.mix]], which may add names, and refuses hot water on ammonia.
func (t table) mixStep(names []string, ammonia bool) MixStep {
	t.Only("add", "part", "temperature", "how", "warns_of")
	s := MixStep{Part: 1, Line: t.LineOf(""), How: t.words("how", 300, false, `write how = "..." in words`), WarnsOf: t.warnsOf()}
	s.Add = t.choice("add", names, "%s is not in this bath")
	if t.Has("part") {
		s.Part, _ = strict.Figure(t.Table, "part", "2/3", strict.Between(measure.ParseRatio, 0, 1, true, "as a share"))
	}
	s.Water, s.HasWater = strict.Figure(t.Table, "temperature", "20 C", strict.Between(measure.ParseTemperature, 0, 100, false, "C"))
	switch {
	case t.Has("temperature") && s.Add != AddWater && s.Add != "":
		t.AtKey(t.Place("temperature"), "remove it; only water is warmed before it goes in", "%s has a temperature", s.Add)
	case ammonia && s.Water > coldWater:
		t.AtValue(t.Place("temperature"), "mix it cold: water of at most 30 C, under the hood; warm the bath slowly afterwards",
			"hot water drives the ammonia out of this bath while it is mixed").Refused = true
	case s.Add == AddWater && ammonia && !t.Has("temperature"):
		t.Missing("temperature", `write temperature = "20 C": no hot water goes into a bath with ammonia`)
	}
	return s
}

// together refuses a bath whose reagents must not meet, at the later of the two.
func (t table) together(reagents []Reagent, where []table) {
	var before []reagent.Substance
	for i, r := range reagents {
		here, err := reagent.Find(r.Substance)
		if err != nil {
			continue // reported where the substance was read
		}
		at := where[i].Place("substance")
		if slices.ContainsFunc(before, func(s reagent.Substance) bool { return s.ID == here.ID }) {
			t.AtValue(at, "put the two amounts into one [[bath.reagent]]", "%s is in this bath twice", here.ID)
			continue
		}
		for _, other := range before {
			if p := reagent.Gravest(other.Groups, here.Groups); p.Severity >= reagent.Forbidden {
				t.AtValue(at, "keep the two in separate baths, waste and tools; there is no flag that lets this through",
					"%s with %s in one bath: %s", other.ID, here.ID, p.Why).Refused = true
			}
		}
		before = append(before, here)
	}
}
