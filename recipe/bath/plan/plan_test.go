package plan

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// drops is a run that an open bath cannot hold: 200 small drops in pairs, half a litre at 65 C,
// open and unheated in a room of 20 C.
func drops() Run {
	return Run{
		Lots:  []Lot{{Name: "drop", Pieces: 200, AreaCM2: 2.2, MassG: 1.4, SpecificHeat: 0.246, ExtentMM: [3]measure.Millimeters{14, 8, 1.2}}},
		Group: 2, Volume: 0.5, Vessel: Vessel{DiameterMM: 110, HeightMM: 80}, MaxLoad: 2, Hung: true,
		Water: recipe.Range[measure.Celsius]{At: 65, From: 60, To: 70}, Dip: recipe.Range[measure.Seconds]{At: 20, From: 8, To: 60},
		Life: 4 * 3600, Reagents: weighed("liver-of-sulfur", 5, 4, 9), FilmNM: 500,
		Drain: rinse.Poor, Air: heat.Air{Ambient: 20, HumidityPercent: 50},
	}
}

// rounds is 200 one-ounce silver rounds in a tub that a warm plate may hold.
func rounds() Run {
	return Run{
		Lots:   []Lot{{Name: "round", Pieces: 200, AreaCM2: 26.9, MassG: 31.1, SpecificHeat: 0.235, ExtentMM: [3]measure.Millimeters{39, 39, 2.5}}},
		Volume: 4, Vessel: Vessel{LengthMM: 300, WidthMM: 200, HeightMM: 120}, Hung: true, Basket: true,
		Water: recipe.Range[measure.Celsius]{At: 75, From: 71, To: 82}, Dip: recipe.Range[measure.Seconds]{At: 10, From: 3, To: 30},
		Life: 4 * 3600, Reagents: weighed("liver-of-sulfur", 4.5, 4, 5),
		Air: heat.Air{Ambient: 20, HumidityPercent: 50},
	}
}

// weighed is a bath of one reagent in its usual form, in g/L.
func weighed(id string, at, from, to float64) []Reagent {
	what, err := reagent.Find(id)
	if err != nil {
		panic(err)
	}
	stock, err := reagent.NewStock(what, "", "", 0, false)
	if err != nil {
		panic(err)
	}
	return []Reagent{{Stock: stock, Concentration: recipe.Range[measure.Concentration]{
		At: measure.Concentration{PerL: at}, From: measure.Concentration{PerL: from}, To: measure.Concentration{PerL: to}}}}
}

// noSulfide is a bath of the same strength in which no film binds sulfur.
func noSulfide(r Run) []Reagent {
	c := r.limiting().Concentration
	return weighed("sodium-carbonate", c.At.PerL, c.From.PerL, c.To.PerL)
}

func made(t testing.TB, r Run) Plan {
	t.Helper()
	p, err := Make(r)
	if err != nil {
		t.Fatalf("%v", err)
	}
	promised(t, r, p)
	return p
}

func warned(p Plan, code string) bool {
	for _, w := range p.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// failer is what a test and a property have in common.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
}

// promised checks every promise of the package comment that holds of one plan.
func promised(t failer, r Run, p Plan) {
	t.Helper()
	group := max(r.Group, 1)
	byLot := make([]int, len(r.Lots))
	fewest, most := math.MaxInt, 0
	at := -1.0
	events := map[int]bool{}
	for _, e := range p.Events {
		events[e.BeforeLoad] = true
		if e.AtMin < 0 || e.AtMin > p.Totals.Minutes || e.Minutes < 0 || e.Note().Text == "" {
			t.Errorf("event %+v", e)
		}
	}
	for i, l := range p.Loads {
		sum := 0
		for _, part := range l.ByLot {
			if part.Pieces <= 0 || part.Pieces%group != 0 {
				t.Errorf("load %d has %d pieces of a kind in sets of %d", l.Number, part.Pieces, group)
			}
			byLot[part.Lot] += part.Pieces
			sum += part.Pieces
		}
		fewest, most = min(fewest, sum), max(most, sum)
		if l.Number != i+1 || sum != l.Pieces || l.StartMin <= at || l.DipS < 1 || l.Bath < 1 || l.Bath > p.Totals.Baths {
			t.Errorf("load %+v", l)
		}
		if r.PerLoad > 0 && l.Pieces > r.PerLoad {
			t.Errorf("load %d holds %d of %d", l.Number, l.Pieces, r.PerLoad)
		}
		at = l.StartMin
		if l.DipLowS > l.NeedS*(1+1e-9) || l.DipHighS < l.NeedS*(1-1e-9) {
			t.Errorf("load %d needs %g s, band %g to %g", l.Number, l.NeedS, l.DipLowS, l.DipHighS)
		}
		out := l.TemperatureC < p.TemperatureFromC-1e-6 || l.TemperatureC > p.TemperatureToC+1e-6 || l.Strength < p.StrengthFrom
		if out && !events[l.Number] && !warned(p, "load-out-of-range") {
			t.Errorf("load %d at %g C, strength %g is out of range without a word", l.Number, l.TemperatureC, l.Strength)
		}
		if out && !warned(p, "load-out-of-range") {
			t.Errorf("load %d at %g C, strength %g is out of range even after its events, without a warning", l.Number, l.TemperatureC, l.Strength)
		}
		if d := float64(l.DipS); (d < float64(r.Dip.From) || d > float64(r.Dip.To)) && !warned(p, "dip-out-of-limits") {
			t.Errorf("load %d dips %g s without a warning", l.Number, d)
		}
	}
	if most-fewest > group {
		t.Errorf("loads of %d and %d with sets of %d", fewest, most, group)
	}
	for i, n := range byLot {
		if n != r.Lots[i].Pieces {
			t.Errorf("lot %d: %d pieces in, %d in the loads", i, r.Lots[i].Pieces, n)
		}
	}
	if m := p.Match; m.PlannedSpreadPercent > m.FixedSpreadPercent {
		t.Errorf("planned spread %g %%, fixed %g %%", m.PlannedSpreadPercent, m.FixedSpreadPercent)
	}
	if most != p.Capacity.Pieces || p.Capacity.By == "" {
		t.Errorf("capacity %+v, largest load %d", p.Capacity, most)
	}
	signed := map[string]bool{"TemperatureC": true, "FromC": true, "ToC": true, "CoolingPerMin": true, "CoolingLidPerMin": true, "Value": true}
	numbers(t, reflect.ValueOf(p), "", signed)
	for _, s := range p.Working {
		for _, bad := range []string{"NaN", "Inf", "?"} {
			if strings.Contains(s.Result+s.Numbers, bad) {
				t.Errorf("working: %+v", s)
			}
		}
	}
	for _, w := range p.Warnings {
		for _, bad := range []string{"NaN", "Inf", "?"} {
			if strings.Contains(w.Text, bad) {
				t.Errorf("warning: %s", w.Text)
			}
		}
	}
}

// numbers looks at every figure of a plan.
func numbers(t failer, v reflect.Value, name string, signed map[string]bool) {
	switch v.Kind() {
	case reflect.Float64:
		x := v.Float()
		if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 && !signed[name] {
			t.Errorf("%s is %v", name, x)
		}
	case reflect.Int:
		if v.Int() < 0 {
			t.Errorf("%s is %d", name, v.Int())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			numbers(t, v.Field(i), v.Type().Field(i).Name, signed)
		}
	case reflect.Slice:
		for i := range v.Len() {
			numbers(t, v.Index(i), name, signed)
		}
	}
}
