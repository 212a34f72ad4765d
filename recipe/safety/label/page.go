package label

import (
	_ "embed"
	"slices"
	"strconv"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/paper"
)

//go:embed label.html
var body string

var page = paper.Parse(body)

// mostLabels bounds one call of [Page].
const mostLabels = 1000

// placed is a label at its place on a page, in mm from the top left.
type placed struct {
	setting
	Left, Top float64
}

// Page prints copies of each label on as many pages of a sheet as they take. It returns one
// HTML page that loads nothing, and the notes that the page shows on the screen: what was
// left out on which label for want of room. Errors are of kind Usage: no labels, more than
// 1000 of them, more places used than the sheet has, a label that cannot hold what must be
// on it.
func Page(labels []Label, copies int, s Sheet) (html []byte, notes []string, err error) {
	if err := s.check(); err != nil {
		return nil, nil, err
	}
	switch {
	case len(labels) == 0 || copies < 1:
		return nil, nil, fault.Usagef("there is no label to print").Try("choose at least one")
	case copies > mostLabels || len(labels)*copies > mostLabels:
		return nil, nil, fault.Usagef("%d labels do not go into one file", len(labels)*copies).Try("print them in runs of %d", mostLabels)
	}
	var all []setting
	for _, l := range labels {
		one, err := set(l, s.Label)
		if err != nil {
			return nil, nil, err
		}
		for _, note := range omitted(l, one.level) {
			notes = append(notes, l.title+": "+note)
		}
		all = append(all, slices.Repeat([]setting{one}, copies)...)
	}
	each := s.Columns * s.Rows
	pages := make([][]placed, (len(all)+s.Used+each-1)/each)
	for i, one := range all {
		n := i + s.Used
		pages[n/each] = append(pages[n/each], placed{one,
			float64(s.Left + s.Across*measure.Millimeters(n%each%s.Columns)),
			float64(s.Top + s.Label.Height*measure.Millimeters(n%each/s.Columns))})
	}
	html, err = paper.Render(page, map[string]any{
		"Sheet": s, "Pages": pages, "Notes": notes,
		"LineHeight": lineHeight, "Padding": padding, "WasteFrame": wasteFrame,
	})
	return html, notes, err
}

// omitted says what a level shortens or leaves out.
func omitted(l Label, v level) []string {
	var out []string
	for _, p := range slices.Concat(l.head, l.body, l.end) {
		_, printed := p.at(v)
		switch {
		case !printed:
			out = append(out, "left out for want of room: "+strconv.Quote(read([]part{p})))
		case p.Class == "hazards" && v > everything:
			out = append(out, "hazard statements are in short words for want of room")
		case p.Class == "bar" && v == barest:
			out = append(out, "left out for want of room: "+strconv.Quote(read(p.Parts[1:])))
		}
	}
	return out
}
