package safety

import (
	"fmt"
	"strings"

	"hepar/recipe/reagent"
)

// appendixV is the rule of the United States that names sulfides and acids.
const appendixV = "40 CFR 265 Appendix V, pair 5-A/5-B (spent sulfide solutions with acids)"

// chemistry is the source of what any textbook says.
const chemistry = "general chemistry, from memory"

// levelOf turns a severity of [reagent.Pair] into a level, and "" where there is
// nothing to say.
func levelOf(severity int) Level {
	switch {
	case severity >= reagent.Forbidden:
		return StopLevel
	case severity == 3:
		return CorrectFirst
	case severity == 2:
		return Caution
	}
	return ""
}

// meeting is one pair found between two vessels, with all the agents that fall under it.
type meeting struct {
	pair     reagent.Pair
	forward  bool // the agent of family A came before that of family B
	from, to vessel
	first    []agent // what was there or was carried
	second   []agent
	rinses   int
}

type meetings []meeting

// meet adds the gravest pair of two agents, the first of which may have been carried
// from an earlier vessel.
func (m *meetings) meet(x, y agent, from, to vessel, rinses int) {
	all := reagent.Meetings(x.groups, y.groups)
	if len(all) == 0 {
		return
	}
	p := all[0]
	forward := p.Joins(x.groups, y.groups)
	for i := range *m {
		h := &(*m)[i]
		if h.pair == p && h.forward == forward && h.from.at == from.at && h.rinses == rinses {
			h.first, h.second = append(h.first, x), append(h.second, y)
			return
		}
	}
	*m = append(*m, meeting{p, forward, from, to, []agent{x}, []agent{y}, rinses})
}

// tell turns the meetings into points.
func (m meetings) tell(l *list) {
	for _, h := range m {
		a, b := codeName(h.pair.A), codeName(h.pair.B)
		p := Point{Source: h.pair.Source, Cure: h.pair.Cure}
		x, y := names(h.first), names(h.second)
		if h.from.at == h.to.at {
			p.Code, p.Level = a+"-"+b, levelOf(h.pair.Severity)
			p.Text = fmt.Sprintf("%s puts %s together with %s: %s.", h.to, x, y, h.pair.Why)
		} else {
			film := !h.forward && h.pair.OnFilm != ""
			p.Code = a + "-before-" + b
			if !h.forward {
				p.Code = b + "-before-" + a
			}
			p.Level = levelOf(h.pair.Carried - min(h.rinses, 2))
			if film {
				p.Cure, p.Level = h.pair.OnFilm, levelOf(h.pair.Carried)
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

// codeName is a family as it stands in the code of a point.
func codeName(g reagent.Group) string { return strings.ReplaceAll(string(g), " ", "-") }

// carried words a meeting by drag-in.
func (h meeting) carried(x, y string, film bool) string {
	if film && h.rinses > 0 {
		return fmt.Sprintf("pieces coloured by %s in %s go into %s in %s, and the film itself frees gas there however well it was rinsed: %s.",
			x, h.from, y, h.to, h.pair.Why)
	}
	how := "with no rinse between"
	switch {
	case h.rinses == 1:
		how = "after one rinse only"
	case h.rinses > 1:
		how = "rinsed in between, which must not be left out; try the last rinse with pH paper"
	}
	return fmt.Sprintf("%s of %s reaches %s of %s on the pieces, %s: %s.", x, h.from, y, h.to, how, h.pair.Why)
}
