package label

import (
	"fmt"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// mostLabels bounds one call of [HTML].
const mostLabels = 1000

// style is the whole style sheet: nothing is loaded, and nothing but black and white is
// printed. On screen the labels have an outline, and notes stand above the pages.
const style = `
@page { size: %[1]smm %[2]smm; margin: 0; }
html, body { margin: 0; padding: 0; background: #fff; color: #000; }
.page { position: relative; width: %[1]smm; height: %[2]smm; overflow: hidden; break-after: page; }
.page:last-child { break-after: auto; }
.page svg { position: absolute; display: block; }
.notes { font: 12pt/1.4 Arial, Helvetica, sans-serif; max-width: 40em; padding: 1em; }
@media print { .notes { display: none; } }
@media screen { .page { outline: 1px solid #000; margin: 4mm; } .page svg { outline: 1px dotted #000; } }
`

// HTML sets labels on as many pages of a sheet as they take and returns one self-contained
// page: print style in mm, drawings inside, no script, nothing loaded from elsewhere. Above
// the pages, on screen only, it says how to print and what was left out on which label
// for want of room. Errors are of kind Usage: no labels, more than 1000 of them, a sheet
// whose labels do not fit on its page, a label that cannot hold what must be on it.
//
// It is written with fmt and html.EscapeString. The template library of Go would add two
// megabytes to the program and time to every start, for one page whose texts all go
// through one function (escape).
func HTML(labels []Label, sheet Sheet) ([]byte, error) {
	if err := sheet.check(); err != nil {
		return nil, err
	}
	switch {
	case len(labels) == 0:
		return nil, fault.Usagef("no labels to set").Try("give at least one")
	case len(labels) > mostLabels:
		return nil, fault.Usagef("%d labels at once", len(labels)).Try("print them in runs of %d", mostLabels)
	}
	pictures := make([]*picture, len(labels))
	for i, l := range labels {
		p, err := set(l, sheet.Label)
		if err != nil {
			return nil, err
		}
		pictures[i] = p
	}
	var b strings.Builder
	b.WriteString("<!DOCTYPE html>\n" + `<html lang="en" xmlns="http://www.w3.org/1999/xhtml">` + "\n<head>\n" + `<meta charset="utf-8"/>` + "\n")
	b.WriteString(`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'"/>` + "\n")
	fmt.Fprintf(&b, "<title>Labels, %s</title>\n<style>", escape(sheet.Geometry()))
	fmt.Fprintf(&b, style, trim(float64(sheet.Page.Width)), trim(float64(sheet.Page.Height)))
	b.WriteString("</style>\n</head>\n<body>\n")
	notes(&b, labels, pictures, sheet)
	each := sheet.Columns * sheet.Rows
	for i, p := range pictures {
		place := (i + sheet.Used) % each
		if i == 0 || place == 0 {
			if i > 0 {
				b.WriteString("</div>\n")
			}
			b.WriteString(`<div class="page">` + "\n")
		}
		left := sheet.Left + sheet.Across*measure.Millimeters(place%sheet.Columns) + sheet.ShiftRight
		top := sheet.Top + sheet.Down*measure.Millimeters(place/sheet.Columns) + sheet.ShiftDown
		p.draw(&b, labels[i], "left: "+trim(float64(left))+"mm; top: "+trim(float64(top))+"mm")
	}
	b.WriteString("</div>\n</body>\n</html>\n")
	return []byte(b.String()), nil
}

// notes stand above the pages and are not printed.
func notes(b *strings.Builder, labels []Label, pictures []*picture, sheet Sheet) {
	b.WriteString(`<div class="notes">` + "\n")
	fmt.Fprintf(b, "<p>%s. Print at 100 %%, with no scaling and no margins; try plain paper first. Hazards on these labels are family defaults unless your own codes were entered: your SDS and your local authority decide.</p>\n",
		escape(sheet.Geometry()))
	var rows []string
	for i, p := range pictures {
		if len(p.left) > 0 {
			rows = append(rows, fmt.Sprintf("<li>label %d, %s: %s</li>\n", i+1, escape(labels[i].title), escape(strings.Join(p.left, "; "))))
		}
	}
	if len(rows) > 0 {
		b.WriteString("<p>For want of room:</p>\n<ul>\n" + strings.Join(rows, "") + "</ul>\n")
	}
	b.WriteString("</div>\n")
}
