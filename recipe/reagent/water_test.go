package reagent_test

import (
	"math"
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"

	"pgregory.net/rapid"
)

func TestWater(t *testing.T) {
	const (
		book = "OpenStax Chemistry 2e, Appendix E"
		sr6  = "IAPWS SR6-08(2011), computed"
		old  = "older handbook table of the specific heat of water"
	)
	for _, r := range rows(t, "water_properties.csv") {
		at := r["temp_C"] + " C"
		x := measure.Celsius(number(t, r["temp_C"]))
		density := float64(reagent.WaterDensity(x))
		if r["rho_AppE_g_mL"] != "" {
			tolerance := 4e-6
			if x > 30 {
				tolerance = 5e-5 // the book gives four figures
			}
			outside.Check(t, "density of water at "+at+", g/cm3", book, number(t, r["rho_AppE_g_mL"]), density, tolerance)
		}
		outside.Check(t, "density of water at "+at+", g/cm3", sr6, number(t, r["rho_SR6_kg_m3"])/1000, density, 2e-5)
		heat := reagent.WaterSpecificHeat(x)
		outside.Check(t, "specific heat of water at "+at+", J/(g K)", sr6, number(t, r["cp_SR6_J_gK"]), heat, 0.0003*4.2)
		if r["cp_handbook_J_gK"] != "" {
			outside.Check(t, "specific heat of water at "+at+", J/(g K)", old, number(t, r["cp_handbook_J_gK"]), heat, 0.0008*4.2)
		}
		pressure := number(t, r["p_AppE_Pa"]) / 1000
		kPa, _ := reagent.WaterVapourPressure(x)
		outside.Check(t, "vapour pressure of water at "+at+", kPa", book, pressure, kPa, 0.001*pressure)
	}
}

// TestVapourPressureBetweenRows compares with another formula, to see that the
// interpolation does not sag.
func TestVapourPressureBetweenRows(t *testing.T) {
	for x := 1.0; x < 100; x += 3.1 {
		want := 0.61121 * math.Exp((18.678-x/234.5)*x/(257.14+x))
		kPa, slope := reagent.WaterVapourPressure(measure.Celsius(x))
		outside.Check(t, "vapour pressure of water, kPa", "Buck formula, from memory", want, kPa, 0.003*want)
		if next, _ := reagent.WaterVapourPressure(measure.Celsius(x + 0.001)); (next-kPa)/0.001 < slope*0.97 || (next-kPa)/0.001 > slope*1.03 {
			t.Errorf("%g C: slope %g, by difference %g", x, slope, (next-kPa)/0.001)
		}
	}
}

func TestWaterOutsideItsRange(t *testing.T) {
	for _, c := range []struct{ at, as float64 }{
		{-40, 0}, {math.Inf(-1), 0}, {math.NaN(), 0}, {100.1, 100}, {math.Inf(1), 100},
	} {
		x, y := measure.Celsius(c.at), measure.Celsius(c.as)
		kPa, slope := reagent.WaterVapourPressure(x)
		kPaY, slopeY := reagent.WaterVapourPressure(y)
		if reagent.WaterDensity(x) != reagent.WaterDensity(y) || reagent.WaterSpecificHeat(x) != reagent.WaterSpecificHeat(y) ||
			kPa != kPaY || slope != slopeY {
			t.Errorf("water at %g C is not as at %g C", c.at, c.as)
		}
	}
}

func TestMixExamples(t *testing.T) {
	parts := map[string][]reagent.Part{
		"rebar":       {{360.0, 0.449, 248}, {425, 4.184, 24.0}},
		"copper-back": {{248, 0.385, 335.6}, {390, 4.184, 22.6}},
		"copper":      {{248, 0.385, 314}, {390, 4.184, 22.6}},
		"metal":       {{59.7, 0.38, 100}, {60.0, 4.184, 22.0}},
		"pan":         {{500, 0.900, 150}, {250, 4.186, 20}},
		"bath":        {{1000, 4.184, 100}, {600, 4.184, 15}},
	}
	list := rows(t, "heat_worked_examples.csv")
	if len(list) != len(parts) {
		t.Errorf("%d rows, %d ways to compute them", len(list), len(parts))
	}
	for _, r := range list {
		got := reagent.Mix(parts[r["ref"]]...)
		outside.Check(t, r["input"]+", C", r["source"], number(t, r["final_C"]), float64(got), number(t, r["tolerance"]))
	}
}

