package reagent_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

func TestAtomicWeights(t *testing.T) {
	for _, r := range rows(t, "atomic_weights.csv") {
		got := must[float64](t)(reagent.MolarMass(r["symbol"]))
		outside.Check(t, "atomic weight of "+r["symbol"]+", g/mol", r["source"], number(t, r["weight_g_mol"]), got, 1e-9)
	}
}

func TestMolarMasses(t *testing.T) {
	for _, r := range rows(t, "molar_masses.csv") {
		got := must[float64](t)(reagent.MolarMass(r["formula"]))
		outside.Check(t, "molar mass of "+r["formula"]+", g/mol", r["source"], number(t, r["molar_mass_g_mol"]), got, number(t, r["tolerance"]))
	}
}

func TestWaysOfWriting(t *testing.T) {
	for _, pair := range [][2]string{
		{"CuSO4.5H2O", "CuSO4·5H2O"},
		{"CuSO4.5H2O", "CuSO4*5H2O"},
		{"CuSO4.5H2O", "  CuSO4 . 5H2O "},
		{"CuSO4.5H2O", "CuH10SO9"},
		{"Cu2(CO3)(OH)2", "Cu2CO5H2"},
		{"K3[Fe(CN)6]", "K3FeC6N6"},
		{"((((((((H))))))))", "H"},
		{"2H2O", "H4O2"},
	} {
		a, b := must[float64](t)(reagent.MolarMass(pair[0])), must[float64](t)(reagent.MolarMass(pair[1]))
		if math.Abs(a-b) > 1e-9 {
			t.Errorf("%s weighs %g, %s weighs %g", pair[0], a, pair[1], b)
		}
	}
	whole := must[float64](t)(reagent.MolarMass("2Cu(NO3)2.5H2O"))
	half := must[float64](t)(reagent.MolarMass("Cu(NO3)2·2.5H2O"))
	if math.Abs(whole-2*half) > 1e-9 {
		t.Errorf("two halves weigh %g, the whole %g", 2*half, whole)
	}
}

func TestFormulasRefused(t *testing.T) {
	for formula, part := range map[string]string{
		"":                         "empty",
		"   ":                      "empty",
		"Xy2":                      `unknown element "Xy"`,
		"water":                    "cannot be read",
		"h2o":                      "cannot be read",
		"H2O.":                     "empty part",
		".H2O":                     "empty part",
		"CuSO4..5H2O":              "empty part",
		"CuSO4.5":                  "empty part",
		"Cu(NO3":                   "not closed",
		"Cu(NO3]2":                 "not closed",
		"NO3)2":                    "too many",
		"Cu()2":                    "empty brackets",
		"H0":                       `number "0"`,
		"H10001":                   "number",
		"H99999999999999999999999": "number",
		"0H2O":                     "number",
		"1.5.2H2O*H2O":             "number",
		"SO4-2":                    "cannot be read",
		"Na+":                      "cannot be read",
		"∞":                        "cannot be read",
		"NaN":                      "", // sodium and nitrogen: a formula like any other
		"(((((((((H)))))))))":      "more than 8 deep",
		"((((((H9999)9999)9999)9999)9999)9999)9999": "too many atoms",
		"9999U":                                  "unknown element",
		"9999Pb9999":                             "heavier than",
		"H" + strings.Repeat("H", 200):           "longer than",
		strings.Repeat("(", 5000):                "longer than",
		"CuSO4.5H2O; rm -rf":                     "cannot be read",
		"\x1b[31mCu":                             "cannot be read",
		"Cu\x00":                                 "cannot be read",
		"1e3H2O":                                 "cannot be read",
		"CuSO4.0.0000000000000000000000000000H2": "number",
	} {
		mass, err := reagent.MolarMass(formula)
		if part == "" {
			if err != nil {
				t.Errorf("%q: %v", formula, err)
			}
			continue
		}
		var e *fault.Error
		if !errors.As(err, &e) || e.Kind != fault.Usage || e.Cure == "" || mass != 0 {
			t.Errorf("%q: %g, %v", formula, mass, err)
			continue
		}
		if !strings.Contains(err.Error(), part) || strings.Contains(err.Error(), "\x1b") || len(err.Error()) > 300 {
			t.Errorf("%q: %q, want %q in it", formula, err, part)
		}
	}
}

func TestMassFraction(t *testing.T) {
	silver := must[float64](t)(reagent.MassFraction("AgNO3", "Ag"))
	outside.Check(t, "silver in silver nitrate, g/g", "computed from IUPAC 2021 weights", 107.8682/169.872, silver, 1e-5)
	if none := must[float64](t)(reagent.MassFraction("NaCl", "Ag")); none != 0 {
		t.Errorf("salt holds %g silver", none)
	}
	for _, bad := range [][2]string{{"AgNO3", "Xx"}, {"Xx", "Ag"}} {
		if _, err := reagent.MassFraction(bad[0], bad[1]); fault.KindOf(err) != fault.Usage || err == nil {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

func FuzzMolarMass(f *testing.F) {
	for _, seed := range []string{
		"H2O", "CuSO4.5H2O", "2Cu(NO3)2.5H2O", "Cu(NO3)2·2.5H2O", "K3[Fe(CN)6]", "(((((((((H)))))))))",
		"H99999", "Xy", "..", "*", "CuSO4*", "\xff\xfe", "1e308H", "((H9999)9999)9999",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, formula string) {
		mass, err := reagent.MolarMass(formula)
		if err != nil {
			if mass != 0 || fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
				t.Fatalf("%q: %g, %v", formula, mass, err)
			}
			return
		}
		if !(mass > 0) || math.IsInf(mass, 0) || mass > 1e6 {
			t.Fatalf("%q weighs %g", formula, mass)
		}
		share, err := reagent.MassFraction(formula, "H")
		if err != nil || !(share >= 0 && share <= 1+1e-12) {
			t.Fatalf("%q: hydrogen %g, %v", formula, share, err)
		}
		// Brackets around a single part change nothing.
		if !strings.ContainsAny(formula, ".*·") && formula[0] >= 'A' && formula[0] <= 'Z' {
			inner, err := reagent.MolarMass("(" + strings.TrimSpace(formula) + ")")
			if err == nil && math.Abs(inner-mass) > 1e-9*mass {
				t.Fatalf("%q weighs %g, in brackets %g", formula, mass, inner)
			}
		}
	})
}

func BenchmarkMolarMass(b *testing.B) {
	for b.Loop() {
		if _, err := reagent.MolarMass("Cu(NO3)2.3H2O"); err != nil {
			b.Fatal(err)
		}
	}
}
