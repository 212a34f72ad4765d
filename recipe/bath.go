package recipe

import (
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/metal"
)

func kinds() []string {
	return []string{string(Immersed), string(Brushed), string(Sprayed), string(Pickle), string(Stop)}
}

func didYouMean(word string, names []string) string {
	if near := Nearest(word, names, 3); len(near) > 0 {
		return "did you mean " + strings.Join(near, " or ") + "? "
	}
	return ""
}

func (t table) kind() Kind {
	cure := "write one of: " + strings.Join(kinds(), ", ")
	kind := t.text("kind", 40, true, cure)
	if kind != "" && !slices.Contains(kinds(), kind) {
		t.val(t.place("kind"), didYouMean(kind, kinds())+cure, "unknown kind %s", excerpt(kind))
		return ""
	}
	return Kind(kind)
}

func (t table) alloys() []string {
	names, where := t.list("alloys", 60, true, false, `write alloys = ["sterling-925"], the metals this recipe is for`)
	var known []string
	for i, name := range names {
		switch {
		case slices.Contains(known, name):
			t.val(where[i], "name each alloy once", "alloy %s stands there twice", name)
		default:
			if _, err := metal.Find(name); err != nil {
				t.val(where[i], fault.CureOf(err), "unknown alloy %s", excerpt(name))
				continue
			}
			known = append(known, name)
		}
	}
	return known
}

func (t table) bath(kind Kind) Bath {
	name := "[bath]"
	if !t.has("bath") {
		t.missing(name, `add [bath] with water = "75 C" and a [[bath.reagent]]`)
		return Bath{}
	}
	b, ok := t.sub("bath", name)
	if !ok {
		return Bath{}
	}
	b.only("water", "max_load", "life", "vessel", "reagent")
	bath := Bath{Vessel: b.text("vessel", 200, false, "say what it may stand in, in words")}
	if b.has("water") {
		bath.Water, _ = b.celsius("water")
	} else {
		b.missing("water", `write water = "75 C", or water = { at = "75 C", from = "71 C", to = "82 C" }`)
	}
	if b.has("max_load") {
		if kind == Brushed || kind == Sprayed {
			b.walk.key(b.place("max_load"), "take it away; it is for baths that pieces go into", "a %s recipe has no max_load", kind)
		} else {
			bath.MaxLoad = b.load("max_load")
		}
	}
	if b.has("life") {
		life, ok := b.seconds("life")
		if ok && !life.Single() {
			b.val(b.place("life"), `write one time, for instance life = "4 h"`, "life is a single figure, without from and to")
		}
		bath.Life = life.At
	}
	var where []table
	for _, r := range b.subs("reagent", "[[bath.reagent]]") {
		if b.full() {
			break
		}
		bath.Reagents, where = append(bath.Reagents, r.reagent()), append(where, r)
	}
	b.together(bath.Reagents, where)
	return bath
}

func (t table) reagent() Reagent {
	t.only("substance", "form", "concentration", "note")
	r := Reagent{Note: t.text("note", 400, false, `write note = "..." in words`)}
	if t.has("substance") {
		r.Substance = t.substance("substance")
	} else {
		t.missing("substance", `write substance = "liver-of-sulfur" or another substance hepar knows`)
	}
	r.Form = t.form(r.Substance)
	if t.has("concentration") {
		r.Concentration, r.Unit = t.concentration(r.Substance, r.Form)
	} else {
		t.missing("concentration", `write concentration = "4.5 g/L", or { at = "4.5 g/L", from = "4 g/L", to = "5 g/L" }`)
	}
	return r
}

func (t table) hazards() Hazards {
	name := "[hazards]"
	if !t.has("hazards") {
		t.missing(name, "add [hazards] with gas, ventilation, ppe and disposal")
		return Hazards{}
	}
	h, ok := t.sub("hazards", name)
	if !ok {
		return Hazards{}
	}
	h.only("gas", "ventilation", "ppe", "disposal", "notes")
	var out Hazards
	out.Gas, _ = h.list("gas", 80, true, true, `write gas = ["hydrogen sulfide"], or gas = [] if none comes off`)
	out.Ventilation = h.text("ventilation", 400, true, `write ventilation = "..." : a hood ducted outdoors, or work outdoors`)
	out.PPE, _ = h.list("ppe", 200, true, false, `write ppe = ["safety goggles", "..."]`)
	out.Disposal = h.text("disposal", 600, true, `write disposal = "..." : collect, label; local rules and the SDS decide`)
	out.Notes, _ = h.list("notes", 600, false, true, `write notes = ["..."]`)
	return out
}
