// Package page prints a batch sheet on one page of paper for the wall by the bath:
// the same as the terminal shows, with boxes and lines to write on, what is in each tub,
// the bath's curve, and a code to scan. Call Sheet. The script of the page, fit.js, sets it in
// the largest letters that leave it on one page; where no script runs it may take two.
package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"math"
	"strings"
	"sync"
	"time"

	"rsc.io/qr"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/measure"
	"hepar/recipe/paper"
)

//go:embed sheet.html
var body string

//go:embed fit.js
var script string

// page is parsed when a page is printed: most commands print none.
var page = sync.OnceValue(func() func(any) ([]byte, error) { return paper.Parse(body, script) })

// Options say what stands on the page beside the sheet.
type Options struct {
	Number string // of the batch; empty if it is not saved
	Order  string
	Date   string    // of the plan, in words
	Last   []string  // how it turned out last time
	Mixed  time.Time // of the bath that stands there; zero: a blank to write in
	Letter bool      // US Letter instead of A4
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
	p := sheet{Bath: parted(b.Bath, ", ", ""), Steps: steps(s, r, o.Units), Curve: curve(s, o.Units)}
	for _, line := range b.Pour {
		p.Pour = append(p.Pour, parted(line, " of ", ": "))
	}
	ends, discard := "", ""
	if life := s.BathLife(); life > 0 {
		ends = o.Units.Time(life)
		if !o.Mixed.IsZero() {
			discard = o.Mixed.Add(time.Duration(float64(life) * float64(time.Second))).Format(clock)
		}
	}
	return page()(map[string]any{
		"B": b, "O": o, "Ends": ends, "Mixed": o.Mixed.Format(clock), "Discard": discard, "P": p, "Size": template.CSS(paperSize), "Room": room, "Code": code(o.Number), "Vessel": vessel(s, o.Units), "Dip": r.Dip,
	})
}

// clock is a time that no country misreads.
const clock = "2 Jan 2006 15:04"

// sheet is what stands on the page.
type sheet struct {
	Bath  said
	Pour  []said
	Steps []step
	Curve template.HTML
}

// said is a line in large, middle and small letters.
type said struct{ Big, Rest, Small string }

// parted is a line whose words up to a mark are large, and whose words from another are small.
func parted(line, first, second string) said {
	i := strings.Index(line, first)
	if i < 0 {
		i = len(line)
	}
	out := said{Big: line[:i], Rest: line[i:]}
	if j := strings.Index(out.Rest, second); second != "" && j >= 0 {
		out.Rest, out.Small = out.Rest[:j], out.Rest[j:]
	}
	return out
}

// step is one of the recipe, with what is in its tubs, and how it is done.
type step struct {
	Do  string
	How []how
}

// how is a few words; those that a sheet without room leaves out are only there in full.
type how struct {
	Text string
	Full bool
}

// steps are those of the recipe. The words that keep waste and rework apart stay.
func steps(s *bath.Sheet, r *recipe.Recipe, u measure.System) (all []step) {
	for i, x := range r.Steps {
		line := step{}
		for n, text := range strings.Split(x.How+"; "+x.Note, "; ") {
			if text = strings.TrimSuffix(text, "."); text != "" && !strings.HasPrefix(text, "common practice") {
				line.How = append(line.How, how{text, n > 0 && !strings.Contains(text, "waste") && !strings.Contains(text, "rework")})
			}
		}
		x.How = ""
		line.Do = bath.ShortStep(x, u)
		for _, tub := range s.Rinses {
			if tub.Step == i+1 && !tub.Running && tub.VolumeL > 0 {
				line.Do += ", "
				if tub.Grams != nil {
					line.Do += u.Scale(measure.Grams(*tub.Grams)) + " in "
				}
				if line.Do += u.Liquid(measure.Liters(tub.VolumeL)); tub.Baths > 1 {
					line.Do += " each"
				}
			}
		}
		all = append(all, line)
	}
	return all
}

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
