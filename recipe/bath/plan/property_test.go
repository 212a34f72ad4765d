package plan

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// anyRun draws a run as a workshop might have it, odd corners included.
func anyRun(rt *rapid.T) Run {
	f := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(rt, name) }
	is := func(name string) bool { return rapid.Bool().Draw(rt, name) }
	maybe := func(low, high float64, name string) float64 {
		if is(name + "?") {
			return f(low, high, name)
		}
		return 0
	}
	group := rapid.IntRange(1, 4).Draw(rt, "group")
	r := Run{Group: group, Volume: measure.Liters(f(0.05, 20, "volume"))}
	for range rapid.IntRange(1, 3).Draw(rt, "lots") {
		l := Lot{Pieces: group * rapid.IntRange(1, 60).Draw(rt, "sets"), AreaCM2: measure.SquareCM(f(0.2, 80, "area")),
			MassG: measure.Grams(maybe(0.1, 200, "mass")), SpecificHeat: f(0.1, 1, "specific")}
		if is("extent") {
			a := f(2, 90, "side")
			l.ExtentMM = [3]measure.Millimeters{measure.Millimeters(a), measure.Millimeters(a * f(0.1, 1, "second")), measure.Millimeters(a * f(0.01, 0.1, "third"))}
		}
		r.Lots = append(r.Lots, l)
	}
	if is("vessel") {
		r.Vessel = Vessel{LengthMM: measure.Millimeters(f(60, 500, "l")), WidthMM: measure.Millimeters(f(60, 400, "w")), HeightMM: measure.Millimeters(f(50, 300, "h"))}
	}
	if is("per-load?") {
		r.PerLoad = rapid.IntRange(1, 40).Draw(rt, "per-load")
	}
	r.MaxLoad = measure.SquareDMPerLiter(maybe(0.2, 5, "max-load"))
	at := measure.Celsius(f(5, 98, "at"))
	r.Water = recipe.Range[measure.Celsius]{At: at, From: at - measure.Celsius(min(float64(at), maybe(0, 20, "below"))), To: at + measure.Celsius(maybe(0, 20, "above"))}
	dip := measure.Seconds(math.Exp(f(0, 7, "ln dip")))
	r.Dip = recipe.Range[measure.Seconds]{At: dip, From: dip / measure.Seconds(f(1, 4, "dip below")), To: dip * measure.Seconds(f(1, 4, "dip above"))}
	r.Life = measure.Seconds(maybe(600, 1e6, "life"))
	c := maybe(0.3, 100, "g/L")
	r.Reagents = weighed(rapid.SampledFrom([]string{"liver-of-sulfur", "sodium-sulfide", "barium-sulfide", "sodium-carbonate"}).Draw(rt, "substance"),
		c, c/f(1, 3, "weaker"), c*f(1, 3, "stronger"))
	r.Reagents[0].Step = maybe(0.001, 0.5, "balance")
	r.FilmNM = maybe(10, 3000, "film")
	r.Drain = measure.MillilitersPerSquareM(maybe(5, 900, "drain"))
	r.Air = heat.Air{Ambient: measure.Celsius(f(-10, 45, "ambient")), HumidityPercent: f(0, 100, "humidity")}
	r.Metal = measure.Celsius(maybe(0, 90, "metal"))
	r.Held, r.Lid, r.Basket, r.Hung = is("held"), is("lid"), is("basket"), is("hung")
	r.HeaterW = maybe(1, 1500, "heater")
	r.Hands = Hands{InS: maybe(0.2, 20, "in"), OutS: maybe(0.2, 20, "out"), Tolerance: maybe(0.01, 0.5, "tolerance")}
	r.Kettle = Kettle{At: measure.Celsius(maybe(10, 100, "kettle")), Most: measure.Liters(maybe(0.01, 5, "kettle-l"))}
	r.Between = measure.Seconds(maybe(1, 600, "between"))
	if is("rinse") {
		r.Rinse = Rinse{Tubs: rapid.IntRange(1, 3).Draw(rt, "tubs"), Volume: measure.Liters(f(0.1, 10, "rinse-l")), LimitPerL: maybe(1e-4, 1, "rinse-limit")}
	}
	r.Explain = rapid.IntRange(0, 20).Draw(rt, "explain")
	return r
}

// TestEveryPlanKeepsItsPromises draws runs and checks all that holds of any plan:
// pieces in are pieces out, sets whole, loads even, the planned spread never above
// the fixed one, no load out of range without a word, every figure a number.
func TestEveryPlanKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := anyRun(rt)
		p, err := Make(r)
		if err != nil {
			var f *fault.Error
			if !errors.As(err, &f) || f.Cure == "" {
				rt.Fatalf("%v has no cure", err)
			}
			return
		}
		promised(rt, r, p)
	})
}

