package metal

import (
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// hollow: a ring (a band with square edges) or a tube, which differ in nothing but
// the name of the side along the axis. Area pi (D+d) w + pi (D^2-d^2)/2.
func hollow(w *work) {
	axis, letter := "--width", "w"
	if w.form.name == "tube" {
		axis, letter = "--length", "L"
	}
	along := func(formula string) string { return strings.ReplaceAll(formula, "axis", letter) }
	if w.crossSection(); w.err != nil {
		return
	}
	radial := 3 - len(w.missing("--diameter", "--inside", "--thickness"))
	known := min(radial, 2) + 2 - len(w.missing(axis, "--mass"))
	const mass = "rho pi (D^2-d^2) axis/4"
	switch {
	case known < 3:
		w.lackHollow(radial, known, axis)
		return
	case radial >= 2 && w.in.Mass == 0:
		w.solve("mass of one piece", along("m = "+mass))
	case radial >= 2 && w.known[letter] == 0:
		w.solve(axis[2:], along("axis = 4 m/(rho pi (D^2-d^2))"))
	default:
		if radial >= 2 {
			w.agree(along(mass), "the mass was used, and the wall that it gives",
				"A rounded profile, holes, an engraved face or another alloy are the usual reasons.")
		}
		w.wallFromMass(along)
	}
	w.solve("area of one piece", along("A = pi (D+d) axis + pi (D^2-d^2)/2"))
	w.thick, w.box = w.known["t"], []float64{w.known["D"], w.known["D"], w.known[letter]}
}

// crossSection completes outside, inside and wall from two of them; the diameters win.
func (w *work) crossSection() {
	D, d, t := w.known["D"], w.known["d"], w.known["t"]
	switch {
	case D > 0 && d >= D:
		w.fail(fault.Usagef("the inside diameter, %s mm, is not smaller than the outside one, %s mm", fig(d*10), fig(D*10)).
			At("--inside").Try("write the outside as --diameter and the hole as --inside"))
	case D > 0 && 2*t >= D:
		w.fail(fault.Usagef("a wall of %s mm does not fit into a diameter of %s mm", fig(t*10), fig(D*10)).
			At("--thickness").Try("write the wall as --thickness, less than half the diameter; the breadth of a ring is --width"))
	case D > 0 && d > 0:
		if t > 0 {
			w.compare("--thickness", "wall given", t*10, "wall between the diameters", (D-d)*5, "mm",
				"the diameters were used", "Measure the wall again, or leave it out.")
		}
		w.solve("wall", "t = (D-d)/2")
	case D > 0 && t > 0:
		w.solve("inside diameter", "d = D - 2 t")
	case d > 0 && t > 0:
		w.solve("outside diameter", "D = d + 2 t")
	}
}

// wallFromMass works the missing diameters out from mass and one of outside,
// inside and wall; where the section was measured as well, what was given of the
// diameters stays and the wall gives way.
func (w *work) wallFromMass(along func(string) string) {
	const section = "4 m/(rho pi axis)" // D^2 - d^2
	m, noun := fig(w.known["m"]), w.form.noun
	switch {
	case w.in.Diameter > 0:
		if w.value(along("D^2 - "+section)) <= 0 {
			w.fail(fault.Usagef("%s g is more than a solid %s of these outer sizes would weigh", m, noun).
				At("--mass").Try("check the units of --mass and of the dimensions"))
			return
		}
		w.solve("inside diameter", along("d = sqrt(D^2 - "+section+")"))
	case w.in.Inside > 0:
		w.solve("outside diameter", along("D = sqrt(d^2 + "+section+")"))
	default: // the wall alone: pi t (D - t) = section
		hole := along("m/(rho pi axis t) - t")
		if w.value(hole) <= 0 {
			w.fail(fault.Usagef("%s g is too little for a %s with a wall of %s mm", m, noun, fig(w.known["t"]*10)).
				At("--mass").Try("check the units of --mass and --thickness"))
			return
		}
		w.solve("inside diameter", "d = "+hole)
		w.solve("outside diameter", "D = d + 2 t")
		return
	}
	w.solve("wall", "t = (D-d)/2")
}

func (w *work) lackHollow(radial, known int, axis string) {
	rest := w.missing("--diameter", "--inside", "--thickness") // of the cross-section
	long := w.missing(axis, "--mass")                          // along the axis, or its stand-in
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
	if w.form.name == "ring" && w.known["w"]+w.known["t"] == 0 {
		cure += "; of round wire, a jump ring: --wire and --inside"
	}
	w.lack("two of --diameter, --inside and --thickness (the wall) with "+axis+" or --mass, or one of them with both", "add "+cure)
}

// ofWire: a ring of round wire, closed (a torus, Pappus). What was measured besides the wire and
// one more is compared; the mass counts, then the inside diameter.
func ofWire(w *work) {
	d, ID := w.known["d"], w.known["ID"]
	agrees := func(flag, name string, measured measure.Millimeters, follows float64) {
		if measured > 0 {
			w.compare(flag, name+" diameter given", float64(measured), name+" diameter that the rest makes", follows*10, "mm",
				"the rest was used", "Another alloy, a gap, or wire that is not round are the usual reasons.")
		}
	}
	agrees("--inside", "inside", w.in.Inside, ID)
	agrees("--diameter", "outside", w.in.Diameter, ID+2*d)
	w.thick, w.box = d, []float64{ID + 2*d, ID + 2*d, d}
}

// wire: a straight or bent length of round wire with two cut ends.
func wire(w *work) {
	d, L := w.known["d"], w.known["L"]
	if d > L {
		w.warn("This wire is thicker (", mm(d), ") than it is long (", mm(L), "): check the units and the mass.")
	}
	w.thick, w.box = d, []float64{max(L, float64(w.in.Length)/10), d, d}
}

// How much wire there is in a chain, as a multiple of the length of the chain. Two
// is the least that links of round wire allow: each goes there and back. The most
// is assumed: dense weaves of many rings reach about 20.
const (
	leastWirePerChain = 2.0
	mostWirePerChain  = 20.0
)

// chain: closed links of round wire, from their mass; or one round link (a jump
// ring, a torus) from wire and inside diameter. The skin of bent round wire is its
// girth times its middle line, whatever the bend (Pappus), so that A = 4 m/(rho d).
func chain(w *work) {
	const needs, link = "--wire, with --mass or for one round link with --inside", "rho pi^2 d^2 (ID+d)/4" // g
	const used = "the mass and the wire diameter were used"
	d, L, m, hole := w.known["d"], w.known["L"], w.known["m"], w.known["ID"]
	single := m == 0
	switch {
	case d == 0 && m > 0:
		w.lack(needs, "add --wire")
		return
	case d == 0:
		w.lack(needs, "add --wire, and --mass (weigh the chain) or --inside")
		return
	case m == 0 && L > 0:
		w.fail(fault.Usagef("the length of a chain does not say how much wire is in it").At("--length").
			Try("weigh the chain and add --mass; --length may stay"))
		return
	case m == 0 && hole == 0:
		w.lack(needs, "weigh the chain and add --mass, or add --inside for one round link")
		return
	case m == 0:
		w.solve("mass of one piece", "m = "+link)
		w.solve("area of one piece", "A = pi^2 d (ID+d)")
	default:
		// A link whose hole has closed up is the least that round wire can be bent to.
		if least := w.value("rho pi^2 d^3/4"); m < least/(1+warnDiffer) {
			w.fail(fault.Usagef("%s g is less than the smallest closed link of %s mm wire weighs, %s g", fig(m), fig(d*10), fig(least)).
				At("--mass").Try("check the units of --mass and --wire; for a cut length use --shape wire"))
			return
		}
		w.solve("area of one piece", "A = 4 m/(rho d)")
		if hole > 0 {
			one := w.value(link)
			w.known["m1"] = one
			single = L == 0 && m < 1.5*one
			w.step("number of round links", "n = m/m1", w.numbers("m/m1"), figures(m/one, 3), srcGeometry)
			if m < one {
				w.compare("--mass", "mass given", m, "mass of one such link", one, "g",
					used, "Check --wire and --inside.")
			}
		}
	}
	if L > 0 {
		const formula = "4 m/(rho pi d^2)"
		wire, least, most := w.value(formula), leastWirePerChain*L, mostWirePerChain*L
		w.step("wire in the chain", formula, w.numbers(formula), fig(wire*10)+" mm", srcGeometry)
		if wire < least {
			w.compare("--mass", "wire that the mass makes", wire*10, "least that links of round wire need for this chain", least*10, "mm",
				used, "Weigh the chain and measure the wire again; flat or hollow links are not round wire.")
		} else if wire > most {
			w.compare("--mass", "wire that the mass makes", wire*10, "most that was expected in a chain of this length", most*10, "mm",
				used, "Several strands or a dense weave are the usual reasons.")
		}
	}
	w.thick = d
	// A chain folds up in any vessel and has no outer size; one link has.
	if single {
		w.box = []float64{hole + 2*d, hole + 2*d, d}
	}
}
