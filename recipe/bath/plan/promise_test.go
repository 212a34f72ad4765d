package plan

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/bath/job"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func warned(p Plan, code string) bool {
	for _, w := range p.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// parts returns what is in a load by kind, also where there is one kind.
func (l Load) parts() []Part {
	if l.ByKind != nil {
		return l.ByKind
	}
	return []Part{{0, l.Pieces}}
}

// TestAnyPlanKeepsItsPromises holds what every plan promises.
func TestAnyPlanKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRun(t)
		if rapid.Bool().Draw(t, "a limit of temperature") {
			r.WorksDownTo = measure.Celsius(rapid.Float64Range(45, 70).Draw(t, "works down to"))
		}
		if rapid.Bool().Draw(t, "no law") {
			r.Law, r.Sulfur, r.Fade = kinetics.Law{}, 0, 0
		}
		p, err := Make(r)
		if err != nil {
			if fault.CureOf(err) == "" {
				t.Fatalf("%v: no cure", err)
			}
			return
		}
		checkPieces(t, r, p)
		checkOrder(t, r, p)
		checkLimits(t, r, p)
		checkDips(t, r, p)
	})
}

// checkPieces: all pieces go in once, and sets stay together.
func checkPieces(t *rapid.T, r Run, p Plan) {
	got := make([]int, len(r.Kinds))
	for i, l := range p.Loads {
		sum := 0
		for _, part := range l.parts() {
			got[part.Lot] += part.Pieces
			sum += part.Pieces
			if part.Pieces < 1 || part.Pieces%max(r.Group, 1) != 0 {
				t.Fatalf("load %d has %d of kind %d, in sets of %d", l.Number, part.Pieces, part.Lot, r.Group)
			}
		}
		if l.Number != i+1 || sum != l.Pieces {
			t.Fatalf("load %d of %d pieces is in place %d and holds %d", l.Number, l.Pieces, i+1, sum)
		}
	}
	for i, lot := range r.Kinds {
		if got[i] != lot.Count() {
			t.Fatalf("%d pieces of kind %d go in, %d are ordered", got[i], i, lot.Count())
		}
	}
}

// checkOrder: the clock rises, a fresh bath counts as one, and the doses add up.
func checkOrder(t *rapid.T, r Run, p Plan) {
	baths, doses, clock := 1, 1.0, 0.0
	events := p.Events
	take := func(after int) {
		for ; len(events) > 0 && events[0].AfterLoad == after; events = events[1:] {
			e := events[0]
			if e.AtMin < clock-1e-9 || e.Minutes < 0 {
				t.Fatalf("%+v begins before %g min", e, clock)
			}
			clock = e.AtMin + e.Minutes
			switch e.Do {
			case FreshBath:
				baths++
				doses++
			case Strengthen:
				if e.Share <= 0 {
					t.Fatalf("%+v adds nothing", e)
				}
				doses += e.Share
			case Reheat, PourHot:
				if e.ToC > p.StartC+1e-9 || e.ToC <= e.FromC {
					t.Fatalf("%+v does not lead back to the start of %g C", e, p.StartC)
				}
			}
			if e.OutL < 0 || e.OutL > float64(r.Volume)*float64(max(e.Tubs, 1))+1e-9 {
				t.Fatalf("%+v takes out more than the bath of %g L", e, float64(r.Volume))
			}
		}
	}
	take(0)
	for _, l := range p.Loads {
		if l.StartMin < clock-1e-9 {
			t.Fatalf("load %d begins at %g min, before %g", l.Number, l.StartMin, clock)
		}
		clock = l.StartMin + float64(l.DipS)/60
		if l.Bath != baths {
			t.Fatalf("load %d is in bath %d, %d were mixed", l.Number, l.Bath, baths)
		}
		if l.TemperatureC > math.Max(p.StartC, float64(r.Air.Ambient))+1e-6 {
			t.Fatalf("load %d is at %g C, above the start of %g", l.Number, l.TemperatureC, p.StartC)
		}
		if !(l.Strength > 0) || l.LowS > l.DipS || l.HighS < l.DipS && r.Law.Known() {
			t.Fatalf("load %+v", l)
		}
		take(l.Number)
	}
	if len(events) > 0 || p.Totals.Baths != baths || p.Totals.Loads != len(p.Loads) || math.Abs(p.Totals.Doses-doses) > 1e-9 {
		t.Fatalf("%d baths and %g doses counted, events make %d and %g", p.Totals.Baths, p.Totals.Doses, baths, doses)
	}
	if last := p.Loads[len(p.Loads)-1]; p.Totals.Minutes < last.StartMin+float64(last.DipS)/60-1e-9 {
		t.Fatalf("the run takes %g min, its last load begins at %g", p.Totals.Minutes, last.StartMin)
	}
}

