package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// The sources that several points share.
const (
	practice  = "common practice, no published source"
	chemistry = "general chemistry, from memory"
	appendixV = "40 CFR 265 Appendix V, pair 5-A/5-B (spent sulfide solutions with acids)"
)

// Sequence follows the pieces, and every vessel and tool that is named, through the steps of a
// recipe in order, and returns what is wrong with the meetings on the way, stops first. It
// looks at declared things only, and at all alloys that the recipe names; [Assess] looks at
// the one chosen. A harmless order has no stop, a nil recipe no point.
func Sequence(r *recipe.Recipe) []Point {
	if r == nil {
		return nil
	}
	return sequence(line(r), nil)
}

func sequence(vs []vessel, alloy *metal.Alloy) []Point {
	var l list
	walk(&l, vs)
	unknowns(&l, vs)
	solvents(&l, vs)
	metals(&l, vs, alloy)
	return l.ranked()
}

// residue is what an earlier vessel left on the pieces, or in a vessel or on a tool.
type residue struct {
	agent  agent
	from   vessel
	rinses int
	alkali bool // an alkaline stop was among them
	after  int  // rinses behind the alkaline stop
}

// needs says what must stand between two substances, one of which is carried to the other.
type needs struct {
	rinses int
	full   bool // the full rinse: two rinses, an alkaline stop, one rinse
	never  bool // nothing helps: the film on the metal itself
}

// between returns what a pair needs when something carries c to a: acid and sulfide the full
// rinse in either order, and a piece that a sulfide has coloured goes into no acid at all; any
// other forbidden pair one rinse at the least, a grave one two.
func between(p reagent.Pair, c, a agent, piece bool) needs {
	acidSulfide := p.B == reagent.Sulfide && (p.A == reagent.Acid || p.A == reagent.AcidSalt || p.A == reagent.OxidizingAcid)
	switch {
	case p.Carried == 0:
		return needs{}
	case piece && p.OnFilm != "" && !p.Joins(c.groups, a.groups):
		return needs{never: true}
	case acidSulfide:
		return needs{full: true}
	case p.Severity >= reagent.Forbidden:
		return needs{rinses: max(p.Carried-2, 1)}
	}
	return needs{rinses: max(p.Carried-2, 0)}
}

func (c residue) kept(n needs) bool {
	switch {
	case n.never:
		return true
	case n.full:
		return c.rinses < 3 || !c.alkali || c.after < 1
	}
	return c.rinses < n.rinses
}

// walk looks at every meeting: in one vessel, on the pieces, in a vessel that is used again,
// on a tool. Only steps that name a thing rinse it, and a rinse tub takes up what the pieces
// bring into it unrinsed.
func walk(l *list, vs []vessel) {
	carried := map[string][]residue{} // "" is the pieces
	var wet vessel                    // the last with substances, until a rinse
	for _, v := range vs {
		for i, a := range v.agents {
			for _, b := range v.agents[i+1:] {
				together(l, v, a, b)
			}
		}
		for _, thing := range append([]string{""}, v.things...) {
			thing = strings.ToLower(plain(thing))
			here, from := v.agents, v
			fouled := thing != "" && v.rinses > 0 && strings.EqualFold(v.in, thing) && !strings.EqualFold(wet.in, thing) &&
				wet.has(func(a agent) bool { return !stopping(a) })
			if fouled {
				here, from = wet.agents, wet
			}
			left := carried[thing]
			for _, c := range left {
				for _, a := range here {
					if c.agent.id != a.id {
						met(l, v, thing, c, a)
					}
				}
			}
			for i := range left {
				c := &left[i]
				if v.has(stopping) || sour(c.agent) && v.has(alkaline) {
					c.alkali, c.after = true, 0
				} else if n := v.rinses + v.washes(); n > 0 && !fouled {
					c.rinses, c.after = c.rinses+n, c.after+n
				}
			}
			for _, a := range here {
				left = slices.DeleteFunc(left, func(c residue) bool { return c.agent.id == a.id })
				left = append(left, residue{agent: a, from: from})
			}
			carried[thing] = left
		}
		if len(v.agents) > 0 {
			wet = v
		} else if v.rinses > 0 {
			wet = vessel{}
		}
	}
}

