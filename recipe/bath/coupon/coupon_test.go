package coupon

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// TestFiveZonesAroundTenSeconds is worked by hand: 10 x 1.5^2, 1.5, 1, 1/1.5, 1/1.5^2
// is 22.5, 15, 10, 6.67, 4.44, in whole seconds 23, 15, 10, 7, 4.
func TestFiveZonesAroundTenSeconds(t *testing.T) {
	s, err := Plan(measure.Metric, 10, 1.5, 5, 25)
	if err != nil {
		t.Fatal(err)
	}
	want := []int{23, 15, 10, 7, 4}
	for i, z := range s.Zones {
		if z.DipS != want[i] {
			t.Errorf("zone %d gets %d s, want %d", z.Number, z.DipS, want[i])
		}
	}
	var cues []string
	for _, c := range s.Lower {
		cues = append(cues, c.Text)
	}
	got := strings.Join(cues, "; ")
	if want := "start: lower 5 mm into the bath; at 8 s lower 5 mm; at 13 s lower 5 mm; at 16 s lower 5 mm; at 19 s lower 5 mm; at 23 s lift it out and rinse at once"; got != want {
		t.Errorf("lowered: %s", got)
	}
	if c := s.Draw[1]; c.AtS != 4 || c.Text != "at 4 s draw out 5 mm" {
		t.Errorf("first draw: %+v", c)
	}
}

// TestCuesGiveTheZonesTheirTimes plays both cue lists and times each zone.
func TestCuesGiveTheZonesTheirTimes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		zones := rapid.IntRange(2, MostZones).Draw(rt, "zones")
		length := measure.Millimeters(rapid.Float64Range(5, 300).Draw(rt, "length"))
		s, err := Plan(measure.Metric, measure.Seconds(rapid.Float64Range(0.5, 4000).Draw(rt, "expected")), rapid.Float64Range(1.01, 4).Draw(rt, "ratio"), zones, length)
		if err != nil {
			if fault.CureOf(err) == "" {
				t.Fatalf("no cure: %v", err)
			}
			return
		}
		if s.Zones[zones-1].ToMM > float64(length)+1e-9 {
			t.Fatalf("zones of %v mm on a strip of %v", s.Zones[zones-1].ToMM, length)
		}
		in := make([]float64, zones)
		depth := 0.0
		for i, c := range s.Lower[:zones] {
			depth += c.MM
			if i > 0 && c.AtS <= s.Lower[i-1].AtS {
				t.Fatalf("cues do not rise: %+v", s.Lower)
			}
			for z := range s.Zones {
				if s.Zones[z].ToMM <= depth+1e-9 && in[z] == 0 {
					in[z] = float64(s.TotalS - c.AtS)
				}
			}
		}
		out := make([]float64, zones)
		depth = s.Draw[0].MM
		for _, c := range s.Draw[1:] {
			if c.Do == "out" {
				c.MM = depth
			}
			depth -= c.MM
			for z := range s.Zones {
				if s.Zones[z].FromMM >= depth-1e-9 && out[z] == 0 {
					out[z] = float64(c.AtS)
				}
			}
		}
		for z, zone := range s.Zones {
			if in[z] != float64(zone.DipS) || out[z] != float64(zone.DipS) {
				t.Fatalf("zone %d planned %d s, lowered %g, drawn %g", zone.Number, zone.DipS, in[z], out[z])
			}
			if zone.DipS < 1 || math.Abs(float64(zone.DipS)-zone.IdealS) > 0.5 {
				t.Fatalf("zone %+v", zone)
			}
			if z > 0 {
				if step := s.Zones[z-1].IdealS / zone.IdealS; math.Abs(step-s.Ratio) > 1e-9*s.Ratio {
					t.Fatalf("step %g, ratio %g", step, s.Ratio)
				}
			}
		}
	})
}

func TestImpossibleStrips(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, test := range map[string]struct {
		expected, ratio float64
		zones           int
		length          float64
		want            string
	}{
		"no time":           {0, 1.5, 5, 50, "expected time"},
		"time not a number": {nan, 1.5, 5, 50, "expected time"},
		"endless time":      {inf, 1.5, 5, 50, "expected time"},
		"ratio of one":      {10, 1, 5, 50, "ratio"},
		"ratio below one":   {10, 0.5, 5, 50, "ratio"},
		"ratio too large":   {10, 9, 5, 50, "ratio"},
		"ratio nan":         {10, nan, 5, 50, "ratio"},
		"one zone":          {10, 1.5, 1, 50, "zones"},
		"many zones":        {10, 1.5, 40, 500, "zones"},
		"short strip":       {10, 1.5, 5, 12, "too narrow"},
		"no strip":          {10, 1.5, 5, -3, "strip of"},
		"same second":       {3, 1.2, 5, 50, "would both get"},
		"under a second":    {2, 3, 5, 50, "too short for a hand"},
		"over a day":        {86000, 2, 3, 50, "more than a day"},
	} {
		_, err := Plan(measure.Metric, measure.Seconds(test.expected), test.ratio, test.zones, measure.Millimeters(test.length))
		if err == nil || !strings.Contains(err.Error(), test.want) || fault.CureOf(err) == "" || fault.KindOf(err) != fault.Usage {
			t.Errorf("%s: %v (%s)", name, err, fault.CureOf(err))
		}
	}
}

func TestRead(t *testing.T) {
	s, err := Plan(measure.Metric, 20, 1.4, 3, 30)
	if err != nil {
		t.Fatal(err)
	}
	for right, want := range []string{"light light light", "right light light", "dark right light", "dark dark right", "dark dark dark"} {
		readings, err := s.Read(right)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, r := range readings {
			got = append(got, r.Verdict)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("zone %d right: %v, want %s", right, got, want)
		}
	}
	for _, wrong := range []int{-1, 5} {
		if _, err := s.Read(wrong); fault.CureOf(err) == "" {
			t.Errorf("zone %d was taken", wrong)
		}
	}
}
