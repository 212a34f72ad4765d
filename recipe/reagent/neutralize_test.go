package reagent_test

import (
	"math"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"

	"pgregory.net/rapid"
)

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
			grams, gas, err := reagent.NeutralizerGrams(acid, pure, 1, find(t, id), form(t, id, ""))
			if err != nil {
				t.Fatal(err)
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
	grams, _, err := reagent.NeutralizerGrams(find(t, "sulfuric-acid"), form(t, "sulfuric-acid", "96 %"), 100,
		find(t, "sodium-carbonate"), form(t, "sodium-carbonate", "decahydrate"))
	if err != nil {
		t.Fatal(err)
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
		kind             fault.Kind
	}{
		{"bicarbonate does not destroy sulfide", "liver-of-sulfur", soda, 1, fault.Safety},
		{"nor does acid", vinegar, "sodium-sulfide", 1, fault.Safety},
		{"banned", "hydrofluoric-acid", soda, 1, fault.Safety},
		{"not an acid", "sodium-chloride", soda, 1, fault.Usage},
		{"not a base", vinegar, "sodium-chloride", 1, fault.Usage},
		{"nothing", vinegar, soda, 0, fault.Usage},
		{"less than nothing", vinegar, soda, -1, fault.Usage},
		{"no number", vinegar, soda, measure.Grams(math.NaN()), fault.Usage},
		{"endless", vinegar, soda, measure.Grams(math.Inf(1)), fault.Usage},
		{"overflow", "hydrochloric-acid", soda, math.MaxFloat64, fault.Usage},
	} {
		acidForm := form(t, c.acid, "")
		if c.what == "overflow" {
			acidForm = reagent.Form{Name: "pure", Formula: "HCl", MassPercent: 100}
		}
		grams, gas, err := reagent.NeutralizerGrams(find(t, c.acid), acidForm, c.mass, find(t, c.base), form(t, c.base, ""))
		if err == nil || fault.KindOf(err) != c.kind || fault.CureOf(err) == "" || grams != 0 || gas != 0 {
			t.Errorf("%s: %g g, %g g of gas, %v", c.what, float64(grams), float64(gas), err)
		}
	}
}

func TestNeutraliserIsLinear(t *testing.T) {
	acid, base := find(t, "citric-acid"), find(t, "sodium-bicarbonate")
	per := func(t *rapid.T, m measure.Grams) float64 {
		g, _, err := reagent.NeutralizerGrams(acid, acid.Forms[0], m, base, base.Forms[0])
		if err != nil {
			t.Fatal(err)
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
