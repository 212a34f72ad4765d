package metal

import "hepar/recipe/fault"

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
