package metal

import (
	"fmt"
	"math"
	"slices"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// mostSlender is how many times thicker than wide a disc may come out of its mass
// before the mass is refused. Chosen: such a piece is a rod, and a mass in the
// wrong unit is the likelier reason.
const mostSlender = 10.0

// disc: faces pi D^2/2, edge pi D t. With mass and diameter the edge is
// 4 m/(rho D), so that no thickness needs to be measured; and none is trusted,
// because callipers read the rim.
func disc(w *work) {
	D, t, m := w.diameter, w.thickness, w.mass
	switch {
	case m > 0 && D > 0:
		if t > 0 {
			w.agree(w.rho*math.Pi*D*D*t/4, "the mass and the diameter were used",
				"A raised rim is the usual reason, and a hole or a hollow the next.")
		}
		w.setLength(&w.thick, "mean thickness", 4*m/(w.rho*math.Pi*D*D), "t = 4 m/(rho pi D^2)",
			put("4 x %s/(%s x pi x %s^2)", m, w.rho, D))
		w.setArea(math.Pi*D*D/2+4*m/(w.rho*D), "A = pi D^2/2 + 4 m/(rho D)",
			put("pi x %s^2/2 + 4 x %s/(%s x %s)", D, m, w.rho, D))
	case t > 0 && (D > 0 || m > 0):
		if w.thick = t; D == 0 {
			w.setLength(&D, "diameter", math.Sqrt(4*m/(w.rho*math.Pi*t)), "D = sqrt(4 m/(rho pi t))",
				put("sqrt(4 x %s/(%s x pi x %s))", m, w.rho, t))
		}
		w.setArea(math.Pi*D*D/2+math.Pi*D*t, "A = pi D^2/2 + pi D t", put("pi x %s^2/2 + pi x %s x %s", D, D, t))
		if m == 0 {
			w.setMass(w.rho*math.Pi*D*D*t/4, "m = rho pi D^2 t/4", put("%s x pi x %s^2 x %s/4", w.rho, D, t))
		}
	case D > 0:
		w.lack("two of --diameter, --thickness and --mass", "weigh one piece and add --mass, or add --thickness")
	case t > 0 || m > 0:
		w.lack("two of --diameter, --thickness and --mass", "add --diameter, or "+pick(t > 0, "--mass", "--thickness"))
	default:
		w.lack("two of --diameter, --thickness and --mass", "add --diameter and --mass, or --diameter and --thickness")
	}
	if t == 0 && w.thick > mostSlender*D {
		w.fail(fault.Usagef("%s g on a diameter of %s mm makes a rod %s mm long, not a disc", fig(m), fig(D*10), fig(w.thick*10)).
			At("--mass").Try("check the units of --mass and --diameter; for a rod use --shape wire"))
	}
	if w.err == nil && w.thick > D {
		w.warn("This disc is thicker (", measure.Millimeters(w.thick*10), ") than it is wide (", measure.Millimeters(D*10), "): check the units and the mass.")
	}
	// A rim stands proud of the mean thickness and has to be covered as well.
	w.box = []float64{D, D, max(w.thick, t)}
}

// bar: a block or sheet with square edges, 2(LW + WT + TL).
func bar(w *work) {
	const needs = "three of --length, --width, --thickness and --mass"
	type side struct {
		flag, letter string
		cm           *float64
	}
	sides := []side{{"--length", "L", &w.length}, {"--width", "W", &w.width}, {"--thickness", "T", &w.thickness}}
	missing := w.missing("--length", "--width", "--thickness")
	hole := 2 // where the mass goes: the thickness is the worst measured
	if len(missing) == 1 {
		hole = slices.IndexFunc(sides, func(s side) bool { return s.flag == missing[0] })
	}
	measured := w.thickness
	switch {
	case len(missing) == 0 && w.mass == 0:
		w.setMass(w.rho*w.length*w.width*w.thickness, "m = rho L W T",
			put("%s x %s x %s x %s", w.rho, w.length, w.width, w.thickness))
	case w.mass > 0 && len(missing) <= 1:
		if len(missing) == 0 {
			w.agree(w.rho*w.length*w.width*w.thickness, "the mass, the length and the width were used",
				"Holes, rounded corners, a raised border or another alloy are the usual reasons.")
		}
		a, b, x := sides[(hole+1)%3], sides[(hole+2)%3], sides[hole]
		w.setLength(x.cm, pick(len(missing) == 0, "mean thickness", x.flag[2:]), w.mass/(w.rho**a.cm**b.cm),
			fmt.Sprintf("%s = m/(rho %s %s)", x.letter, a.letter, b.letter),
			put("%s/(%s x %s x %s)", w.mass, w.rho, *a.cm, *b.cm))
	default:
		if w.mass == 0 {
			missing = append(missing, "--mass")
		}
		w.lack(needs, "add "+[]string{2: orList(missing), 3: "two of " + andList(missing), 4: "three of " + andList(missing)}[len(missing)])
		return
	}
	L, W, T := w.length, w.width, w.thickness
	w.thick = T
	w.setArea(2*(L*W+W*T+T*L), "A = 2 (L W + W T + T L)",
		put("2 x (%s x %s + %s x %s + %s x %s)", L, W, W, T, T, L))
	if T > L && T > W {
		w.warn("This bar is thicker (", measure.Millimeters(T*10), ") than it is long and wide: check the units.")
	}
	w.box = []float64{L, W, max(T, measured)}
}

// ball: pi D^2. A hollow bead has the same outside, so a diameter that was
// measured stands for the area whatever the balance says.
func ball(w *work) {
	D, m := w.diameter, w.mass
	switch {
	case D == 0 && m == 0:
		w.lack("--diameter or --mass", "add --diameter or --mass")
		return
	case D == 0:
		w.setLength(&D, "diameter", math.Cbrt(6*m/(math.Pi*w.rho)), "D = (6 m/(pi rho))^(1/3)",
			put("(6 x %s/(pi x %s))^(1/3)", m, w.rho))
	case m == 0:
		w.setMass(w.rho*math.Pi*D*D*D/6, "m = rho pi D^3/6", put("%s x pi x %s^3/6", w.rho, D))
	default:
		w.agree(w.rho*math.Pi*D*D*D/6, "the area is that of the diameter and the mass that of the balance",
			"A hollow bead or a drilled hole is the usual reason; an open hollow has an inner face that is not counted.")
	}
	w.setArea(math.Pi*D*D, "A = pi D^2", put("pi x %s^2", D))
	w.box = []float64{D, D, D}
}

// custom: the area is as given; the rest is kept and held against what such an
// area can enclose.
func custom(w *work) {
	A, m, t := float64(w.in.Area), w.mass, w.thickness
	if A == 0 {
		w.lack("--area", "add --area, all faces of one piece; or choose a shape whose area can be worked out")
		return
	}
	w.area, w.thick = A, t
	w.step("area of one piece", "A", fig(A), fig(A)+" cm2", "as given")
	if w.box = w.customBox(); w.err != nil {
		return
	}
	// The ball encloses the most within a given skin; a plate of thickness t at most A t/2.
	most := math.Pow(A, 1.5) / (6 * math.Sqrt(math.Pi))
	if t > 0 {
		if ball := math.Sqrt(A / math.Pi); t > ball*(1+warnDiffer) {
			w.compare("--thickness", "thickness given", t*10, "thickness of the thickest body of that area", ball*10, "mm",
				"the area as given was used", "Give the area of all faces of one piece.")
		}
		most = min(most, A*t/2)
	}
	if len(w.box) == 3 {
		most = min(most, w.box[0]*w.box[1]*w.box[2])
	}
	if m == 0 {
		w.warn("The mass of a piece was not given: the heat that cold metal takes from the bath and the room it takes up are left out.")
	} else if most *= w.rho; m > most*(1+warnDiffer) {
		w.compare("--mass", "mass given", m, "most that fits such an area and size", most, "g",
			"both were kept as given", "Give the area of all faces of one piece, and the thickness where it is thickest.")
	}
}

// customBox returns the outer sizes in cm: a round piece has a diameter and one
// more, a square one length, width, height. A thickness fills in for a side
// that is missing.
func (w *work) customBox() []float64 {
	var box []float64
	if w.diameter > 0 {
		box = append(box, w.diameter, w.diameter)
	}
	for _, side := range []float64{w.length, w.width, w.height} {
		if side > 0 {
			box = append(box, side)
		}
	}
	if len(box) == 2 && w.thickness > 0 {
		box = append(box, w.thickness)
	}
	if len(box) > 3 {
		w.fail(fault.Usagef("too many outer sizes").At("--diameter").
			Try("use --diameter and --height for a round piece, or --length, --width and --height"))
		return nil
	}
	for _, side := range box {
		if w.thickness > side {
			w.fail(fault.Usagef("a thickness of %s mm does not fit into a side of %s mm", fig(w.thickness*10), fig(side*10)).
				At("--thickness").Try("check the units, and the outer sizes"))
		}
	}
	return box
}

// pick is one of two words.
func pick(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}
