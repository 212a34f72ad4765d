package heat

import (
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

// The rows are those of testdata/heat_worked_examples.csv.
func TestColdAndHotMetal(t *testing.T) {
	const water = 4.184 // J/(g K), as in OpenStax Chemistry 2e
	for _, c := range []struct {
		what, source   string
		bath           measure.Celsius
		capacity       float64
		metal          measure.Grams
		specific       float64
		metalAt        measure.Celsius
		want, withinIt float64
	}{
		{"rebar into water, C", "OpenStax Chemistry 2e, example 5.3", 24.0, 425 * water, 360, 0.449, 248, 42.7, 0.05},
		{"copper into water, C", "OpenStax Chemistry 2e, 5.3, check your learning", 22.6, 390 * water, 248, 0.385, 335.6, 39.9, 0.05},
		{"hotter copper into water, C", "OpenStax Chemistry 2e, 5.3, check your learning", 22.6, 390 * water, 248, 0.385, 314, 38.7, 0.05},
		{"aluminium pan, C", "OpenStax University Physics vol. 2, example 1.7", 20, 250 * 4.186, 500, 0.900, 150, 59.1, 0.05},
	} {
		got, err := AfterLoad(c.bath, c.capacity, c.metal, c.specific, c.metalAt)
		if err != nil {
			t.Fatal(err)
		}
		outside.Check(t, c.what, c.source, c.want, float64(got), c.withinIt)
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
