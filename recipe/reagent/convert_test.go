package reagent_test

import (
	"math"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
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

// acidOf names the substance of each row of neutralisation_ratios.csv.
var acidOf = map[string]string{
	"sodium bisulfate": "sodium-bisulfate", "sulfuric acid (100%)": "sulfuric-acid",
	"hydrogen chloride (100%)": "hydrochloric-acid", "nitric acid (100%)": "nitric-acid",
	"phosphoric acid to HPO4 2-": "phosphoric-acid", "acetic acid": "acetic-acid",
	"citric acid anhydrous": "citric-acid", "citric acid monohydrate": "citric-acid",
	"oxalic acid dihydrate": "oxalic-acid",
}

func TestNeutralisationRatios(t *testing.T) {
	for _, r := range rows(t, "neutralisation_ratios.csv") {
		acid := find(t, acidOf[r["acid"]])
		pure := reagent.Form{Name: "pure", Formula: r["formula"], MassPercent: 100}
		if eq := number(t, r["eq_per_mol"]); int(eq) != acid.AcidEquivalents {
			t.Errorf("%s: %d equivalents, want %g", acid.ID, acid.AcidEquivalents, eq)
		}
		for column, id := range map[string]string{
			"g_NaHCO3_per_g": "sodium-bicarbonate", "g_Na2CO3_per_g": "sodium-carbonate", "g_NaOH_per_g": "sodium-hydroxide",
		} {
			grams, gas, ok := reagent.NeutralizerGrams(acid, pure, 1, find(t, id), form(t, id, ""))
			if !ok {
				t.Fatalf("%s and %s do not count", acid.ID, id)
			}
			outside.Check(t, "g of "+id+" per g of "+r["acid"], r["source"], number(t, r[column]), float64(grams), 6e-5)
			switch id {
			case "sodium-bicarbonate":
				outside.Check(t, "g of carbon dioxide per g of "+r["acid"], r["source"], number(t, r["g_CO2_per_g_with_NaHCO3"]), float64(gas), 6e-5)
			case "sodium-carbonate":
				want := number(t, r["g_CO2_per_g_with_NaHCO3"]) / 2 // half as many mol of carbonate
				if math.Abs(float64(gas)-want) > 6e-5 {
					t.Errorf("%s with soda: %g g of gas, want %g", acid.ID, float64(gas), want)
				}
			default:
				if gas != 0 {
					t.Errorf("caustic soda foams: %g", float64(gas))
				}
			}
		}
	}
}

func TestNeutraliserOfJars(t *testing.T) {
	// 100 g of 96 % acid take 96 % of what pure acid takes.
	grams, _, ok := reagent.NeutralizerGrams(find(t, "sulfuric-acid"), form(t, "sulfuric-acid", "96 %"), 100,
		find(t, "sodium-carbonate"), form(t, "sodium-carbonate", "decahydrate"))
	if !ok {
		t.Fatal("soda crystals do not count")
	}
	if want := 96 * 1.0807 * 2.69973; math.Abs(float64(grams)-want) > 0.05 {
		t.Errorf("%g g of soda crystals, want %g", float64(grams), want)
	}
}

func TestNeutraliserRefuses(t *testing.T) {
	soda, vinegar := "sodium-bicarbonate", "acetic-acid"
	for _, c := range []struct {
		what, acid, base string
		mass             measure.Grams
	}{
		{"bicarbonate does not destroy sulfide", "liver-of-sulfur", soda, 1},
		{"nor does acid", vinegar, "sodium-sulfide", 1},
		{"banned", "hydrofluoric-acid", soda, 1},
		{"not an acid", "sodium-chloride", soda, 1},
		{"not a base", vinegar, "sodium-chloride", 1},
		{"nothing", vinegar, soda, 0},
		{"less than nothing", vinegar, soda, -1},
		{"no number", vinegar, soda, measure.Grams(math.NaN())},
		{"endless", vinegar, soda, measure.Grams(math.Inf(1))},
	} {
		grams, gas, ok := reagent.NeutralizerGrams(find(t, c.acid), form(t, c.acid, ""), c.mass, find(t, c.base), form(t, c.base, ""))
		if ok || grams != 0 || gas != 0 {
			t.Errorf("%s: %g g, %g g of gas", c.what, float64(grams), float64(gas))
		}
	}
}

func TestNeutraliserIsLinear(t *testing.T) {
	acid, base := find(t, "citric-acid"), find(t, "sodium-bicarbonate")
	per := func(t *rapid.T, m measure.Grams) float64 {
		g, _, ok := reagent.NeutralizerGrams(acid, acid.Forms[0], m, base, base.Forms[0])
		if !ok {
			t.Fatalf("%g g do not count", m)
		}
		return float64(g / m)
	}
	rapid.Check(t, func(t *rapid.T) {
		a := measure.Grams(rapid.Float64Range(1e-6, 1e9).Draw(t, "a"))
		b := measure.Grams(rapid.Float64Range(1e-6, 1e9).Draw(t, "b"))
		if x, y := per(t, a), per(t, b); math.Abs(x-y) > 1e-12*x {
			t.Fatalf("%g g takes %g per g, %g g takes %g", a, x, b, y)
		}
	})
}

func TestSulfideStoichiometry(t *testing.T) {
	m := reagent.MolarMass
	for _, r := range rows(t, "sulfide_stoichiometry.csv") {
		got := number(t, r["moles"]) * m(r["first"]) / m(r["second"])
		outside.Check(t, r["quantity"], r["source"], number(t, r["g_per_g"]), got, 6e-5)
	}
	outside.Check(t, "hydrogen sulfide per sulfide sulfur, g/g", "computed from IUPAC 2021 weights", 1.0629, reagent.H2SPerSulfur, 5e-5)
}

func TestLiverOfSulfur(t *testing.T) {
	const ideal = "3 K2CO3 + 8 S -> 2 K2S3 + K2S2O3 + 3 CO2, pharmacy texts; computed"
	m := reagent.MolarMass
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
		upper, expected, ok := f.GasFreed(10)
		if !ok {
			t.Errorf("%s: the yield is not known", c.id)
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
			if f.Formula == "" || s.GasWithAcid == "" {
				continue
			}
			want := f.MassPercent / 100 * reagent.MolarMass(gas) / reagent.MolarMass(f.Formula)
			if math.Abs(f.GasUpper-want) > 1e-4 || f.GasExpected != f.GasUpper {
				t.Errorf("%s %s: %g g/g of %s, the formula gives %.4f", s.ID, f.Name, f.GasUpper, gas, want)
			}
		}
	}
}

func TestGasOfUnknownStrength(t *testing.T) {
	// A gel is taken at its worst: no expected figure below the upper one.
	upper, expected, ok := form(t, "liver-of-sulfur", "gel").GasFreed(1)
	if !ok || upper != expected || upper < 0.19 {
		t.Errorf("%g, %g, %v", upper, expected, ok)
	}
	if _, _, ok := form(t, "sodium-chloride", "").GasFreed(1); ok {
		t.Error("salt frees a gas")
	}
}
