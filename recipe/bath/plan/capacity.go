package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hepar/recipe/bath/job"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// limit is one thing that bounds a load: how much of it, of 1, a set of each kind uses up.
type limit struct {
	by  string // "touching", "heat", "sulfur", "recipe", "rack", "pace", "per-load"
	use []float64
	why string
}

// slack keeps a load that fits to the last piece from being refused for rounding.
const slack = 1e-9

// limits lists what bounds a load. An error is a piece that does not fit the vessel; a set
// that is too much for the heat or the sulfur of the bath goes in alone, with a warning.
func (s *settled) limits() ([]limit, error) {
	var all []limit
	alone := false
	add := func(by, why string, use func(k job.Kind) float64) {
		one := limit{by: by, why: why}
		for i, k := range s.Kinds {
			u := float64(s.Group) * use(k)
			if u > 1+slack && !alone {
				alone = true
				s.Warn("load-alone", s.setText(i), " is more than one load should hold in this bath (", why, "): it goes in alone.")
			}
			one.use = append(one.use, min(u, 1))
		}
		all = append(all, one)
	}
	if s.Transfer == OnRacks {
		add("rack", fmt.Sprintf("a rack of %d", s.Rack), func(job.Kind) float64 { return 1 / float64(s.Rack) })
	} else if s.Vessel.FloorCM2() > 0 {
		for i, k := range s.Kinds {
			e, known := lying(k.Piece)
			n := s.lie(k)
			switch {
			case e[0] <= 0:
				s.Warn("floor-unknown", "The size of ", s.kindName(i), " is not known: check that the pieces of a load do not lie on one another.")
			case !known:
				s.Warn("floor-unknown", "The size of ", s.kindName(i), " is not known. It is taken as flat, half of its area on each side, ", e[0], " by ", e[1], ": ", n,
					" lie in the vessel. Check that the pieces of a load do not lie on one another.")
				s.Assume("width of "+s.kindName(i), float64(e[1]), "mm", "assumed: flat, half of its area on each side; give its sizes")
			case n == 0:
				return nil, fault.Failuref("a piece of %s, %s x %s x %s mm, does not fit the vessel", s.kindName(i), num(e[0]), num(e[1]), num(e[2])).
					At("--vessel").Try("take a larger vessel")
			case n < s.Group:
				return nil, fault.Failuref("a set of %d does not fit the vessel, which takes %d without touching", s.Group, n).At("--group").
					Try("take a larger vessel, or let the sets be split with --group 1")
			default:
				s.Step("pieces of "+s.kindName(i)+" that lie in the vessel", "floor((length + gap)/(piece + gap)) in each of floor((width + gap)/(piece + gap)) rows; on a round floor as many as the chord of each row holds; flat, or on edge or on end where a piece is too wide",
					fmt.Sprintf("floor %s cm2, piece %s x %s x %s mm, gap %s mm", num(s.Vessel.FloorCM2()), num(e[0]), num(e[1]), num(e[2]), num(s.gap)), fmt.Sprint(n), "geometry; the gap is assumed")
			}
		}
		why := "the pieces that lie in the vessel without touching"
		if n := s.lie(s.Kinds[0]); len(s.Kinds) == 1 && n > 0 {
			why = fmt.Sprintf("%d lie in the vessel without touching; for pieces that hang give --rack", n)
		}
		add("touching", why, func(k job.Kind) float64 {
			if n := s.lie(k); n > 0 {
				return 1 / float64(n)
			}
			return 0
		})
	}
	if warm := float64(s.Water.At - s.MetalIn); warm > 0 {
		// The load takes the bath down by at most coldest.
		add("heat", fmt.Sprintf("the heat absorbed by its pieces cools the bath by at most %g K", coldest), func(k job.Kind) float64 {
			return float64(k.Piece.Mass) * k.Piece.Alloy.SpecificHeat * (warm - coldest) / (s.capacity * coldest)
		})
	}
	if s.Sulfur > 0 {
		for i, k := range s.Kinds {
			if float64(s.Group)*s.Law.Film.Strength(k.Piece.Area.SquareDM(), s.Sulfur*float64(s.Volume)) >= 1 {
				return nil, fault.Failuref("%s binds all the sulfur in the bath", s.setText(i)).At("--volume").Try("take a larger bath")
			}
		}
		add("sulfur", fmt.Sprintf("its film binds at most %g %% of the sulfur in the bath", thirstiest*100), func(k job.Kind) float64 {
			return s.Law.Film.Strength(k.Piece.Area.SquareDM(), s.Sulfur*float64(s.Volume)) / thirstiest
		})
	}
	if s.MaxLoad > 0 {
		add("recipe", "the recipe gives "+num(s.MaxLoad)+" dm2/L", func(k job.Kind) float64 { return k.Piece.Area.SquareDM() / (float64(s.MaxLoad) * float64(s.Volume)) })
	}
	if s.PerLoad > 0 {
		most, why := 0, ""
		for i := range s.Kinds {
			tightest := slices.MaxFunc(append(all, limit{use: make([]float64, len(s.Kinds))}), func(a, b limit) int { return cmp.Compare(a.use[i], b.use[i]) })
			if n := int(min(1/tightest.use[i], job.MostPieces)+slack) * s.Group; n > most {
				most, why = n, tightest.why
			}
		}
		if most < s.PerLoad {
			s.Warn("per-load", "You asked for loads of ", s.PerLoad, ", and at most ", most, " fit: ", why, ".")
		}
		add("per-load", fmt.Sprintf("--per-load %d", s.PerLoad), func(job.Kind) float64 { return 1 / float64(s.PerLoad) })
	}
	return all, nil
}