// TestHeldBathEqualTimes: with a strength that stays, a held bath gives one time;
// with one that falls, times never fall within a bath.
func TestHeldBathEqualTimes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := anyRun(rt)
		r.Held, r.HeaterW = true, 0
		p, err := Make(r)
		if err != nil {
			return
		}
		promised(rt, r, p)
		for i := 1; i < len(p.Loads); i++ {
			a, b := p.Loads[i-1], p.Loads[i]
			if a.TemperatureC != b.TemperatureC {
				rt.Fatalf("a held bath goes from %g to %g C", a.TemperatureC, b.TemperatureC)
			}
			if a.Bath == b.Bath && b.DipS < a.DipS && a.Strength >= b.Strength {
				rt.Fatalf("weaker and shorter: %+v %+v", a, b)
			}
		}
		r.Rate = kinetics.Rate{EaKJ: 45, Source: "no order: strength has no say"}
		if p, err = Make(r); err != nil {
			rt.Fatal(err)
		}
		for _, l := range p.Loads {
			if l.DipS != p.Loads[0].DipS {
				rt.Fatalf("load %d of a held bath gets %d s, load 1 %d s", l.Number, l.DipS, p.Loads[0].DipS)
			}
		}
	})
}

// TestLongerWhenColder: of two loads of one plan at the same or a lower strength,
// the colder one never has the shorter time.
func TestLongerWhenColder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := anyRun(rt)
		r.Held = false
		p, err := Make(r)
		if err != nil {
			return
		}
		for _, a := range p.Loads {
			for _, b := range p.Loads {
				if a.TemperatureC >= b.TemperatureC && a.Strength >= b.Strength && (a.DipS > b.DipS || a.NeedS > b.NeedS*(1+1e-9)) {
					rt.Fatalf("hotter and longer: %+v %+v", a, b)
				}
			}
		}
	})
}

// TestColderRunIsLonger compares two plans: the same bath started cooler.
func TestColderRunIsLonger(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := anyRun(rt)
		r.Held, r.HeaterW, r.Life, r.Reagents = true, 0, 0, nil
		r.Start = r.Water.At
		hot, err := Make(r)
		if err != nil || hot.Loads[0].NeedS > float64(kinetics.Longest)/3 {
			return
		}
		r.Start -= measure.Celsius(rapid.Float64Range(0.1, 5).Draw(rt, "cooler"))
		if r.Start <= 0 {
			return
		}
		cool, err := Make(r)
		if err != nil {
			rt.Fatal(err)
		}
		if cool.Loads[0].NeedS <= hot.Loads[0].NeedS || cool.Loads[0].DipS < hot.Loads[0].DipS {
			rt.Fatalf("%+v at the cooler start, %+v at the hotter", cool.Loads[0], hot.Loads[0])
		}
	})
}

// TestFewestLoads counts, for one kind, that no smaller number of even loads keeps
// the limits of area and of pieces per load.
func TestFewestLoads(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := rounds()
		r.Vessel = Vessel{}
		r.Group = rapid.IntRange(1, 5).Draw(rt, "group")
		r.Lots[0].Pieces = r.Group * rapid.IntRange(1, 400).Draw(rt, "sets")
		r.Volume = measure.Liters(rapid.Float64Range(2, 20).Draw(rt, "volume"))
		r.PerLoad = rapid.IntRange(r.Group, 60).Draw(rt, "per-load")
		p, err := Make(r)
		if err != nil {
			rt.Fatal(err)
		}
		most := min(r.PerLoad, int(float64(r.Volume)*2/0.269+1e-9)) / r.Group * r.Group
		want := (r.Lots[0].Pieces + most - 1) / most
		if len(p.Loads) != want {
			rt.Fatalf("%d loads of at most %d for %d pieces in sets of %d, want %d (%+v)", len(p.Loads), most, r.Lots[0].Pieces, r.Group, want, p.Capacity)
		}
	})
}

// TestHelpIsSorted: best match first, and nothing where the match is good enough.
func TestHelpIsSorted(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := anyRun(rt)
		levers := Help(r, 5)
		p, err := Make(r)
		if len(levers) > 0 && (err != nil || p.Match.PlannedSpreadPercent <= 5) {
			rt.Fatalf("levers for a spread of %g %%, %v", p.Match.PlannedSpreadPercent, err)
		}
		for i, l := range levers {
			if i > 0 && l.SpreadPercent < levers[i-1].SpreadPercent-0.06 {
				rt.Fatalf("not sorted: %+v", levers)
			}
			if l.Enough != (l.SpreadPercent <= 5) || l.Text == "" {
				rt.Fatalf("%+v", l)
			}
		}
	})
}
