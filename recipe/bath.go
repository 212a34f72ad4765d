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
	word := t.Text(key, 60, true, cure)
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

// sourced notes a figure whose source is missing, and a source without its figure.
func (t table) sourced(key, source, cure string) {
	if t.Has(key) && !t.Has(source) {
		key, source = source, key
	}
	if !t.Has(key) && t.Has(source) {
		t.AtKey(t.Place(source), cure, "%s stands without %s", source, key)
	}
}

func (t table) bath(kind Kind) Bath {
	b, ok := t.section("bath", true, `add [bath] with water = "75 C" and a [[bath.reagent]]`)
	if !ok {
		return Bath{}
	}
	b.Only("water", "works_down_to", "weakest", "max_load", "max_load_reason", "vessel", "reagent", "mix")
	bath := Bath{Vessel: b.words("vessel", 200, false, "say what it may stand in, in words")}
	bath.Water, _ = b.celsius("water", `write water = "75 C", or water = { at = "75 C", from = "71 C", to = "82 C" }`)
	b.limits(&bath, kind)
	var where []table
	for _, r := range b.subs("reagent", "[[bath.reagent]]") {
		bath.Reagents, where = append(bath.Reagents, r.reagent()), append(where, r)
	}
	b.together(bath.Reagents, where)
	bath.Mix = b.mix(bath)
	return bath
}

// limits reads how cold and weak the bath may become, and how much metal it takes at a time.
func (t table) limits(bath *Bath, kind Kind) {
	for _, key := range []string{"works_down_to", "weakest", "max_load", "max_load_reason"} {
		if t.Has(key) && kind.coated() {
			t.AtKey(t.Place(key), "take it away; it is for baths that pieces go into", "a %s recipe has no %s", kind, key)
			return
		}
	}
	bath.WorksDownTo, _ = strict.Figure(t.Table, "works_down_to", "60 C", parseCelsius)
	if bath.WorksDownTo > bath.Water.From && t.Has("water") {
		t.AtValue(t.Place("works_down_to"), "lower it, or raise the water", "works_down_to is warmer than the coolest water of the bath")
	}
	bath.Weakest, _ = strict.Figure(t.Table, "weakest", "50 %", strict.Between(measure.ParseRatio, 0, 0.999, true, "as a share"))
	bath.MaxLoad, _ = strict.Figure(t.Table, "max_load", "2 dm2/L", strict.Between(measure.ParseLoad, 0, mostLoad, true, "dm2/L"))
	bath.MaxLoadReason = t.words("max_load_reason", 300, false, "say why the bath takes no more, with the source")
	t.sourced("max_load", "max_load_reason", `write max_load = "2 dm2/L" and max_load_reason = "..." with the source, or take both away`)
}

func (t table) reagent() Reagent {
	t.Only("substance", "form", "concentration", "note", "warns_of")
	r := Reagent{Note: t.words("note", 400, false, `write note = "..." in words`), WarnsOf: t.warnsOf()}
	r.Substance = t.substance("substance", true)
	r.Form = t.form(r.Substance)
	r.Concentration = t.concentration(r.Substance, r.Form, `write concentration = "4.5 g/L", or { at = "4.5 g/L", from = "4 g/L", to = "5 g/L" }`)
	return r
}

func (t table) hazards() Hazards {
	h, ok := t.within().section("hazards", true, "add [hazards] with gas, ventilation, ppe and disposal")
	if !ok {
		return Hazards{}
	}
	h.Only("gas", "ventilation", "ppe", "disposal", "notes", "warns_of")
	gas, _ := h.List("gas", 80, true, true, `write gas = ["hydrogen sulfide"], or gas = [] if there is none`)
	return Hazards{
		Gas:         gas,
		Ventilation: h.words("ventilation", 400, true, `write ventilation = "..." : a hood ducted outdoors, or work outdoors`),
		PPE:         h.wordList("ppe", 200, true, `write ppe = ["safety goggles", "..."]`),
		Disposal:    h.words("disposal", 600, true, `write disposal = "..." : collect, label; local rules and the SDS decide`),
		Notes:       h.wordList("notes", 600, false, `write notes = ["..."]`),
		WarnsOf:     h.warnsOf(),
	}
}

func (t table) alloys() []string {
	return t.names("alloys", true, `write alloys = ["sterling-925"], the metals this recipe is for`, func(name string) (string, error) {
		if _, err := metal.Find(name); err != nil {
			return "", fault.Usagef("unknown alloy %s", strict.Excerpt(name)).Try("%s", fault.CureOf(err))
		}
		return name, nil
	})
}