// lying is the outer size of a piece as it lies: the largest side first. A custom piece of which
// the area is known, and a side or none, is taken as flat, half of its area on each side. It
// is false for a size that nobody gave; a chain has none, for it folds up.
func lying(p metal.Piece) (e [3]measure.Millimeters, known bool) {
	if e = p.Extent; e[1] > 0 || p.Shape != "custom" {
		return e, e[1] > 0
	}
	face := float64(p.Area) * 100 / 2 / max(p.Relief, 1)
	e[0] = cmp.Or(e[0], measure.Millimeters(math.Sqrt(face)))
	e[1] = measure.Millimeters(face) / e[0]
	return e, false
}

// lie is how many pieces of a kind lie beside each other in the vessel: 0 where nothing of
// their size is known, a set at the least where it is assumed.
func (s *settled) lie(k job.Kind) int {
	e, known := lying(k.Piece)
	switch n := s.Vessel.fits(e, s.gap); {
	case e[0] <= 0:
		return 0
	case !known:
		return max(n, s.Group)
	default:
		return n
	}
}

func (s *settled) setText(lot int) string {
	text := "One piece"
	if s.Group > 1 {
		text = fmt.Sprintf("One set of %d", s.Group)
	}
	if len(s.Kinds) == 1 && s.Kinds[lot].Name == "" {
		return text
	}
	return text + " of " + s.kindName(lot)
}

// deal spreads the sets over n loads as evenly as they divide, one kind after the
// other: Parts[i] is what goes into load i. A set weighs as much of a load as it uses
// up of the limit that it comes nearest to.
func (s *settled) deal(n int, limits []limit) [][]Part {
	sets, total := s.Count()/s.Group, 0.0
	weights := make([]float64, len(s.Kinds))
	for i, k := range s.Kinds {
		for _, limit := range limits {
			weights[i] = max(weights[i], limit.use[i])
		}
		if n >= sets || weights[i] == 0 || len(s.Kinds) == 1 {
			weights[i] = 1
		}
		total += weights[i] * float64(k.Count()/s.Group)
	}
	loads := make([][]Part, min(n, sets))
	lot, left := 0, s.Kinds[0].Count()/s.Group
	done := 0.0
	for i := range loads {
		until := total * float64(i+1) / float64(len(loads))
		for lot < len(s.Kinds) {
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
			if lot++; lot < len(s.Kinds) {
				left = s.Kinds[lot].Count() / s.Group
			}
		}
	}
	return slices.DeleteFunc(loads, func(parts []Part) bool { return parts == nil })
}

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

// least returns the fewest loads that keep the limits, and the limit that asks for them.
func (s *settled) least(limits []limit) (n int, by limit) {
	n, by = 1, limit{by: "all"}
	sets := s.Count() / s.Group
	for _, l := range limits {
		sum := 0.0
		for i, k := range s.Kinds {
			sum += float64(k.Count()/s.Group) * l.use[i]
		}
		need := int(math.Ceil(sum - slack*max(1, sum)))
		if len(s.Kinds) == 1 && l.use[0] > 0 {
			each := max(1, int(math.Floor(1/l.use[0]+slack)))
			need = (sets + each - 1) / each
		}
		if need > n {
			n, by = need, l
		}
	}
	for n = min(n, sets); n < sets && !s.fit(s.deal(n, limits), limits); {
		n += max(1, n/50)
	}
	return min(n, sets), by
}
