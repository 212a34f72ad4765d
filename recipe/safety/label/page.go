package label

import (
	"cmp"
	_ "embed"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/paper"
	"hepar/recipe/strict"
)

//go:embed label.html
var body string

//go:embed fit.js
var script string

// page is parsed when a label is printed: most commands print none.
var page = sync.OnceValue(func() func(any) ([]byte, error) { return paper.Parse(body, script) })

const mostLabels = 1000

// Sizes of symbols and text.
const (
	// clpArea is 52 x 74 mm, the least label of a package up to 3 L, in mm2. Source: CLP Annex
	// I table 1.3, from memory.
	clpArea = 52 * 74
	// clpSide is the least side of its symbols, in mm. Source: BAuA on CLP labels.
	clpSide = 16
	// clpShare is the least share of the least label of a package that a symbol covers. Source: as clpSide.
	clpShare = 1.0 / 15
	// clpLarge is 74 x 105 mm, the least label of a package up to 50 L, in mm2: the drawings of a larger
	// label are no larger, which leaves its room to the words. Source: as clpArea.
	clpLarge = 74 * 105
	// smallBox is the least box of a symbol on a smaller label, in mm: a side of 11.3 mm. CLP
	// Annex I table 1.3 goes down to 10 mm for bottles up to 0.5 L, from memory; 29 CFR
	// 1910.1200(f)(6)(ii) sets no size. Chosen here.
	smallBox = 16
	// leastText is the least body text on a label of clpArea and more, in mm: small letters
	// are 1.2 mm high, as CLP asks since 2024, from memory.
	leastText = 2.3
	// smallText is the least body text on a smaller label, in mm. Chosen here.
	smallText = 1.9
)

// least returns the least body text and symbol box on a label, and the box to try first, in
// mm. The box of a square on its point is its side times the root of two.
func least(s Size) (text, box, first float64) {
	const clpBox = clpSide * math.Sqrt2
	area := float64(s.Width * s.Height)
	if area < clpArea {
		return smallText, smallBox, clpBox
	}
	return leastText, clpBox, max(clpBox, math.Sqrt(min(area, clpLarge)*clpShare)*math.Sqrt2)
}

// placed is a label at its place on a page, from the top left.
type placed struct {
	Label
	Left, Top measure.Millimeters
}

// Page prints copies of each label on as many pages of a sheet as they take: one HTML page
// that loads nothing. Its script fits the text: a label that was shortened says so, and a red
// band takes the place of one that does not fit. Errors are of kind Usage: no labels, an empty
// one, more than 1000 of them, more places used than the sheet has, a size that no label has.
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
		if l.Title == "" {
			return nil, fault.Usagef("the label is empty").Try("make it with Container, Bath or Waste")
		}
		left, top := s.at(n % each)
		pages[n/each] = append(pages[n/each], placed{l, left, top})
	}
	text, box, first := least(s.Label)
	return page()(map[string]any{"Sheet": s, "Pages": pages, "LeastText": text, "LeastBox": box, "MostBox": first})
}

// Size is a label or a page in mm.
type Size struct{ Width, Height measure.Millimeters }

// The least and greatest side of a label, in mm.
const (
	leastSide    = 25
	greatestSide = 450
)

func (s Size) check() error {
	for _, x := range []measure.Millimeters{s.Width, s.Height} {
		if !(x >= leastSide && x <= greatestSide) {
			return fault.Usagef("a label cannot be %g x %g mm", float64(s.Width), float64(s.Height)).
				Try("choose a width and a height from %d to %d mm", leastSide, greatestSide)
		}
	}
	return nil
}

// Sheet is a page of labels, all lengths in mm. A single label has one column and one row.
type Sheet struct {
	Name          string // "a4-2x4"; empty for a single label
	Page          Size
	Columns, Rows int
	Label         Size
	Gutter        measure.Millimeters // between columns; rows have no gap
	Used          int                 // places at the start that are already gone
}

