// Package page prints a batch sheet on one page of paper for the wall by the bath:
// the same as the terminal shows, with boxes and lines to write on, the bath's curve,
// and a code to scan. Call Sheet.
package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"math"
	"strings"
	"sync"
	"unicode/utf8"

	"rsc.io/qr"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/measure"
	"hepar/recipe/paper"
)

//go:embed sheet.html
var body string

// page is parsed when a page is printed: most commands print none.
var page = sync.OnceValue(func() func(any) ([]byte, error) { return paper.Parse(body, "") })

// Options say what stands on the page beside the sheet.
type Options struct {
	Number string // of the batch; empty if it is not saved
	Order  string
	Date   string   // of the plan, in words
	Last   []string // how it turned out last time
	Letter bool     // US Letter instead of A4
	Units  measure.System
}

// Sheet returns the page as one HTML file that loads nothing from outside.
func Sheet(s *bath.Sheet, r *recipe.Recipe, o Options) ([]byte, error) {
	b := s.Brief(r, o.Units)
	b.What = measure.Clean(strings.TrimSuffix(b.What+"; "+o.Order, "; "))
	paperSize, room := "210mm 297mm", 279.0
	if o.Letter {
		paperSize, room = "8.5in 11in", 261.4
	}
	columns := [][]bath.Row{b.Rows}
	drawn := curve(s, o.Units)
	size := ladder[0]
	high := 0.0
	for _, size = range ladder {
		if high = height(b, o, columns, size, drawn != ""); high <= room {
			break
		}
	}
	if high*0.8 > room { // parted so that the sheet is lowest; an action stays with the load that it follows
		for i, row := range b.Rows {
			parted := [][]bath.Row{b.Rows[:i], b.Rows[i:]}
			if h := height(b, o, parted, size, drawn != ""); i > 0 && row.Action == "" && h < high {
				columns, high = parted, h
			}
		}
	}
	scale := math.Floor(min(1, room/high)*100) / 100
	return page()(map[string]any{
		"B": b, "O": o, "Columns": columns, "Size": template.CSS(paperSize), "Curve": drawn, "Code": code(o.Number), "Vessel": vessel(s, o.Units), "Dip": r.Dip,
		"Sizes": template.CSS(fmt.Sprintf("--zoom: %g; --wide: %.1fmm; --capitals: %gmm; --load: %gmm; --dip: %gmm", scale, 190/scale, size.capitals, size.load, size.dip)),
	})
}

// sizes are those of the letters that are read from two metres, in mm. A capital and a figure
// are 0.72 of them high.
type sizes struct{ capitals, load, dip float64 }

// ladder is tried from its top: the sheet takes the first that leaves it on one page.
var ladder = []sizes{{11.2, 12, 20}, {10, 11.2, 18}, {8, 12, 20}, {8, 11.2, 17}, {8, 10, 14}, {8, 9, 12}, {7, 8, 9}, {6, 6, 7}, {4.4, 4.4, 6}}

