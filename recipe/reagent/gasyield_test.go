package reagent_test

import (
	"math"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

func contains(text, part string) bool { return part != "" && strings.Contains(text, part) }

func TestSulfideStoichiometry(t *testing.T) {
	m := func(formula string) float64 { return must[float64](t)(reagent.MolarMass(formula)) }
	for _, r := range rows(t, "sulfide_stoichiometry.csv") {
		got := number(t, r["moles"]) * m(r["first"]) / m(r["second"])
		outside.Check(t, r["quantity"], r["source"], number(t, r["g_per_g"]), got, 6e-5)
	}
	outside.Check(t, "hydrogen sulfide per sulfide sulfur, g/g", "computed from IUPAC 2021 weights", 1.0629, reagent.H2SPerSulfur, 5e-5)
}

func TestLiverOfSulfur(t *testing.T) {
	const ideal = "3 K2CO3 + 8 S -> 2 K2S3 + K2S2O3 + 3 CO2, pharmacy texts; computed"
	m := func(formula string) float64 { return must[float64](t)(reagent.MolarMass(formula)) }
	melt := 2*m("K2S3") + m("K2S2O3")
	outside.Check(t, "thiosulfate in the ideal melt, g/g", ideal, 0.3530, m("K2S2O3")/melt, 5e-5)
	outside.Check(t, "sulfide sulfur in the ideal melt, g/g", ideal, 0.1189, 2*m("S")/melt, 5e-5)
	outside.Check(t, "polysulfide sulfur in the ideal melt, g/g", ideal, 0.3568, 6*m("S")/melt, 5e-5)
	lump := form(t, "liver-of-sulfur", "lump")
	outside.Check(t, "expected hydrogen sulfide of a lump, g/g", "12.8 % sulfide sulfur, computed", 0.128*34.076/32.06, lump.GasExpected, 5e-5)
}

func TestGasYields(t *testing.T) {
	const source = "stoichiometry from IUPAC 2021 weights, one mol of gas per mol"
	for _, c := range []struct {
		id, form, gas   string
		upper, expected float64
	}{
		{"liver-of-sulfur", "lump", "hydrogen sulfide", 0.195, 0.136},
		{"potassium-sulfide", "", "hydrogen sulfide", 0.309, 0.309},
		{"sodium-sulfide", "anhydrous", "hydrogen sulfide", 0.437, 0.437},
		{"sodium-sulfide", "nonahydrate", "hydrogen sulfide", 0.142, 0.142},
		{"sodium-sulfide", "flake", "hydrogen sulfide", 0.262, 0.262},
		{"ammonium-sulfide", "20 % solution", "hydrogen sulfide", 0.100, 0.100},
		{"ammonium-polysulfide", "solution", "hydrogen sulfide", 0.258, 0.258},
		{"sodium-polysulfide", "lump", "hydrogen sulfide", 0.309, 0.196},
		{"barium-sulfide", "", "hydrogen sulfide", 0.201, 0.201},
		{"calcium-polysulfide", "solution", "hydrogen sulfide", 0.170, 0.170},
		{"sodium-thiosulfate", "pentahydrate", "sulfur dioxide", 0.258, 0.258},
	} {
		s, f := find(t, c.id), form(t, c.id, c.form)
		if s.GasWithAcid != c.gas {
			t.Errorf("%s frees %q", c.id, s.GasWithAcid)
		}
		upper, expected, err := reagent.GasFreed(s, f, 10)
		if err != nil {
			t.Errorf("%s: %v", c.id, err)
		}
		outside.Check(t, c.gas+" of "+c.id+" "+f.Name+", upper, g/g", source, c.upper, float64(upper)/10, 0.0006)
		if math.Abs(float64(expected)/10-c.expected) > 0.0006 {
			t.Errorf("%s %s: %g g/g expected of it, want %g", c.id, f.Name, float64(expected)/10, c.expected)
		}
	}
}

// TestYieldsFollowTheFormula checks every yield of a form that has a formula.
func TestYieldsFollowTheFormula(t *testing.T) {
	for _, s := range reagent.All() {
		gas := map[string]string{
			"hydrogen sulfide": "H2S", "carbon dioxide": "CO2", "sulfur dioxide": "SO2",
			"chlorine": "Cl2", "hydrogen cyanide": "HCN",
		}[s.GasWithAcid]
		if gas == "" && s.GasWithAcid != "" {
			t.Errorf("%s frees an unknown %q", s.ID, s.GasWithAcid)
		}
		for _, f := range s.Forms {
			if f.Formula == "" || f.GasUpper == 0 {
				continue
			}
			want := f.MassPercent / 100 * must[float64](t)(reagent.MolarMass(gas)) / f.MolarMass
			if math.Abs(f.GasUpper-want) > 1e-4 || f.GasExpected != f.GasUpper {
				t.Errorf("%s %s: %g g/g of %s, the formula gives %.4f", s.ID, f.Name, f.GasUpper, gas, want)
			}
		}
	}
}

func TestGasOfUnknownStrength(t *testing.T) {
	// A gel is taken at its worst: no expected figure below the upper one.
	upper, expected, err := reagent.GasFreed(find(t, "liver-of-sulfur"), form(t, "liver-of-sulfur", "gel"), 1)
	if err != nil || upper != expected || upper < 0.19 {
		t.Errorf("%g, %g, %v", upper, expected, err)
	}
	salt := find(t, "sodium-chloride")
	if _, _, err := reagent.GasFreed(salt, salt.Forms[0], 1); fault.CureOf(err) == "" {
		t.Errorf("salt frees a gas: %v", err)
	}
	liver := find(t, "liver-of-sulfur")
	for _, m := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if u, e, err := reagent.GasFreed(liver, liver.Forms[0], measure.Grams(m)); err == nil || u != 0 || e != 0 {
			t.Errorf("%g g free %g", m, u)
		}
	}
}
