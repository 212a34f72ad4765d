package kinetics

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

func kelvin(k float64) measure.Celsius { return measure.Celsius(k - 273.15) }

// The law of the dip time is the law of the rate turned over: with the published
// activation energy it must take the published rates from one temperature to the
// others.
func TestPublishedRates(t *testing.T) {
	file, err := os.Open("testdata/arrhenius_hi.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil || len(lines) < 6 {
		t.Fatal(len(lines), err)
	}
	rate := Rate{EaKJ: 185.30}
	for _, line := range lines[1:] {
		temperature, _ := strconv.ParseFloat(line[0], 64)
		k, _ := strconv.ParseFloat(line[1], 64)
		// From the fitted line at 645 K: ln k = 25.204 - 185300 / (R T).
		at645 := math.Exp(25.204 - 185300/(GasConstant*645))
		time := DipTime(100, kelvin(645), kelvin(temperature), 1, rate)
		outside.Check(t, "ln of the rate constant of HI at "+line[0]+" K", "OpenStax Chemistry 2e, example 12.13, fit of all rows", math.Log(k), math.Log(at645*100/float64(time)), 0.15)
	}
}

func TestDipTimeByHand(t *testing.T) {
	r := Assumed()
	if got := DipTime(10, 75, 75, 1, r); got != 10 {
		t.Errorf("at the recipe's own bath %g s", got)
	}
	// 45000/8.314 x (1/318.15 - 1/333.15) = 0.766; e to that is 2.15.
	if got := DipTime(10, 60, 45, 1, r); math.Abs(float64(got)-21.51) > 0.01 {
		t.Errorf("cooled from 60 to 45 C: %g s, want 21.51", got)
	}
	// 2^0.8 = 1.741
	if got := DipTime(10, 60, 60, 0.5, r); math.Abs(float64(got)-17.411) > 0.001 {
		t.Errorf("half the strength: %g s, want 17.41", got)
	}
	// Spreads: 12000/8.314 x 1.4152e-4 = 0.20425 and 0.2 x ln 2 = 0.13863, together
	// 0.24685; the time is 37.45 s.
	low, high := r.From(10, 60).Band(45, 0.5)
	if math.Abs(float64(low)-29.26) > 0.02 || math.Abs(float64(high)-47.94) > 0.03 {
		t.Errorf("band %g to %g s, want 29.26 to 47.94", low, high)
	}
	if low, high := r.From(10, 60).Band(60, 1); low != 10 || high != 10 {
		t.Errorf("band at the recipe's own bath: %g to %g s", low, high)
	}
	for _, strength := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		if got := DipTime(10, 60, 60, strength, r); got != Longest {
			t.Errorf("a strength of %g: %g s", strength, got)
		}
	}
	if got := DipTime(-3, 60, 60, 1, r); got != 0 {
		t.Errorf("a time below zero: %g s", got)
	}
}

func drawRate(t *rapid.T) Rate {
	return Rate{EaKJ: rapid.Float64Range(0, 200).Draw(t, "Ea"), EaSpreadKJ: rapid.Float64Range(0, 60).Draw(t, "spread of Ea"),
		Order: rapid.Float64Range(0, 3).Draw(t, "order"), OrderSpread: rapid.Float64Range(0, 1).Draw(t, "spread of the order")}
}

func TestDipTimeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRate(t)
		t0 := measure.Seconds(rapid.Float64Range(0.1, 3600).Draw(t, "t0"))
		at0 := measure.Celsius(rapid.Float64Range(5, 99).Draw(t, "at0"))
		at := measure.Celsius(rapid.Float64Range(5, 99).Draw(t, "at"))
		colder := at - measure.Celsius(rapid.Float64Range(0.01, 50).Draw(t, "colder by"))
		strength := rapid.Float64Range(0.01, 2).Draw(t, "strength")
		weaker := strength * rapid.Float64Range(0.01, 0.999).Draw(t, "weaker by")

		time := DipTime(t0, at0, at, strength, r)
		if !(time > 0 && time <= Longest) {
			t.Fatalf("%g s", time)
		}
		low, high := r.From(t0, at0).Band(at, strength)
		if !(low >= 0 && low <= time && time <= high && high <= Longest) {
			t.Fatalf("%g s is not from %g to %g", time, low, high)
		}
		if got := DipTime(t0, at0, colder, strength, r); got < time || r.EaKJ > 1 && got <= time && time < Longest {
			t.Fatalf("%g s at %g C, %g s at %g C", time, at, got, colder)
		}
		if got := DipTime(t0, at0, at, weaker, r); got < time || r.Order > 0.01 && got <= time && time < Longest {
			t.Fatalf("%g s at %g, %g s at %g", time, strength, got, weaker)
		}
		wide := r
		wide.EaSpreadKJ, wide.OrderSpread = 2*r.EaSpreadKJ, 2*r.OrderSpread
		if l, h := wide.From(t0, at0).Band(at, strength); l > low || h < high {
			t.Fatalf("with twice the spread %g to %g, before %g to %g", l, h, low, high)
		}
		// There and back: the time found, taken as a new start, leads to the old one.
		if time < Longest {
			if back := DipTime(time, at, at0, 1/strength, r); math.Abs(float64(back/t0)-1) > 1e-9 {
				t.Fatalf("%g s there, %g back", t0, back)
			}
		}
	})
}

func TestDipTimeTakesAnything(t *testing.T) {
	odd := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, 1e-308}))
	rapid.Check(t, func(t *rapid.T) {
		x := func(name string) float64 { return odd.Draw(t, name) }
		r := Rate{EaKJ: x("Ea"), EaSpreadKJ: x("spread"), Order: x("order"), OrderSpread: x("spread")}
		t0, at0, at, strength := measure.Seconds(x("t0")), measure.Celsius(x("at0")), measure.Celsius(x("at")), x("strength")
		time := DipTime(t0, at0, at, strength, r)
		low, high := r.From(t0, at0).Band(at, strength)
		if !(low >= 0 && low <= time && time <= high && high <= Longest) {
			t.Fatalf("%g, %g, %g", low, time, high)
		}
		for _, y := range []float64{float64(SilverFilm.SulfurBound(x("area"), x("film"))),
			Aged(x("strength"), measure.Seconds(x("age")), measure.Seconds(x("half-life")))} {
			if !(y >= 0) || math.IsInf(y, 0) {
				t.Fatalf("a figure of %g", y)
			}
		}
	})
}

func BenchmarkDipTime(b *testing.B) {
	r := Assumed()
	b.ReportAllocs()
	for b.Loop() {
		DipTime(10, 75, 68.2, 0.93, r)
	}
}