// checkLimits: no load over a limit except one set alone, and none outside the limits
// of the bath without a warning.
func checkLimits(t *rapid.T, r Run, p Plan) {
	weakest := r.Weakest
	if weakest == 0 {
		weakest = DefaultWeakest
	}
	for _, l := range p.Loads {
		area, mass, cover := 0.0, 0.0, 0.0
		for _, part := range l.parts() {
			lot, n := r.Kinds[part.Lot], float64(part.Pieces)
			area += n * float64(lot.Piece.Area) / 100
			mass += n * float64(lot.Piece.Mass) * lot.Piece.Alloy.SpecificHeat
			cover += n * float64(lot.Piece.Extent[1]) * float64(lot.Piece.Extent[2]) / 100 // on edge at the least
		}
		capacity := 4150*float64(r.Volume)*0.975 + r.Bulk
		chill := mass / (mass + capacity) * float64(r.Water.At-r.MetalIn)
		over := ""
		switch {
		case chill > 8.2:
			over = "chills the bath too far"
		case r.Sulfur > 0 && area*r.perDM2() > 0.15*r.Sulfur*float64(r.Volume)*(1+1e-9):
			over = "binds too much sulfur"
		case r.MaxLoad > 0 && area > float64(r.MaxLoad)*float64(r.Volume)*(1+1e-6):
			over = "is over the recipe's limit"
		case r.PerLoad > 0 && l.Pieces > r.PerLoad:
			over = "is over --per-load"
		case cover > r.Vessel.FloorCM2():
			over = "does not lie in the vessel"
		}
		if over != "" && l.Pieces > max(r.Group, 1) {
			t.Fatalf("load %d of %d pieces %s", l.Number, l.Pieces, over)
		}
		low := r.WorksDownTo
		if !r.Law.Known() && low == 0 {
			low = r.Water.From
		}
		outside := l.TemperatureC < float64(low)-0.06 || l.Strength < weakest-1e-6 || r.Law.Known() && float64(l.DipS) > float64(r.Dip.To)+0.5
		if outside && !warned(p, "outside-limits") {
			t.Fatalf("load %+v is outside the limits and nothing says so: %v", l, p.Warnings)
		}
	}
}

// checkDips: within a bath a colder and weaker load never gets a shorter dip.
func checkDips(t *rapid.T, r Run, p Plan) {
	for i, a := range p.Loads {
		for _, b := range p.Loads[i+1:] {
			if a.Bath == b.Bath && a.TemperatureC >= b.TemperatureC && a.Strength >= b.Strength && a.DipS > b.DipS {
				t.Fatalf("load %d at %g C, strength %g, has %d s; load %d at %g C, strength %g, only %d s", a.Number, a.TemperatureC, a.Strength, a.DipS, b.Number, b.TemperatureC, b.Strength, b.DipS)
			}
		}
	}
	if !r.Law.Known() && p.Match.Verdict != NotKnown {
		t.Fatalf("without a law the run %s", p.Match.Verdict)
	}
}

