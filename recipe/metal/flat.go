package metal

import (
	"math"

	"hepar/recipe/fault"
)

// mostSlender is how many times thicker than wide a disc may come out of its mass. Chosen:
// beyond it a mass in the wrong unit is likelier than such a rod.
const mostSlender = 10.0

func disc(w *work) {
	D, t, measured := w.known["D"], w.known["t"], float64(w.in.Thickness)/10
	if measured == 0 && t > mostSlender*D {
		w.fail(fault.Usagef("%s g on a diameter of %s mm makes a rod %s mm long, not a disc", fig(w.known["m"]), fig(D*10), fig(t*10)).
			At("--mass").Try("check the units of --mass and --diameter; for a rod use --shape wire"))
	}
	if t > D {
		w.warn("This disc is thicker (", mm(t), ") than it is wide (", mm(D), "): check the units and the mass.")
	}
	// A rim stands proud of the mean thickness and has to be covered as well.
	w.thick, w.box = t, []float64{D, D, max(t, measured)}
}

func bar(w *work) {
	L, W, T := w.known["L"], w.known["W"], w.known["T"]
	if T > L && T > W {
		w.warn("This bar is thicker (", mm(T), ") than it is long and wide: check the units.")
	}
	w.thick, w.box = T, []float64{L, W, max(T, float64(w.in.Thickness)/10)}
}

func ball(w *work) { w.box = []float64{w.known["D"], w.known["D"], w.known["D"]} }

// custom: the area is as given, and the rest held against what such an area can enclose.
func custom(w *work) {
	A, m, t := w.known["A"], w.known["m"], w.known["t"]
	if A == 0 {
		w.lack("--area", "add --area, all faces of one piece; or choose a shape whose area can be worked out")
		return
	}
	w.thick = t
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
		w.warn("The mass of a piece was not given: the heat that a piece absorbs and the room that it takes up in the bath are left out.")
	} else if most *= w.known["rho"]; m > most*(1+warnDiffer) {
		w.compare("--mass", "mass given", m, "most that fits such an area and size", most, "g",
			"both were kept as given", "Give the area of all faces of one piece, and the thickness where it is thickest.")
	}
}

// customBox returns the outer sizes in cm: of a round piece diameter and one more, else
// length, width, height. A thickness fills in for a side that is missing.
func (w *work) customBox() []float64 {
	var box []float64
	t := w.known["t"]
	for _, letter := range []string{"D", "D", "L", "W", "H"} {
		if side := w.known[letter]; side > 0 {
			box = append(box, side)
		}
	}
	if len(box) == 2 && t > 0 {
		box = append(box, t)
	}
	if len(box) > 3 {
		w.fail(fault.Usagef("too many outer sizes").At("--diameter").
			Try("use --diameter and --height for a round piece, or --length, --width and --height"))
		return nil
	}
	for _, side := range box {
		if t > side {
			w.fail(fault.Usagef("a thickness of %s mm does not fit into a side of %s mm", fig(t*10), fig(side*10)).
				At("--thickness").Try("check the units, and the outer sizes"))
		}
	}
	return box
}
