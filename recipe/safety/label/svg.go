package label

import (
	"fmt"
	"html"
	"strconv"
	"strings"

	"hepar/recipe/measure"
)

// unit is how many units of the drawing make a mm: letters of a few units are drawn
// badly by some programs, so the unit is a tenth of a mm.
const unit = 10

// SVG sets one label at a size and returns it as a drawing of that size in mm, black and
// white, with no font, picture or script from elsewhere. Text is escaped, and every run
// of it says how wide it may be. Errors are of kind Usage: a side that is not from
// 25 to 450 mm, or a label that cannot hold what must be on it.
func SVG(l Label, size Size) ([]byte, error) {
	p, err := set(l, size)
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	p.draw(&b, l, "")
	return []byte(b.String()), nil
}

// number writes a length in mm as units, to a tenth of one.
func number(mm float64) string {
	text := strconv.FormatFloat(mm*unit, 'f', 1, 64)
	text = strings.TrimSuffix(text, ".0")
	if text == "-0" {
		return "0"
	}
	return text
}

// draw writes the svg element. style goes into its style attribute and is not escaped.
func (p *picture) draw(b *strings.Builder, l Label, style string) {
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="%smm" height="%smm" viewBox="0 0 %s %s"`,
		trim(p.w), trim(p.h), number(p.w), number(p.h))
	if style != "" {
		fmt.Fprintf(b, ` style="%s"`, style)
	}
	b.WriteString(">\n<title>" + escape(spokenOnce(l.Text())) + "</title>\n")
	fmt.Fprintf(b, `<rect width="%s" height="%s" fill="#fff"/>`+"\n", number(p.w), number(p.h))
	for _, r := range p.bars {
		if r.line == 0 {
			fmt.Fprintf(b, `<rect x="%s" y="%s" width="%s" height="%s"/>`+"\n", number(r.x), number(r.y), number(r.w), number(r.h))
			continue
		}
		half := r.line / 2
		fmt.Fprintf(b, `<rect x="%s" y="%s" width="%s" height="%s" fill="none" stroke="#000" stroke-width="%s"/>`+"\n",
			number(r.x+half), number(r.y+half), number(r.w-r.line), number(r.h-r.line), number(r.line))
	}
	for _, m := range p.marks {
		scale := strconv.FormatFloat(m.box*unit/100, 'f', 4, 64)
		fmt.Fprintf(b, `<g transform="translate(%s %s) scale(%s)">%s%s</g>`+"\n", number(m.x), number(m.y), scale, border, m.symbol.inside())
	}
	fmt.Fprintf(b, `<g font-family="%s">`+"\n", fonts)
	for _, r := range p.runs {
		r.write(b)
	}
	b.WriteString("</g>\n</svg>\n")
}

func (r run) write(b *strings.Builder) {
	fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s"`, number(r.x), number(r.y), number(r.size))
	if r.width > 0 {
		fmt.Fprintf(b, ` textLength="%s" lengthAdjust="spacingAndGlyphs"`, number(r.width))
	}
	if r.bold {
		b.WriteString(` font-weight="bold"`)
	}
	if r.white {
		b.WriteString(` fill="#fff"`)
	}
	b.WriteString(">" + escape(r.text) + "</text>\n")
}

// escape makes text fit for a document: no control characters, whatever came this far,
// and no markup.
func escape(text string) string { return html.EscapeString(measure.Clean(text)) }

// trim writes a length without noise.
func trim(mm float64) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(mm, 'f', 3, 64), "0"), ".")
}

// spokenOnce joins what a label says into one text, with one full stop after each part.
func spokenOnce(parts []string) string {
	ended := make([]string, len(parts))
	for i, p := range parts {
		ended[i] = strings.TrimRight(p, ". ")
	}
	text := strings.Join(ended, ". ")
	if last := len(parts) - 1; last >= 0 && strings.HasSuffix(parts[last], ".") {
		text += "."
	}
	return text
}
