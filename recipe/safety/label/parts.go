package label

// heading is the bar at the top: a small line and the title, white on black.
func (n *pen) heading(l Label, body float64) {
	pad := 0.45 * body
	inner := n.width - 2*pad
	title := []span{boldly(l.title)}
	high := n.p.scale.title * body
	if l.frame {
		high *= 1.3
	}
	size := fitting(title, inner, min(1.6*body, high), high, 1)
	if len(wrap(title, size, inner)) > 1 {
		size = fitting(title, inner, 1.1*body, min(1.9*body, high), 2)
	}
	top := n.y
	small := wrap(l.kicker, 0.95*body, inner)
	lines := wrap(title, size, inner)
	height := 1.2*pad + float64(len(small))*0.95*body*lineHeight + float64(len(lines))*size*lineHeight
	n.bar(n.x, top, n.width, height, 0)
	n.y = top + 0.6*pad
	n.lines(small, 0.95*body, n.x+pad, inner, true)
	n.lines(lines, size, n.x+pad, inner, true)
	n.y = top + height
}

// shout is the last bar: the large words at the left, the reason beside or below them,
// whichever takes less height.
func (n *pen) shout(big, why string, body float64) {
	if big == "" {
		return
	}
	pad := 0.5 * body
	inner := n.width - 2*pad
	spans, reason := []span{boldly(big)}, []span{plainly(why)}
	size := fitting(spans, inner, 1.2*body, n.p.scale.shout*body, 1)
	n.p.loud = size
	head := wrap(spans, size, inner)
	tall := float64(len(head)) * size * lineHeight

	text, left, width := wrap(reason, body, inner), n.x+pad, inner
	high := float64(len(text)) * body * lineHeight
	height, beside := tall+high+0.8*pad, false
	if rest := inner - textWidth(big, true, size) - 1.2*body; rest > 0.25*inner {
		narrow := wrap(reason, body, rest)
		if h := max(tall, float64(len(narrow))*body*lineHeight) + 0.8*pad; h < height {
			text, left, width, height, beside = narrow, n.x+n.width-pad-rest, rest, h, true
			high = float64(len(text)) * body * lineHeight
		}
	}
	top := n.y
	n.bar(n.x, top, n.width, height, 0)
	n.y = top + 0.3*pad
	if beside {
		n.y = top + (height-tall)/2
	}
	n.lines(head, size, n.x+pad, inner, true)
	if beside {
		n.y = top + (height-high)/2
	}
	n.lines(text, body, left, width, true)
	n.y = top + height + 0.4*body
}

// boxes puts framed figures side by side where they fit, else under each other.
func (n *pen) boxes(list []box, body float64) {
	gap := 0.5 * body
	top, left, full := n.y, n.x, n.width
	low, limit := top, n.x+n.width
	for i, b := range list {
		wide := n.measure(b, body)
		if i > 0 && n.x+wide <= limit {
			n.y = top
		} else if i > 0 {
			n.x, n.y = left, low+gap
			top = n.y
		}
		n.width = min(wide, limit-n.x)
		n.box(b, body)
		low = max(low, n.y)
		n.x += n.width + gap
	}
	n.x, n.y, n.width = left, low, full
}

// boxStroke is the line of a box in mm.
const boxStroke = 0.5

// figures gives the sizes of name and value in a box of a width.
func (n *pen) figures(b box, body, inner float64) (name, value float64) {
	return fitting([]span{boldly(b.name)}, inner, max(0.8*body, leastFoot), 1.05*body, 1),
		fitting([]span{boldly(b.value)}, inner, max(0.9*body, leastFoot), n.p.scale.figure*body, 1)
}

// measure is the width that a box likes to have, at most all there is.
func (n *pen) measure(b box, body float64) float64 {
	pad := 0.4*body + boxStroke
	name, value := n.figures(b, body, n.width-2*pad)
	return min(n.width, max(textWidth(b.value, true, value), textWidth(b.name, true, name), 12*body*0.8)+2*pad+0.01)
}

// box is a framed figure under its name, or an empty frame to write in, as wide as the pen.
func (n *pen) box(b box, body float64) {
	pad := 0.4*body + boxStroke
	inner := n.width - 2*pad
	name, value := n.figures(b, body, inner)
	titles, lines := wrap([]span{boldly(b.name)}, name, inner), wrap([]span{boldly(b.value)}, value, inner)
	room := float64(len(lines)) * value * lineHeight
	if len(lines) == 0 {
		room = value * lineHeight
	}
	top := n.y
	height := float64(len(titles))*name*lineHeight + room + 1.1*pad
	n.bar(n.x, top, n.width, height, boxStroke)
	n.y = top + 0.6*pad
	n.lines(titles, name, n.x+pad, inner, false)
	n.lines(lines, value, n.x+pad, inner, false)
	n.y = top + height
}
