package label

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Size is a label in mm.
type Size struct{ Width, Height measure.Millimeters }

// Sizes of symbols and text.
const (
	// clpArea is the least label of a package up to 3 L, 52 x 74 mm, in mm2. Source: CLP
	// Annex I table 1.3, from memory.
	clpArea = 52 * 74
	// clpSide is the least side of a symbol on such a package, in mm. Source: BAuA on CLP
	// labels: 16 x 16 mm up to 3 L.
	clpSide = 16
	// clpShare is the least share of the label that a symbol covers. Source: as clpSide.
	clpShare = 1.0 / 15
	// smallBox is the least box that holds a symbol on a label too small for all that,
	// in mm: a side of 11.3 mm. CLP Annex I table 1.3 goes down to 10 mm for bottles up
	// to 0.5 L, from memory; 29 CFR 1910.1200(f)(6)(ii) sets no size. Chosen here.
	smallBox = 16
	// leastText is the least body text on a label of clpArea and more, in mm. Letters
	// without ascenders are then 1.2 mm high, which is what CLP asks of the smallest
	// labels since 2024, from memory.
	leastText = 2.3
	// leastSmall is the least body text on a smaller label, leastFoot the least of all: 5
	// point. Chosen here.
	leastSmall = 1.9
	leastFoot  = 1.76
)

// The least and greatest label that is set, in mm.
const (
	leastSide    = 25
	greatestSide = 450
)

func (s Size) check() error {
	for _, x := range []float64{float64(s.Width), float64(s.Height)} {
		if !(x >= leastSide && x <= greatestSide) {
			return fault.Usagef("a label of %g x %g mm", float64(s.Width), float64(s.Height)).
				Try("give a width and a height from %d to %d mm", leastSide, greatestSide)
		}
	}
	return nil
}

// set sets a label at a size: the most text and the largest symbols that go in at a
// readable size. What does not fit even in short words is an error of kind Usage.
func set(l Label, s Size) (*picture, error) {
	if l.title == "" {
		return nil, fault.Usagef("an empty label").Try("make it with Container, Bath or Waste")
	}
	if err := s.check(); err != nil {
		return nil, err
	}
	w, h := float64(s.Width), float64(s.Height)
	least := leastText
	if w*h < clpArea {
		least = leastSmall
	}
	most := min(7, max(least, h/13, w/24))
	for level := range levels {
		best := (*picture)(nil)
		for _, box := range boxes(l, w, h) {
			for _, a := range arrangements(len(l.symbols)) {
				c := setting{Label: l, w: w, h: h, level: level, box: box, how: a}
				from := least
				if best != nil { // no search where the text would be much smaller
					from = max(from, 0.92*best.body)
				}
				p := c.largest(from, most)
				if p != nil && (best == nil || p.worth() > best.worth()) {
					best = p
				}
			}
			if best != nil && best.body > comfort*least {
				break // larger symbols before larger text, once that is easy to read
			}
		}
		if best != nil {
			return best, nil
		}
	}
	return nil, fault.Usagef("a label of %g x %g mm has no room for all that must be on it (%s)", w, h, l.title).
		Try("choose a larger label, or shorten the texts")
}

// worth compares two settings of one label: the text, and a little the last bar.
func (p *picture) worth() float64 { return p.body + p.loud/8 }

// levels is how many there are; comfort is the text that is easy to read, as a multiple of
// the least. Chosen here.
const (
	levels  = barest + 1
	comfort = 1.2
)

// boxes are the boxes of the symbols to try, the largest first. The box of a square on
// its point is its side times the root of two.
func boxes(l Label, w, h float64) []float64 {
	if len(l.symbols) == 0 {
		return []float64{0}
	}
	if w*h < clpArea {
		return []float64{clpSide * math.Sqrt2, 19, smallBox}
	}
	out := []float64{clpSide * math.Sqrt2}
	if side := math.Sqrt(w * h * clpShare); side > clpSide {
		out = []float64{side * math.Sqrt2, (side + clpSide) / 2 * math.Sqrt2, clpSide * math.Sqrt2}
	}
	return out
}

// reach is which part of the label the symbols share with the text.
type reach int

// The reaches: beside the middle part; beside all but title and foot; beside everything;
// below the middle part.
const (
	besideMiddle reach = iota
	besideMost
	besideAll
	below
)

// arrangement is how the symbols stand.
type arrangement struct {
	reach   reach
	columns int  // 0 for a staggered cluster
	upright bool // of a staggered cluster: it runs down instead of across
	five    bool // as on a die
}

// arrangements lists what is tried for n symbols.
func arrangements(n int) []arrangement {
	if n == 0 {
		return []arrangement{{columns: 1}}
	}
	var out []arrangement
	for _, r := range []reach{besideMiddle, besideMost, besideAll} {
		for columns := 1; columns <= n; columns++ {
			out = append(out, arrangement{reach: r, columns: columns})
		}
		if n > 1 {
			out = append(out, arrangement{reach: r}, arrangement{reach: r, upright: true})
		}
		if n == 5 {
			out = append(out, arrangement{reach: r, five: true})
		}
	}
	out = append(out, arrangement{reach: below, columns: n})
	if n > 2 {
		out = append(out, arrangement{reach: below})
	}
	return out
}

// cluster gives the width and height of n symbols, and the place of each. Squares on their
// points fit into each other half a box on and half a box down.
func (a arrangement) cluster(n int, box float64) (w, h float64, at [][2]float64) {
	const gap = 0.6
	for i := range n {
		var x, y float64
		switch {
		case a.five:
			at := [5][2]float64{{0, 0}, {2, 0}, {1, 1}, {0, 2}, {2, 2}}[i]
			x, y = at[0]*(box/2+gap/2), at[1]*(box/2+gap/2)
		case a.columns > 0:
			x, y = float64(i%a.columns)*(box+gap), float64(i/a.columns)*(box+gap)
		default:
			x, y = float64(i)*(box/2+gap), float64(i%2)*(box/2+gap)
		}
		if a.upright {
			x, y = y, x
		}
		at = append(at, [2]float64{x, y})
		w, h = max(w, x+box), max(h, y+box)
	}
	return w, h, at
}
