package recipe

import (
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// dip reads [dip], which immersed recipes and the helper baths have.
func (t table) dip(kind Kind) *Dip {
	wanted := kind == Immersed || kind == Pickle || kind == Stop
	d, ok := t.section("dip", wanted, `add [dip] with time = { at = "10 s", from = "3 s", to = "30 s" }`)
	if !ok {
		return nil
	}
	if !wanted && kind != "" {
		t.AtKey(d.Here(), "remove it; a brushed or sprayed recipe has [coats]", "a %s recipe has no [dip]", kind)
		return nil
	}
	d.Only("time", "dips", "stop_at", "window", "window_source")
	dip := &Dip{Dips: d.Whole("dips", 1, 100, 1, false), StopAt: d.words("stop_at", 120, false, "say what to look for, in words")}
	dip.Window = d.window()
	if d.needs("time", `write time = { at = "10 s", from = "3 s", to = "30 s" }`) {
		dip.Time, _ = d.seconds("time")
	}
	return dip
}

const windowCure = `write window = "10 %", or "-33 % +67 %" for how much shorter and how much longer`

// window reads how much shorter and longer a dip may be, and who says so.
func (t table) window() Window {
	var w Window
	if !t.Has("window") {
		if t.Has("window_source") {
			t.AtKey(t.Place("window_source"), windowCure, "window_source stands without window")
		}
		return w
	}
	long, ok := strict.Figure(t.Table, "window", "10 %", func(text string) (long float64, err error) {
		w.Short, long, err = parseWindow(text)
		return long, err
	})
	w.Long = long
	if !t.Has("window_source") {
		t.Missing("window_source", `write window_source = "..." : a published work, or "common practice, no published source"`)
	}
	w.Source = t.words("window_source", 300, false, `write window_source = "common practice, no published source"`)
	if !ok {
		return Window{}
	}
	return w
}

// parseWindow reads "10 %" or "-33 % +67 %" and returns the two shares.
func parseWindow(text string) (short, long float64, err error) {
	less, more, both := strings.Cut(strings.TrimPrefix(text, "-"), "+")
	if both != strings.HasPrefix(text, "-") {
		return 0, 0, fault.Usagef("%s is no window", strict.Excerpt(text)).Try("%s", windowCure)
	}
	if !both {
		more = less
	}
	if short, err = measure.ParseRatio(less); err == nil {
		long, err = measure.ParseRatio(more)
	}
	switch {
	case err != nil:
		return 0, 0, fault.Usagef("%s is no window", strict.Excerpt(text)).Try("%s", windowCure)
	case short > mostShort || long > mostLong || short+long == 0:
		return 0, 0, fault.Usagef("must be more than 0 %%, at most 90 %% shorter and at most 900 %% longer").Try("%s", windowCure)
	}
	return short, long, nil
}

// coats reads [coats], which brushed and sprayed recipes have.
func (t table) coats(kind Kind) *Coats {
	wanted := kind == Brushed || kind == Sprayed
	c, ok := t.section("coats", wanted, `add [coats] with number = 3 and spread = "80 mL/m2"`)
	if !ok {
		return nil
	}
	if !wanted && kind != "" {
		t.AtKey(c.Here(), "remove it; only brushed and sprayed recipes have coats", "a recipe of kind %s has no [coats]", kind)
		return nil
	}
	c.Only("number", "spread", "wait")
	coats := &Coats{}
	if c.needs("number", "write number = 3, or number = { at = 3, from = 1, to = 5 }") {
		coats.Number = c.wholes("number", 1, mostCoats)
	}
	if c.needs("spread", `write spread = "80 mL/m2", the liquid on a square metre in one coat`) {
		coats.Spread, _ = span(c, "spread", "80 mL/m2", between(measure.ParseSpread, 0, mostSpread, true, "mL/m2"))
	}
	if c.Has("wait") {
		coats.Wait, _ = c.seconds("wait")
	}
	return coats
}
