package recipe

import (
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/strict"
)

// choice reads one of several words, and returns "" for any other. unknown is the message.
func (t table) choice(key string, names []string, unknown string) string {
	cure := "write one of: " + strings.Join(names, ", ")
	word := t.Text(key, 40, true, cure)
	if word != "" && !slices.Contains(names, word) {
		t.AtValue(t.Place(key), strict.Meant(word, names)+cure, unknown, strict.Excerpt(word))
		return ""
	}
	return word
}

// section opens the table under a key. wanted notes one that is missing.
func (t table) section(key string, wanted bool, cure string) (table, bool) {
	name := "[" + key + "]"
	if wanted && !t.Has(key) {
		t.Missing(name, cure)
	}
	return t.sub(key, name)
}

// needs reports whether a key is there, and notes one that is missing.
func (t table) needs(key, cure string) bool {
	if !t.Has(key) {
		t.Missing(key, cure)
	}
	return t.Has(key)
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
	b, ok := t.section("bath", true, `add [bath] with water = "75 C" and a [[bath.reagent]]`)
	if !ok {
		return Bath{}
	}
	b.Only("water", "works_down_to", "weakest", "max_load", "max_load_reason", "vessel", "reagent", "mix")
	bath := Bath{Vessel: b.words("vessel", 200, false, "say what it may stand in, in words")}
	if b.needs("water", `write water = "75 C", or water = { at = "75 C", from = "71 C", to = "82 C" }`) {
		bath.Water, _ = b.celsius("water")
	}
	b.limits(&bath, kind)
	var where []table
	for _, r := range b.subs("reagent", "[[bath.reagent]]") {
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
		r, ok := span(t, "max_load", "2 dm2/L", between(measure.ParseLoad, 0, mostLoad, true, "dm2/L"))
		if ok && !r.Single() {
			t.AtValue(t.Place("max_load"), `write one figure, for instance max_load = "2 dm2/L"`, "max_load is a single figure, without from and to")
		}
		bath.MaxLoad = r.At
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
	if t.needs("substance", `write substance = "liver-of-sulfur" or another substance hepar knows`) {
		r.Substance = t.substance("substance")
	}
	r.Form = t.form(r.Substance)
	if t.needs("concentration", `write concentration = "4.5 g/L", or { at = "4.5 g/L", from = "4 g/L", to = "5 g/L" }`) {
		r.Concentration = t.concentration(r.Substance, r.Form)
	}
	return r
}

func (t table) hazards() Hazards {
	t.scope = t.within()
	h, ok := t.section("hazards", true, "add [hazards] with gas, ventilation, ppe and disposal")
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
