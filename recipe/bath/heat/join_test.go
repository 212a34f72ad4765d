package heat

import (
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

func TestHotMetalInWater(t *testing.T) {
	lines, words := rows(t, "metal_in_water.csv")
	for i, row := range lines {
		got := Join(measure.Celsius(row["water_C"]), row["water_g"]*row["water_heat"], measure.Celsius(row["metal_C"]), row["metal_g"]*row["metal_heat"])
		outside.Check(t, words[i][1]+" into water, C", words[i][0], row["printed_C"], float64(got), 0.05)
	}
}

// By hand: 100 rounds of 31.1 g take 3110 x 0.235 J/K = 731 J/K beside the
// 16,460 J/K of 4 L, so that the bath falls by 40 x 731 / 17,190 = 1.7 C.
func TestHundredRounds(t *testing.T) {
	if got := Join(60, Capacity(4, 60), 20, 3110.35*0.235); got < 58.2 || got > 58.4 {
		t.Errorf("%g C; want 58.3", got)
	}
}

func TestTopUp(t *testing.T) {
	// By hand with 4.2 J/(g K) throughout: (0.6 x 15 + 1.0 x 100) / 1.6 = 68.1 C.
	if at := Join(15, Capacity(0.6/0.9991, 15), 100, Capacity(1/0.9584, 100)); at < 67.9 || at > 68.4 {
		t.Errorf("%g C; want about 68.1", at)
	}
}
