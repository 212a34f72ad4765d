package kinetics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

// The source gives no film; the figure is the arithmetic of the molar masses and
// the density, done by hand: 7.23 g/cm3 x 1e-3 cm3 x 32.06 / 247.80.
func TestSulfurBound(t *testing.T) {
	const source = "molar masses (IUPAC 2021) and densities (from memory), by hand"
	outside.Check(t, "sulfur in 100 nm of Ag2S on 1 dm2, mg", source, 0.935, float64(SilverFilm.SulfurBound(1, 100))*1000, 0.001)
	outside.Check(t, "sulfur in 100 nm of Cu2S on 1 dm2, mg", source, 1.128, float64(CopperFilm.SulfurBound(1, 100))*1000, 0.001)
	// 100 rounds of 26.93 cm2 under 200 nm: 269.3 dm2 x 2 x 0.935 mg.
	if got := SilverFilm.SulfurBound(269.3, 200); math.Abs(float64(got)-0.5038) > 0.001 {
		t.Errorf("%g g, want 0.504", got)
	}
	if got := (Sulfide{}).SulfurBound(1, 100); got != 0 {
		t.Errorf("a film of nothing holds %g g", got)
	}
}

func TestFilmMolarMasses(t *testing.T) {
	for _, f := range []Sulfide{SilverFilm, CopperFilm} {
		want, err := reagent.MolarMass(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(f.Molar-want) > 0.002 {
			t.Errorf("%s: %g g/mol, by its formula %g", f.Name, f.Molar, want)
		}
	}
}

func TestAged(t *testing.T) {
	// OpenStax Chemistry 2e, 12.6: what decays at 0.138 per day is down to a tenth
	// after 16.7 days.
	const day = 24 * 3600
	halfLife := measure.Seconds(math.Ln2 / 0.138 * day)
	outside.Check(t, "left of a first-order decay after 16.7 days", "OpenStax Chemistry 2e, 12.6, check your learning", 0.10, Aged(1, 16.7*day, halfLife), 0.0005)
	for _, c := range []struct {
		strength float64
		age, t   measure.Seconds
		want     float64
	}{{1, 3600, 3600, 0.5}, {0.8, 7200, 3600, 0.2}, {1, 0, 3600, 1}, {1, 100, 0, 1}, {1, -100, 3600, 1}, {-1, 100, 3600, 0}} {
		if got := Aged(c.strength, c.age, c.t); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v: %g", c, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		life := measure.Seconds(rapid.Float64Range(1, 1e6).Draw(t, "half-life"))
		a := measure.Seconds(rapid.Float64Range(0, 1e6).Draw(t, "age"))
		b := measure.Seconds(rapid.Float64Range(0, 1e6).Draw(t, "more"))
		once, twice := Aged(1, a+b, life), Aged(Aged(1, a, life), b, life)
		if math.Abs(once-twice) > 1e-9 {
			t.Fatalf("aged at once %g, in two spells %g", once, twice)
		}
		if once > Aged(1, a, life) {
			t.Fatalf("it grows stronger")
		}
	})
}
