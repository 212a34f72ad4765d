package label

// picture is a label set at one size: everything has its place, in mm from the top left.
type picture struct {
	w, h  float64
	bars  []bar
	runs  []run
	marks []mark

	body  float64  // size of the body text
	side  float64  // side of the squares of the symbols; 0 without symbols
	left  []string // what was left out or shortened for want of room
	scale scale    // of the large words
	loud  float64  // size of the words of the last bar
}

// scale is how large the large words may be, as multiples of the body text.
type scale struct{ title, shout, signal, figure float64 }

// scaleAt gives smaller large words where there is less room. Chosen by eye.
func scaleAt(level int) scale {
	return [levels]scale{
		everything: {2.6, 3.6, 2.3, 2.2},
		inBrief:    {2.4, 3.6, 2.1, 2},
		required:   {2, 3, 1.7, 1.7},
		barest:     {1.6, 2.3, 1.4, 1.4},
	}[level]
}

// run is a stretch of text on one line. width is what it takes, and never more.
type run struct {
	x, y, size, width float64 // y is the base line
	text              string
	bold, white       bool
}

// bar is a rectangle: filled, or only its outline of a thickness.
type bar struct {
	x, y, w, h float64
	line       float64 // 0 for a filled one
}

// mark is a symbol in a square box that holds the square on its point.
type mark struct {
	symbol Symbol
	x, y   float64
	box    float64
}

// pen writes text downwards in a column. It only measures when dry.
type pen struct {
	p     *picture
	x, y  float64
	width float64
	dry   bool
}

// write sets spans at a size and moves down.
func (n *pen) write(spans []span, size float64) {
	n.lines(wrap(spans, size, n.width), size, n.x, n.width, false)
}

// lines sets broken lines, white or black.
func (n *pen) lines(lines [][]word, size, x, width float64, white bool) {
	for _, l := range lines {
		if !n.dry {
			base := n.y + (lineHeight+capital)/2*size
			n.p.runs = append(n.p.runs, place(l, x, base, size, width, white)...)
		}
		n.y += lineHeight * size
	}
}

func (n *pen) bar(x, y, w, h, line float64) {
	if !n.dry {
		n.p.bars = append(n.p.bars, bar{x, y, w, h, line})
	}
}

// fitting gives the largest size from low to high at which spans take at most that many
// lines, and low where none does.
func fitting(spans []span, width, low, high float64, most int) float64 {
	for size := high; size > low; size *= 0.94 {
		if n := len(wrap(spans, size, width)); n <= most && !broken(spans, size, width) {
			return size
		}
	}
	return low
}

// broken tells whether a word has to be broken at that size.
func broken(spans []span, size, width float64) bool {
	for _, w := range words(spans) {
		if w.width*size > width {
			return true
		}
	}
	return false
}
