package reagent_test

import (
	"math"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

// worked computes each row of solution_worked_examples.csv by the functions of
// the package, from the figures that the book gives.
func worked(t *testing.T) map[string]func() float64 {
	f := must[float64](t)
	g := must[measure.Grams](t)
	l := must[measure.Liters](t)
	mass := func(formula string) float64 { return f(reagent.MolarMass(formula)) }
	hcl := reagent.Form{Name: "pure", Formula: "HCl", MassPercent: 100}
	base := func(id string) (float64, float64) { // g of base per g of HCl, and of gas
		b, gas, err := reagent.NeutralizerGrams(find(t, "hydrochloric-acid"), hcl, 1, find(t, id), form(t, id, ""))
		if err != nil {
			t.Fatal(err)
		}
		return float64(b), float64(gas)
	}
	return map[string]func() float64{
		"3.16":             func() float64 { return f(reagent.MolesPerLiter(25.2, mass("C2H4O2"), 0.500)) },
		"3.17":             func() float64 { return float64(g(reagent.MassForMolarity(5.30, 0.250, mass("NaCl")))) },
		"3.17 CYL":         func() float64 { return float64(g(reagent.MassForMolarity(0.200, 0.2500, mass("CaCl2")))) },
		"3.18":             func() float64 { return 75.6 / float64(g(reagent.MassForMolarity(0.839, 1, mass("C2H4O2")))) },
		"3.19":             func() float64 { return f(reagent.StrengthAfter(5.00, 0.850, 1.80)) },
		"3.19 CYL":         func() float64 { return f(reagent.StrengthAfter(2.04, 0.0250, 0.5000)) },
		"3.20":             func() float64 { return float64(l(reagent.VolumeAt(0.45, 0.011, 0.12))) },
		"3.20 CYL":         func() float64 { return float64(l(reagent.VolumeAt(1.88, 0.250, 0.125))) },
		"3.21":             func() float64 { return float64(l(reagent.Dilute(1.59, 0.100, 5.00))) },
		"3.21 CYL":         func() float64 { return float64(l(reagent.VolumeAt(3.00, 0.05000, 0.575))) },
		"3.22 CYL":         func() float64 { return f(reagent.MassPercent(135, 775)) },
		"3.23":             func() float64 { return float64(g(reagent.SoluteIn(0.500, 37.2, 1.19))) },
		"3.23 CYL":         func() float64 { return 1000 * float64(l(reagent.VolumeHolding(125, 37.2, 1.19))) },
		"3.3 exercise (d)": func() float64 { return f(reagent.MolesPerLiter(10_500, mass("Na2SO4.10H2O"), 18.60)) },
		"3.3 exercise (a)": func() float64 {
			return f(reagent.MolesPerLiter(measure.Grams(0.444*mass("CoCl2")), mass("CoCl2"), 0.654))
		},
		"4.13": func() float64 { return 100 * 0.392 / (1.274 * f(reagent.MassFraction("CuSO4", "Cu"))) },
		"4.14": func() float64 {
			perGram, _ := base("sodium-hydroxide")
			naoh := g(reagent.MassForMolarity(0.250, 0.03523, mass("NaOH")))
			return f(reagent.MolesPerLiter(naoh/measure.Grams(perGram), mass("HCl"), 0.05000))
		},
		"4.5 exercise": func() float64 {
			perGram, _ := base("sodium-bicarbonate")
			perLiter := g(reagent.MassForMolarity(0.600, 1, mass("HCl")))
			return 1000 * 2.50 / perGram / float64(perLiter)
		},
		"11.5 CYL": func() float64 {
			w := f(reagent.MassPercent(measure.Grams(33.7*mass("HNO3")), 1000))
			return f(reagent.Molarity(w, 1.35, mass("HNO3")))
		},
	}
}

func TestWorkedExamples(t *testing.T) {
	compute := worked(t)
	list := rows(t, "solution_worked_examples.csv")
	if len(list) != len(compute) {
		t.Errorf("%d rows, %d ways to compute them", len(list), len(compute))
	}
	for _, r := range list {
		way, ok := compute[r["ref"]]
		if !ok {
			t.Errorf("no way to compute %s", r["ref"])
			continue
		}
		outside.Check(t, r["input"]+", "+r["unit"], r["source"], number(t, r["published"]), way(), number(t, r["tolerance"]))
	}
}

func TestCommercialReagents(t *testing.T) {
	for _, r := range rows(t, "commercial_reagents.csv") {
		m := must[float64](t)(reagent.MolarMass(r["formula"]))
		got := must[float64](t)(reagent.Molarity(number(t, r["mass_percent"]), measure.GramsPerCM3(number(t, r["density_g_mL"])), m))
		outside.Check(t, r["reagent"]+" "+r["mass_percent"]+" %, mol/L", r["source"], number(t, r["molarity"]), got, number(t, r["tolerance"]))
	}
}

// TestJars checks the solutions of the table against the same book.
func TestJars(t *testing.T) {
	const book = "OpenStax Chemistry 2e, Appendix F"
	for _, c := range []struct {
		id, form string
		molarity float64
	}{
		{"acetic-acid", "glacial", 17.4}, {"ammonia", "28 % solution", 14.8}, {"hydrochloric-acid", "36 %", 11.6},
		{"nitric-acid", "71 %", 16.0}, {"phosphoric-acid", "85 %", 14.7}, {"sodium-hydroxide", "50 % solution", 19.1},
		{"sulfuric-acid", "96 %", 18.0},
	} {
		got := must[float64](t)(form(t, c.id, c.form).Molarity())
		outside.Check(t, c.id+" "+c.form+", mol/L", book, c.molarity, got, 0.06)
	}
	for _, c := range [][2]string{{"liver-of-sulfur", "gel"}, {"sodium-sulfide", "flake"}, {"lacquer", ""}} {
		if m, err := form(t, c[0], c[1]).Molarity(); err == nil {
			t.Errorf("%v has %g mol/L", c, m)
		}
	}
}

func TestSolutionsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	bad := []float64{0, -1, nan, inf, -inf}
	refused := func(what string, err error) {
		t.Helper()
		if err == nil || fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: %v", what, err)
		}
	}
	for _, x := range bad {
		_, err := reagent.Molarity(x, 1, 1)
		refused("Molarity", err)
		_, err = reagent.Molarity(1, measure.GramsPerCM3(x), 1)
		refused("Molarity", err)
		_, err = reagent.Molarity(1, 1, x)
		refused("Molarity", err)
		_, err = reagent.MolesPerLiter(1, 1, measure.Liters(x))
		refused("MolesPerLiter", err)
		_, err = reagent.MassForMolarity(x, 1, 1)
		refused("MassForMolarity", err)
		_, err = reagent.Dilute(x, 1, 1)
		refused("Dilute", err)
		_, err = reagent.Dilute(1, x, 1)
		refused("Dilute", err)
		_, err = reagent.StrengthAfter(1, measure.Liters(x), 1)
		refused("StrengthAfter", err)
		_, err = reagent.VolumeAt(1, 1, x)
		refused("VolumeAt", err)
		_, err = reagent.MassPercent(measure.Grams(x), 1)
		refused("MassPercent", err)
		_, err = reagent.SoluteIn(1, x, 1)
		refused("SoluteIn", err)
		_, err = reagent.VolumeHolding(1, 1, measure.GramsPerCM3(x))
		refused("VolumeHolding", err)
	}
	_, err := reagent.Molarity(101, 1, 1)
	refused("more than all", err)
	_, err = reagent.Dilute(1, 2, 1)
	refused("a weak stock", err)
	_, err = reagent.VolumeAt(1, 1, 2)
	refused("a weak stock", err)
	_, err = reagent.StrengthAfter(1, 2, 1)
	refused("less than before", err)
	_, err = reagent.MassForMolarity(1e300, 1e300, 1e300)
	refused("overflow", err)
	_, err = reagent.Molarity(100, 1e300, 1e-300)
	refused("overflow", err)
}
