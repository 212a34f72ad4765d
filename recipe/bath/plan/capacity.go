package plan

import (
	"fmt"
	"math"
	"slices"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// limit is one thing that bounds a load: how much of it a set of each kind uses up,
// of a total of 1.
type limit struct {
	by  string // "touching", "heat", "sulfur", "recipe", "rack", "pace", "per-load"
	use []float64
	why string
}

// slack keeps a load that fits to the last piece from being refused for rounding.
const slack = 1e-9

// limits lists what bounds a load. It returns an error if a piece does not fit the
// vessel at all; a set that is too much for the heat or the sulfur of the bath goes
// in alone, with a warning.
func (s *settled) limits(p *Plan) ([]limit, error) {
	var all []limit
	add := func(by, why string, use func(l Lot) float64) {
		one := limit{by: by, why: why}
		for i, l := range s.Lots {
			u := float64(s.Group) * use(l)
			if u > 1+slack {
				p.warn("load-alone", s.setText(i), " is more than one load should be for this bath (", why, "): it goes in alone.")
				u = 1
			}
			one.use = append(one.use, u)
		}
		all = append(all, one)
	}
	if s.Transfer == OnRacks {
		add("rack", fmt.Sprintf("a rack of %d", s.Rack), func(Lot) float64 { return 1 / float64(s.Rack) })
	} else if s.Vessel.floor() > 0 {
		one := limit{by: "touching", why: "what lies in the vessel without touching"}
		for i, l := range s.Lots {
			if l.Extent[0] <= 0 {
				p.warn("floor-unknown", "The size of ", s.lotName(i), " is not known: see for yourself that the pieces of a load do not lie on one another.")
				one.use = append(one.use, 0)
				continue
			}
			fits := s.Vessel.fits(l.Extent, s.gap)
			if fits == 0 {
				return nil, fault.Failuref("a piece of %s, %s x %s x %s mm, does not fit the vessel", s.lotName(i), num(l.Extent[0]), num(l.Extent[1]), num(l.Extent[2])).
					At("--vessel").Try("take a larger vessel")
			}
			if fits < s.Group {
				return nil, fault.Failuref("a set of %d does not fit the vessel, which takes %d without touching", s.Group, fits).At("--group").
					Try("take a larger vessel, or let the sets be split with --group 1")
			}
			one.use = append(one.use, float64(s.Group)/float64(fits))
			p.Working = append(p.Working, metal.Step{Name: "pieces of " + s.lotName(i) + " that lie in the vessel", Formula: "floor((length + gap)/(piece + gap)) in each of floor((width + gap)/(piece + gap)) rows; on a round floor as many as the chord of each row holds; flat, or on edge or on end where a piece is too wide",
				Numbers: fmt.Sprintf("floor %s cm2, piece %s x %s x %s mm, gap %s mm", num(s.Vessel.floor()), num(float64(l.Extent[0])), num(float64(l.Extent[1])), num(float64(l.Extent[2])), num(float64(s.gap))), Result: fmt.Sprint(fits), Source: "geometry; the gap is assumed"})
		}
		all = append(all, one)
	}
	if warm := float64(s.Water.At - s.MetalIn); warm > 0 {
		// The load takes the bath down by at most coldest.
		add("heat", fmt.Sprintf("the cold that it brings takes the bath down by at most %g K", coldest), func(l Lot) float64 {
			return float64(l.Mass) * l.SpecificHeat * (warm - coldest) / (s.capacity * coldest)
		})
	}
	if s.Sulfur > 0 {
		for i, l := range s.Lots {
			if float64(s.Group)*s.Film.Strength(l.Area.SquareDM(), s.Sulfur*float64(s.Volume)) >= 1 {
				return nil, fault.Failuref("%s binds all the sulfur in the bath", s.setText(i)).At("--volume").Try("take a larger bath")
			}
		}
		add("sulfur", fmt.Sprintf("its film binds at most %g %% of the sulfur in the bath", thirstiest*100), func(l Lot) float64 {
			return s.Film.Strength(l.Area.SquareDM(), s.Sulfur*float64(s.Volume)) / thirstiest
		})
	}
	if s.MaxLoad > 0 {
		add("recipe", "the recipe gives "+num(s.MaxLoad)+" dm2/L", func(l Lot) float64 { return l.Area.SquareDM() / (float64(s.MaxLoad) * float64(s.Volume)) })
	}
	if s.PerLoad > 0 {
		add("per-load", fmt.Sprintf("--per-load %d", s.PerLoad), func(Lot) float64 { return 1 / float64(s.PerLoad) })
	}
	return all, nil
}

// byPace bounds a load by hand: all pieces are in before the first is due out.
func (s *settled) byPace(dip float64) limit {
	l := limit{by: "pace", why: fmt.Sprintf("all are in before the first comes out, at %s s a piece", num(s.Hands.In))}
	fit := max(1, math.Floor(dip/s.Hands.In+slack))
	for range s.Lots {
		l.use = append(l.use, min(1, float64(s.Group)/fit))
	}
	return l
}

// fits counts how many pieces lie beside each other with a gap between them: flat,
// or where that is too wide on edge or on end.
func (v Vessel) fits(e [3]measure.Millimeters, gap measure.Millimeters) int {
	if flat := v.grid(e[0], e[1], e[2], gap); flat > 0 {
		return flat
	}
	return max(v.grid(e[0], e[2], e[1], gap), v.grid(e[1], e[2], e[0], gap))
}

// grid counts footprints of a by b in rows, turned either way.
func (v Vessel) grid(a, b, up, gap measure.Millimeters) int {
	if v.Height > 0 && up > v.Height {
		return 0
	}
	a, b = max(a, 1e-3), max(b, 1e-3)
	count := func(n measure.Millimeters) int { return int(min(math.Floor(float64(n)+slack), MostPieces)) }
	if v.Diameter == 0 {
		rows := func(a, b measure.Millimeters) int {
			return min(count((v.Length+gap)/(a+gap))*count((v.Width+gap)/(b+gap)), MostPieces)
		}
		return max(rows(a, b), rows(b, a))
	}
	return max(v.round(a, b, gap), v.round(b, a, gap))
}

// round counts footprints in rows across a round floor.
func (v Vessel) round(a, b, gap measure.Millimeters) int {
	d := float64(v.Diameter)
	rows := min(int(math.Floor((d+float64(gap))/float64(b+gap)+slack)), 10_000)
	best := 0
	for n := max(1, rows-1); n <= rows; n++ { // one row fewer may leave wider chords
		total := 0
		for i := range n {
			far := math.Abs((float64(i)-float64(n-1)/2)*float64(b+gap)) + float64(b)/2
			if far > d/2 {
				continue
			}
			total += int(math.Floor((2*math.Sqrt(d*d/4-far*far)+float64(gap))/float64(a+gap) + slack))
		}
		best = max(best, total)
	}
	return min(best, MostPieces)
}

// setText calls what goes in together at the least.
func (s *settled) setText(lot int) string {
	text := "One piece"
	if s.Group > 1 {
		text = fmt.Sprintf("One set of %d", s.Group)
	}
	if len(s.Lots) == 1 && s.Lots[lot].Name == "" {
		return text
	}
	return text + " of " + s.lotName(lot)
}

// deal spreads the sets over n loads as evenly as they divide, one kind after the
// other: Parts[i] is what goes into load i. A set weighs as much of a load as it uses
// up of the limit that it comes nearest to.
func (s *settled) deal(n int, limits []limit) [][]Part {
	sets, total := 0, 0.0
	weights := make([]float64, len(s.Lots))
	for i, l := range s.Lots {
		sets += l.Pieces / s.Group
		for _, limit := range limits {
			weights[i] = max(weights[i], limit.use[i])
		}
	}
	for i, l := range s.Lots {
		if n >= sets || weights[i] == 0 || len(s.Lots) == 1 {
			weights[i] = 1
		}
		total += weights[i] * float64(l.Pieces/s.Group)
	}
	loads := make([][]Part, min(n, sets))
	lot, left := 0, s.Lots[0].Pieces/s.Group
	done := 0.0
	for i := range loads {
		until := total * float64(i+1) / float64(len(loads))
		for lot < len(s.Lots) {
			take := left
			if i < len(loads)-1 {
				take = min(left, int(math.Floor((until-done)/weights[lot]+0.5-1e-9)))
			}
			if take > 0 {
				loads[i] = append(loads[i], Part{lot, take * s.Group})
				done += float64(take) * weights[lot]
				left -= take
			}
			if left > 0 {
				break
			}
			if lot++; lot < len(s.Lots) {
				left = s.Lots[lot].Pieces / s.Group
			}
		}
	}
	return slices.DeleteFunc(loads, func(parts []Part) bool { return parts == nil })
}

// fit says whether every load keeps every limit.
func (s *settled) fit(loads [][]Part, limits []limit) bool {
	for _, parts := range loads {
		for _, l := range limits {
			sum := 0.0
			for _, p := range parts {
				sum += float64(p.Pieces/s.Group) * l.use[p.Lot]
			}
			single := len(parts) == 1 && parts[0].Pieces == s.Group
			if sum > 1+slack && !single {
				return false
			}
		}
	}
	return true
}

// least returns the fewest loads that keep the limits, and the limit that asks for
// them.
func (s *settled) least(limits []limit) (n int, by string) {
	n, by = 1, "all"
	sets := 0
	for _, l := range s.Lots {
		sets += l.Pieces / s.Group
	}
	for _, l := range limits {
		sum := 0.0
		for i, lot := range s.Lots {
			sum += float64(lot.Pieces/s.Group) * l.use[i]
		}
		need := int(math.Ceil(sum - slack*max(1, sum)))
		if len(s.Lots) == 1 && l.use[0] > 0 {
			each := max(1, int(math.Floor(1/l.use[0]+slack)))
			need = (sets + each - 1) / each
		}
		if need > n {
			n, by = need, l.by
		}
	}
	for n = min(n, sets); n < sets && !s.fit(s.deal(n, limits), limits); {
		n += max(1, n/50)
	}
	return min(n, sets), by
}