func drawPart(t *rapid.T) reagent.Part {
	return reagent.Part{
		MassG:        measure.Grams(rapid.Float64Range(1e-3, 1e6).Draw(t, "mass")),
		SpecificHeat: rapid.Float64Range(0.1, 5).Draw(t, "specific heat"),
		Temperature:  measure.Celsius(rapid.Float64Range(-20, 400).Draw(t, "temperature")),
	}
}

func TestMixLiesBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.Custom(drawPart), 1, 6).Draw(t, "parts")
		got := reagent.Mix(parts...)
		low, high, heat := parts[0].Temperature, parts[0].Temperature, 0.0
		for _, p := range parts {
			low, high = min(low, p.Temperature), max(high, p.Temperature)
			heat += float64(p.MassG) * p.SpecificHeat * float64(got-p.Temperature)
		}
		if slack := measure.Celsius(1e-9); got < low-slack || got > high+slack {
			t.Fatalf("%g C is not between %g and %g", got, low, high)
		}
		if math.Abs(heat) > 1e-3 {
			t.Fatalf("%g J came from nowhere", heat)
		}
	})
}

func TestHotColdMixesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cold := measure.Celsius(rapid.Float64Range(0, 40).Draw(t, "cold"))
		hot := cold + measure.Celsius(rapid.Float64Range(5, 60).Draw(t, "hotter by"))
		wanted := cold + (hot-cold)*measure.Celsius(rapid.Float64Range(0, 1).Draw(t, "share"))
		total := measure.Grams(rapid.Float64Range(100, 1e5).Draw(t, "total"))
		vessel := reagent.Part{MassG: total / 10, SpecificHeat: 0.84, Temperature: cold}
		hotG, coldG, ok := reagent.HotCold(total, hot, cold, wanted, vessel)
		if !ok {
			t.Skip("not to be reached with this vessel")
		}
		if hotG < 0 || coldG < 0 || math.Abs(float64(hotG+coldG-total)) > 1e-9*float64(total) {
			t.Fatalf("%g + %g of %g g", hotG, coldG, total)
		}
		got := reagent.Mix(
			reagent.Water(hotG, hot), reagent.Water(coldG, cold), vessel)
		if math.Abs(float64(got-wanted)) > 1e-6 {
			t.Fatalf("wanted %g C, got %g", wanted, got)
		}
	})
}

func TestHotColdOutOfReach(t *testing.T) {
	if hot, cold, ok := reagent.HotCold(1000, 60, 15, 75); ok || hot != 1000 || cold != 0 {
		t.Errorf("not hot enough: %g and %g g, %v", hot, cold, ok)
	}
	if hot, cold, ok := reagent.HotCold(1000, 90, 40, 20); ok || hot != 0 || cold != 1000 {
		t.Errorf("not cold enough: %g and %g g, %v", hot, cold, ok)
	}
}

func TestSolubility(t *testing.T) {
	const book = "OpenStax Chemistry 2e, 4.5 exercise"
	cold, ok1 := reagent.SolubilityGPer100g("sodium-bicarbonate", 0)
	warm, ok2 := reagent.SolubilityGPer100g("sodium-bicarbonate", 60)
	if !ok1 || !ok2 {
		t.Fatal("no bicarbonate")
	}
	outside.Check(t, "bicarbonate in water at 0 C, g/L", book, 69, 10*cold, 0.5)
	outside.Check(t, "bicarbonate in water at 60 C, g/L", book, 164, 10*warm, 0.5)
	mid, _ := reagent.SolubilityGPer100g("copper-sulfate", 30)
	if math.Abs(mid-24.6) > 1e-9 {
		t.Errorf("copper sulfate at 30 C: %g, want half way between 20.7 and 28.5", mid)
	}
	for _, c := range []struct {
		id string
		at float64
	}{
		{"sodium-bicarbonate", -0.1}, {"sodium-bicarbonate", 60.1}, {"ferric-chloride", 21},
		{"copper-sulfate", math.NaN()}, {"copper-sulfate", math.Inf(1)}, {"liver-of-sulfur", 20}, {"", 20},
	} {
		if g, ok := reagent.SolubilityGPer100g(c.id, measure.Celsius(c.at)); ok || g != 0 {
			t.Errorf("%s at %g C: %g", c.id, c.at, g)
		}
	}
	for _, s := range reagent.All() {
		if g, ok := reagent.SolubilityGPer100g(s.ID, 15); ok && !(g > 0) {
			t.Errorf("%s: %g", s.ID, g)
		}
	}
}