// TestSmallChangesKeepTheLoads: a tenth of a degree or two grams never change the
// number of loads by half, as long as a load holds four sets and more.
func TestSmallChangesKeepTheLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRun(t)
		p, err := Make(r)
		if err != nil {
			return
		}
		change := func(name string, do func(*Run)) {
			s := r
			s.Kinds = append([]job.Kind(nil), r.Kinds...)
			do(&s)
			q, err := Make(s)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			a, b := len(p.Loads), len(q.Loads)
			// Of two sets in a load and one there is nothing between.
			if few := max(p.Capacity.Pieces, q.Capacity.Pieces) < 4*r.Group; !few && max(a, b) > 3 && float64(max(a, b)) >= 1.5*float64(min(a, b)) {
				t.Fatalf("%s: %d loads, before %d", name, b, a)
			}
		}
		change("start a tenth hotter", func(s *Run) { s.Start = measure.Celsius(p.StartC) + 0.1 })
		change("start a tenth colder", func(s *Run) { s.Start = measure.Celsius(p.StartC) - 0.1 })
		change("recipe a tenth hotter", func(s *Run) { s.Water.At += 0.1; s.Water.From += 0.1; s.Water.To += 0.1 })
		change("metal a tenth colder", func(s *Run) { s.MetalIn -= 0.1 })
		for i := range r.Kinds {
			// Two grams of a small piece are a multiple of it: at most a tenth.
			change("heavier pieces", func(s *Run) { s.Kinds[i].Piece.Mass += min(2, s.Kinds[i].Piece.Mass/10) })
			change("lighter pieces", func(s *Run) { s.Kinds[i].Piece.Mass -= min(2, s.Kinds[i].Piece.Mass/10) })
		}
	})
}

// TestHairsBreadth: what once tipped a plan over. By hand the pace counts the dip that is printed;
// and where four numbers of loads do not match, a further one does.
func TestHairsBreadth(t *testing.T) {
	floor := Vessel{Length: 260, Width: 180, Height: 120}
	few, many := black(1, floor, disc("", 16, 8, 1)), black(1.92394, floor, disc("", 171, 20.5585, 0.69096))
	few.Transfer, few.Air.Ambient, few.MetalIn = ByHand, 10, 15
	many.Transfer, many.Group, many.PerLoad, many.Air.Ambient, many.MetalIn = ByHand, 3, 44, 22.2757, 54.0289
	for _, c := range []struct {
		run   Run
		start measure.Celsius
		loads int
	}{{few, 81, 4}, {few, 81.1, 4}, {many, 71.5, 9}, {many, 71.6, 11}} {
		c.run.Start = c.start
		if p, err := Make(c.run); err != nil || len(p.Loads) != c.loads || p.Match.Verdict != ShouldMatch {
			t.Errorf("from %g C: %d loads that %s, %v; want %d that match", float64(c.start), len(p.Loads), p.Match.Verdict, err, c.loads)
		}
	}
}

