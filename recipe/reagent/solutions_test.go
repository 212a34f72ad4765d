package reagent_test

import (
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

// TestWorkedExamples takes worked examples of a textbook that this package can do.
func TestWorkedExamples(t *testing.T) {
	const book = "OpenStax Chemistry 2e, "
	mass := reagent.MolarMass
	hcl := reagent.Form{Name: "pure", Formula: "HCl", MassPercent: 100}
	base := func(id string) float64 { // g of base per g of HCl
		b, _, ok := reagent.NeutralizerGrams(find(t, "hydrochloric-acid"), hcl, 1, find(t, id), form(t, id, ""))
		if !ok {
			t.Fatalf("%s does not count", id)
		}
		return float64(b)
	}
	outside.Check(t, "1.274 g CuSO4 to 0.392 g Cu, % yield", book+"4.13", 77.3, 100*0.392/(1.274*reagent.MassFraction("CuSO4", "Cu")), 0.05)
	naoh := 0.250 * 0.03523 * mass("NaOH")
	outside.Check(t, "35.23 mL of 0.250 mol/L NaOH against 50.00 mL HCl, mol/L", book+"4.14", 0.176, naoh/base("sodium-hydroxide")/mass("HCl")/0.05, 0.0005)
	outside.Check(t, "2.50 g NaHCO3 with 0.600 mol/L HCl, mL", book+"4.5 exercise", 49.6, 1000*2.50/base("sodium-bicarbonate")/(0.6*mass("HCl")), 0.05)
}

// TestJars compares strength and density of the solutions in the table with the
// molarities of a textbook.
func TestJars(t *testing.T) {
	for _, c := range []struct {
		id, form string
		molarity float64
	}{
		{"acetic-acid", "glacial", 17.4}, {"ammonia", "28 % solution", 14.8}, {"hydrochloric-acid", "36 %", 11.6},
		{"nitric-acid", "71 %", 16.0}, {"phosphoric-acid", "85 %", 14.7}, {"sodium-hydroxide", "50 % solution", 19.1},
		{"sulfuric-acid", "96 %", 18.0},
	} {
		f := form(t, c.id, c.form)
		grams := float64(measure.Liters(1).Milliliters()) * float64(f.Density) * f.MassPercent / 100
		outside.Check(t, c.id+" "+c.form+", mol/L", "OpenStax Chemistry 2e, Appendix F", c.molarity, grams/reagent.MolarMass(f.Formula), 0.06)
	}
}
