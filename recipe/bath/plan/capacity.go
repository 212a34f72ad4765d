package plan

import (
	"fmt"
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// limit is one thing that bounds a load: how much of it a set of each kind uses
// up, of a total of 1.
type limit struct {
	name string
	use  []float64 // per set of each lot
}

// slack keeps a load that fits to the last piece from being refused for rounding.
const slack = 1e-9

// limits lists what bounds a load. Where not even one set fits the area or the
// hands, the limit is left out for it and a warning says so: the set still has to
// go in together.
func (s *filled) limits() ([]limit, error) {
	area := limit{name: "area"}
	for i, l := range s.Lots {
		use := float64(s.Group) * l.AreaCM2.SquareDM() / (float64(s.MaxLoad) * float64(s.Volume))
		if use > 1+slack {
			s.warn("bath-small", s.setText(i), " has ", measure.SquareCM(s.Group)*l.AreaCM2, ", more than the ", measure.SquareCM(100*float64(s.MaxLoad)*float64(s.Volume)),
				" that ", s.Volume, " take at ", s.MaxLoad, ": it goes in alone, and weakens and cools the bath faster.")
			use = 1
		}
		area.use = append(area.use, use)
	}
	limits := []limit{area}
	floor, err := s.floorLimit()
	if err != nil {
		return nil, err
	}
	if floor != nil {
		limits = append(limits, *floor)
	}
	if hands := s.handsMost(); hands > 0 {
		l := limit{name: "hands"}
		if hands < s.Group {
			s.warn("hands-set", fmt.Sprintf("Hands of %s s in and %s s out keep %d pieces within %s %% of a dip of %s s, but a set of %d stays together: its pieces differ by about %s s. A basket brings them in and out as one.",
				num(s.Hands.InS), num(s.Hands.OutS), hands, num(s.Hands.Tolerance*100), num(math.Round(s.fixed)), s.Group, num(s.pace()*float64(s.Group-1))))
		}
		for range s.Lots {
			l.use = append(l.use, min(1, float64(s.Group)/float64(hands)))
		}
		limits = append(limits, l)
	}
	if s.PerLoad > 0 {
		l := limit{name: "per-load"}
		for range s.Lots {
			l.use = append(l.use, float64(s.Group)/float64(s.PerLoad))
		}
		limits = append(limits, l)
	}
	return limits, nil
}

// floorLimit is what lies or hangs in the vessel, or sits on the rack, without
// touching.
func (s *filled) floorLimit() (*limit, error) {
	l := limit{name: "floor"}
	if s.RackPieces > 0 {
		l.name = "rack"
		if s.RackPieces < s.Group {
			return nil, fault.Failuref("a rack of %d does not hold a set of %d", s.RackPieces, s.Group).At("--group").Try("take a larger rack, or let the sets be split with --group 1")
		}
		for range s.Lots {
			l.use = append(l.use, float64(s.Group)/float64(s.RackPieces))
		}
		return &l, nil
	}
	if s.Vessel.floorCM2() == 0 {
		return nil, nil
	}
	if s.GapMM == 0 {
		s.GapMM = DefaultGapMM
		s.assume("gap between pieces", float64(DefaultGapMM), "mm", guess)
	}
	known := false
	for i, lot := range s.Lots {
		if lot.ExtentMM[0] <= 0 {
			l.use = append(l.use, 0)
			continue
		}
		known = true
		fits := s.Vessel.fits(lot.ExtentMM, s.GapMM, s.Hung)
		if fits == 0 {
			return nil, fault.Failuref("a piece of %s, %s x %s x %s mm, does not fit the vessel", s.lotName(i), num(float64(lot.ExtentMM[0])), num(float64(lot.ExtentMM[1])), num(float64(lot.ExtentMM[2]))).
				At("--vessel").Try("take a larger vessel")
		}
		if fits < s.Group {
			return nil, fault.Failuref("a set of %d does not fit the floor of the vessel, which takes %d without touching", s.Group, fits).At("--group").
				Try("take a larger vessel, hang the pieces, or let the sets be split with --group 1")
		}
		l.use = append(l.use, float64(s.Group)/float64(fits))
	}
	if !known {
		s.warn("floor-unknown", "The size of a piece is not known, so whether a load lies in the vessel without touching was not checked.")
		return nil, nil
	}
	return &l, nil
}

// pace is how far two neighbours of a load differ in their time, in s: the
// difference between placing and taking, and never less than hands are uneven.
func (s *filled) pace() float64 {
	if s.handsMost() == 0 {
		return 0
	}
	h := s.Hands
	return max(math.Abs(h.OutS-h.InS), h.Uneven*(h.InS+h.OutS)/2)
}

// handsMost is how many pieces hands place and take within the tolerance of the
// dip; 0 where a basket or a rack goes in as one. Pieces come out in the order
// they went in, and all are in before the first is due out.
func (s *filled) handsMost() int {
	if s.Basket || s.RackPieces > 0 {
		return 0
	}
	h := s.Hands
	most := float64(MostPieces)
	if pace := max(math.Abs(h.OutS-h.InS), h.Uneven*(h.InS+h.OutS)/2); pace > 0 {
		most = min(most, 1+math.Floor(h.Tolerance*s.fixed/pace+slack))
	}
	if h.InS > 0 {
		most = min(most, math.Floor(s.fixed/h.InS+slack))
	}
	return max(1, int(most))
}

// fits counts how many pieces stand beside each other on the floor with a gap
// between them: lying flat, or hung upright; where that is too wide for the
// vessel, in any other way that is not.
func (v Vessel) fits(e [3]measure.Millimeters, gap measure.Millimeters, hung bool) int {
	flat, edge, end := v.grid(e[0], e[1], e[2], gap), v.grid(e[0], e[2], e[1], gap), v.grid(e[1], e[2], e[0], gap)
	if hung {
		return max(flat, edge, end)
	}
	if flat > 0 {
		return flat
	}
	return max(edge, end)
}

// grid counts footprints of a by b in rows, turned either way.
func (v Vessel) grid(a, b, up, gap measure.Millimeters) int {
	if v.HeightMM > 0 && up > v.HeightMM {
		return 0
	}
	a, b = max(a, 1e-3), max(b, 1e-3)
	count := func(n float64) int { return int(min(math.Floor(n+slack), MostPieces)) }
	if v.DiameterMM == 0 {
		rows := func(a, b measure.Millimeters) int {
			return min(count(float64((v.LengthMM+gap)/(a+gap)))*count(float64((v.WidthMM+gap)/(b+gap))), MostPieces)
		}
		return max(rows(a, b), rows(b, a))
	}
	return max(v.round(a, b, gap), v.round(b, a, gap))
}

// round counts footprints in rows across a round floor, the middle of the rows on
// the middle of the floor.
func (v Vessel) round(a, b, gap measure.Millimeters) int {
	d := float64(v.DiameterMM)
	rows := min(int(math.Floor((d+float64(gap))/float64(b+gap)+slack)), 10_000)
	best := 0
	for n := max(1, rows-1); n <= rows; n++ { // one row fewer may leave wider chords
		total := 0
		for i := range n {
			middle := (float64(i) - float64(n-1)/2) * float64(b+gap)
			far := math.Abs(middle) + float64(b)/2
			if far > d/2 {
				continue
			}
			chord := 2 * math.Sqrt(d*d/4-far*far)
			total += int(math.Floor((chord+float64(gap))/float64(a+gap) + slack))
		}
		best = max(best, total)
	}
	return min(best, MostPieces)
}

// setText calls what goes in together at the least: a piece or a set of a kind.
func (s *filled) setText(lot int) string {
	text := "One piece"
	if s.Group > 1 {
		text = fmt.Sprintf("One set of %d", s.Group)
	}
	if len(s.Lots) == 1 && s.Lots[lot].Name == "" {
		return text
	}
	return text + " of " + s.lotName(lot)
}

func (s *filled) lotName(i int) string {
	if name := s.Lots[i].Name; name != "" {
		return name
	}
	if len(s.Lots) == 1 {
		return "the piece"
	}
	return fmt.Sprintf("kind %d", i+1)
}
