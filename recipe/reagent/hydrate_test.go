package reagent_test

import (
	"math"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"

	"pgregory.net/rapid"
)

func TestHydrates(t *testing.T) {
	checked := 0
	for _, r := range rows(t, "molar_masses.csv") {
		dry, _, ok := strings.Cut(r["formula"], ".")
		if !ok || r["g_hydrate_per_g_anhydrous"] == "" {
			continue
		}
		checked++
		from := reagent.Form{Name: "dry", Formula: strings.TrimPrefix(dry, "2"), MassPercent: 100}
		to := reagent.Form{Name: "hydrate", Formula: r["formula"], MassPercent: 100}
		got := must[float64](t)(reagent.HydrateFactor(from, to))
		outside.Check(t, "g of "+r["formula"]+" per g of dry salt", r["source"], number(t, r["g_hydrate_per_g_anhydrous"]), got, 1e-5)
	}
	if checked < 15 {
		t.Errorf("only %d hydrates checked", checked)
	}
}

func TestHydratesOfTheTable(t *testing.T) {
	for _, c := range []struct {
		id, from, to string
		want         float64
	}{
		{"copper-sulfate", "anhydrous", "pentahydrate", 249.677 / 159.602},
		{"copper-nitrate", "trihydrate", "hemipentahydrate", 232.5915 / 241.599},
		{"sodium-sulfide", "flake", "nonahydrate", 0.6 * 240.1745 / 78.0395},
		{"ammonia", "28 % solution", "10 % solution", 2.8},
		{"acetic-acid", "glacial", "vinegar 5 %", 99.5 / 5},
		{"liver-of-sulfur", "gel", "gel", 1},
	} {
		got := must[float64](t)(reagent.HydrateFactor(form(t, c.id, c.from), form(t, c.id, c.to)))
		if math.Abs(got-c.want) > 1e-4*c.want {
			t.Errorf("%s: 1 g %s is %g g %s, want %g", c.id, c.from, got, c.to, c.want)
		}
	}
}

func TestHydratesRefused(t *testing.T) {
	salt := form(t, "sodium-chloride", "")
	for what, pair := range map[string][2]reagent.Form{
		"unknown strength": {form(t, "liver-of-sulfur", "gel"), form(t, "liver-of-sulfur", "lump")},
		"no formula":       {form(t, "liver-of-sulfur", "lump"), salt},
		"another thing":    {form(t, "copper-sulfate", ""), salt},
		"nonsense":         {{Name: "x", Formula: "Xx", MassPercent: 100}, salt},
		"too strong":       {{Name: "x", Formula: "NaCl", MassPercent: 101}, salt},
		"no strength":      {{Name: "x", Formula: "NaCl", MassPercent: math.NaN()}, salt},
	} {
		if f, err := reagent.HydrateFactor(pair[0], pair[1]); err == nil || f != 0 || fault.CureOf(err) == "" {
			t.Errorf("%s: %g, %v", what, f, err)
		}
	}
}

// drawForms picks a substance and two of its forms that can be converted.
func drawForms(t *rapid.T) (a, b reagent.Form) {
	s := rapid.SampledFrom(reagent.All()).Draw(t, "substance")
	a = rapid.SampledFrom(s.Forms).Draw(t, "from")
	b = rapid.SampledFrom(s.Forms).Draw(t, "to")
	if a.Formula == "" || b.Formula == "" {
		t.Skip("a mixture")
	}
	return a, b
}

func TestHydrateThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawForms(t)
		there, err := reagent.HydrateFactor(a, b)
		if err != nil {
			t.Fatal(err)
		}
		back, err := reagent.HydrateFactor(b, a)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(there*back-1) > 1e-12 {
			t.Fatalf("%s to %s and back gives %g", a.Name, b.Name, there*back)
		}
	})
}
