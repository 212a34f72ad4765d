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
