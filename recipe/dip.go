package recipe

// dip reads [dip], which immersed recipes and the helper baths have.
func (t table) dip(kind Kind) *Dip {
	name := "[dip]"
	wanted := kind == Immersed || kind == Pickle || kind == Stop
	if !t.Has("dip") {
		if wanted {
			t.Missing(name, `add [dip] with time = { at = "10 s", from = "3 s", to = "30 s" }`)
		}
		return nil
	}
	d, ok := t.sub("dip", name)
	if !ok {
		return nil
	}
	if !wanted && kind != "" {
		t.AtKey(d.Here(), "remove it; a brushed or sprayed recipe has [coats]", "a %s recipe has no [dip]", kind)
		return nil
	}
	d.Only("time", "dips", "stop_at")
	dip := &Dip{Dips: d.Whole("dips", 1, 100, 1, false), StopAt: d.Text("stop_at", 120, false, "say what to look for, in words")}
	if !d.Has("time") {
		d.Missing("time", `write time = { at = "10 s", from = "3 s", to = "30 s" }`)
		return dip
	}
	dip.Time, _ = d.seconds("time")
	return dip
}

// coats reads [coats], which brushed and sprayed recipes have.
func (t table) coats(kind Kind) *Coats {
	name := "[coats]"
	wanted := kind == Brushed || kind == Sprayed
	if !t.Has("coats") {
		if wanted {
			t.Missing(name, `add [coats] with number = 3 and spread = "80 mL/m2"`)
		}
		return nil
	}
	c, ok := t.sub("coats", name)
	if !ok {
		return nil
	}
	if !wanted && kind != "" {
		t.AtKey(c.Here(), "remove it; only brushed and sprayed recipes have coats", "a recipe of kind %s has no [coats]", kind)
		return nil
	}
	c.Only("number", "spread", "wait")
	coats := &Coats{}
	if c.Has("number") {
		coats.Number = c.wholes("number", 1, 50)
	} else {
		c.Missing("number", "write number = 3, or number = { at = 3, from = 1, to = 5 }")
	}
	if c.Has("spread") {
		coats.Spread = c.spread("spread")
	} else {
		c.Missing("spread", `write spread = "80 mL/m2", the liquid on a square metre in one coat`)
	}
	if c.Has("wait") {
		coats.Wait, _ = c.seconds("wait")
	}
	return coats
}
