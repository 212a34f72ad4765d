package recipe

import (
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// dip reads [dip], which immersed recipes and the helper baths have.
func (t table) dip(kind Kind) *Dip {
	d, ok := t.section("dip", kind != "" && !kind.coated(), `add [dip] with time = { at = "10 s", from = "3 s", to = "30 s" }`)
	if !ok {
		return nil
	}
	if kind.coated() {
		t.AtKey(d.Here(), "remove it; a brushed or sprayed recipe has [coats]", "a %s recipe has no [dip]", kind)
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
		return 0, 0, fault.Usagef("%s is no window", strict.Excerpt(text)).Try("%s", windowCure)
	case short > mostShort || long > mostLong || short+long == 0:
		return 0, 0, fault.Usagef("must be more than 0 %%, at most 90 %% shorter and at most 900 %% longer").Try("%s", windowCure)
	}
	return short, long, nil
}

// coats reads [coats], which brushed and sprayed recipes have.
func (t table) coats(kind Kind) *Coats {
	c, ok := t.section("coats", kind.coated(), `add [coats] with number = 3 and spread = "80 mL/m2"`)
	if !ok {
		return nil
	}
	if !kind.coated() && kind != "" {
		t.AtKey(c.Here(), "remove it; only brushed and sprayed recipes have coats", "a recipe of kind %s has no [coats]", kind)
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
