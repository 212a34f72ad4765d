package heat

import (
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

func TestHotMetalInWater(t *testing.T) {
	lines, words := rows(t, "metal_in_water.csv")
	for i, row := range lines {
		got, err := AfterLoad(measure.Celsius(row["water_C"]), row["water_g"]*row["water_heat"],
			measure.Grams(row["metal_g"]), row["metal_heat"], measure.Celsius(row["metal_C"]))
		if err != nil {
			t.Fatal(err)
		}
		outside.Check(t, words[i][1]+" into water, C", words[i][0], row["printed_C"], float64(got), 0.05)
	}
}

// By hand: 100 rounds of 31.1 g take 3110 x 0.235 J/K = 731 J/K beside the
// 16,460 J/K of 4 L, so that the bath falls by 40 x 731 / 17,190 = 1.7 C.
func TestHundredRounds(t *testing.T) {
	got, err := AfterLoad(60, Capacity(4, 60), 3110.35, 0.235, 20)
	if err != nil || got < 58.2 || got > 58.4 {
		t.Errorf("%g C, %v; want 58.3", got, err)
	}
}

func TestTopUp(t *testing.T) {
	// By hand with 4.2 J/(g K) throughout: (0.6 x 15 + 1.0 x 100) / 1.6 = 68.1 C.
	cold := Capacity(0.6/0.9991, 15)
	at, capacity, err := TopUp(15, cold, 1/0.9584, 100)
	if err != nil || at < 67.9 || at > 68.4 {
		t.Errorf("%g C, %v; want about 68.1", at, err)
	}
	if want := 1.6 * 4200; capacity < want*0.99 || capacity > want*1.01 {
		t.Errorf("%g J/K, want about %g", capacity, want)
	}
	if at, capacity, err := TopUp(60, 1000, 0, 95); err != nil || at != 60 || capacity != 1000 {
		t.Errorf("no water: %g C, %g J/K, %v", at, capacity, err)
	}
	for _, liters := range []measure.Liters{-1, measure.Liters(nan()), measure.Liters(inf())} {
		if at, _, err := TopUp(60, 1000, liters, 95); err == nil {
			t.Errorf("%g L: %g C", liters, at)
		}
	}
	if at, err := AfterLoad(60, 1000, -5, 0.235, 20); err == nil {
		t.Errorf("metal below zero: %g C", at)
	}
}

func TestNewtonTextbook(t *testing.T) {
	const source = "OpenStax Precalculus 2e, Newton's law of cooling: 165 to 150 F in 10 min, room 35 F"
	rate, err := NewtonRate(fahrenheit(165), fahrenheit(150), fahrenheit(35), 600)
	if err != nil {
		t.Fatal(err)
	}
	outside.Check(t, "rate of cooling, 1/min", source, -0.0123, -rate*60, 5e-5)
	wait, err := NewtonTime(fahrenheit(165), fahrenheit(70), fahrenheit(35), rate)
	if err != nil {
		t.Fatal(err)
	}
	// ln(130/35) / ln(130/115) x 10 min; the book rounds the rate first.
	outside.Check(t, "minutes to 70 F, exact", source, 107.03, wait.Minutes(), 0.005)
	rounded, err := NewtonTime(fahrenheit(165), fahrenheit(70), fahrenheit(35), 0.0123/60)
	if err != nil {
		t.Fatal(err)
	}
	outside.Check(t, "minutes to 70 F, with the rate rounded as printed", source, 106.68, rounded.Minutes(), 0.01)
	if back := Newton(fahrenheit(165), fahrenheit(35), rate, wait); back < fahrenheit(70)-1e-9 || back > fahrenheit(70)+1e-9 {
		t.Errorf("after that time %g C, want 70 F", back)
	}
	for _, c := range [][3]measure.Celsius{{80, 90, 20}, {80, 20, 20}, {80, 70, 80}, {20, 20, 20}} {
		if rate, err := NewtonRate(c[0], c[1], c[2], 600); err == nil {
			t.Errorf("%v: rate %g", c, rate)
		}
	}
	for _, c := range [][3]measure.Celsius{{80, 90, 20}, {80, 20, 20}, {80, 10, 20}} {
		if wait, err := NewtonTime(c[0], c[1], c[2], 1e-3); err == nil {
			t.Errorf("%v: %g s", c, wait)
		}
	}
}