// Sheets lists the sheets known by name: columns and rows, then the size of a label. Source of
// label sizes: common practice, no published source; margins are what centring leaves, gutters
// are assumed: 2.5 mm on A4, 3/16 inch on US Letter. Hold a print on plain paper against the
// sheet first.
func Sheets() []Sheet {
	in := func(x float64) measure.Millimeters { return measure.Millimeters(x * 25.4) }
	a4, letter := Size{210, 297}, Size{in(8.5), in(11)}
	return []Sheet{
		{"a4-2x2", a4, 2, 2, Size{99.1, 139}, 2.5, 0},
		{"a4-2x3", a4, 2, 3, Size{99.1, 93.1}, 2.5, 0},
		{"a4-2x4", a4, 2, 4, Size{99.1, 67.7}, 2.5, 0},
		{"a4-3x8", a4, 3, 8, Size{64.6, 33.8}, 2.5, 0},
		{"letter-1x2", letter, 1, 2, Size{in(8), in(5)}, 0, 0},
		{"letter-2x3", letter, 2, 3, Size{in(4), in(10.0 / 3)}, in(3.0 / 16), 0},
		{"letter-2x5", letter, 2, 5, Size{in(4), in(2)}, in(3.0 / 16), 0},
	}
}

// Bears lists the sheets and single sizes that bear the label of every substance or recipe that is
// known, by the kind of label: a test prints them all in a browser.
func Bears(kind string) []string {
	if kind == "container" {
		return []string{"a4-2x4", "letter-2x5", "74x105mm"}
	}
	return []string{"a4-2x2", "a4-2x3", "letter-1x2", "148x105mm"}
}

// Borne reports whether a sheet is one of those that [Bears] lists, or has larger labels.
func (l Label) Borne(s Sheet) bool {
	return slices.ContainsFunc(Bears(l.Kind), func(name string) bool {
		known, err := FindSheet(name)
		return err == nil && s.Label.Width >= known.Label.Width && s.Label.Height >= known.Label.Height
	})
}

// Single is a page that is one label.
func Single(size Size) Sheet { return Sheet{Page: size, Columns: 1, Rows: 1, Label: size} }

// at returns the left and the top of the n-th place, from 0; the labels stand in the middle.
func (s Sheet) at(n int) (left, top measure.Millimeters) {
	columns, rows, column, row := measure.Millimeters(s.Columns), measure.Millimeters(s.Rows), measure.Millimeters(n%s.Columns), measure.Millimeters(n/s.Columns)
	left = (s.Page.Width-s.Label.Width*columns-s.Gutter*(columns-1))/2 + (s.Label.Width+s.Gutter)*column
	return left, (s.Page.Height-s.Label.Height*rows)/2 + s.Label.Height*row
}

// Geometry says in words what the sheet is: "A4, 2 x 4 labels of 99.1 x 67.7 mm".
func (s Sheet) Geometry() string {
	if s.Columns*s.Rows == 1 {
		return "one label of " + s.Label.String()
	}
	page := "US Letter"
	if strings.HasPrefix(s.Name, "a4-") {
		page = "A4"
	}
	return fmt.Sprintf("%s, %d x %d labels of %s", page, s.Columns, s.Rows, s.Label)
}

// String prints a size as "99.1 x 67.7 mm", to a tenth.
func (s Size) String() string {
	return fmt.Sprintf("%g x %g mm", math.Round(float64(s.Width)*10)/10, math.Round(float64(s.Height)*10)/10)
}

// FindSheet finds a sheet by its name, or makes a page of one label of a size such as
// "105x74mm" or "4x2in". Errors are of kind Usage.
func FindSheet(name string) (Sheet, error) {
	name = strings.ToLower(strings.TrimSpace(measure.Clean(name)))
	var names []string
	for _, s := range Sheets() {
		if s.Name == name {
			return s, nil
		}
		names = append(names, s.Name)
	}
	if m := regexp.MustCompile(`^(\d{1,4}(?:\.\d{1,3})?) ?x ?(\d{1,4}(?:\.\d{1,3})?) ?(mm|in)$`).FindStringSubmatch(name); m != nil {
		width, err := measure.ParseLength(m[1] + " " + m[3])
		height, wrong := measure.ParseLength(m[2] + " " + m[3])
		size := Size{width, height}
		return Single(size), cmp.Or(err, wrong, size.check())
	}
	return Sheet{}, fault.Usagef("no label sheet is called %.40q", name).
		Try("%swrite one of %s, or the size of one label such as 105x74mm", strict.Meant(name, names), strings.Join(names, ", "))
}

// check returns an error of kind Usage for a label or a number of used places that cannot be.
func (s Sheet) check() error {
	if n := s.Columns * s.Rows; s.Used < 0 || s.Used >= max(n, 1) {
		return fault.Usagef("%d of the %d places on the sheet are used", s.Used, n).Try("choose a number from 0 to %d", n-1)
	}
	return s.Label.check()
}
