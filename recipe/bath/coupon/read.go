package coupon

import (
	"hepar/recipe/fault"
)

// Reading is one zone as the journal takes it: a time and a verdict. Two
// neighbours with different verdicts fence in the time to the wanted shade.
type Reading struct {
	Zone    int    `json:"zone"`
	DipS    int    `json:"dip_s"`
	Verdict string `json:"verdict"` // "light", "right" or "dark"
}

// Read returns the readings of a strip on which the zone of that number is right:
// the zones that stayed in longer are too dark, the others too light. Zone 0
// says that even the longest, zone 1, is too light; one more than the number of
// zones says that even the shortest is too dark. Any other number is an error of
// kind Usage.
func (s *Strip) Read(right int) ([]Reading, error) {
	if right < 0 || right > len(s.Zones)+1 {
		return nil, fault.Usagef("zone %d of a strip of %d zones", right, len(s.Zones)).At("--zone").
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
