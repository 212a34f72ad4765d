package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
)

// The sources that several points share.
const (
	practice  = "common practice, no published source"
	chemistry = "general chemistry, from memory"
	appendixV = "40 CFR 265 Appendix V, pair 5-A/5-B (spent sulfide solutions with acids)"
)

// Sequence follows the pieces, and every vessel and tool that is named, through the steps
// of a recipe in order, and returns what is wrong with the meetings on the way, stops
// first. It looks at declared things only: substances, vessels (in), tools, order, and the
// alloys that the recipe names; [Assess] looks at the one chosen. A harmless order
// returns no stop. Nil returns none.
func Sequence(r *recipe.Recipe) []Point {
	if r == nil {
		return nil
	}
	return sequence([]leg{{r, line(r)}}, nil)
}

// leg is one recipe on the way of the pieces, with its vessels.
type leg struct {
	recipe  *recipe.Recipe
	vessels []vessel
}

// join puts recipes one behind the other.
func join(recipes []*recipe.Recipe) []leg {
	var legs []leg
	for _, r := range recipes {
		if r != nil {
			legs = append(legs, leg{r, line(r)})
		}
	}
	return placed(legs)
}

// placed numbers the vessels of several recipes and names them after their recipe.
func placed(legs []leg) []leg {
	at := 0
	for _, g := range legs {
		for i := range g.vessels {
			g.vessels[i].at = at
			if at++; len(legs) > 1 {
				g.vessels[i].of = plain(g.recipe.Slug)
			}
		}
	}
	return legs
}

// all returns the vessels of all legs in order.
func all(legs []leg) []vessel {
	var vs []vessel
	for _, g := range legs {
		vs = append(vs, g.vessels...)
	}
	return vs
}

func sequence(legs []leg, alloy *metal.Alloy) []Point {
	var l list
	vs := all(legs)
	walk(&l, vs)
	unknowns(&l, vs)
	solvents(&l, vs)
	for _, g := range legs {
		metals(&l, g.recipe, g.vessels, alloy)
	}
	return l.ranked()
}

// residue is what an earlier vessel left on the pieces, or in a vessel or on a tool.
type residue struct {
	agent  agent
	from   vessel
	rinses int
	alkali bool // an alkaline bath took up what was left of an acid
}

// clean tells whether the full rinse stands between: two rinses, an alkaline stop and one
// rinse more.
func (c residue) clean() bool { return c.alkali && c.rinses >= 3 }

// walk looks at every meeting: in one vessel, on the pieces, in a vessel that is used
// again, on a tool. What is carried on a named thing is rinsed only by steps that name it.
func walk(l *list, vs []vessel) {
	carried := map[string][]residue{} // "" is the pieces
	for _, v := range vs {
		for i, a := range v.agents {
			for _, b := range v.agents[i+1:] {
				together(l, v, a, b)
			}
		}
		for _, thing := range append([]string{""}, v.things...) {
			left := carried[thing]
			for _, c := range left {
				for _, a := range v.agents {
					if c.agent.id != a.id {
						met(l, v, thing, c, a)
					}
				}
			}
			for i := range left {
				left[i].rinses += v.rinses + v.washes()
				left[i].alkali = left[i].alkali || left[i].agent.sour() && v.has(agent.alkaline)
			}
			for _, a := range v.agents {
				left = slices.DeleteFunc(left, func(c residue) bool { return c.agent.id == a.id })
				left = append(left, residue{agent: a, from: v})
			}
			carried[thing] = left
		}
	}
}

// together adds the gravest pair of two substances in one vessel.
func together(l *list, v vessel, a, b agent) {
	pairs := reagent.Meetings(a.groups, b.groups)
	if len(pairs) == 0 || pairs[0].Severity < 3 {
		return
	}
	p := pairs[0]
	add := l.do
	if p.Severity >= reagent.Forbidden {
		add = l.stop
	}
	add(codeName(p.A)+"-"+codeName(p.B), fmt.Sprintf("%s puts %s together with %s: %s", v, a.name, b.name, p.Why), p.Cure, p.Source)
}

// met adds the gravest pair of what is carried and what it comes into. A sulfide film is
// not rinsed off; acid reaches a sulfide unless the full rinse stands between; any other
// pair loses a grade with each rinse, two at the most.
func met(l *list, v vessel, thing string, c residue, a agent) {
	pairs := reagent.Meetings(c.agent.groups, a.groups)
	if len(pairs) == 0 {
		return
	}
	p := pairs[0]
	forward := p.Joins(c.agent.groups, a.groups)
	first, second := codeName(p.A), codeName(p.B)
	if !forward {
		first, second = second, first
	}
	code := first + "-before-" + second
	how := "with no rinse between"
	if c.rinses > 0 {
		how = fmt.Sprintf("after %d rinses", c.rinses)
	}
	on := "on the pieces"
	if thing != "" {
		on, code = "in or on "+thing, "on-thing-"+code
	}
	text := fmt.Sprintf("%s of %s reaches %s of %s %s, %s: %s", c.agent.name, c.from, a.name, v, on, how, p.Why)
	acidSulfide := p.B == reagent.Sulfide && (p.A == reagent.Acid || p.A == reagent.AcidSalt)
	switch {
	case thing == "" && !forward && p.OnFilm != "":
		l.stop(code, fmt.Sprintf("pieces coloured by %s in %s go into %s in %s, and the film itself frees gas there, however well it was rinsed: %s", c.agent.name, c.from, a.name, v, p.Why), p.OnFilm, p.Source)
	case acidSulfide && !c.clean() && (forward || c.rinses < 2 || thing != ""):
		l.stop(code, text, "two rinses, an alkaline stop and one rinse more between the two, of the pieces and of each thing they share", p.Source)
	case acidSulfide:
	case p.Carried-min(c.rinses, 2) >= reagent.Forbidden:
		l.stop(code, text, p.Cure, p.Source)
	case p.Carried-min(c.rinses, 2) == 3:
		l.do(code, text, p.Cure, p.Source)
	}
}

// codeName is a family as it stands in the code of a point.
func codeName(g reagent.Group) string { return strings.ReplaceAll(string(g), " ", "-") }

// unknowns stops at what is banned, and at what the table does not know: nobody can say
// what it must not meet.
func unknowns(l *list, vs []vessel) {
	for _, v := range vs {
		for _, a := range v.agents {
			why, banned := reagent.Refused(a.id)
			if a.sub.Banned != "" {
				why, banned = a.sub.Banned, true
			}
			switch {
			case banned:
				l.stop("refused-substance", fmt.Sprintf("%s: %s is refused: %s", v, a.name, strings.TrimSuffix(why, ".")), "use another recipe; no recipe with this family of substances is worked here", practice)
			case !a.known:
				l.stop("unknown-substance", fmt.Sprintf("%s: %s is not known here", v, a.name), "use a substance of the list; for another one, its data sheet and somebody who knows it decide, not this program", practice)
			}
		}
	}
}

// solvents stops at a solvent on metal hot from a flame, and in an ultrasonic tank.
func solvents(l *list, vs []vessel) {
	hot := false
	for _, v := range vs {
		if v.has(of(reagent.Solvent)) {
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
			hot = false
		}
	}
}
