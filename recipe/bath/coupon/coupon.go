package coupon

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// The limits of a strip that a hand can do.
const (
	// LeastZoneMM is the narrowest zone that can be read, in mm. Water climbs some
	// 3 mm up a wetted strip (capillary length 2.7 mm, from memory), so that a
	// narrower zone is all border.
	LeastZoneMM measure.Millimeters = 4
	// MostZones is the most zones taken. Assumed: an eye that compares more loses count.
	MostZones = 12
	// MostRatio is the largest step from zone to zone. Above it the strip says no
	// more than "somewhere between"; assumed.
	MostRatio = 4
	// LongestS is the longest dip of a zone, in s: a day.
	LongestS measure.Seconds = 24 * 3600
	// QuickS is the gap between two cues below which the hand is hurried. Assumed.
	QuickS = 2
)

// Zone is one band of the strip, counted from its lower end.
type Zone struct {
	Number      int     `json:"number"`
	FromMM      float64 `json:"from_mm"` // above the lower end
	ToMM        float64 `json:"to_mm"`
	DipS        int     `json:"dip_s"`   // what it gets
	IdealS      float64 `json:"ideal_s"` // what the progression asks for
	TimesNormal float64 `json:"times_expected"`
}

// Cue is one thing that the hand does. Text says it in metric units, [Cue.In] in
// any.
type Cue struct {
	AtS  int     `json:"at_s"`
	MM   float64 `json:"mm"` // how far; 0 for all the way
	Do   string  `json:"do"` // "lower", "draw", "out", "in"
	Text string  `json:"text"`
}

// Strip is a planned test strip.
type Strip struct {
	ExpectedS float64  `json:"expected_s"`
	Ratio     float64  `json:"ratio"`
	LengthMM  float64  `json:"length_mm"`
	StepMM    float64  `json:"step_mm"`
	Zones     []Zone   `json:"zones"`
	Lower     []Cue    `json:"lower"` // dry strip let down step by step, all out at the end
	Draw      []Cue    `json:"draw"`  // whole strip in, drawn out step by step
	TotalS    int      `json:"total_s"`
	WriteDown []string `json:"write_down"`
	Warnings  []string `json:"warnings"`

	Notes []measure.Note `json:"-"` // the warnings, for any units
}

// UsualLength is the strip taken where it is not given: five zones of 12 mm or half an
// inch, wide enough to judge the middle of each. Assumed.
func UsualLength(u measure.System) measure.Millimeters {
	if u == measure.US {
		return 5 * 8 * measure.SixteenthMM
	}
	return 60
}

// Plan lays out a strip of a length in mm with 2 to 12 zones, whose times are in
// a geometric progression with a ratio above 1 and up to 4, centred on the
// expected time (above 0 s, up to a day). Zone 1 is the lower end and gets the
// longest time. Times are whole seconds. The steps fall on the marks of a ruler of
// the system: whole millimetres or sixteenths of an inch.
//
// Errors are of kind Usage: a figure out of range, zones too narrow to read, or
// steps so close that two zones would get the same whole second.
func Plan(u measure.System, expected measure.Seconds, ratio float64, zones int, length measure.Millimeters) (*Strip, error) {
	if err := check(expected, ratio, zones, length); err != nil {
		return nil, err
	}
	step, mark := float64(length)/float64(zones), 1.0
	if u == measure.US {
		mark = measure.SixteenthMM
	}
	if step >= 2*mark { // a hand moves by the marks of its ruler
		step = mark * math.Floor(step/mark+1e-9)
	}
	s := &Strip{ExpectedS: float64(expected), Ratio: ratio, LengthMM: float64(length), StepMM: step, Zones: make([]Zone, zones)}
	for i := range s.Zones {
		power := float64(zones-1)/2 - float64(i)
		ideal := float64(expected) * math.Pow(ratio, power)
		if ideal > float64(LongestS) {
			return nil, fault.Usagef("the longest zone would stay in for more than a day").At("--ratio").Try("lower the ratio or the number of zones")
		}
		dip := int(math.Round(ideal))
		if dip < 1 {
			return nil, fault.Usagef("zone %d would get %s s, less than a hand can do", i+1, measure.Figures(ideal, 2)).At("--ratio").
				Try("lower the ratio or the number of zones, or test in a cooler bath where the time is longer")
		}
		s.Zones[i] = Zone{Number: i + 1, FromMM: step * float64(i), ToMM: step * float64(i+1), DipS: dip, IdealS: ideal,
			TimesNormal: float64(dip) / float64(expected)}
		if i > 0 && s.Zones[i-1].DipS <= dip {
			return nil, fault.Usagef("zones %d and %d would both get %d s", i, i+1, dip).At("--ratio").
				Try("raise the ratio, lower the number of zones, or test in a cooler bath where the time is longer")
		}
	}
	s.cues()
	s.notes()
	return s, nil
}

// CheckBath refuses a bath that would be ice or steam. It is an error of kind Usage.
func CheckBath(at measure.Celsius) error {
	if !(at > 0 && at < 100) {
		return fault.Usagef("a bath of %s", measure.Metric.Temperature(at)).At("--temperature").Try("give one between 0 and 100 C")
	}
	return nil
}

func check(expected measure.Seconds, ratio float64, zones int, length measure.Millimeters) error {
	if !(expected > 0 && expected <= LongestS) {
		return fault.Usagef("an expected time of %g s", float64(expected)).At("--time").Try("give a time above 0 s and up to a day")
	}
	if !(ratio > 1 && ratio <= MostRatio) {
		return fault.Usagef("a ratio of %g from zone to zone", ratio).At("--ratio").Try("give one above 1 and up to %d; 1.5 is a good start", MostRatio)
	}
	if zones < 2 || zones > MostZones {
		return fault.Usagef("a strip of %d zones", zones).At("--zones").Try("give 2 to %d; 5 is a good start", MostZones)
	}
	if !(length > 0 && length <= 1000) {
		return fault.Usagef("a strip of %g mm", float64(length)).At("--length").Try("give the length that may get wet, up to 1 m")
	}
	if least := LeastZoneMM * measure.Millimeters(zones); length < least {
		return fault.Usagef("%d zones on %s mm are too narrow to read: the liquid climbs about 3 mm", zones, measure.Plain(float64(length))).At("--length").
			Try("take a strip of %s mm or more, or fewer zones", measure.Plain(float64(least)))
	}
	return nil
}
