package plan

import (
	"math"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

func TestWhatLimitsALoad(t *testing.T) {
	// 4 L x 2 dm2/L / 0.269 dm2 = 29.7; on edge 39 x 2.5 mm with 5 mm between in
	// 300 x 200 mm: 6 x 27 = 162 or 40 x 4 = 160; flat 6 x 4 = 24.
	for name, test := range map[string]struct {
		change func(*Run)
		loads  int
		by     string
		want   Capacity
	}{
		"area":         {func(r *Run) {}, 7, "area", Capacity{Area: 29, Floor: 162}},
		"lying flat":   {func(r *Run) { r.Hung = false; r.MaxLoad = 20 }, 9, "floor", Capacity{Area: 297, Floor: 24}},
		"a rack":       {func(r *Run) { r.Basket = false; r.RackPieces = 12 }, 17, "rack", Capacity{Area: 29, Floor: 12}},
		"asked for":    {func(r *Run) { r.PerLoad = 8 }, 25, "per-load", Capacity{Area: 29, Floor: 162, PerLoad: 8}},
		"all in one":   {func(r *Run) { r.Lots[0].Pieces = 20 }, 1, "all", Capacity{Area: 29, Floor: 162}},
		"hands":        {func(r *Run) { r.Basket = false }, 67, "hands", Capacity{Area: 29, Floor: 162, Hands: 3}}, // 10 % of 10 s is 1 s, at 0.5 s a neighbour
		"slow to take": {func(r *Run) { r.Basket = false; r.Hands = Hands{InS: 2, OutS: 3} }, 100, "hands", Capacity{Area: 29, Floor: 162, Hands: 2}},
		"long dip":     {func(r *Run) { r.Basket = false; r.Dip.At, r.Dip.To = 60, 120 }, 16, "hands", Capacity{Area: 29, Floor: 162, Hands: 13}},
		// Within the tolerance 11, but the sixth would go in when the first is due out.
		"all in first": {func(r *Run) { r.Basket, r.Hands.Tolerance = false, 0.5 }, 40, "hands", Capacity{Area: 29, Floor: 162, Hands: 5}},
		"pairs":        {func(r *Run) { r.Group = 2 }, 8, "area", Capacity{Area: 28, Floor: 162}}, // 100 pairs by 14
	} {
		r := rounds()
		r.Held = true
		test.change(&r)
		p := made(t, r)
		c := p.Capacity
		test.want.Pieces, test.want.By = c.Pieces, test.by
		if len(p.Loads) != test.loads || c != test.want {
			t.Errorf("%s: %d loads, %+v; want %d, %+v", name, len(p.Loads), c, test.loads, test.want)
		}
	}
}

func TestKindsTogether(t *testing.T) {
	r := rounds()
	r.Group = 2
	r.Lots = append(r.Lots, Lot{Name: "drop", Pieces: 30, AreaCM2: 2.2, MassG: 1.4, SpecificHeat: 0.235}, Lot{Name: "bar", Pieces: 6, AreaCM2: 60, MassG: 60, SpecificHeat: 0.235})
	p := made(t, r)
	for _, l := range p.Loads {
		dm := 0.0
		for _, part := range l.ByLot {
			dm += float64(part.Pieces) * float64(r.Lots[part.Lot].AreaCM2) / 100
		}
		if dm > 8+1e-9 {
			t.Errorf("load %d has %g dm2 of 8", l.Number, dm)
		}
	}
	// 53.8 + 0.66 + 3.6 dm2 at 8 dm2 a load cannot be fewer than 8.
	if n := len(p.Loads); n < 8 || n > 9 {
		t.Errorf("%d loads", n)
	}
}

// TestFirstLoadByHand works one load by hand: a held bath of half the recipe's
// strength takes 2^0.8 times the time.
func TestFirstLoadByHand(t *testing.T) {
	r := rounds()
	r.Held, r.StartStrength, r.Life, r.Reagents = true, 0.5, 0, noSulfide(r)
	p := made(t, r)
	want := 10 * math.Pow(2, 0.8)
	if got := p.Loads[0].NeedS; math.Abs(got-want) > 1e-9 || p.Loads[0].DipS != 17 {
		t.Errorf("%g s, want %g", got, want)
	}
	r = rounds()
	r.Held, r.Start, r.Life, r.Reagents = true, 71, 0, noSulfide(r)
	want = 10 * math.Exp(45000/kinetics.GasConstant*(1/344.15-1/348.15))
	if got := made(t, r).Loads[0].NeedS; math.Abs(got-want) > 1e-9 {
		t.Errorf("%g s at 71 C, want %g", got, want)
	}
}

// TestStrengthBooks: what is lost by age, drag-out and film is what the last load
// of a single bath shows, and the sulfur is that of the films.
func TestStrengthBooks(t *testing.T) {
	r := rounds()
	r.Lots[0].Pieces = 100
	r.Held, r.FilmNM, r.Life, r.Drain = true, 200, 1e10, rinse.Well
	p := made(t, r)
	if p.Totals.Baths != 1 {
		t.Fatal(p.Totals)
	}
	// 100 one-ounce rounds (0.269 m2) at 200 nm take 0.050 g of sulfur.
	sulfur := float64(kinetics.SilverFilm.SulfurBound(26.9, 200))
	outside.Check(t, "sulfur in the film of 100 one-ounce rounds at 200 nm, g", "computed from molar masses (IUPAC 2021) and a density of 7.23 g/cm3, from memory", 0.050, sulfur, 0.001)
	lost := p.Shares.LostPerBath
	film := sulfur / (4 * 4.5 * liverSulfur)
	if got := lost * p.Shares.FilmPercent / 100; math.Abs(got-film) > 1e-9 {
		t.Errorf("film takes %g of the strength, want %g", got, film)
	}
	if sum := p.Shares.AgePercent + p.Shares.DragOutPercent + p.Shares.FilmPercent + p.Shares.DilutionPercent; math.Abs(sum-100) > 1e-9 {
		t.Errorf("shares add up to %g", sum)
	}
	if p.Shares.Ends != "film" {
		t.Errorf("ends by %s: %+v", p.Shares.Ends, p.Shares)
	}
	r.Life = 3600
	if s := made(t, r).Shares; s.Ends != "age" {
		t.Errorf("with a half-life of 1 h it ends by %s: %+v", s.Ends, s)
	}
}

// TestRinseChanges: tubs are changed in time, and not before they hold anything.
func TestRinseChanges(t *testing.T) {
	r := rounds()
	r.Lots[0].Pieces = 290
	r.Held, r.Life, r.Reagents = true, 1e10, weighed("sodium-carbonate", 4.5, 0.01, 5)
	r.Drain, r.Rinse = rinse.VeryPoor, Rinse{Tubs: 2, Volume: 1, LimitPerL: 0.002}
	p := made(t, r)
	changes := 0
	for _, e := range p.Events {
		if e.Kind == ChangeRinse {
			changes++
		}
	}
	if changes == 0 || p.Loads[0].RinseNote != "" {
		t.Errorf("%d changes, the first load: %q", changes, p.Loads[0].RinseNote)
	}
	for _, l := range p.Loads {
		if l.RinsePerL > 0.002 {
			t.Errorf("load %d leaves the rinse with %g g/L", l.Number, l.RinsePerL)
		}
	}
	r.Rinse.LimitPerL = 1e-6
	if p := made(t, r); !warned(p, "rinse-short") {
		t.Errorf("no word that clean tubs are not enough: %+v", p.Warnings)
	}
}

// TestSmallTub: a litre and a third at 75 C in 200 x 140 mm.
func TestSmallTub(t *testing.T) {
	r := rounds()
	r.Volume, r.Vessel = 1.33, Vessel{LengthMM: 200, WidthMM: 140, HeightMM: 90}
	p := made(t, r)
	outside.Check(t, "watts to hold 1.33 L at 75 C in a tub of 200 x 140 mm", "worked from the open-tank heat loss table; good to a fifth", 165, p.HoldingWattsOpen, 15)
	if p.CoolingPerMin < 1.6 || p.CoolingPerMin > 2.1 {
		t.Errorf("cools %g C a minute", p.CoolingPerMin)
	}
	if !warned(p, "cannot-hold") {
		t.Errorf("%+v", p.Warnings)
	}
}

func TestBadRuns(t *testing.T) {
	nan := math.NaN()
	for name, test := range map[string]struct {
		change func(*Run)
		want   string
	}{
		"no kinds":            {func(r *Run) { r.Lots = nil }, "kinds of pieces"},
		"no pieces":           {func(r *Run) { r.Lots[0].Pieces = 0 }, "0 pieces"},
		"too many":            {func(r *Run) { r.Lots[0].Pieces = 2_000_000 }, "2000000 pieces"},
		"no area":             {func(r *Run) { r.Lots[0].AreaCM2 = 0 }, "0 cm2"},
		"area no number":      {func(r *Run) { r.Lots[0].AreaCM2 = measure.SquareCM(nan) }, "NaN cm2"},
		"pairs of an odd lot": {func(r *Run) { r.Lots[0].Pieces, r.Group = 199, 2 }, "do not divide"},
		"set over a load":     {func(r *Run) { r.Group, r.PerLoad = 4, 3 }, "do not fit loads"},
		"set over the rack":   {func(r *Run) { r.Group, r.RackPieces = 4, 3 }, "rack of 3"},
		"set over the floor":  {func(r *Run) { r.Group = 100; r.Hung = false }, "does not fit the floor"},
		"small vessel":        {func(r *Run) { r.Vessel = Vessel{DiameterMM: 30, HeightMM: 40} }, "does not fit the vessel"},
		"no bath":             {func(r *Run) { r.Volume = 0 }, "a bath of 0 L"},
		"hot room":            {func(r *Run) { r.Air.Ambient = 90 }, "a room of"},
		"wet room":            {func(r *Run) { r.Air.HumidityPercent = 130 }, "humidity"},
		"dry room":            {func(r *Run) { r.Air.HumidityPercent = nan }, "humidity"},
		"boiling": {func(r *Run) { r.Water = recipe.Range[measure.Celsius]{At: 104, From: 100, To: 110} },
			"above boiling"},
		"boiling start":    {func(r *Run) { r.Start = 120 }, "above boiling"},
		"boiling kettle":   {func(r *Run) { r.Kettle = Kettle{At: 130, Most: 1} }, "topping up"},
		"turned range":     {func(r *Run) { r.Water.From = 90 }, "a bath from"},
		"no dip":           {func(r *Run) { r.Dip = recipe.Range[measure.Seconds]{} }, "shorter than hands"},
		"split second":     {func(r *Run) { r.Dip.At, r.Dip.From = 0.3, 0.1 }, "shorter than hands"},
		"endless dip":      {func(r *Run) { r.Dip.At = measure.Seconds(math.Inf(1)) }, "a dip from"},
		"negative life":    {func(r *Run) { r.Life = -3 }, "below zero"},
		"negative hands":   {func(r *Run) { r.Hands.InS = -1 }, "hands of"},
		"rinse of nothing": {func(r *Run) { r.Rinse.Tubs = 2 }, "rinse tubs"},
		"many tubs":        {func(r *Run) { r.Rinse = Rinse{Tubs: 20, Volume: 1} }, "rinse tubs"},
		"too thick a film": {func(r *Run) { r.FilmNM = 500_000 }, "binds all the sulfur"},
	} {
		r := rounds()
		test.change(&r)
		_, err := Make(r)
		if err == nil || !strings.Contains(err.Error(), test.want) || fault.CureOf(err) == "" {
			t.Errorf("%s: %v (%s)", name, err, fault.CureOf(err))
		}
		if Help(r, 5) != nil {
			t.Errorf("%s: levers for what cannot be", name)
		}
	}
}

func TestWordsOfWarning(t *testing.T) {
	for code, change := range map[string]func(*Run){
		"ambient-above":      func(r *Run) { r.Water, r.Air.Ambient = recipe.Range[measure.Celsius]{At: 15, From: 5, To: 20}, 30 },
		"dip-short":          func(r *Run) { r.Basket, r.Dip.At = false, 3 },
		"bath-small":         func(r *Run) { r.Volume, r.Vessel = 0.1, Vessel{} },
		"hands-set":          func(r *Run) { r.Basket, r.Group = false, 8 },
		"life-unknown":       func(r *Run) { r.Life, r.Reagents = 0, noSulfide(*r) },
		"floor-unknown":      func(r *Run) { r.Lots[0].ExtentMM = [3]measure.Millimeters{} },
		"kettle-cold":        func(r *Run) { r.Kettle = Kettle{At: 40, Most: 1} },
		"near-boiling":       func(r *Run) { r.Start, r.Water.To = 96, 98 },
		"start-out-of-range": func(r *Run) { r.Start = 60 },
		"load-out-of-range":  func(r *Run) { r.Lots[0].MassG, r.Metal = 500, 5 },
		"dip-out-of-limits":  func(r *Run) { r.Dip.To, r.StartStrength = 10, 0.9 },
		"held-chill":         func(r *Run) { r.Held, r.Lots[0].MassG, r.Metal = true, 400, 15 },
		"cannot-hold":        func(r *Run) {},
	} {
		r := rounds()
		change(&r)
		p := made(t, r)
		if !warned(p, code) {
			t.Errorf("%s: not warned: %+v", code, p.Warnings)
		}
	}
}

// TestQuietRun: a bath at the temperature of the room has nothing to be warned of.
func TestQuietRun(t *testing.T) {
	r := rounds()
	r.Water = recipe.Range[measure.Celsius]{At: 20, From: 15, To: 25}
	r.Lots[0].Pieces = 60
	p := made(t, r)
	if len(p.Warnings) != 0 || p.Totals.Reheats != 0 || p.HoldingWattsOpen > 30 {
		t.Errorf("%+v %+v", p.Warnings, p.Totals)
	}
}

// TestLidAndAir: what the plan says of holding is what the heat room says.
func TestLidAndAir(t *testing.T) {
	r := rounds()
	r.Tub = heat.Tub{SurfaceCM2: 600, WallCM2: 1200}
	p := made(t, r)
	if want := heat.HoldingWatts(75, r.Tub, r.Air); p.HoldingWattsOpen != want {
		t.Errorf("%g W, want %g", p.HoldingWattsOpen, want)
	}
}

// TestAssumptionsAreSaid: what nobody gave is listed once each.
func TestAssumptionsAreSaid(t *testing.T) {
	r := drops()
	r.Life, r.FilmNM, r.Drain, r.MaxLoad = 0, 0, 0, 0
	p := made(t, r)
	seen := map[string]int{}
	for _, a := range p.Assumptions {
		seen[a.Name]++
		if a.Source == "" || seen[a.Name] > 1 {
			t.Errorf("%+v", a)
		}
	}
	for _, want := range []string{"half-life of the bath", "film thickness", "drag-out", "bath load", "activation energy", "time between loads"} {
		if seen[want] == 0 {
			t.Errorf("%s is not listed: %v", want, seen)
		}
	}
}

// TestWorkingLeadsToTheTime: the last lines of the working give the time of the load.
func TestWorkingLeadsToTheTime(t *testing.T) {
	r := drops()
	r.Explain = 3
	p := made(t, r)
	whole, formula := "", ""
	for _, s := range p.Working {
		if s.Source == "" || !strings.HasPrefix(s.Name, "load 3: ") {
			t.Errorf("%+v", s)
		}
		switch {
		case strings.HasSuffix(s.Name, "whole seconds"):
			whole = s.Result
		case strings.HasSuffix(s.Name, ": dip time"):
			formula = s.Result
		}
	}
	l := p.Loads[2]
	if whole != figure(float64(l.DipS), 0)+" s" || formula != figure(l.NeedS, 2)+" s" {
		t.Errorf("working ends at %q and %q, load %+v", formula, whole, l)
	}
}

// TestBooksOfWaterAndWaste: what goes in comes out, steams off or clings.
func TestBooksOfWaterAndWaste(t *testing.T) {
	for name, change := range map[string]func(*Run){
		"reheated": func(r *Run) {},
		"kettle":   func(r *Run) { r.Kettle = Kettle{At: 95, Most: 0.5} },
		"held":     func(r *Run) { r.Held = true },
		"rinsed":   func(r *Run) { r.Rinse = Rinse{Tubs: 2, Volume: 1} },
	} {
		r := drops()
		change(&r)
		p := made(t, r)
		x := p.Totals
		if name != "rinsed" && (x.Baths < 2) && name != "held" {
			t.Errorf("%s: %d baths", name, x.Baths)
		}
		// The level is made up at the end as well, so that the books close.
		if in, out := x.WaterL, x.WasteL+x.EvaporatedL+x.DraggedL; math.Abs(in-out) > 1e-9 {
			t.Errorf("%s: %g L in, %g L out (%+v)", name, in, out, x)
		}
		if want := float64(200) * 2.2 / 1e4 * 81.5 / 1000; math.Abs(x.DraggedL-want) > 1e-9 {
			t.Errorf("%s: %g L dragged out, want %g", name, x.DraggedL, want)
		}
		if want := float64(x.Baths) * 2.5; math.Abs(x.Reagent-want) > 1e-9 {
			t.Errorf("%s: %g g for %d baths of 2.5 g", name, x.Reagent, x.Baths)
		}
		waste := float64(x.Baths) * 0.5
		for _, e := range p.Events {
			if e.Kind != FreshBath {
				waste += e.WasteL
			}
		}
		if name == "rinsed" {
			waste += 2
		}
		if math.Abs(x.WasteL-waste) > 1e-9 {
			t.Errorf("%s: %g L of waste, want %g", name, x.WasteL, waste)
		}
		if x.EvaporatedL < 0.01 || x.EvaporatedL > 0.5 {
			t.Errorf("%s: %g L steamed off", name, x.EvaporatedL)
		}
	}
}

// TestDragOutThins: with no age and no film the strength falls by what clings, and
// the level that is made up: (1 - D/V) a load.
func TestDragOutThins(t *testing.T) {
	r := drops()
	r.Held, r.Life, r.Reagents, r.Basket = true, 0, noSulfide(r), true
	r.Drain = 900
	p := made(t, r)
	want := 1.0
	for _, l := range p.Loads {
		if math.Abs(l.Strength-want) > 1e-9 {
			t.Errorf("load %d: strength %g, want %g", l.Number, l.Strength, want)
		}
		want *= 1 - float64(l.Pieces)*2.2/1e4*0.9/0.5
	}
	if p.Shares.Ends != "drag-out" {
		t.Errorf("%+v", p.Shares)
	}
}

// liverSulfur is the sulfide sulfur that a gram of lump is expected to hold, in g.
const liverSulfur = 0.1360 * 32.06 / 34.076

// TestFilmOfHalfTheLoad: a load meets the bath less half of the sulfur that it takes.
func TestFilmOfHalfTheLoad(t *testing.T) {
	r := drops()
	r.Held, r.Life, r.Basket, r.FilmNM = true, 1e10, true, 5000
	p := made(t, r)
	bound := float64(kinetics.SilverFilm.SulfurBound(float64(p.Loads[0].Pieces)*0.022, 5000)) / (0.5 * 5 * liverSulfur)
	if got := 1 - p.Loads[0].Strength; math.Abs(got-bound/2) > 1e-6 {
		t.Errorf("the first load meets %g less, want half of %g", got, bound)
	}
}

// TestSpreadByHand works the match of one load of three on hands: in a bath that
// stays, only the hands count; in one that cools, the first piece needs less than
// the last, and the spread is the product.
func TestSpreadByHand(t *testing.T) {
	r := drops()
	r.Group, r.Held, r.Lots[0].Pieces, r.Life, r.Reagents = 1, true, 3, 0, noSulfide(r)
	m := made(t, r).Match
	// 20 s, neighbours 0.5 s apart: 20.5 over 19.5.
	if want := (20.5/19.5 - 1) * 100; math.Abs(m.PlannedSpreadPercent-want) > 1e-9 {
		t.Errorf("held: %g %%, want %g", m.PlannedSpreadPercent, want)
	}
	r.Held = false
	p := made(t, r)
	per := p.CoolingPerMin / 60 * 4 // K between the first and the last, 4 s later
	k := 273.15 + p.Loads[0].TemperatureC
	drift := math.Exp(45000 / kinetics.GasConstant * per / (k * k))
	if want := (20.5/19.5*drift - 1) * 100; math.Abs(p.Match.PlannedSpreadPercent-want) > 0.02 {
		t.Errorf("open: %g %%, want %g", p.Match.PlannedSpreadPercent, want)
	}
}
