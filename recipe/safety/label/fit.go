package label

import (
	"math"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Size is a label or a page in mm.
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
	// mostText keeps the text of a large label in proportion, in mm. Chosen here.
	mostText = 7
	// comfort is text that is easy to read, as a multiple of the least and as a share of the
	// most. Chosen here.
	comfort      = 1.1
	comfortShare = 0.4
)

// The least and greatest side of a label, in mm.
const (
	leastSide    = 25
	greatestSide = 450
)

// Lengths that the style sheet uses too; the page hands them over.
const (
	lineHeight = 1.15 // of the size of the text
	padding    = 0.5  // em, of bars and boxes, with their border
	gap        = 0.4  // em, between parts
	boxWidth   = 11   // em, the least of a box: room to write a date
	wasteFrame = 1.2  // mm, round a waste label
	// big is the scale from which text shrinks until it takes one line.
	big = 1.3
)

func (s Size) check() error {
	for _, x := range []float64{float64(s.Width), float64(s.Height)} {
		if !(x >= leastSide && x <= greatestSide) {
			return fault.Usagef("a label cannot be %g x %g mm", float64(s.Width), float64(s.Height)).
				Try("choose a width and a height from %d to %d mm", leastSide, greatestSide)
		}
	}
	return nil
}

// setting is a label at a size: every part with the size of its text, every symbol in its
// place. Lengths are in mm.
type setting struct {
	Kind            string
	Size            Size
	Edge, Body, Gap float64
	Head, Text, End []part
	Symbols         []mark
	Across, Down    float64 // what the symbols take
	Place           place
	step
	full, room float64 // inside the edges
}

// step is a way to make room: say less, and print large words and gaps at a share of their
// full size.
type step struct {
	level level
	large float64
}

var steps = []step{{everything, 1}, {everything, 0.75}, {everything, 0.55}, {inBrief, 0.75}, {inBrief, 0.55}, {barest, 0.6}, {barest, 0.45}}

// mark is a symbol and the top left corner of its box.
type mark struct {
	Symbol
	X, Y, Box float64
}

// place is where the symbols stand; also a class in the style sheet.
type place string

const (
	beside place = "beside" // at the right of the text
	aside  place = "aside"  // at the right of everything
	below  place = "below"  // in a row under the text
)

// set finds the most text and the largest symbols that a label holds at a readable size.
// It returns an error of kind Usage where even the short words do not fit.
func set(l Label, s Size) (setting, error) {
	if l.title == "" {
		return setting{}, fault.Usagef("the label is empty").Try("make it with Container, Bath or Waste")
	}
	if err := s.check(); err != nil {
		return setting{}, err
	}
	w, h := float64(s.Width), float64(s.Height)
	least := leastText
	if w*h < clpArea {
		least = leastSmall
	}
	most := min(mostText, max(least, h/13, w/24))
	for _, v := range steps {
		var best setting
		for _, places := range [][]place{{beside, below}, {aside}} { // title and bar like the full width
			for _, box := range boxes(l, w, h) {
				if best.Body > max(comfort*least, most*comfortShare) {
					break // larger symbols come before larger text that is easy to read already
				}
				for _, p := range places {
					for _, a := range arrangements(len(l.symbols), p) {
						// Another way has to be worth it: its text is larger by 3 %.
						for body := max(least, best.Body*1.03); body <= most; body *= 1.03 {
							found, ok := try(l, s, v, a, p, box, body)
							if !ok {
								break
							}
							best = found
						}
					}
				}
			}
			if best.Body > 0 {
				return best, nil
			}
		}
	}
	return setting{}, fault.Usagef("a label of %s has no room for all that must be on it (%s)", s, l.title).
		Try("choose a larger label, or shorten the texts")
}

