package shop

import (
	"strings"

	"hepar/recipe/bath"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// Bounds of good sense that catch slips of the pen. Common practice, no source,
// unless something else is said.
const (
	mostStepG      = 100.0 // g, coarsest balance
	mostStepML     = 1000.0
	coldestRoomC   = -20.0 // as package heat takes
	hottestRoomC   = 50.0
	leastRoomM3    = 2.0 // as package gas takes: a cupboard in which one can stand
	mostRoomM3     = 100_000.0
	mostAirChanges = 200.0
	mostHeaterW    = 10_000.0
	mostSeconds    = 60.0 // s for one piece
	mostTolerance  = 50.0 // percent of the dip
	mostMatch      = 100.0
	mostDrain      = 1000.0 // mL/m2: cups hold up to about that
	mostBasket     = 10_000
)

// bench reads [balance], [water] and [match].
func (r reader) bench() {
	b := &r.shop.Bath
	known := func(key string, ok bool) {
		if ok {
			b.Known[key] = true
		}
	}
	if t, ok := r.sub("balance", "readability", "cylinder"); ok {
		b.ReadabilityG, ok = quantity(t, "readability", "0.1 g", func(s string) (measure.Grams, error) {
			v, err := measure.ParseMass(s)
			if err != nil {
				return 0, err
			}
			return v, strict.Within(v, 0, mostStepG, true, "g")
		})
		known("balance", ok)
		b.CylinderML, ok = quantity(t, "cylinder", "1 mL", func(s string) (float64, error) {
			v, err := volume(s)
			if err != nil {
				return 0, err
			}
			return v.Milliliters(), strict.Within(v.Milliliters(), 0, mostStepML, true, "mL")
		})
		known("cylinder", ok)
	}
	if t, ok := r.sub("water", "hot", "cold"); ok {
		var hot, cold bool
		b.HotWater, hot = quantity(t, "hot", "95 C", celsius(0, 100))
		b.ColdWater, cold = quantity(t, "cold", "15 C", celsius(0, 100))
		known("hot-water", hot)
		known("cold-water", cold)
		if hot && cold && b.HotWater <= b.ColdWater {
			t.AtValue(t.Place("hot"), "look whether the two are interchanged", "hot is not warmer than cold")
		}
	}
	if t, ok := r.sub("match", "limit"); ok {
		b.MatchPercent, ok = quantity(t, "limit", "10 %", percent(mostMatch, true))
		known("match", ok)
	}
}

// room reads [room].
func (r reader) room() {
	t, ok := r.sub("room", "temperature", "humidity", "volume", "air_changes", "hood")
	if !ok {
		return
	}
	b, room := &r.shop.Bath, &r.shop.Room
	if b.Ambient, ok = quantity(t, "temperature", "20 C", celsius(coldestRoomC, hottestRoomC)); ok {
		b.Known["ambient"] = true
	}
	if b.HumidityPercent, ok = quantity(t, "humidity", "50 %", percent(100, false)); ok {
		b.Known["humidity"] = true
	}
	room.VolumeM3, _ = quantity(t, "volume", "32 m3", func(s string) (float64, error) {
		v, err := volume(s)
		if err != nil {
			return 0, err
		}
		m3 := float64(v) / 1000
		if err := strict.Within(m3, leastRoomM3, mostRoomM3, false, "m3"); err != nil {
			return 0, fault.Usagef("%s", err).Try("write length x width x height of the room in m3, from %g to %.0f; look at the unit too", leastRoomM3, mostRoomM3)
		}
		return m3, nil
	})
	room.AirChangesPerHour = t.number("air_changes", "per h", 0, mostAirChanges)
	room.Hood = t.flag("hood")
}

// run reads [hands] and [drain].
func (r reader) run() {
	b := &r.shop.Bath
	if t, ok := r.sub("hands", "seconds_per_piece", "tolerance", "basket"); ok {
		b.Hands.In = t.number("seconds_per_piece", "s", 0, mostSeconds)
		b.Hands.Out = b.Hands.In
		_, _ = quantity(t, "tolerance", "10 %", percent(mostTolerance, true))
		t.basket()
	}
	if t, ok := r.sub("drain", "habit"); ok {
		if text := t.words("habit", 40, false, drainCure()); text != "" {
			drain, err := habit(text)
			if err != nil {
				t.AtValue(t.Place("habit"), fault.CureOf(err), "%s", err.Error())
			}
			b.Drain = drain
		}
	}
}

// basket reads true, false or how many pieces it holds.
func (r reader) basket() {
	const cure = "write basket = true, or how many pieces it holds: basket = 24"
	switch {
	case !r.Has("basket"):
	case r.IsFlag("basket"):
		r.flag("basket")
	case r.IsWhole("basket"):
		before := r.Count()
		n := r.Whole("basket", 1, mostBasket, 0, false)
		if r.Count() == before {
			r.shop.BasketPieces = n
			r.keep("basket", measure.Plain(float64(n))+" pieces")
		}
	default:
		r.Wrong("basket", "true, false or a whole number", cure)
	}
}

func drainCure() string {
	return "write one of: " + strings.Join(rinse.Habits(), ", ") + "; or a figure such as 80 mL/m2"
}

// habit reads a word for how pieces drain, or what clings to them.
func habit(text string) (measure.MillilitersPerSquareM, error) {
	word := strings.ReplaceAll(text, " ", "-") // "very poor"
	if v, err := rinse.Habit(word); err == nil {
		return v, nil
	}
	if !strings.ContainsAny(text, "0123456789") {
		cure := drainCure()
		if near := fault.Nearest(word, rinse.Habits()); near != "" {
			cure = "did you mean " + near + "? " + cure
		}
		return 0, fault.Usagef("no drain habit is called %s", strict.Excerpt(text)).Try("%s", cure)
	}
	v, err := measure.ParseSpread(text)
	if err != nil {
		return 0, err
	}
	return v, strict.Within(v, 0, mostDrain, true, "mL/m2")
}

// Materials lists what a vessel may be said to be of.
func Materials() []string { return []string{"glass", "glazed", "plastic", "steel"} }

// vessels reads each [[vessel]].
func (r reader) vessels() {
	s := r.shop
	for _, t := range r.subs("vessel", "name", "inside", "material", "lid", "heater") {
		name := t.Text("name", mostName, true, `write name = "tub", as it is called on the command line`)
		inside := t.Text("inside", 60, true, `write inside = "200x140x90mm" (length, width, height) or "150x180mm" (diameter, height)`)
		f := Fitting{Material: t.choice("material", Materials()...), Lid: t.Flag("lid")}
		f.HeaterW, _ = quantity(t, "heater", "300 W", func(text string) (float64, error) {
			v, err := measure.ParseWatts(text)
			if err != nil {
				return 0, err
			}
			return v, strict.Within(v, 0, mostHeaterW, true, "W")
		})
		v, err := bath.ParseVessel(inside)
		if inside != "" && err != nil {
			t.AtValue(t.Place("inside"), fault.CureOf(err), "%s", err.Error())
		}
		if name == "" {
			continue
		}
		if _, err := bath.ParseVessel(name); err == nil {
			t.AtValue(t.Place("name"), "give it a name in words, and its size under inside", "the name %s reads like a size", name)
			continue
		}
		if _, twice := s.Vessels[name]; twice {
			t.AtValue(t.Place("name"), "give each vessel a name of its own", "two vessels are called %s", strict.Excerpt(name))
			continue
		}
		if s.Vessels == nil {
			s.Vessels, s.Fittings = map[string]bath.Vessel{}, map[string]Fitting{}
		}
		v.Name = name
		s.Vessels[name], s.Fittings[name] = v, f
		s.vessels = append(s.vessels, name)
		s.given["vessel "+name] = given{vesselText(inside, f), t.Line()}
	}
}

func vesselText(inside string, f Fitting) string {
	parts := []string{measure.Clean(inside)}
	if f.Material != "" {
		parts = append(parts, f.Material)
	}
	if f.Lid {
		parts = append(parts, "lid")
	}
	if f.HeaterW > 0 {
		parts = append(parts, "heater "+measure.Plain(f.HeaterW)+" W")
	}
	return strings.Join(parts, ", ")
}
