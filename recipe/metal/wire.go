package metal

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// wire: a straight or bent length of round wire with two cut ends.
func wire(w *work) {
	const needs = "two of --wire, --length and --mass"
	d, L, m := w.wire, w.length, w.mass
	switch {
	case d > 0 && m > 0:
		if L > 0 {
			w.agree(w.rho*math.Pi*d*d*L/4, "the mass and the wire diameter were used",
				"Another alloy, a profile that is not round, or a wire measured over a burr are the usual reasons.")
		}
		w.setLength(&L, "length of the wire", 4*m/(w.rho*math.Pi*d*d), "L = 4 m/(rho pi d^2)",
			put("4 x %s/(%s x pi x %s^2)", m, w.rho, d))
		w.setArea(4*m/(w.rho*d)+math.Pi*d*d/2, "A = 4 m/(rho d) + pi d^2/2",
			put("4 x %s/(%s x %s) + pi x %s^2/2", m, w.rho, d, d))
	case L > 0 && (d > 0 || m > 0):
		if d == 0 {
			w.setLength(&d, "wire diameter", math.Sqrt(4*m/(w.rho*math.Pi*L)), "d = sqrt(4 m/(rho pi L))",
				put("sqrt(4 x %s/(%s x pi x %s))", m, w.rho, L))
		} else {
			w.setMass(w.rho*math.Pi*d*d*L/4, "m = rho pi d^2 L/4", put("%s x pi x %s^2 x %s/4", w.rho, d, L))
		}
		w.setArea(math.Pi*d*L+math.Pi*d*d/2, "A = pi d L + pi d^2/2", put("pi x %s x %s + pi x %s^2/2", d, L, d))
	case d > 0:
		w.lack(needs, "add --length or --mass")
		return
	case L > 0 || m > 0:
		w.lack(needs, "add --wire or "+pick(L > 0, "--mass", "--length"))
		return
	default:
		w.lack(needs, "add --wire and --length, or --wire and --mass")
		return
	}
	if w.err == nil && d > L {
		w.warn("This wire is thicker (", measure.Millimeters(d*10), ") than it is long (", measure.Millimeters(L*10), "): check the units and the mass.")
	}
	w.thick = d
	w.box = []float64{max(L, w.length), d, d}
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
	d, L, m, hole := w.wire, w.length, w.mass, w.inside
	switch {
	case d == 0:
		w.lack("--wire, with --mass or for one round link with --inside",
			"add --wire"+pick(m == 0, ", and --mass (weigh the chain) or --inside", ""))
		return
	case m == 0 && L > 0:
		w.fail(fault.Usagef("the length of a chain does not say how much wire is in it").At("--length").
			Try("weigh the chain and add --mass; --length may stay"))
		return
	case m == 0 && hole == 0:
		w.lack("--wire, with --mass or for one round link with --inside",
			"weigh the chain and add --mass, or add --inside for one round link")
		return
	}
	link := w.rho * math.Pi * math.Pi * d * d * (hole + d) / 4 // g, where hole is known
	single := m == 0
	if single {
		w.setMass(link, "m = rho pi^2 d^2 (ID+d)/4", put("%s x pi^2 x %s^2 x (%s+%s)/4", w.rho, d, hole, d))
		w.setArea(math.Pi*math.Pi*d*(hole+d), "A = pi^2 d (ID+d)", put("pi^2 x %s x (%s+%s)", d, hole, d))
		m = w.mass
	} else {
		// A link whose hole has closed up is the least that round wire can be bent to.
		if least := w.rho * math.Pi * math.Pi * d * d * d / 4; m < least/(1+warnDiffer) {
			w.fail(fault.Usagef("%s g is less than the smallest closed link of %s mm wire weighs, %s g", fig(m), fig(d*10), fig(least)).
				At("--mass").Try("check the units of --mass and --wire; for a cut length use --shape wire"))
			return
		}
		w.setArea(4*m/(w.rho*d), "A = 4 m/(rho d)", put("4 x %s/(%s x %s)", m, w.rho, d))
		if hole > 0 {
			single = L == 0 && m < 1.5*link
			w.step("number of round links", "n = m/m1", put("%s/%s", m, link), figures(m/link, 3), srcGeometry)
			if m < link {
				w.compare("--mass", "mass given", m, "mass of one such link", link, "g",
					"the mass and the wire diameter were used", "Check --wire and --inside.")
			}
		}
	}
	if L > 0 {
		w.wirePerChain(4*m/(w.rho*math.Pi*d*d), L)
	}
	w.thick = d
	// A chain folds up and goes into any vessel that holds the liquid, so that it
	// has no outer size; one link has.
	if single {
		w.box = []float64{hole + 2*d, hole + 2*d, d}
	}
}

// wirePerChain holds the length of wire that the mass makes against the chain.
func (w *work) wirePerChain(wire, chain float64) {
	w.step("wire in the chain", "4 m/(rho pi d^2)", put("4 x %s/(%s x pi x %s^2)", w.mass, w.rho, w.wire),
		fig(wire*10)+" mm", srcGeometry)
	const used = "the mass and the wire diameter were used"
	if least := leastWirePerChain * chain; wire < least {
		w.compare("--mass", "wire that the mass makes", wire*10, "least that links of round wire need for this chain", least*10, "mm",
			used, "Weigh the chain and measure the wire again; flat or hollow links are not round wire.")
	}
	if most := mostWirePerChain * chain; wire > most {
		w.compare("--mass", "wire that the mass makes", wire*10, "most that was expected in a chain of this length", most*10, "mm",
			used, "Several strands or a dense weave are the usual reasons.")
	}
}
