package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
)

// Sequence follows the pieces through every step and vessel of a recipe, in order, and
// gives what is wrong with the meetings on the way, gravest first: in one vessel, by
// drag-in on the pieces, and by what a bath leaves on the metal. It looks at the alloys
// that the recipe names; [Assess] looks at the one chosen. A harmless order gives
// neither a stop nor a "correct first". Nil returns none.
func Sequence(r *recipe.Recipe) []Point {
	if r == nil {
		return nil
	}
	return sequence([]leg{{r, line(r)}}, nil)
}

// SequenceOf is [Sequence] for recipes that follow one another: a pickle, a finish, a
// stop. The pieces go through all their steps in order, and what clings to them from
// one recipe is met in the next. Vessels carry the name of their recipe. Nil is passed
// over.
func SequenceOf(recipes ...*recipe.Recipe) []Point { return sequence(join(recipes), nil) }

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
	if len(legs) == 1 {
		return legs[0].vessels
	}
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
	for _, p := range unknowns(vs) {
		l.add(p)
	}
	for _, g := range legs {
		metals(&l, g.recipe, g.vessels, alloy)
	}
	steelTools(&l, vs)
	spokenShares(&l, vs)
	twoStops(&l, legs)
	rework(&l, vs)
	return l.ranked()
}

// residue is what clings to the pieces from an earlier vessel.
type residue struct {
	agent  agent
	from   vessel
	rinses int
}

// walk looks at every meeting.
func walk(l *list, vs []vessel) {
	var clinging []residue
	for _, v := range vs {
		hits := meetings{}
		for i, a := range v.agents {
			for _, b := range v.agents[i+1:] {
				hits.meet(a, b, v, v, 0)
			}
			for _, c := range clinging {
				if c.agent.id != a.id {
					hits.meet(c.agent, a, c.from, v, c.rinses)
				}
			}
		}
		hits.tell(l)
		for i := range clinging {
			c := &clinging[i]
			c.rinses += v.rinses + v.washes()
			if c.agent.sour() && v.has(agent.alkaline) {
				c.rinses += 2 // an alkali takes the acid away
			}
		}
		for _, a := range v.agents {
			clinging = slices.DeleteFunc(clinging, func(c residue) bool { return c.agent.id == a.id })
			clinging = append(clinging, residue{agent: a, from: v})
		}
	}
}

// unknowns returns what must be said of substances that are not in the list.
func unknowns(vs []vessel) []Point {
	var ps []Point
	for _, v := range vs {
		sulfide := v.has(agent.sulfide)
		for _, a := range v.agents {
			why, banned := reagent.Refused(a.id)
			if a.sub.Banned != "" {
				why, banned = a.sub.Banned, true
			}
			if banned {
				cure := "use another recipe; no recipe with this family of substances is worked here"
				ps = append(ps, Point{
					Code: "refused-substance", Level: StopLevel, Source: "common practice, no published source", Cure: cure,
					Text: fmt.Sprintf("%s: %s is refused: %s. %s", v, a.name, strings.TrimSuffix(why, "."), sentence(cure)),
				})
			}
			if a.known {
				continue
			}
			cure := "take the codes and the incompatible substances from the supplier's data sheet, or use a substance of the list"
			ps = append(ps, Point{
				Code: "unknown-substance", Level: CorrectFirst, Source: "common practice, no published source", Cure: cure,
				Text: fmt.Sprintf("%s: %s is UNKNOWN here - treat as the worst known family. %s", v, a.name, sentence(cure)),
			})
			if sulfide && !a.sulfide() && len(a.groups) == 0 {
				cure := "leave it out of the sulfide bath until its data sheet shows that it is no acid, no acid salt and no oxidizer"
				ps = append(ps, Point{
					Code: "unknown-with-sulfide", Level: StopLevel, Source: appendixV, Cure: cure,
					Text: fmt.Sprintf("%s puts %s, which is unknown and may be acid, into a sulfide. %s", v, a.name, sentence(cure)),
				})
			}
		}
	}
	return ps
}
