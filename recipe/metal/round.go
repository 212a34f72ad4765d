package metal

import (
	"fmt"
	"math"

	"hepar/recipe/fault"
)

// hollow: a ring (a band with square edges) or a tube, which differ in nothing but
// the name of the side along the axis. Area pi (D+d) w + pi (D^2-d^2)/2.
func hollow(w *work) {
	axis, axisFlag, letter := &w.width, "--width", "w"
	if w.form.name == "tube" {
		axis, axisFlag, letter = &w.length, "--length", "L"
	}
	radial, ok := w.crossSection()
	if !ok {
		return
	}
	known := min(radial, 2) + 2 - len(w.missing(axisFlag, "--mass"))
	if known < 3 {
		w.lackHollow(radial, known, axisFlag)
		return
	}
	m, rho := w.mass, w.rho
	section := func() float64 { return math.Pi * w.thickness * (w.diameter + w.inside) / 2 } // cm2
	switch {
	case radial >= 2 && m == 0:
		w.setMass(rho*section()**axis, fmt.Sprintf("m = rho pi (D^2-d^2) %s/4", letter),
			put("%s x pi x (%s^2-%s^2) x %s/4", rho, w.diameter, w.inside, *axis))
	case radial >= 2 && *axis == 0:
		w.setLength(axis, axisFlag[2:], m/(rho*section()), fmt.Sprintf("%s = 4 m/(rho pi (D^2-d^2))", letter),
			put("4 x %s/(%s x pi x (%s^2-%s^2))", m, rho, w.diameter, w.inside))
	default:
		if radial >= 2 {
			w.agree(rho*section()**axis, "the mass was used, and the wall that it gives",
				"A rounded profile, holes, an engraved face or another alloy are the usual reasons.")
		}
		w.wallFromMass(*axis, letter)
	}
	if w.err != nil {
		return
	}
	D, d, a := w.diameter, w.inside, *axis
	w.thick = w.thickness
	w.setArea(math.Pi*(D+d)*a+math.Pi*(D+d)*w.thick, fmt.Sprintf("A = pi (D+d) %s + pi (D^2-d^2)/2", letter),
		put("pi x (%s+%s) x %s + pi x (%s^2-%s^2)/2", D, d, a, D, d))
	w.box = []float64{D, D, a}
}

// crossSection completes outside, inside and wall from two of them and tells how
// many were given. Where all three were, the two diameters win.
func (w *work) crossSection() (given int, ok bool) {
	D, d, t := w.diameter, w.inside, w.thickness
	given = 3 - len(w.missing("--diameter", "--inside", "--thickness"))
	switch {
	case D > 0 && d >= D:
		w.fail(fault.Usagef("the inside diameter, %s mm, is not smaller than the outside one, %s mm", fig(d*10), fig(D*10)).
			At("--inside").Try("write the outside as --diameter and the hole as --inside"))
	case D > 0 && 2*t >= D:
		w.fail(fault.Usagef("a wall of %s mm does not fit into a diameter of %s mm", fig(t*10), fig(D*10)).
			At("--thickness").Try("write the wall as --thickness, less than half the diameter; the breadth of a ring is --width"))
	case D > 0 && d > 0:
		wall := (D - d) / 2
		if t > 0 {
			w.compare("--thickness", "wall given", t*10, "wall between the diameters", wall*10, "mm",
				"the diameters were used", "Measure the wall again, or leave it out.")
		}
		w.setLength(&w.thickness, "wall", wall, "t = (D-d)/2", put("(%s-%s)/2", D, d))
	case D > 0 && t > 0:
		w.setLength(&w.inside, "inside diameter", D-2*t, "d = D - 2 t", put("%s - 2 x %s", D, t))
	case d > 0 && t > 0:
		w.setLength(&w.diameter, "outside diameter", d+2*t, "D = d + 2 t", put("%s + 2 x %s", d, t))
	}
	return given, w.err == nil
}

// wallFromMass works the missing diameters out from mass and one of outside,
// inside and wall; where the section was measured as well, what was given of the
// diameters stays and the wall gives way.
func (w *work) wallFromMass(axis float64, letter string) {
	m, rho := w.mass, w.rho
	k := 4 * m / (rho * math.Pi * axis) // D^2 - d^2, cm2
	numbers := put("4 x %s/(%s x pi x %s)", m, rho, axis)
	of := fmt.Sprintf("4 m/(rho pi %s)", letter)
	switch {
	case w.in.Diameter > 0:
		rest := w.diameter*w.diameter - k
		if rest <= 0 {
			w.fail(fault.Usagef("%s g is more than a solid %s of these outer sizes would weigh", fig(m), w.form.noun).
				At("--mass").Try("check the units of --mass and of the dimensions"))
			return
		}
		w.setLength(&w.inside, "inside diameter", math.Sqrt(rest), "d = sqrt(D^2 - "+of+")",
			fmt.Sprintf("sqrt(%s^2 - %s)", fig(w.diameter), numbers))
	case w.in.Inside > 0:
		w.setLength(&w.diameter, "outside diameter", math.Sqrt(w.inside*w.inside+k), "D = sqrt(d^2 + "+of+")",
			fmt.Sprintf("sqrt(%s^2 + %s)", fig(w.inside), numbers))
	default: // the wall alone: pi t (D - t) = section
		t := w.thickness
		hole := k/(4*t) - t
		if hole <= 0 {
			w.fail(fault.Usagef("%s g is too little for a %s with a wall of %s mm", fig(m), w.form.noun, fig(t*10)).
				At("--mass").Try("check the units of --mass and --thickness"))
			return
		}
		w.setLength(&w.inside, "inside diameter", hole, fmt.Sprintf("d = m/(rho pi %s t) - t", letter),
			put("%s/(%s x pi x %s x %s) - %s", m, rho, axis, t, t))
		w.setLength(&w.diameter, "outside diameter", hole+2*t, "D = d + 2 t", put("%s + 2 x %s", hole, t))
		return
	}
	// k/(2(D+d)) rather than (D-d)/2: a thin wall is a small difference of large figures.
	w.setLength(&w.thickness, "wall", k/(2*(w.diameter+w.inside)), "t = (D-d)/2", put("(%s-%s)/2", w.diameter, w.inside))
}

// lackHollow says what would complete a ring or tube of which less than three
// figures are known.
func (w *work) lackHollow(radial, known int, axisFlag string) {
	rest := w.missing("--diameter", "--inside", "--thickness") // of the cross-section
	long := w.missing(axisFlag, "--mass")                      // along the axis, or its stand-in
	var cure string
	switch {
	case radial >= 2:
		cure = orList(long)
	case known == 2:
		cure = orList(append(rest, long...))
	case radial == 1:
		cure = orList(rest) + " together with " + orList(long) + ", or both " + andList(long)
	case known == 1:
		cure = "two of " + andList(rest) + ", or one of them and " + long[0]
	default:
		cure = "two of " + andList(rest) + ", and " + orList(long)
	}
	w.lack("two of --diameter, --inside and --thickness (the wall) with "+axisFlag+" or --mass, or one of them with both", "add "+cure)
}