// try sets a label with a body text of that size and tells whether it fits.
func try(l Label, s Size, v step, a arrangement, p place, box, body float64) (setting, bool) {
	w, h := float64(s.Width), float64(s.Height)
	edge := min(4, max(1.8, 0.035*min(w, h)+0.6)) // sheets and cutters are not true
	f := setting{Kind: l.kind, Size: s, Edge: edge, Body: body, Gap: gap * v.large * body, Place: p, step: v}
	if l.kind == "waste" {
		edge += wasteFrame
	}
	f.full, f.room = w-2*edge, h-2*edge
	f.place(l.symbols, a, box)
	narrow, floor := f.full, 0.0
	if p != below && len(f.Symbols) > 0 {
		narrow = f.full - f.Across - body
	}
	if f.Across > f.full || narrow < min(11*body, f.full) {
		return f, false
	}
	if p == aside {
		floor = f.Down
	}
	var y float64
	f.Head, y = f.flow(l.head, 0, floor, narrow)
	if p == beside {
		floor = y + f.Down
	}
	f.Text, y = f.flow(l.body, y, floor, narrow)
	switch p {
	case below:
		y += f.Down
	case beside:
		y = max(y, floor)
	}
	f.End, y = f.flow(l.end, y, floor, narrow)
	return f, max(y, floor) <= f.room
}

// flow sizes parts that stand under each other from y on. Down to floor they have only
// the narrow width.
func (f *setting) flow(parts []part, y, floor, narrow float64) ([]part, float64) {
	var out []part
	for _, p := range parts {
		spans, printed := p.at(f.level)
		if !printed {
			continue
		}
		p.Spans, p.Clear = spans, floor > 0 && y >= floor
		width := f.full
		if y < floor {
			width = narrow
		}
		p, high := f.fit(p, width)
		out, y = append(out, p), y+high+f.Gap
	}
	return out, y
}

// fit chooses the size of a part's text and reckons its height.
func (f *setting) fit(p part, width float64) (part, float64) {
	pad := padding * f.Body
	inner := width - 2*pad
	switch p.Class {
	case "bar":
		return f.bar(p, inner)
	case "boxes":
		return f.row(p, width)
	case "box":
		high := 0.0
		p.Parts, p.Size = slices.Clone(p.Parts), f.Body
		for i := range p.Parts {
			var h float64
			p.Parts[i], h = f.fit(p.Parts[i], inner)
			high += h
		}
		return p, high + 2*pad
	}
	p.Size = max(p.scale*f.Body, leastFoot)
	if p.scale >= big {
		p.Size = max(p.Size*f.large, leastFoot)
	}
	if line := reckon(p.Spans); p.scale >= big && line > 0 {
		size := width / line // for one line
		if size < 1.15*f.Body {
			size = min(1.6*width/line, 0.75*p.Size) // for two
		}
		p.Size = min(p.Size, max(size, 1.15*f.Body))
	}
	return p, float64(max(1, lines(p.Spans, width/p.Size))) * p.Size * lineHeight
}

// bar puts large words and the reason beside each other where that is lower.
func (f *setting) bar(p part, inner float64) (part, float64) {
	pad := padding * f.Body
	p.Parts, p.Size = slices.Clone(p.Parts), f.Body
	words, high := f.fit(p.Parts[0], inner)
	p.Parts[0] = words
	if f.level == barest {
		p.Parts = p.Parts[:1]
		return p, high + 2*pad
	}
	reason, more := f.fit(p.Parts[1], inner)
	p.Parts[1] = reason
	if rest := inner - reckon(words.Spans)*words.Size - f.Body; rest > 12*f.Body {
		if _, h := f.fit(reason, rest); max(h, high) < high+more {
			p.Class = "bar beside"
			return p, max(h, high) + 2*pad
		}
	}
	return p, high + more + 2*pad
}

// row puts boxes of one width side by side, or under each other where that is too narrow.
func (f *setting) row(p part, width float64) (part, float64) {
	n := float64(len(p.Parts))
	p.Parts, p.Size = slices.Clone(p.Parts), f.Body
	one := (width - (n-1)*f.Gap) / n
	stacked := one < boxWidth*f.Body
	if stacked {
		p.Class, one = "boxes stacked", width
	}
	var across, down float64
	for i := range p.Parts {
		var h float64
		p.Parts[i], h = f.fit(p.Parts[i], one)
		across, down = max(across, h), down+h
	}
	if stacked {
		return p, down + (n-1)*f.Gap
	}
	return p, across
}

