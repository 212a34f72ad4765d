package recipe

import (
	"slices"
	"strings"

	"hepar/recipe/fault"
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
	b.Only("water", "max_load", "life", "vessel", "reagent")
	bath := Bath{Vessel: b.Text("vessel", 200, false, "write in words what it may stand in")}
	if b.Has("water") {
		bath.Water, _ = b.celsius("water")
	} else {
		b.Missing("water", `write water = "75 C", or water = { at = "75 C", from = "71 C", to = "82 C" }`)
	}
	if b.Has("max_load") {
		if kind == Brushed || kind == Sprayed {
			b.AtKey(b.Place("max_load"), "remove it; it is for baths that pieces go into", "a %s recipe has no max_load", kind)
		} else {
			bath.MaxLoad = b.load("max_load")
		}
	}
	if b.Has("life") {
		life, ok := b.seconds("life")
		if ok && !life.Single() {
			b.AtValue(b.Place("life"), `write one time, for instance life = "4 h"`, "life is a single figure, without from and to")
		}
		bath.Life = life.At
	}
	var where []table
	for _, r := range b.subs("reagent", "[[bath.reagent]]") {
		if b.Full() {
			break
		}
		bath.Reagents, where = append(bath.Reagents, r.reagent()), append(where, r)
	}
	b.together(bath.Reagents, where)
	return bath
}

func (t table) reagent() Reagent {
	t.Only("substance", "form", "concentration", "note")
	r := Reagent{Note: t.Text("note", 400, false, `write note = "..." in words`)}
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
	h, ok := t.sub("hazards", name)
	if !ok {
		return Hazards{}
	}
	h.Only("gas", "ventilation", "ppe", "disposal", "notes")
	var out Hazards
	out.Gas, _ = h.List("gas", 80, true, true, `write gas = ["hydrogen sulfide"], or gas = [] if there is none`)
	out.Ventilation = h.Text("ventilation", 400, true, `write ventilation = "..." : a hood ducted outdoors, or work outdoors`)
	out.PPE, _ = h.List("ppe", 200, true, false, `write ppe = ["safety goggles", "..."]`)
	out.Disposal = h.Text("disposal", 600, true, `write disposal = "..." : collect, label; local rules and the SDS decide`)
	out.Notes, _ = h.List("notes", 600, false, true, `write notes = ["..."]`)
	return out
}
