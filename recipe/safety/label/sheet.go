package label

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Size is a label or a page in mm.
type Size struct{ Width, Height measure.Millimeters }

// The least and greatest side of a label, in mm.
const (
	leastSide    = 25
	greatestSide = 450
)

// check returns an error of kind Usage for a size that no label has.
func (s Size) check() error {
	for _, x := range []measure.Millimeters{s.Width, s.Height} {
		if !(x >= leastSide && x <= greatestSide) {
			return fault.Usagef("a label cannot be %g x %g mm", float64(s.Width), float64(s.Height)).
				Try("choose a width and a height from %d to %d mm", leastSide, greatestSide)
		}
	}
	return nil
}

// Sheet is a page of labels, all lengths in mm. A page that is one label has one column
// and one row.
type Sheet struct {
	Name          string // "a4-2x4"; empty for a single label
	Page          Size
	Columns, Rows int
	Label         Size
	Left, Top     measure.Millimeters // from the edge of the page to the first label
	Across        measure.Millimeters // from one label to the next; rows have no gap
	Used          int                 // places at the start that are already gone
}

// millimetersPerInch is exact.
const millimetersPerInch = 25.4

// Sheets lists the sheets known by name. They are named by their geometry: columns and
// rows, then the size of a label. Source of label sizes: common practice, no published
// source; margins are what centring leaves, gutters are assumed: 2.5 mm on A4, 3/16 inch on
// US Letter. Print one page on plain paper first and hold it against the sheet.
func Sheets() []Sheet {
	a4 := Size{210, 297}
	letter := Size{8.5 * millimetersPerInch, 11 * millimetersPerInch}
	in := func(x float64) measure.Millimeters { return measure.Millimeters(x * millimetersPerInch) }
	return []Sheet{
		centred("a4-2x2", a4, 2, 2, Size{99.1, 139}, 2.5),
		centred("a4-2x3", a4, 2, 3, Size{99.1, 93.1}, 2.5),
		centred("a4-2x4", a4, 2, 4, Size{99.1, 67.7}, 2.5),
		centred("a4-3x8", a4, 3, 8, Size{64.6, 33.8}, 2.5),
		centred("letter-1x2", letter, 1, 2, Size{in(8), in(5)}, 0),
		centred("letter-2x3", letter, 2, 3, Size{in(4), in(10.0 / 3)}, in(3.0/16)),
		centred("letter-2x5", letter, 2, 5, Size{in(4), in(2)}, in(3.0/16)),
	}
}

// centred lays labels on a page without gaps between rows.
func centred(name string, page Size, columns, rows int, l Size, gutter measure.Millimeters) Sheet {
	wide := l.Width*measure.Millimeters(columns) + gutter*measure.Millimeters(columns-1)
	tall := l.Height * measure.Millimeters(rows)
	return Sheet{
		Name: name, Page: page, Columns: columns, Rows: rows, Label: l,
		Left: (page.Width - wide) / 2, Top: (page.Height - tall) / 2,
		Across: l.Width + gutter,
	}
}

// Single is a page that is one label.
func Single(size Size) Sheet {
	return Sheet{Page: size, Columns: 1, Rows: 1, Label: size, Across: size.Width}
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
// "105x74mm", "105 x 74 mm" or "4x2in". Errors are of kind Usage.
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
	if len(name) > 40 {
		name = name[:40] + "..."
	}
	cure := "write one of " + strings.Join(names, ", ") + ", or the size of one label such as 105x74mm"
	if near := fault.NearestN(name, names, 1); len(near) > 0 {
		cure = "did you mean " + near[0] + "? " + cure
	}
	return Sheet{}, fault.Usagef("no label sheet is called %q", name).Try("%s", cure)
}

// check returns an error of kind Usage for a label or a number of used places that cannot be.
func (s Sheet) check() error {
	if n := s.Columns * s.Rows; s.Used < 0 || s.Used >= max(n, 1) {
		return fault.Usagef("%d of the %d places on the sheet are used", s.Used, n).Try("choose a number from 0 to %d", n-1)
	}
	return s.Label.check()
}