// forbids tells whether the two may not stand in one vessel: a pair that kills, burns or
// bursts, or any that frees hydrogen sulfide.
func forbids(p reagent.Pair) bool {
	return p.Severity >= reagent.Forbidden || p.Severity == 3 && p.Gas == gas.HydrogenSulfide
}

// together adds the gravest pair of two substances in one vessel.
func together(l *list, v vessel, a, b agent) {
	p := reagent.Gravest(a.groups, b.groups)
	if p.Severity < 3 {
		return
	}
	add := l.do
	if forbids(p) {
		add = l.stop
	}
	add(codeName(p.A)+"-"+codeName(p.B), fmt.Sprintf("%s puts %s together with %s: %s", v, a.name, b.name, p.Why), p.Cure, p.Source)
}

// met stops what is carried and what it comes into, where too little stands between.
func met(l *list, v vessel, thing string, c residue, a agent) {
	for _, p := range reagent.Meetings(c.agent.groups, a.groups) {
		n := between(p, c.agent, a, thing == "")
		if !c.kept(n) {
			continue
		}
		first, second := codeName(p.A), codeName(p.B)
		if !p.Joins(c.agent.groups, a.groups) {
			first, second = second, first
		}
		code, on, how := first+"-before-"+second, "on the pieces", "with no rinse between"
		if c.rinses > 0 {
			how = fmt.Sprintf("after %d rinses", c.rinses)
		}
		if thing != "" {
			on, code = "in or on "+thing, "on-thing-"+code
		}
		text := fmt.Sprintf("%s of %s reaches %s of %s %s, %s: %s", c.agent.name, c.from, a.name, v, on, how, p.Why)
		cure := p.Cure
		switch {
		case n.never:
			text, cure = fmt.Sprintf("pieces coloured by %s in %s go into %s in %s, and the film itself frees gas there, however well it was rinsed: %s", c.agent.name, c.from, a.name, v, p.Why), p.OnFilm
		case n.full:
			cure = "two rinses, an alkaline stop and one rinse more between the two, of the pieces and of each thing they share"
		}
		l.stop(code, text, cure, p.Source)
		return
	}
}

func codeName(g reagent.Group) string { return strings.ReplaceAll(string(g), " ", "-") }

// unknowns stops at what is banned, and at what nobody here can say what it must not meet.
func unknowns(l *list, vs []vessel) {
	for _, v := range vs {
		for _, a := range v.agents {
			switch why, banned := reagent.Refused(a.id); {
			case banned:
				l.stop("refused-substance", fmt.Sprintf("%s: %s is refused: %s", v, a.name, strings.TrimSuffix(why, ".")), "use another recipe; no recipe with this family of substances is worked here", practice)
			case !a.known:
				l.stop("unknown-substance", fmt.Sprintf("%s: %s is not known here", v, a.name), "use a substance of the list; for another one, its SDS and a person who knows it decide, not this program", practice)
			}
		}
	}
}

// solvents stops at a solvent on hot metal, in a warm vessel, and in an ultrasonic tank.
func solvents(l *list, vs []vessel) {
	hot := false
	for _, v := range vs {
		if v.has(of(reagent.Solvent)) {
			if v.hottest > warm {
				l.stop("solvent-warm", fmt.Sprintf("%s warms a solvent", v), "use the solvent cold, in the open, away from flame and hot plate", chemistry)
			}
			if hot {
				l.stop("solvent-hot", fmt.Sprintf("%s brings a solvent onto metal that comes hot from the step before", v), "let the metal cool to the hand, or quench it in water, before a solvent comes near", chemistry)
			}
			if slices.ContainsFunc(v.things, func(name string) bool { return strings.Contains(strings.ToLower(name), "ultrasonic") }) {
				l.stop("solvent-ultrasonic", fmt.Sprintf("%s puts a solvent into an ultrasonic tank, which warms it and throws its vapour up", v), "use water with detergent in the tank", chemistry)
			}
		}
		switch v.do {
		case "heat":
			hot = true
		case "rinse", "wait", "pickle", "dip", "neutralise", "inspect":
			hot = v.bath && v.hottest >= scalding
		}
	}
}
