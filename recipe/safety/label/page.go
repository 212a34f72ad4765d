package label

import (
	_ "embed"
	"html/template"
	"math"
	"sync"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/paper"
)

//go:embed label.html
var body string

//go:embed fit.js
var script string

// page is parsed when a label is printed: most commands print none.
var page = sync.OnceValue(func() *template.Template { return paper.Parse(body, script) })

// mostLabels bounds one call of [Page].
const mostLabels = 1000

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
	// smallText is the least body text on a smaller label, in mm. Chosen here.
	smallText = 1.9
)

// least returns the least body text and the least box of a symbol on a label of a size, and
// the box to try first, in mm. The box of a square on its point is its side times the root
// of two.
func least(s Size) (text, box, first float64) {
	const clpBox = clpSide * math.Sqrt2
	area := float64(s.Width * s.Height)
	if area < clpArea {
		return smallText, smallBox, clpBox
	}
	return leastText, clpBox, max(clpBox, math.Sqrt(area*clpShare)*math.Sqrt2)
}

// placed is a label at its place on a page, in mm from the top left.
type placed struct {
	Kind, Title     string
	Symbols         []Symbol
	Head, Main, End []part
	Left, Top       measure.Millimeters
}

// Page prints copies of each label on as many pages of a sheet as they take. It returns one
// HTML page that loads nothing. Its script fits the text in the browser: a label that was
// shortened says so, and a red band takes the place of one that does not fit. Errors are of
// kind Usage: no labels, an empty one, more than 1000 of them, more places used than the
// sheet has, a size that no label has.
func Page(labels []Label, copies int, s Sheet) ([]byte, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	switch {
	case len(labels) == 0 || copies < 1:
		return nil, fault.Usagef("there is no label to print").Try("choose at least one")
	case copies > mostLabels || len(labels)*copies > mostLabels:
		return nil, fault.Usagef("%d labels do not go into one file", len(labels)*copies).Try("print them in runs of %d", mostLabels)
	}
	each := s.Columns * s.Rows
	pages := make([][]placed, (len(labels)*copies+s.Used+each-1)/each)
	for i := range len(labels) * copies {
		l, n := labels[i/copies], i+s.Used
		if l.title == "" {
			return nil, fault.Usagef("the label is empty").Try("make it with Container, Bath or Waste")
		}
		pages[n/each] = append(pages[n/each], placed{l.kind, l.title, l.symbols, l.head, l.main, l.end,
			s.Left + s.Across*measure.Millimeters(n%each%s.Columns),
			s.Top + s.Label.Height*measure.Millimeters(n%each/s.Columns)})
	}
	text, box, first := least(s.Label)
	return paper.Render(page(), map[string]any{"Sheet": s, "Pages": pages, "LeastText": text, "LeastBox": box, "MostBox": first})
}