// TestWarmRoomAndHeaterLeaveTheStart: neither a heater nor a warm room lifts a bath above
// its setting at once.
func TestWarmRoomAndHeaterLeaveTheStart(t *testing.T) {
	r := medals()
	r.Heat, r.Lid = Heat{Kind: Thermostat, Watts: 3000}, true
	p, err := Make(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range p.Loads {
		if l.TemperatureC > p.StartC+1e-9 || l.TemperatureC < p.StartC-9 {
			t.Errorf("load %d at %g C in a held bath of %g C", l.Number, l.TemperatureC, p.StartC)
		}
	}
	cold := medals()
	cold.Start, cold.Air.Ambient, cold.MetalIn, cold.Law.At, cold.Heat = 15, 30, 15, 15, Heat{Kind: Plate, Watts: 100}
	if p, err = Make(cold); err != nil {
		t.Fatal(err)
	}
	if first := p.Loads[0].TemperatureC; first > 16 {
		t.Errorf("the first load of a bath at 15 C in a room of 30 C is at %g C", first)
	}
}

func TestRemediesComeInTheirOrder(t *testing.T) {
	do := func(p Plan) (all []string) {
		for _, e := range p.Events {
			all = append(all, e.Do)
		}
		return all
	}
	// Long at the bench and by hand: the bath cools until its dips are too long.
	base := medals()
	base.Transfer, base.Dip.To, base.Start = ByHand, 20, 75
	for _, c := range []struct {
		name   string
		change func(*Run)
		want   string // the first action
		none   string // an action that is not needed
	}{
		{"no heat", func(r *Run) { r.Strongest = 1 }, FreshBath, Reheat},
		{"plate that does not keep up", func(r *Run) { r.Heat, r.Lid, r.WorksDownTo = Heat{Kind: Plate, Watts: 190}, true, 73 }, Reheat, FreshBath},
		{"plate that keeps up", func(r *Run) { r.Heat = Heat{Kind: Plate, Watts: 500} }, "", Reheat},
		{"kettle", func(r *Run) { r.Heat = Heat{Kind: Kettle, Liters: 1, Water: 95} }, PourHot, ""},
		{"stronger allowed", func(r *Run) { r.Strongest = 3 }, Strengthen, Reheat},
	} {
		r := base
		c.change(&r)
		p, err := Make(r)
		if err != nil {
			t.Fatal(err)
		}
		all := do(p)
		if first := strings.Join(all[:min(1, len(all))], ""); first != c.want || c.none != "" && strings.Contains(strings.Join(all, " "), c.none) {
			t.Errorf("%s: %v, want %s first and no %s", c.name, all, c.want, c.none)
		}
	}
}

func TestWrongRuns(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Run)
		where  string
	}{
		"sets over the rack":    {func(r *Run) { r.Transfer, r.Rack, r.Group = OnRacks, 1, 2 }, "--rack"},
		"no bath":               {func(r *Run) { r.Volume = 0 }, "--volume"},
		"a lake":                {func(r *Run) { r.Volume = 1001 }, "--volume"},
		"no number as a bath":   {func(r *Run) { r.Volume = measure.Liters(math.NaN()) }, "--volume"},
		"a heater that cools":   {func(r *Run) { r.Heat = Heat{Kind: Plate, Watts: -1} }, "--heat"},
		"a power station":       {func(r *Run) { r.Heat = Heat{Kind: Plate, Watts: 1e9} }, "--heat"},
		"a start above boiling": {func(r *Run) { r.Start = 101 }, "--start"},
		"a start below ice":     {func(r *Run) { r.Start = -1 }, "--start"},
		"a room on fire":        {func(r *Run) { r.Air.Ambient = 90 }, "--ambient"},
		"a gale":                {func(r *Run) { r.Air.SpeedMS = 20 }, "--air-speed"},
		"larger than the dish":  {func(r *Run) { r.Kinds[0].Piece.Extent = [3]measure.Millimeters{300, 300, 70} }, "--vessel"},
		"a set does not lie":    {func(r *Run) { r.Group, r.Kinds[0].Piece.Extent = 4, [3]measure.Millimeters{170, 170, 2} }, "--group"},
	} {
		r := medals()
		c.change(&r)
		_, err := Make(r)
		if err == nil || fault.CureOf(err) == "" || !strings.Contains(err.Error(), c.where) {
			t.Errorf("%s: %v (%s), want an error at %s with a cure", name, err, fault.CureOf(err), c.where)
		}
	}
}

func TestParseHeat(t *testing.T) {
	for text, want := range map[string]Heat{
		"none": {Kind: NoHeat}, "Kettle:1.5L": {Kind: Kettle, Liters: 1.5}, "kettle": {Kind: Kettle},
		"plate:500W": {Kind: Plate, Watts: 500}, " thermostat ": {Kind: Thermostat}, "thermostat:1kW": {Kind: Thermostat, Watts: 1000},
	} {
		got, err := ParseHeat(text)
		if err != nil || got != want {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "none:5W", "kettle:", "kettle:0L", "kettle:-1L", "kettle:500W", "plate:0W", "plate:500", "oven", "plate:hot", "\x1b[31m"} {
		if h, err := ParseHeat(text); err == nil || fault.CureOf(err) == "" || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%q: %+v, %v", text, h, err)
		}
	}
}
