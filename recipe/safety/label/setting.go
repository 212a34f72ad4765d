package label

import "math"

// setting is one attempt to set a label.
type setting struct {
	Label
	w, h  float64
	level int
	box   float64
	how   arrangement
}

// largest finds the largest body text from least to most at which it fits, or nil.
func (c setting) largest(least, most float64) *picture {
	if c.try(least) == nil {
		return nil
	}
	low, high := least, most
	for high-low > 0.06 {
		if mid := (low + high) / 2; c.try(mid) != nil {
			low = mid
		} else {
			high = mid
		}
	}
	return c.try(low)
}

// margin keeps print off the edge, where sheets and cutters are not true.
func (c setting) margin() float64 {
	return min(4, max(1.8, 0.035*min(c.w, c.h)+0.6))
}

// try sets the label with a body text of that size, or gives nil where it does not fit.
// Title and what is under it go down from the top, foot and last bar stand on the
// bottom, the rest comes between; the symbols stand beside as much of it as the
// arrangement says.
func (c setting) try(body float64) *picture {
	p := &picture{w: c.w, h: c.h, body: body, left: c.omitted(), scale: scaleAt(c.level)}
	edge := c.margin()
	if c.frame {
		p.bars = append(p.bars, bar{edge / 2, edge / 2, c.w - edge, c.h - edge, edge / 3})
		edge *= 1.25
	}
	x, width, gap := edge, c.w-2*edge, 0.4*body
	marksW, marksH, at := c.how.cluster(len(c.symbols), c.box)
	column := width // of the text beside the symbols
	if marksW > 0 && c.how.reach != below {
		column -= marksW + body
	}
	if marksW > width || column < min(11*body, width) {
		return nil
	}
	across := func(r reach) float64 { // how wide text may be that this reach takes in
		if c.how.reach != below && c.how.reach >= r {
			return column
		}
		return width
	}

	n := pen{p: p, x: x, y: edge, width: across(besideAll)}
	n.heading(c.Label, body)
	n.y += gap / 2
	ceiling := n.y // of the symbols
	n.width = across(besideMost)
	for _, b := range c.under {
		n.write(b.at(c.level), b.scale*body)
	}
	n.y += gap
	if c.how.reach < besideMost || c.how.reach == below {
		ceiling = n.y
	}
	if c.how.reach == besideAll {
		ceiling = edge
	}

	end := pen{p: p, x: x, dry: true}
	foot := func() {
		end.width = across(besideMost)
		why := c.why
		if c.level >= required {
			why = ""
		}
		end.shout(c.Label.shout, why, body)
		end.width = across(besideAll)
		end.write(c.foot.at(c.level), max(0.88*body, leastFoot))
	}
	foot()
	bottom := c.h - edge - end.y // of the middle
	floor := bottom - gap/2      // of the symbols
	switch c.how.reach {
	case besideAll:
		floor = c.h - edge
	case besideMost:
		last := pen{p: p, width: width, dry: true}
		last.write(c.foot.at(c.level), max(0.88*body, leastFoot))
		floor = c.h - edge - last.y - gap/2
	}
	n.width = across(besideMiddle)
	c.middle(&n, body)
	if c.how.reach == below && marksH > 0 {
		ceiling = n.y + gap
	}
	if n.y > bottom || marksH > floor-ceiling {
		return nil
	}
	c.mark(p, at, marksW, x, width, ceiling+(floor-ceiling-marksH)/2)
	end.dry, end.y = false, bottom
	foot()
	return p
}

// mark places the symbols: at the right, or in the middle below the text.
func (c setting) mark(p *picture, at [][2]float64, w, x, width, y float64) {
	left := x + width - w
	if c.how.reach == below {
		left = x + (width-w)/2
	}
	for i, s := range c.symbols {
		p.marks = append(p.marks, mark{s, left + at[i][0], y + at[i][1], c.box})
		p.side = c.box / math.Sqrt2
	}
}

// middle writes the signal word, the hazards, the boxes and the lines.
func (c setting) middle(n *pen, body float64) {
	gap := 0.35 * body
	if c.signal != "" {
		signal := []span{boldly(c.signal)}
		n.write(signal, fitting(signal, n.width, 1.2*body, n.p.scale.signal*body, 1))
	}
	hazards := c.hazards
	if c.level > everything {
		hazards = c.short
	}
	if len(hazards) > 0 {
		n.write(hazards, body)
		n.y += gap
	}
	if len(c.Label.boxes) > 0 {
		n.boxes(c.Label.boxes, body)
		n.y += gap
	}
	for _, b := range c.lines {
		if spans := b.at(c.level); spans != nil {
			n.write(spans, max(b.scale*body, leastFoot))
			n.y += gap / 2
		}
	}
}

// omitted says what this level leaves out.
func (c setting) omitted() []string {
	var out []string
	if c.level > everything && len(c.hazards) > 0 {
		out = append(out, "hazard statements in short words")
	}
	for _, b := range c.lines {
		if b.at(c.level) == nil {
			out = append(out, "left out: "+spell(b.spans))
		}
	}
	return out
}

func spell(spans []span) string {
	out := ""
	for _, s := range spans {
		out += s.text + " "
	}
	return out[:max(len(out)-1, 0)]
}
