package coupon

import (
	"fmt"

	"hepar/recipe/measure"
)

// cues fills in both ways of doing the strip.
func (s *Strip) cues() {
	mm := measure.Plain(s.StepMM)
	s.TotalS = s.Zones[0].DipS
	last := len(s.Zones) - 1
	s.Lower = append(s.Lower, Cue{0, s.StepMM, "lower", "start: lower " + mm + " mm into the bath"})
	for _, z := range s.Zones[1:] {
		at := s.TotalS - z.DipS
		s.Lower = append(s.Lower, Cue{at, s.StepMM, "lower", fmt.Sprintf("at %d s lower %s mm", at, mm)})
	}
	s.Lower = append(s.Lower, Cue{s.TotalS, 0, "out", fmt.Sprintf("at %d s all out, into the rinse at once", s.TotalS)})

	wet := measure.Plain(s.StepMM * float64(len(s.Zones)))
	s.Draw = append(s.Draw, Cue{0, s.StepMM * float64(len(s.Zones)), "in", "start: all " + wet + " mm in at once"})
	for i := last; i > 0; i-- {
		at := s.Zones[i].DipS
		s.Draw = append(s.Draw, Cue{at, s.StepMM, "draw", fmt.Sprintf("at %d s draw out %s mm", at, mm)})
	}
	s.Draw = append(s.Draw, Cue{s.TotalS, 0, "out", fmt.Sprintf("at %d s all out, into the rinse at once", s.TotalS)})
}

func (s *Strip) notes() {
	s.WriteDown = []string{
		"temperature of the bath at the start and at the end, read off a thermometer in the bath",
		"how old the bath is, its g/L, and how many loads have gone through it",
		"metal of the strip and its finish: both as on the pieces, cleaned in the same way",
		"way of doing it: lowered or drawn; the second of each cue, where it was missed",
		"the number of the zone that has the wanted shade, judged rinsed and dry, by the light the pieces are judged in",
		"for each zone in one word: too light, right, too dark",
	}
	for i := 1; i < len(s.Zones); i++ {
		if gap := s.Zones[i-1].DipS - s.Zones[i].DipS; gap < QuickS {
			s.Warnings = append(s.Warnings, fmt.Sprintf("Zones %d and %d are %d s apart, quick for a hand: have someone call the seconds.", i, i+1, gap))
		}
	}
	for _, z := range s.Zones {
		if off := float64(z.DipS)/z.IdealS - 1; off > 0.1 || off < -0.1 {
			s.Warnings = append(s.Warnings, fmt.Sprintf("Zone %d gets %d s where the progression asks for %s s: whole seconds are coarse here.", z.Number, z.DipS, measure.Figures(z.IdealS, 3)))
		}
	}
	if used := s.StepMM * float64(len(s.Zones)); s.LengthMM-used >= 1 {
		s.Warnings = append(s.Warnings, fmt.Sprintf("The steps use %s mm of the strip; the rest stays dry.", measure.Plain(used)))
	}
	s.Warnings = append(s.Warnings, "The liquid climbs about 3 mm at each border: judge the middle of a zone.")
}
