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
// neither a stop nor a "correct first". Nil gives none.
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

// all gives the vessels of all legs in order.
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
		silverKept(&l, g.recipe, g.vessels)
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

// meeting is one rule hit between two vessels, with all the agents that hit it.
type meeting struct {
	rule     rule
	forward  bool // a came before b
	from, to vessel
	first    []agent // what was there or was carried
	second   []agent
	rinses   int
}

type meetings []meeting

// meet finds the rule for two agents, the first of which may have been carried from an
// earlier vessel.
func (m *meetings) meet(x, y agent, from, to vessel, rinses int) {
	for _, r := range rules() {
		forward := r.a(x) && r.b(y)
		if !forward && !(r.b(x) && r.a(y)) {
			continue
		}
		for i := range *m {
			h := &(*m)[i]
			if h.rule.aName == r.aName && h.rule.bName == r.bName && h.forward == forward && h.from.at == from.at && h.rinses == rinses {
				h.first, h.second = append(h.first, x), append(h.second, y)
				return
			}
		}
		*m = append(*m, meeting{r, forward, from, to, []agent{x}, []agent{y}, rinses})
		return
	}
}

// tell turns the meetings into points.
func (m meetings) tell(l *list) {
	for _, h := range m {
		p := Point{Source: h.rule.source, Cure: h.rule.cure}
		x, y := names(h.first), names(h.second)
		if h.from.at == h.to.at {
			p.Code, p.Level = h.rule.aName+"-"+h.rule.bName, h.rule.same
			p.Text = fmt.Sprintf("%s puts %s together with %s: %s.", h.to, x, y, h.rule.why)
		} else {
			levels, film := h.rule.ab, false
			p.Code = h.rule.aName + "-before-" + h.rule.bName
			if !h.forward {
				levels, film = h.rule.ba, h.rule.film
				p.Code = h.rule.bName + "-before-" + h.rule.aName
			}
			p.Level = levels[min(h.rinses, 2)]
			if film && h.rule.onFilm != "" {
				p.Cure = h.rule.onFilm
				if h.rinses > 0 && h.to.aside() {
					p.Level = CorrectFirst // words about rework, which may be read wrongly; no step for every piece
				}
			}
			p.Text = h.carried(x, y, film)
		}
		if p.Level == "" {
			continue
		}
		p.Text = sentence(p.Text) + " " + sentence(p.Cure)
		l.add(p)
	}
}

// carried words a meeting by drag-in.
func (h meeting) carried(x, y string, film bool) string {
	how := "with no rinse between"
	switch {
	case h.rinses == 1:
		how = "after one rinse only"
	case h.rinses > 1:
		how = "rinsed in between, which must not be left out; try the last rinse with pH paper"
	}
	text := fmt.Sprintf("%s of %s reaches %s of %s on the pieces, %s: %s.", x, h.from, y, h.to, how, h.rule.why)
	if film && h.rinses > 0 {
		text = fmt.Sprintf("pieces coloured by %s in %s go into %s in %s, and the film itself frees gas there however well it was rinsed: %s.",
			x, h.from, y, h.to, h.rule.why)
	}
	return text
}

// unknowns gives what must be said of substances that are not in the list.
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
