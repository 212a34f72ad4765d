package kinetics

import (
	"fmt"
	"math"
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

// TestSulfurInFilm: the shares of sulfur follow from molar masses that are published
// for the whole compound.
func TestSulfurInFilm(t *testing.T) {
	for _, c := range []struct {
		film  Film
		molar float64 // published for the compound, g/mol
	}{{Silver.Film, 247.80}, {Copper.Film, 159.16}} {
		outside.Same(t, "molar mass of "+c.film.Name+", g/mol", "IUPAC atomic weights 2021, summed", c.molar, c.film.Molar, 0.01)
	}
	// 1 dm2 x 150 nm x 7.23 g/cm3 = 10.845 mg of Ag2S, 12.94 % of it sulfur.
	if got := float64(Silver.Film.Sulfur(1)); math.Abs(got-1.4031e-3) > 1e-6 {
		t.Errorf("the black on 1 dm2 binds %g g of sulfur, want 1.4031 mg", got)
	}
	if got := Silver.Film.Strength(1, 0.14031); math.Abs(got-0.01) > 1e-5 {
		t.Errorf("it takes %g of a bath with 0.14 g of sulfur, want 0.01", got)
	}
	if got := Silver.Film.Strength(1e6, 0.1); got != 1 {
		t.Errorf("more film than sulfur takes %g of the bath, want 1", got)
	}
	if x := Silver.Film.Strength(1, 0); x != 0 {
		t.Errorf("nothing binds %g", x)
	}
}

// TestBathsFadeAsReckonedElsewhere compares the half-lives of a liter in the open at
// 75 C with those worked out apart from the program; their constants are from memory,
// good to a factor of 2.5.
func TestBathsFadeAsReckonedElsewhere(t *testing.T) {
	for _, c := range []struct {
		grams, across, hours float64 // g/L, cm of the vessel
	}{{4.5, 10, 58}, {4.5, 20, 23}, {0.5, 10, 12}, {0.5, 20, 3}} {
		surface := math.Pi / 4 * c.across * c.across / 1e4
		got := 0.5 / Fade(LiverFade, c.grams, surface, 75, false) / 3600
		t.Logf("restated: half-life of 1 L at %g g/L, %g cm across, h | computed elsewhere from constants from memory | expected %g | got %.3g", c.grams, c.across, c.hours, got)
		if got < c.hours/1.5 || got > c.hours*1.5 {
			t.Errorf("%g g/L, %g cm across: %g h, want %g within a factor of 1.5", c.grams, c.across, got, c.hours)
		}
	}
}

func TestFadeFollowsSurfaceAndHeat(t *testing.T) {
	at := func(grams, surface float64, c measure.Celsius, moved bool) float64 {
		return Fade(LiverFade, grams, surface, c, moved)
	}
	cool := at(4.5, 0.03, 20, false)
	for what, x := range map[string][2]float64{
		"a moved bath fades faster":           {at(4.5, 0.03, 20, true), cool},
		"a wider vessel fades faster":         {at(4.5, 0.06, 20, false), cool},
		"a smaller dose fades faster":         {at(2, 0.03, 20, false), cool},
		"a hot bath fades faster":             {at(4.5, 0.03, 75, false), cool},
		"a cold bath fades by air alone":      {cool * 1.001, LiverFade * 0.03 / 4.5 / 3600},
		"at 50 C heat takes next to nothing":  {cool * 1.15, at(4.5, 0.03, 50, false)},
		"a bath that does not fade, does not": {1e-300, Fade(0, 4.5, 0.03, 75, true)},
	} {
		if !(x[0] > x[1]) {
			t.Error(fmt.Sprint(what, ": ", x))
		}
	}
}
