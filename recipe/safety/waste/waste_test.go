package waste

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hepar/recipe/bath/kinetics"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
	"hepar/recipe/safety"
	"hepar/recipe/safety/gas"
	"pgregory.net/rapid"
)

func find(list []Figure, element string) Figure {
	for _, f := range list {
		if f.Element == element {
			return f
		}
	}
	return Figure{}
}

// in is a mass of one substance in a bath.
func in(t interface{ Fatal(...any) }, id, form string, g measure.Grams) []reagent.Amount {
	s, err := reagent.Find(id)
	if err != nil {
		t.Fatal(err)
	}
	stock, err := reagent.NewStock(s, form, "", 0, false)
	if err != nil {
		t.Fatal(err)
	}
	return []reagent.Amount{stock.Of(float64(g))}
}

func alloy(t *testing.T, name string) metal.Alloy {
	t.Helper()
	a, err := metal.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// What was weighed in, against shares by mass that are printed elsewhere.
func TestWeighedIn(t *testing.T) {
	const weights = "IUPAC 2021 abridged atomic weights"
	for _, c := range []struct {
		what, substance, form, element, source string
		grams                                  measure.Grams
		liters                                 measure.Liters
		want, tolerance                        float64
		most                                   bool
	}{
		{"sulfide in 10 g/L Na2S.9H2O, mg/L S", "sodium-sulfide", "nonahydrate", "S", weights + ": 32.06/240.1745", 10, 1, 1334.9, 1.5, false},
		{"sulfide in 10 g/L K2S, mg/L S", "potassium-sulfide", "anhydrous", "S", weights + ": 32.06/110.2566", 10, 1, 2907.8, 1.5, false},
		{"sulfide in 10 g/L of pure K2S3, one S of three, mg/L S", "liver-of-sulfur", "lump", "S", weights + ": 32.06/174.3766", 10, 1, 1838.5, 2, true},
		{"sulfide in 4.5 g/L sulfurated potash of the least strength, mg/L S", "liver-of-sulfur", "lump", "S", "compendial minimum 12.8 % sulfide sulfur", 18, 4, 576, 2, false},
		{"copper in 10 g/L CuSO4.5H2O, mg/L", "copper-sulfate", "pentahydrate", "Cu", "25.45 % Cu on supplier sheets, from memory", 10, 1, 2545, 2, false},
		{"silver in 5 g/L AgNO3, mg/L", "silver-nitrate", "", "Ag", "63.50 % Ag on supplier sheets, from memory", 5, 1, 3175, 2, false},
		{"barium in 5 g/L BaS, mg/L", "barium-sulfide", "", "Ba", weights + ": 137.327/169.387", 5, 1, 4053.7, 2, false},
	} {
		e, err := Content(Batch{Volume: c.liters, Reagents: in(t, c.substance, c.form, c.grams)})
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		f := find(e.Bath, c.element)
		got := f.Expected
		if c.most {
			got = f.AtMost
		}
		outside.Check(t, c.what, c.source, c.want, got, c.tolerance)
		if f.Assumed {
			t.Errorf("%s is marked assumed", c.what)
		}
	}
}

// Film: a square decimetre of silver at 100 nm, all of it in a litre.
func TestFilm(t *testing.T) {
	e, err := Content(Batch{
		Volume: 1, Area: 100, Alloy: metal.Alloy{Name: "fine", Density: 10.49, Composition: map[string]float64{"Ag": 1}},
		Reagents: in(t, "sodium-sulfide", "", 1),
	})
	if err != nil {
		t.Fatal(err)
	}
	ag := find(e.Bath, "Ag")
	// 87.06 % silver in acanthite of 7.23 g/cm3.
	outside.Check(t, "silver in 100 nm of Ag2S on 1 dm2, mg", "Handbook of Mineralogy, acanthite: 87.06 % Ag, 7.20 to 7.24 g/cm3, from memory", 100*100e-7*7.23*0.8706*1000, ag.Expected/FlakedShare*100/kinetics.Silver.Film.NM, 0.01)
	if !ag.Assumed || math.Abs(ag.AtMost-gas.Factor*ag.Expected) > 1e-9 {
		t.Errorf("%+v is not marked as an assumption with its factor", ag)
	}
}

// A micrometre of copper off a square metre is a cubic centimetre of it.
func TestDissolved(t *testing.T) {
	for _, c := range []struct {
		alloy, acid, element string
		share                float64
	}{
		{"copper-c110", "sodium-bisulfate", "Cu", 1},
		{"brass-c260", "citric-acid", "Zn", 0.30},
		{"sterling-925", "sodium-bisulfate", "Ag", 0},
		{"sterling-925", "nitric-acid", "Ag", 0.925},
	} {
		a := alloy(t, c.alloy)
		e, err := Content(Batch{Volume: 10, Area: 1e4, Alloy: a, Reagents: in(t, c.acid, "", 100)})
		if err != nil {
			t.Fatal(err)
		}
		want := c.share * float64(a.Density) * 1000 / 10
		if got := find(e.Bath, c.element).Expected; math.Abs(got-want) > want*0.02 {
			t.Errorf("%s in %s: %s %g mg/L, want %g", c.alloy, c.acid, c.element, got, want)
		}
	}
}

func TestAlloyIsMissed(t *testing.T) {
	e, err := Content(Batch{Volume: 4, Reagents: in(t, "liver-of-sulfur", "", 18), Area: 2700})
	if err != nil || !slices.ContainsFunc(e.NotKnown, func(s string) bool { return strings.Contains(s, "alloy") }) {
		t.Errorf("an alloy that was not given is not missed: %q, %v", e.NotKnown, err)
	}
}

// Several baths in one container hold no more than the strongest says.
func TestStrongest(t *testing.T) {
	weak := Estimate{Bath: []Figure{{What: "silver", Element: "Ag", Expected: 1, AtMost: 9, Assumed: true}}, NotKnown: []string{"one"}}
	strong := Estimate{Bath: []Figure{{What: "copper", Element: "Cu", Expected: 2, AtMost: 2}, {What: "silver", Element: "Ag", Expected: 3, AtMost: 4}}, NotKnown: []string{"one", "two"}}
	got := strings.Join(Strongest(weak, strong).Lines(), " ")
	for _, want := range []string{"silver 3.0 to 9.0 mg/L (assumed)", "copper 2.0 mg/L", "Not known: one.", "Not known: two."} {
		if strings.Count(got, want) != 1 {
			t.Errorf("%q lacks %q", got, want)
		}
	}
}

// Nothing printed promises anything, and the withdrawn figure for reactive sulfide (EPA
// took the guidance back in April 1998) stands nowhere, not even in a comment.
func TestWords(t *testing.T) {
	for _, s := range reagent.All() {
		e, err := Content(Batch{Volume: 5, Reagents: in(t, s.ID, "", 20), Area: 500, DragOut: 80, Alloy: alloy(t, "brass-c260")})
		if err != nil {
			t.Errorf("%s: %v", s.ID, err)
			continue
		}
		lines := e.Lines()
		for _, line := range lines {
			if len(line) > 195 { // a field of a label takes 200 characters
				t.Errorf("too long for a label: %q", line)
			}
		}
		for _, line := range lines {
			if found := safety.Claims(line); len(found) > 0 {
				t.Errorf("%q claims %q", line, found)
			}
		}
		if !strings.Contains(strings.Join(e.Lines(), " "), "local authority") {
			t.Errorf("%s: nobody is said to decide", s.ID)
		}
	}
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 3 {
		t.Fatal(files, err)
	}
	withdrawn := "5" + "00"
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, unit := range []string{" mg/kg", " ppm", " mg/L"} {
			if strings.Contains(string(text), withdrawn+unit) {
				t.Errorf("%s has the withdrawn figure", name)
			}
		}
	}
}

func TestBadInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	ok := Batch{Volume: 1, Reagents: in(t, "liver-of-sulfur", "", 5)}
	for name, change := range map[string]func(*Batch){
		"no volume":    func(b *Batch) { b.Volume = 0 },
		"volume nan":   func(b *Batch) { b.Volume = measure.Liters(nan) },
		"volume inf":   func(b *Batch) { b.Volume = measure.Liters(inf) },
		"mass below 0": func(b *Batch) { b.Reagents[0].Shown = -1 },
		"mass nan":     func(b *Batch) { b.Reagents[0].Shown = nan },
		"area below 0": func(b *Batch) { b.Area = -1 },
		"area inf":     func(b *Batch) { b.Area = measure.SquareCM(inf) },
		"drag-out":     func(b *Batch) { b.DragOut = -1 },
		"all dragged":  func(b *Batch) { b.Area, b.DragOut = 1e5, 978 },
	} {
		b := ok
		b.Reagents = slices.Clone(ok.Reagents)
		change(&b)
		if _, err := Content(b); err == nil {
			t.Errorf("%s: no error", name)
		} else if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: %v (%s)", name, err, fault.CureOf(err))
		}
	}
}

func TestProperties(t *testing.T) {
	all := reagent.All()
	alloys := []metal.Alloy{alloy(t, "sterling-925"), alloy(t, "brass-c260"), alloy(t, "copper-c110"), alloy(t, "gold-14k-yellow")}
	rapid.Check(t, func(t *rapid.T) {
		b := Batch{
			Volume:  measure.Liters(rapid.Float64Range(0.05, 500).Draw(t, "L")),
			Area:    measure.SquareCM(rapid.Float64Range(0, 1e5).Draw(t, "cm2")),
			DragOut: measure.MillilitersPerSquareM(rapid.Float64Range(0, 400).Draw(t, "drag")),
			Alloy:   rapid.SampledFrom(alloys).Draw(t, "alloy"),
		}
		for range rapid.IntRange(0, 4).Draw(t, "n") {
			s := rapid.SampledFrom(all).Draw(t, "s")
			b.Reagents = append(b.Reagents, in(t, s.ID, rapid.SampledFrom(s.Forms).Draw(t, "form").Name, measure.Grams(rapid.Float64Range(0, 1000).Draw(t, "g")))...)
		}
		e, err := Content(b)
		if err != nil {
			if fault.KindOf(err) != fault.Usage {
				t.Fatal(err)
			}
			return
		}
		for _, f := range e.Bath {
			if math.IsNaN(f.AtMost) || math.IsInf(f.AtMost, 0) || f.Expected < 0 || f.AtMost < f.Expected || f.Source == "" {
				t.Fatalf("%+v", f)
			}
		}
		b.Volume *= 2
		if thin, err := Content(b); err == nil {
			for i, f := range thin.Bath {
				if math.Abs(2*f.AtMost-e.Bath[i].AtMost) > 1e-9*e.Bath[i].AtMost {
					t.Fatalf("twice the volume does not halve %+v", f)
				}
			}
		}
	})
}