// vessel names the vessel of a sheet, or gives its size.
func vessel(s *bath.Sheet, u measure.System) string {
	v := s.Bath.Vessel
	mm := func(x measure.Millimeters) string { return u.Ruler(measure.Millimeters(math.Round(float64(x)))) }
	switch {
	case v.Height <= 0:
		return ""
	case v.Diameter > 0:
		return strings.TrimSpace(fmt.Sprintf("%s %s across, %s high", measure.Clean(v.Name), mm(v.Diameter), mm(v.Height)))
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s x %s x %s", measure.Clean(v.Name), mm(v.Length), mm(v.Width), mm(v.Height)))
}

// height estimates how high a sheet is at full size, in mm, by the sizes of sheet.html
// and half an em for a letter. It errs on the high side: a page that is too high takes
// two, one that is lower than it could be takes smaller letters.
func height(b bath.Brief, o Options, columns [][]bath.Row, size sizes, drawn bool) float64 {
	// so many texts in letters of some mm on a width in mm
	high := func(em, width float64, texts ...string) (sum float64) {
		for _, text := range texts {
			sum += em * 1.25 * math.Ceil(float64(utf8.RuneCountInString(text))*em*0.5/width)
		}
		return sum
	}
	const body, heading, wide, each = 3.6, 7.0, 190.0, 7.0
	sum := max(22, 8+high(body, 120, b.What)) + 5.8 + high(5.6, wide-7, b.Pour...) + high(body, wide, o.Last...) +
		high(body, wide, b.Verdict+" "+b.Better, b.OneByOne) + high(body, wide, b.Ready...) + high(body*1.1, wide-4, b.Warnings...) + high(5.6, wide/2, b.Discard) + (high(body, 79, b.Steps...)+0.8*float64(len(b.Steps)))/2 + 5
	sum += 4*heading + 5 + body*2.5 + 21 + 0.6*float64(len(b.Warnings)) // the headings, the last lines, two rows to write on
	if len(o.Last) > 0 {
		sum += heading
	}
	for _, text := range b.Capitals { // bold
		sum += size.capitals * 1.08 * math.Ceil(float64(utf8.RuneCountInString(text))*size.capitals*0.6/183)
	}
	if drawn {
		sum += 31
	}
	action, dip, cells := wide-12, max(size.dip*1.05, size.load*1.1), 4.0
	if len(columns) > 1 {
		action, dip, cells = 80, 5*1.25, 3
	}
	loads := 0.0
	for _, rows := range columns {
		column := 0.0
		for _, row := range rows {
			if row.Action == "" {
				column += dip + 1.7
			} else {
				column += high(4.4*1.1, action, row.Action) + 2.6
			}
			if row.Count > 1 {
				column += math.Ceil(float64(row.Count)/cells)*(each+1.2) + 1
			}
		}
		loads = max(loads, column)
	}
	return sum + loads
}

// code draws the number as a code to scan, with the quiet zone of four modules of ISO/IEC 18004.
func code(number string) template.HTML {
	c, err := qr.Encode(number, qr.M)
	if number == "" || err != nil {
		return ""
	}
	var path strings.Builder
	for y := range c.Size {
		for x := range c.Size {
			if c.Black(x, y) {
				fmt.Fprintf(&path, "M%d %dh1v1h-1z", x+4, y+4)
			}
		}
	}
	n := c.Size + 8
	return template.HTML(fmt.Sprintf(`<svg class="code" viewBox="0 0 %d %d" role="img" aria-label="batch %s"><path fill="#000" d="%s"/></svg>`, n, n, template.HTMLEscapeString(number), path.String()))
}

// curve draws temperature and dip time over the run: a line, and a step for each load. A few
// loads, or a bath that is held, need none.
func curve(s *bath.Sheet, u measure.System) template.HTML {
	const w, h, left, bottom, top, right = 180.0, 30.0, 12.0, 6.0, 3.0, 12.0
	hot, cold, long := -1e9, 1e9, 0.0
	for _, l := range s.Loads {
		hot, cold, long = max(hot, l.TemperatureC), min(cold, l.TemperatureC), max(long, float64(l.DipS))
	}
	if len(s.Loads) < 4 || hot-cold < 1 {
		return ""
	}
	end := max(s.Run.Totals.Minutes, 1)
	hot, cold = math.Ceil(hot/5)*5, math.Floor(cold/5)*5
	long = math.Ceil(long/5) * 5
	x := func(minute float64) float64 { return left + (w-left-right)*minute/end }
	y := func(share float64) float64 { return h - bottom - (h-bottom-top)*share }
	var out, line strings.Builder
	fmt.Fprintf(&out, `<svg class="curve" viewBox="0 0 %g %g" role="img" aria-label="temperature and dip time over the run">`, w, h)
	fmt.Fprintf(&out, `<path fill="none" stroke="#000" stroke-width=".25" d="M%.1f %.1fV%.1fH%.1fV%.1f"/>`, left, top, h-bottom, w-right, top)
	for i, l := range s.Loads {
		at := x(l.StartMin)
		verb := "L"
		if i == 0 || l.Bath != s.Loads[i-1].Bath {
			verb = "M"
		}
		fmt.Fprintf(&line, "%s%.1f %.1f", verb, at, y((l.TemperatureC-cold)/(hot-cold)))
		fmt.Fprintf(&out, `<path stroke="#000" stroke-width=".9" d="M%.1f %.1fV%.1f"/>`, at+.6, h-bottom, y(float64(l.DipS)/long))
	}
	fmt.Fprintf(&out, `<path fill="none" stroke="#000" stroke-width=".6" stroke-dasharray="2 1" d="%s"/>`, line.String())
	text := func(atX, atY float64, anchor, say string) {
		fmt.Fprintf(&out, `<text x="%.1f" y="%.1f" text-anchor="%s" font-size="3.2">%s</text>`, atX, atY, anchor, template.HTMLEscapeString(say))
	}
	text(left-1, top+2, "end", u.Temperature(measure.Celsius(hot)))
	text(left-1, h-bottom, "end", u.Temperature(measure.Celsius(cold)))
	text(w-right+1, top+2, "start", fmt.Sprintf("%g s", long))
	text(w-right+1, h-bottom, "start", "0 s")
	text(left, h-1.5, "start", "first load")
	text(w-right, h-1.5, "end", fmt.Sprintf("%.0f min", end))
	text(w/2, h-1.5, "middle", "dashed: bath temperature; bars: dip time")
	out.WriteString("</svg>")
	return template.HTML(out.String())
}