// reckon returns how wide a text may be on one line, in em.
func reckon(spans []span) float64 {
	sum := 0.0
	for _, s := range spans {
		for _, word := range strings.Fields(s.Text) {
			sum += wide(word, s.Bold) + wide(" ", s.Bold)
		}
	}
	return sum
}

// lines returns how many lines a text may take in a width in em.
func lines(spans []span, width float64) int {
	n, x := 0, math.Inf(1)
	for _, s := range spans {
		for _, word := range strings.Fields(s.Text) {
			w := wide(word, s.Bold)
			if x += wide(" ", s.Bold); x+w > width {
				n, x = n+1, 0
			}
			for ; w > width; w -= width { // a long word is broken
				n++
			}
			x += w
		}
	}
	return n
}

// wide reckons the width of a word in em, by the widest of the fonts that the style sheet
// names: DejaVu Sans Condensed, a twelfth wider than Arial.
func wide(word string, bold bool) float64 {
	sum := 0.0
	for _, r := range word {
		switch {
		case r >= 0x1100 || strings.ContainsRune("mwMW@%—", r):
			sum += 0.95
		case r >= 'A' && r <= 'Z' || r >= 0xc0 && r <= 0xde || r >= 0x370 && r < 0x1100:
			sum += 0.7
		case strings.ContainsRune(" ijltf.,:;'|!()[]-", r):
			sum += 0.33
		default:
			sum += 0.58
		}
	}
	if bold {
		sum *= 1.1
	}
	return sum
}

// boxes are the boxes of the symbols to try, the largest first. The box of a square on
// its point is its side times the root of two.
func boxes(l Label, w, h float64) []float64 {
	const least = clpSide * math.Sqrt2
	side := math.Sqrt(w*h*clpShare) * math.Sqrt2
	switch {
	case len(l.symbols) == 0:
		return []float64{0}
	case w*h < clpArea:
		return []float64{least, 19, smallBox}
	case side > least:
		return []float64{side, (side + least) / 2, least}
	}
	return []float64{least}
}

// arrangement is how symbols stand to each other: the top left corner of each box, in
// half boxes.
type arrangement [][2]float64

// arrangements lists what is tried for n symbols: in columns, staggered, as on a die.
// Squares on their points fit into each other half a box on and half a box down.
func arrangements(n int, p place) []arrangement {
	make := func(at func(i int) (x, y int)) arrangement {
		var a arrangement
		for i := range n {
			x, y := at(i)
			a = append(a, [2]float64{float64(x), float64(y)})
		}
		return a
	}
	across := make(func(i int) (int, int) { return i, i % 2 })
	row := make(func(i int) (int, int) { return 2 * i, 0 })
	if p == below {
		return []arrangement{row, across}
	}
	out := []arrangement{row}
	if n > 1 {
		out = append(out, across, make(func(i int) (int, int) { return i % 2, i }))
	}
	for columns := 1; columns < n; columns++ {
		out = append(out, make(func(i int) (int, int) { return 2 * (i % columns), 2 * (i / columns) }))
	}
	if n == 5 {
		out = append(out, arrangement{{0, 0}, {2, 0}, {1, 1}, {0, 2}, {2, 2}})
	}
	return out
}

// place puts the symbols into their arrangement.
func (f *setting) place(symbols []Symbol, a arrangement, box float64) {
	const between = 0.6 // mm
	for i, s := range symbols {
		m := mark{s, a[i][0] * (box + between) / 2, a[i][1] * (box + between) / 2, box}
		f.Symbols = append(f.Symbols, m)
		f.Across, f.Down = max(f.Across, m.X+box), max(f.Down, m.Y+box)
	}
}
