package bath

import (
	"math"
	"strings"
	"testing"

	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
)

func TestLearnFromReadings(t *testing.T) {
	black := master(t, "silver-black") // 10 s at 75 C, 3 to 20 s
	at75 := func(seconds ...float64) (list []Reading) {
		for i, s := range seconds {
			list = append(list, Reading{[]Timed{{measure.Seconds(s), 75}}, "12 March 2026", string(rune('a' + i))})
		}
		return list
	}
	for _, c := range []struct {
		name     string
		readings []Reading
		want     float64
		count    int
		strange  int
	}{
		{"one reading", at75(12), 12, 1, 0},
		// Weights 3, 2, 1: half of 6 is reached by 8 (1) and 14 (3), in rising order 8, 11, 14.
		{"the newest weighs most", at75(14, 11, 8), 11, 3, 0},
		{"two readings: the newer", at75(15, 9), 15, 2, 0},
		{"a run of the same and one other", at75(9, 9, 9, 18), 9, 4, 0},
		{"a slip is left out", at75(120, 12), 12, 1, 1},
		{"too short is left out", at75(1, 12), 12, 1, 1},
		{"nothing is left", at75(300), 0, 0, 1},
		{"none", nil, 0, 0, 0},
		{"the seven newest count", at75(8, 8, 8, 8, 8, 8, 8, 19, 19, 19, 19, 19, 19, 19), 8, 7, 0},
	} {
		m, strange := Learn(black, true, c.readings)
		if len(strange) != c.strange || (m == nil) != (c.count == 0) {
			t.Errorf("%s: %+v, strange %q", c.name, m, strange)
			continue
		}
		if m != nil && (math.Abs(float64(m.Time)-c.want) > 1e-6 || m.Readings != c.count || m.At != 75 || m.Strength != 1) {
			t.Errorf("%s: %+v, want %g s of %d", c.name, m, c.want, c.count)
		}
	}
	if _, strange := Learn(black, true, at75(300)); len(strange) != 1 || !strings.Contains(strange[0], "batch a") || !strings.Contains(strange[0], "far from the recipe's 3 s to 20 s") {
		t.Errorf("%q", strange)
	}
	m, _ := Learn(black, true, at75(14, 11, 8))
	if m.Source != "3 readings, the newest of 12 March 2026, batch a" {
		t.Errorf("source %q", m.Source)
	}
}

// TestLearnCarriesOver: a dip of 22 s at 60 C is one of about 11 s at 75 C: (22 + 2) s
// of contact over exp(38000/R (1/333.15 - 1/348.15)) = 1.8057, less 2 s.
func TestLearnCarriesOver(t *testing.T) {
	m, _ := Learn(master(t, "silver-black"), true, []Reading{{[]Timed{{22, 60}}, "12 March 2026", "a"}})
	if m == nil || math.Abs(float64(m.Time)-(24/1.8057-2)) > 0.01 {
		t.Errorf("%+v", m)
	}
	if m, strange := Learn(master(t, "copper-green-sulfate"), false, []Reading{{[]Timed{{22, 60}}, "12 March 2026", "a"}}); m != nil || strange != nil {
		t.Errorf("a bath without a law learns %+v %q", m, strange)
	}
}

// TestMeasuredTakesThePlaceOfTheBook and narrows the band.
func TestMeasuredTakesThePlaceOfTheBook(t *testing.T) {
	o := Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 5}}, Volume: 3, Start: 75}}
	book := sheet(t, o)
	o.Measured = &Measured{Time: 14, At: 75, Strength: 1, Source: "12 March 2026, batch 2026-031", Readings: 1}
	here := sheet(t, o)
	a, b := book.Loads[0], here.Loads[0]
	if a.DipS >= 13 || b.DipS < 13 || b.DipS > 16 {
		t.Errorf("the book's dip is %d s, measured 14 s it is %d s", a.DipS, b.DipS)
	}
	if wide, narrow := float64(a.HighS)/float64(a.LowS), float64(b.HighS)/float64(b.LowS); narrow >= wide/1.5 {
		t.Errorf("the band is %d to %d s by the book, %d to %d s once measured", a.LowS, a.HighS, b.LowS, b.HighS)
	}
	if here.Run.Measured == nil || here.Run.BookS != 10 || book.Run.Measured != nil {
		t.Errorf("the sheet says %+v beside %g s", here.Run.Measured, here.Run.BookS)
	}
}

// TestStartFitsWholeSeconds: where the program chooses the start, whole seconds leave the
// colour no farther from what is wanted than the temperature of the recipe does.
func TestStartFitsWholeSeconds(t *testing.T) {
	off := func(s *Sheet) float64 { return max(-s.Match.LeastPercent, s.Match.MostPercent) }
	for _, pieces := range []int{5, 20, 60} {
		for time := measure.Seconds(7); time < 16; time++ {
			o := Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: pieces}}, Vessel: tub()}, Measured: &Measured{Time: time, At: 75, Strength: 1}}
			chosen := sheet(t, o)
			o.Start = 75
			if at := sheet(t, o); len(at.Loads) == len(chosen.Loads) && off(chosen) > off(at)+1 {
				t.Errorf("%d pieces, %g s: %.1f %% off at %g C, %.1f %% at 75 C", pieces, float64(time), off(chosen), chosen.Run.StartC, off(at))
			}
		}
	}
}
