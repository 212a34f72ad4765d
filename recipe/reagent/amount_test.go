package reagent_test

import (
	"math"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

func stock(t *testing.T, id, recipeForm, shelfForm string, percent float64, byVolume bool) reagent.Stock {
	t.Helper()
	return must[reagent.Stock](t)(reagent.NewStock(find(t, id), recipeForm, shelfForm, percent, byVolume))
}

// gasOf returns the gas that acid frees of an amount, at most and as expected.
func gasOf(t *testing.T, a reagent.Amount) (upper, expected float64) {
	t.Helper()
	mass, ok := a.Mass()
	if !ok {
		t.Fatalf("%s as %s has no mass", a.Substance.ID, a.Shelf.Name)
	}
	u, e, ok := a.Shelf.GasFreed(mass)
	if !ok {
		t.Fatalf("the gas of %s as %s is not known", a.Substance.ID, a.Shelf.Name)
	}
	return float64(u), float64(e)
}

func TestAmountByHand(t *testing.T) {
	const masses = "IUPAC 2021 atomic weights: Na2S.9H2O 240.1745, Na2S 78.0395, H2S 34.076"
	gL := func(x float64) measure.Concentration { return measure.Concentration{PerL: x} }
	wet, dry := stock(t, "sodium-sulfide", "nonahydrate", "", 0, false), stock(t, "sodium-sulfide", "nonahydrate", "anhydrous", 0, false)
	outside.Check(t, "anhydrous sodium sulfide for 20 g of nonahydrate, g", masses, 6.499, dry.For(gL(20), 1).Shown, 0.001)
	for _, s := range []reagent.Stock{wet, dry, stock(t, "sodium-sulfide", "nonahydrate", "flake", 0, false)} {
		upper, _ := gasOf(t, s.For(gL(20), 1))
		outside.Check(t, "hydrogen sulfide of 20 g of sodium sulfide nonahydrate bought as "+s.Shelf.Name+", g", masses, 2.838, upper, 0.003)
	}
	gel := stock(t, "liver-of-sulfur", "lump", "gel", 30, false)
	if got := gel.Weigh(gL(4.5), gL(4), gL(5), 2.25, 0.1).Shown; got != 33.8 {
		t.Errorf("2.25 L at 4.5 g/L take %g g of a gel of 30 %%, want 33.8 g", got)
	}
	if v := gel.Of(15).Fills(gL(4.5)); math.Abs(float64(v)-1) > 1e-12 {
		t.Errorf("15 g of gel make %g L", float64(v))
	}
}

// TestEveryFormMakesTheSameBath holds for every substance: whatever form stands on the
// shelf, what makes the same bath frees the same gas and holds the same sulfur.
func TestEveryFormMakesTheSameBath(t *testing.T) {
	tried := 0
	for _, s := range reagent.All() {
		for _, of := range s.Forms {
			for _, jar := range s.Forms {
				for _, percent := range []float64{0, 30} {
					for _, byVolume := range []bool{false, true} {
						if byVolume && !of.Liquid {
							continue
						}
						st, err := reagent.NewStock(s, of.Name, jar.Name, percent, byVolume)
						if err != nil {
							if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
								t.Errorf("%s %s as %s: %v without a cure", s.ID, of.Name, jar.Name, err)
							}
							continue
						}
						want := measure.Concentration{PerL: 7, ByVolume: byVolume}
						a := st.For(want, 3)
						if got := a.Makes(3); math.Abs(got.PerL-7) > 1e-9 || got.ByVolume != byVolume {
							t.Errorf("%s %s as %s: what makes %s makes %s", s.ID, of.Name, jar.Name, want, got)
						}
						if _, ok := a.Mass(); !ok || of.StrengthUnknown || of.GasUpper == 0 || jar.GasUpper == 0 {
							continue
						}
						tried++
						whole, err := reagent.NewStock(s, of.Name, "", 0, byVolume)
						if err != nil {
							t.Fatal(err)
						}
						upper, expected := gasOf(t, a)
						wantUpper, wantExpected := gasOf(t, whole.For(want, 3))
						if math.Abs(upper-wantUpper) > 1e-3*wantUpper || math.Abs(expected-wantExpected) > 1e-3*wantExpected {
							t.Errorf("%s %s as %s at %g %%: %g and %g g of gas, want %g and %g", s.ID, of.Name, jar.Name, percent, upper, expected, wantUpper, wantExpected)
						}
						if got, want := a.SulfideSulfur(), whole.For(want, 3).SulfideSulfur(); math.Abs(float64(got-want)) > 1e-3*float64(want) {
							t.Errorf("%s %s as %s: %g g of sulfide sulfur, want %g", s.ID, of.Name, jar.Name, float64(got), float64(want))
						}
					}
				}
			}
		}
	}
	if tried < 20 {
		t.Errorf("only %d pairs of forms were compared", tried)
	}
}

func TestWeighKeepsTheRange(t *testing.T) {
	s := stock(t, "liver-of-sulfur", "lump", "", 0, false)
	at := func(x float64) measure.Concentration { return measure.Concentration{PerL: x} }
	for _, c := range []struct{ at, from, to, liters, step, want float64 }{
		{4.5, 4, 5, 1.89, 0.1, 8.5},
		{4.5, 4.5, 5, 1.01, 0.1, 4.6}, // 4.545 g would round to 4.5, below the range
		{4.5, 4, 5, 1, 0, 4.5},
		{4.5, 4, 5, 0.001, 0.1, 0.0045}, // less than half a step stays as it is
	} {
		if got := s.Weigh(at(c.at), at(c.from), at(c.to), measure.Liters(c.liters), c.step).Shown; math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

func TestStrengthIsAskedFor(t *testing.T) {
	if _, err := reagent.NewStock(find(t, "liver-of-sulfur"), "lump", "gel", 0, false); fault.KindOf(err) != fault.Usage {
		t.Errorf("a gel of unknown strength: %v", err)
	}
	if err := stock(t, "liver-of-sulfur", "gel", "", 0, false).NeedsStrength(); err == nil {
		t.Error("grams of a gel of unknown strength are not asked about")
	}
	if err := stock(t, "liver-of-sulfur", "gel", "", 0, true).NeedsStrength(); err != nil {
		t.Errorf("a recipe that counts the gel itself: %v", err)
	}
}
