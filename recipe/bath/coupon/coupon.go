// Package coupon plans a stepped test strip: one strip of the same metal as the pieces,
// lowered into the bath or drawn out of it in steps, so that its zones get times in geometric
// progression around the time that is expected. One dip then shows which time makes the
// wanted shade in this bath, on this bench.
//
// Call [Plan]. When the strip is dry, [Strip.Read] turns the number of the right zone into
// readings for the journal. The package promises that cues fall on whole seconds, that they
// rise, and that the zones together are never longer than the strip.
package coupon

import (
	"fmt"
	"math"
	"slices"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// The limits of a strip that a hand can do.
const (
	// ClimbMM is how far water climbs up a wet strip, in mm (capillary length 2.7 mm, from memory).
	ClimbMM measure.Millimeters = 3
	// LeastZoneMM is the narrowest zone, in mm: with [ClimbMM] a narrower one is all border.
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

// Cue is one thing that the hand does. Text says it in metric units, [Cue.In] in any.
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

// Plan lays out a strip of a length in mm with 2 to 12 zones, whose times rise by a ratio
// above 1 and up to 4 around the expected time (above 0 s, up to a day), in whole seconds.
// Zone 1, the lower end, gets the longest. The steps fall on the marks of a ruler of the
// system: whole millimetres or sixteenths of an inch.
//
// Errors are of kind Usage: a figure out of range, zones too narrow to read, or
// steps so close that two zones would get the same whole second.
func Plan(u measure.System, expected measure.Seconds, ratio float64, zones int, length measure.Millimeters) (*Strip, error) {
	switch least := LeastZoneMM * measure.Millimeters(zones); {
	case !(expected > 0 && expected <= LongestS):
		return nil, fault.Usagef("an expected time of %g s is out of range", float64(expected)).At("--time").Try("give a time above 0 s and up to a day")
	case !(ratio > 1 && ratio <= MostRatio):
		return nil, fault.Usagef("a ratio of %g from zone to zone is out of range", ratio).At("--ratio").Try("give one that is more than 1 and at most %d; 1.5 is a good start", MostRatio)
	case zones < 2 || zones > MostZones:
		return nil, fault.Usagef("a strip cannot have %d zones", zones).At("--zones").Try("give 2 to %d; 5 is a good start", MostZones)
	case !(length > 0 && length <= 1000):
		return nil, fault.Usagef("a strip of %g mm is out of range", float64(length)).At("--length").Try("give the length that may get wet, up to 1 m")
	case length < least:
		return nil, fault.Usagef("%d zones on %s mm are too narrow to read: the liquid climbs about 3 mm", zones, measure.Plain(float64(length))).At("--length").
			Try("take a strip of %s mm or more, or fewer zones", measure.Plain(float64(least)))
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
			return nil, fault.Usagef("zone %d would get %s s, too short for a hand", i+1, measure.Figures(ideal, 2)).At("--ratio").
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
		return fault.Usagef("a bath of %s is out of range", measure.Metric.Temperature(at)).At("--temperature").Try("give one between 0 and 100 C")
	}
	return nil
}

func (s *Strip) cues() {
	s.TotalS = s.Zones[0].DipS
	s.Draw = []Cue{cue(0, s.StepMM*float64(len(s.Zones)), "in")}
	for _, z := range s.Zones {
		s.Lower = append(s.Lower, cue(s.TotalS-z.DipS, s.StepMM, "lower"))
	}
	for _, z := range slices.Backward(s.Zones[1:]) {
		s.Draw = append(s.Draw, cue(z.DipS, s.StepMM, "draw"))
	}
	out := cue(s.TotalS, 0, "out")
	s.Lower, s.Draw = append(s.Lower, out), append(s.Draw, out)
}

func cue(at int, mm float64, do string) Cue {
	c := Cue{AtS: at, MM: mm, Do: do}
	c.Text = c.In(measure.Metric)
	return c
}

// In says a cue as it is called out, lengths as the ruler of the system has them.
func (c Cue) In(u measure.System) string {
	far := u.Ruler(measure.Millimeters(c.MM))
	switch {
	case c.Do == "in":
		return "start: lower all " + far + " at once"
	case c.Do == "out":
		return fmt.Sprintf("at %d s lift it out and rinse at once", c.AtS)
	case c.Do == "draw":
		return fmt.Sprintf("at %d s draw out %s", c.AtS, far)
	case c.AtS == 0:
		return "start: lower " + far + " into the bath"
	}
	return fmt.Sprintf("at %d s lower %s", c.AtS, far)
}

func (s *Strip) notes() {
	s.WriteDown = []string{
		"temperature of the bath at the start and at the end, read from a thermometer in the bath",
		"how old the bath is, its strength as mixed, and how many loads have gone through it",
		"metal and surface of the strip: both as on the pieces, cleaned in the same way",
		"method: lowered or drawn out; for each step that was late, its real second",
		"the number of the zone that has the wanted shade, judged rinsed and dry, in the same light as the pieces",
		"for each zone in one word: too light, right, too dark",
	}
	for i := 1; i < len(s.Zones); i++ {
		if gap := s.Zones[i-1].DipS - s.Zones[i].DipS; gap < QuickS {
			s.warn(fmt.Sprintf("Zones %d and %d are %d s apart, quick for a hand: let a second person call the seconds.", i, i+1, gap))
		}
	}
	for _, z := range s.Zones {
		if off := float64(z.DipS)/z.IdealS - 1; off > 0.1 || off < -0.1 {
			s.warn(fmt.Sprintf("Zone %d gets %d s instead of %s s: whole seconds are coarse here.", z.Number, z.DipS, measure.Figures(z.IdealS, 3)))
		}
	}
	if used := s.StepMM * float64(len(s.Zones)); s.LengthMM-used >= 1 {
		s.warn("The steps use ", measure.Millimeters(used), " of the strip; the rest stays dry.")
	}
	s.warn("The liquid climbs about ", ClimbMM, " at each border: judge the middle of a zone.")
}

// Outside warns where the bath is not as warm as its recipe has it.
func (s *Strip) Outside(at, from, to measure.Celsius) {
	if at < from || at > to {
		s.warn("The recipe has its bath at ", from, " to ", to, ": at ", at, " the strip gives the dip time of another bath.")
	}
}

func (s *Strip) warn(parts ...any) {
	n := measure.Say(parts...)
	s.Notes, s.Warnings = append(s.Notes, n), append(s.Warnings, n.Text)
}

// Reading is one zone as the journal takes it: a time and a verdict. Two
// neighbours with different verdicts fence in the time to the wanted shade.
type Reading struct {
	Zone    int    `json:"zone"`
	DipS    int    `json:"dip_s"`
	Verdict string `json:"verdict"` // "light", "right" or "dark"
}

// Read returns the readings of a strip on which the zone of that number is right: those
// that stayed in longer are too dark, the others too light. 0 says that all are too light,
// one more than the number of zones that all are too dark. Another is an error of kind Usage.
func (s *Strip) Read(right int) ([]Reading, error) {
	if right < 0 || right > len(s.Zones)+1 {
		return nil, fault.Usagef("there is no zone %d: the strip has %d zones", right, len(s.Zones)).At("--zone").
			Try("give 1 to %d, 0 where all are too light, %d where all are too dark", len(s.Zones), len(s.Zones)+1)
	}
	readings := make([]Reading, len(s.Zones))
	for i, z := range s.Zones {
		verdict := "light"
		switch {
		case z.Number == right:
			verdict = "right"
		case z.Number < right:
			verdict = "dark"
		}
		readings[i] = Reading{z.Number, z.DipS, verdict}
	}
	return readings, nil
}
