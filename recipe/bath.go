package recipe

import (
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/strict"
)

func kinds() []string {
	return []string{string(Immersed), string(Brushed), string(Sprayed), string(Pickle), string(Stop)}
}

func didYouMean(word string, names []string) string {
	if near := fault.NearestN(word, names, 3); len(near) > 0 {
		return "did you mean " + strings.Join(near, " or ") + "? "
	}
	return ""
}

func (t table) kind() Kind {
	cure := "write one of: " + strings.Join(kinds(), ", ")
	kind := t.Text("kind", 40, true, cure)
	if kind != "" && !slices.Contains(kinds(), kind) {
		t.AtValue(t.Place("kind"), didYouMean(kind, kinds())+cure, "unknown kind %s", strict.Excerpt(kind))
		return ""
	}
	return Kind(kind)
}

func (t table) alloys() []string {
	names, where := t.List("alloys", 60, true, false, `write alloys = ["sterling-925"], the metals this recipe is for`)
	var known []string
	for i, name := range names {
		switch {
		case slices.Contains(known, name):
			t.AtValue(where[i], "list each alloy once", "alloy %s is listed twice", name)
		default:
			if _, err := metal.Find(name); err != nil {
				t.AtValue(where[i], fault.CureOf(err), "unknown alloy %s", strict.Excerpt(name))
				continue
			}
			known = append(known, name)
		}
	}
	return known
}

func (t table) bath(kind Kind) Bath {
	name := "[bath]"
	if !t.Has("bath") {
		t.Missing(name, `add [bath] with water = "75 C" and a [[bath.reagent]]`)
		return Bath{}
	}
	b, ok := t.sub("bath", name)
	if !ok {
		return Bath{}
	}
	b.Only("water", "works_down_to", "weakest", "max_load", "max_load_reason", "vessel", "reagent", "mix")
	bath := Bath{Vessel: b.words("vessel", 200, false, "say what it may stand in, in words")}
	if b.Has("water") {
		bath.Water, _ = b.celsius("water")
	} else {
		b.Missing("water", `write water = "75 C", or water = { at = "75 C", from = "71 C", to = "82 C" }`)
	}
	b.limits(&bath, kind)
	var where []table
	for _, r := range b.subs("reagent", "[[bath.reagent]]") {
		if b.Full() {
			break
		}
		bath.Reagents, where = append(bath.Reagents, r.reagent()), append(where, r)
	}
	b.together(bath.Reagents, where)
	bath.Mix = b.mix(bath)
	return bath
}

// limits reads how cold and how weak the bath may become, and how much metal it
// takes at one time.
func (t table) limits(bath *Bath, kind Kind) {
	for _, key := range []string{"works_down_to", "weakest", "max_load", "max_load_reason"} {
		if t.Has(key) && (kind == Brushed || kind == Sprayed) {
			t.AtKey(t.Place(key), "take it away; it is for baths that pieces go into", "a %s recipe has no %s", kind, key)
			return
		}
	}
	if t.Has("works_down_to") {
		r, ok := t.celsius("works_down_to")
		switch {
		case !ok:
		case !r.Single():
			t.AtValue(t.Place("works_down_to"), `write one temperature, for instance works_down_to = "60 C"`, "works_down_to is a single figure, without from and to")
		case t.Has("water") && r.At > bath.Water.From:
			t.AtValue(t.Place("works_down_to"), "lower it, or raise the water", "works_down_to is warmer than the coolest water of the bath")
		}
		bath.WorksDownTo = r.At
	}
	if t.Has("weakest") {
		bath.Weakest, _ = strict.Figure(t.Table, "weakest", "50 %", func(text string) (float64, error) {
			share, err := measure.ParseRatio(text)
			if err != nil || share <= 0 || share >= 1 {
				return 0, fault.Usagef("%s is no share between nothing and the whole", strict.Excerpt(text)).Try(`write a share of the first strength, for instance weakest = "50 %%"`)
			}
			return share, nil
		})
	}
	if t.Has("max_load") {
		bath.MaxLoad = t.load("max_load")
		if !t.Has("max_load_reason") {
			t.AtKey(t.Place("max_load"), `write max_load_reason = "..." with the source, or take max_load away`, "max_load needs max_load_reason")
		}
	} else if t.Has("max_load_reason") {
		t.AtKey(t.Place("max_load_reason"), `write max_load = "2 dm2/L" too, or take the reason away`, "max_load_reason stands without max_load")
	}
	bath.MaxLoadReason = t.words("max_load_reason", 300, false, "say why the bath takes no more, with the source")
}

func (t table) reagent() Reagent {
	t.Only("substance", "form", "concentration", "note", "warns_of")
	r := Reagent{Note: t.words("note", 400, false, `write note = "..." in words`), WarnsOf: t.warnsOf()}
	if t.Has("substance") {
		r.Substance = t.substance("substance")
	} else {
		t.Missing("substance", `write substance = "liver-of-sulfur" or another substance hepar knows`)
	}
	r.Form = t.form(r.Substance)
	if t.Has("concentration") {
		r.Concentration = t.concentration(r.Substance, r.Form)
	} else {
		t.Missing("concentration", `write concentration = "4.5 g/L", or { at = "4.5 g/L", from = "4 g/L", to = "5 g/L" }`)
	}
	return r
}

func (t table) hazards() Hazards {
	name := "[hazards]"
	if !t.Has("hazards") {
		t.Missing(name, "add [hazards] with gas, ventilation, ppe and disposal")
		return Hazards{}
	}
	t.scope = t.within()
	h, ok := t.sub("hazards", name)
	if !ok {
		return Hazards{}
	}
	h.Only("gas", "ventilation", "ppe", "disposal", "notes", "warns_of")
	var out Hazards
	out.Gas, _ = h.List("gas", 80, true, true, `write gas = ["hydrogen sulfide"], or gas = [] if there is none`)
	out.Ventilation = h.words("ventilation", 400, true, `write ventilation = "..." : a hood ducted outdoors, or work outdoors`)
	out.PPE = h.wordList("ppe", 200, true, false, `write ppe = ["safety goggles", "..."]`)
	out.Disposal = h.words("disposal", 600, true, `write disposal = "..." : collect, label; local rules and the SDS decide`)
	out.Notes = h.wordList("notes", 600, false, true, `write notes = ["..."]`)
	out.WarnsOf = h.warnsOf()
	return out
}
