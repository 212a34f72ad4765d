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
		t.AtKey(t.Place(source), cure, "%s needs %s beside it", source, key)
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
		if t.Has(key) && kind.Coated() {
			t.AtKey(t.Place(key), "remove it; it is only for baths that pieces go into", "a %s recipe has no %s", kind, key)
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
	t.sourced("max_load", "max_load_reason", `write max_load = "2 dm2/L" and max_load_reason = "..." with the source, or remove both`)
}

func (t table) reagent() Reagent {
	t.Only("substance", "form", "concentration", "note", "source", "warns_of")
	r := Reagent{Note: t.words("note", 400, false, `write note = "..." in words`),
		Source: t.words("source", 300, false, `write source = "..." : where the figure is from, and what was assumed`), WarnsOf: t.warnsOf()}
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

// dip reads [dip], which immersed recipes and the helper baths have.
func (t table) dip(kind Kind) *Dip {
	d, ok := t.section("dip", kind != "" && !kind.Coated(), `add [dip] with time = { at = "10 s", from = "3 s", to = "30 s" }`)
	if !ok {
		return nil
	}
	if kind.Coated() {
		t.AtKey(d.At, "remove it; a brushed or sprayed recipe has [coats]", "a %s recipe has no [dip]", kind)
		return nil
	}
	d.Only("time", "dips", "stop_at", "window", "window_source")
	dip := &Dip{Dips: d.Whole("dips", 1, 100, 1, false), StopAt: d.words("stop_at", 120, false, "say what to look for, in words")}
	dip.Time, _ = d.seconds("time", `write time = { at = "10 s", from = "3 s", to = "30 s" }`)
	dip.Window.Long, _ = strict.Figure(d.Table, "window", "10 %", func(text string) (long float64, err error) {
		dip.Window.Short, long, err = parseWindow(text)
		return long, err
	})
	dip.Window.Source = d.words("window_source", 300, false, `write window_source = "common practice, no published source"`)
	d.sourced("window", "window_source", windowCure+`; and window_source = "...": a published work, or "common practice, no published source"`)
	return dip
}

const windowCure = `write window = "10 %", or "-33 % +67 %" for how much shorter and how much longer`

// parseWindow reads "10 %" or "-33 % +67 %" and returns the two shares.
func parseWindow(text string) (short, long float64, err error) {
	less, more, both := strings.Cut(strings.TrimPrefix(text, "-"), "+")
	if !both {
		more = less
	}
	short, err = measure.ParseRatio(less)
	long, wrong := measure.ParseRatio(more)
	switch {
	case err != nil || wrong != nil || both != strings.HasPrefix(text, "-"):
		return 0, 0, fault.Usagef("%s is not a window", strict.Excerpt(text)).Try("%s", windowCure)
	case short > mostShort || long > mostLong || short+long == 0:
		return 0, 0, fault.Usagef("must be more than 0 %%, at most 90 %% shorter and at most 900 %% longer").Try("%s", windowCure)
	}
	return short, long, nil
}

// coats reads [coats], which brushed and sprayed recipes have.
func (t table) coats(kind Kind) *Coats {
	c, ok := t.section("coats", kind.Coated(), `add [coats] with number = 3 and spread = "80 mL/m2"`)
	if !ok {
		return nil
	}
	if !kind.Coated() && kind != "" {
		t.AtKey(c.At, "remove it; only brushed and sprayed recipes have coats", "a recipe of kind %s has no [coats]", kind)
		return nil
	}
	c.Only("number", "spread", "wait")
	coats := &Coats{}
	coats.Number, _ = limited(c, "number", "3", "write number = 3, or number = { at = 3, from = 1, to = 5 }", func(t table, key string) (float64, bool) {
		n := t.Whole(key, 1, mostCoats, 0, false)
		return float64(n), n > 0
	})
	coats.Spread, _ = span(c, "spread", "80 mL/m2", `write spread = "80 mL/m2", the liquid on a square metre in one coat`,
		strict.Between(measure.ParseSpread, 0, mostSpread, true, "mL/m2"))
	coats.Wait, _ = c.seconds("wait", "")
	return coats
}
