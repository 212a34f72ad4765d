package reagent_test

import (
	"math"
	"testing"

	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

func TestAtomicWeights(t *testing.T) {
	for _, r := range rows(t, "atomic_weights.csv") {
		got := reagent.MolarMass(r["symbol"])
		outside.Check(t, "atomic weight of "+r["symbol"]+", g/mol", r["source"], number(t, r["weight_g_mol"]), got, 1e-9)
	}
}

func TestMolarMasses(t *testing.T) {
	for _, r := range rows(t, "molar_masses.csv") {
		got := reagent.MolarMass(r["formula"])
		outside.Check(t, "molar mass of "+r["formula"]+", g/mol", r["source"], number(t, r["molar_mass_g_mol"]), got, number(t, r["tolerance"]))
	}
}

func TestWaysOfWriting(t *testing.T) {
	for a, b := range map[string]string{
		"CuSO4.5H2O": "CuSO4·5H2O", "Cu(NO3)2": "CuN2O6", "Cu2(CO3)(OH)2": "Cu2CO5H2", "2H2O": "H4O2",
		"2Cu(NO3)2.5H2O": "2Cu(NO3)2·5H2O", "Cu(NO3)2·2.5H2O": "CuN2O6·2.5H2O",
	} {
		if x, y := reagent.MolarMass(a), reagent.MolarMass(b); !(x > 0) || math.Abs(x-y) > 1e-9 {
			t.Errorf("%s weighs %g, %s weighs %g", a, x, b, y)
		}
	}
	if whole, half := reagent.MolarMass("2Cu(NO3)2.5H2O"), reagent.MolarMass("Cu(NO3)2·2.5H2O"); math.Abs(whole-2*half) > 1e-9 {
		t.Errorf("two halves weigh %g, the whole %g", 2*half, whole)
	}
}

func TestFormulasThatCannotBeRead(t *testing.T) {
	for _, formula := range []string{
		"", "  ", "Xy2", "water", "h2o", "H2O.", ".H2O", "CuSO4..5H2O", "CuSO4.5", "Cu(NO3", "NO3)2", "Cu()2", "0H2O", "1.5.2H2O·H2O",
		"SO4-2", "Na+", "CuSO4.5H2O; rm", "Cu\x00", "1e3H2O",
	} {
		if mass, share := reagent.MolarMass(formula), reagent.MassFraction(formula, "Cu"); mass != 0 || share != 0 {
			t.Errorf("%q: %g g/mol, %g of copper", formula, mass, share)
		}
	}
}

func TestMassFraction(t *testing.T) {
	outside.Check(t, "silver in silver nitrate, g/g", "computed from IUPAC 2021 weights", 107.8682/169.872, reagent.MassFraction("AgNO3", "Ag"), 1e-5)
	if none := reagent.MassFraction("NaCl", "Ag"); none != 0 {
		t.Errorf("salt holds %g silver", none)
	}
	if got, want := reagent.MassFraction("Cu(NO3)2.3H2O", "O"), 9*15.999/241.599; math.Abs(got-want) > 1e-6 {
		t.Errorf("copper nitrate holds %g oxygen, want %g", got, want)
	}
}
