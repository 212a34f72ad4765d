package coupon

import (
	"fmt"

	"hepar/recipe/measure"
)

// cues fills in both ways of doing the strip.
func (s *Strip) cues() {
	s.TotalS = s.Zones[0].DipS
	last := len(s.Zones) - 1
	s.Lower = append(s.Lower, cue(0, s.StepMM, "lower"))
	for _, z := range s.Zones[1:] {
		s.Lower = append(s.Lower, cue(s.TotalS-z.DipS, s.StepMM, "lower"))
	}
	s.Lower = append(s.Lower, cue(s.TotalS, 0, "out"))

	s.Draw = append(s.Draw, cue(0, s.StepMM*float64(len(s.Zones)), "in"))
	for i := last; i > 0; i-- {
		s.Draw = append(s.Draw, cue(s.Zones[i].DipS, s.StepMM, "draw"))
	}
	s.Draw = append(s.Draw, cue(s.TotalS, 0, "out"))
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
		return "start: all of it, " + far + ", in at once"
	case c.Do == "out":
		return fmt.Sprintf("at %d s all out, into the rinse at once", c.AtS)
	case c.Do == "draw":
		return fmt.Sprintf("at %d s draw out %s", c.AtS, far)
	case c.AtS == 0:
		return "start: lower " + far + " into the bath"
	}
	return fmt.Sprintf("at %d s lower %s", c.AtS, far)
}

func (s *Strip) notes() {
	s.WriteDown = []string{
		"temperature of the bath at the start and at the end, read off a thermometer in the bath",
		"how old the bath is, its strength as mixed, and how many loads have gone through it",
		"metal of the strip and its finish: both as on the pieces, cleaned in the same way",
		"way of doing it: lowered or drawn; the second of each cue, where it was missed",
		"the number of the zone that has the wanted shade, judged rinsed and dry, by the light the pieces are judged in",
		"for each zone in one word: too light, right, too dark",
	}
	for i := 1; i < len(s.Zones); i++ {
		if gap := s.Zones[i-1].DipS - s.Zones[i].DipS; gap < QuickS {
			s.warn(fmt.Sprintf("Zones %d and %d are %d s apart, quick for a hand: have someone call the seconds.", i, i+1, gap))
		}
	}
	for _, z := range s.Zones {
		if off := float64(z.DipS)/z.IdealS - 1; off > 0.1 || off < -0.1 {
			s.warn(fmt.Sprintf("Zone %d gets %d s where the progression asks for %s s: whole seconds are coarse here.", z.Number, z.DipS, measure.Figures(z.IdealS, 3)))
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
		s.warn("The recipe has its bath at ", from, " to ", to, ": at ", at, " the strip finds the time of another bath.")
	}
}

// ClimbMM is how far water climbs up a wetted strip, in mm (capillary length 2.7 mm,
// from memory).
const ClimbMM measure.Millimeters = 3

func (s *Strip) warn(parts ...any) {
	n := measure.Say(parts...)
	s.Notes, s.Warnings = append(s.Notes, n), append(s.Warnings, n.Text)
}
