package plan

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hepar/recipe/measure"
)

// Better is a change at the bench that was tried, and what the run then looks like.
type Better struct {
	Do      []string `json:"do"` // one or two of: lid, plate, strainer, larger-bath
	Minutes float64  `json:"minutes"`
	Baths   int      `json:"baths"`
	Loads   int      `json:"loads"`
	Verdict Verdict  `json:"verdict"`
}

// changes lists what could be changed, where it may help, and how the run then is.
var changes = []struct {
	name, words string
	helps       func(Run) bool
	do          func(*Run)
}{
	{"lid", "a lid between loads", func(r Run) bool { return r.warm() && !r.Lid }, func(r *Run) { r.Lid = true }},
	{"plate", "a hot plate (500 W)", func(r Run) bool { return r.warm() && !r.heated() }, func(r *Run) { r.Heat = Heat{Kind: Plate, Watts: 500} }},
	{"strainer", "a strainer or basket", func(r Run) bool { return r.Transfer == ByHand }, func(r *Run) { r.Transfer, r.PerLoad = Together, 0 }},
	{"larger-bath", "a bath twice as large", func(r Run) bool { return r.Volume <= 20 }, func(r *Run) {
		const side = measure.Millimeters(math.Sqrt2)
		r.Volume *= 2
		r.Vessel.Length, r.Vessel.Width, r.Vessel.Diameter = r.Vessel.Length*side, r.Vessel.Width*side, r.Vessel.Diameter*side
	}},
}

// Words says the changes as they stand in a sentence: "a lid between loads".
func (b Better) Words() string {
	var words []string
	for _, c := range changes {
		if slices.Contains(b.Do, c.name) {
			words = append(words, c.words)
		}
	}
	return strings.Join(words, " and ")
}

func (r Run) warm() bool { return r.Water.At > r.Air.Ambient+10 }

func (r Run) heated() bool { return r.Heat.Kind == Plate || r.Heat.Kind == Thermostat }

// Compare tries what could be changed at the bench, one and two at a time, and
// returns the change that brings most: a better match, fewer baths, or at least a
// fifth less time. It returns nil if nothing does.
func Compare(r Run, p Plan) *Better {
	if p.Totals.Loads > 400 {
		return nil
	}
	var better *Better
	least := math.Inf(1)
	try := func(these ...int) {
		run := r
		run.Start = 0
		var do []string
		for _, i := range these {
			if !changes[i].helps(r) {
				return
			}
			changes[i].do(&run)
			do = append(do, changes[i].name)
		}
		w, _, err := best(run, 4, 2)
		if err != nil {
			return
		}
		q := &w.plan
		gains := q.Match.Verdict.rank() < p.Match.Verdict.rank() || q.Totals.Baths < p.Totals.Baths ||
			q.Totals.Minutes < 0.8*p.Totals.Minutes && q.Totals.Minutes < p.Totals.Minutes-5
		worse := q.Match.Verdict.rank() > p.Match.Verdict.rank() || q.Totals.Baths > p.Totals.Baths
		cost := q.Totals.Minutes + 30*float64(q.Totals.Baths) + 500*float64(q.Match.Verdict.rank()) + 8*float64(len(do))
		if gains && !worse && cost < least {
			least, better = cost, &Better{Do: do, Minutes: q.Totals.Minutes, Baths: q.Totals.Baths, Loads: q.Totals.Loads, Verdict: q.Match.Verdict}
		}
	}
	for i := range changes {
		try(i)
		for k := i + 1; k < len(changes); k++ {
			try(i, k)
		}
	}
	return better
}

// Move is what a run does if an assumption is otherwise.
type Move struct {
	Name  string  `json:"name"` // "the air over the bath", as a sentence begins
	From  float64 `json:"from"` // as assumed
	To    float64 `json:"to"`   // as it may be
	Unit  string  `json:"unit"`
	DipS  int     `json:"dip_s"` // of the last load, where it was planned with
	WasS  int     `json:"was_s"`
	Baths int     `json:"baths"`
	Was   int     `json:"was_baths"`
}

// Sensitive varies the assumptions of a plan one at a time, keeping its loads and
// its start, and returns those that move it most, at most so many.
func Sensitive(r Run, p Plan, most int) []Move {
	if !r.Law.Known() || len(p.Loads) > 2000 {
		return nil
	}
	var moves []Move
	try := func(name, unit string, from, to float64, change func(*Run)) {
		run := r
		change(&run)
		s := settle(run)
		w := s.walk(measure.Celsius(p.StartC), p.deal, nil)
		last := len(p.Loads) - 1
		m := Move{Name: name, From: from, To: to, Unit: unit, DipS: w.plan.Loads[last].DipS, WasS: p.Loads[last].DipS, Baths: w.plan.Totals.Baths, Was: p.Totals.Baths}
		if m.DipS != m.WasS || m.Baths != m.Was {
			moves = append(moves, m)
		}
	}
	law := r.Law
	if law.High > 1 { // the times at which the bath stops working go with it
		try("the right dip time, in a bath as in the recipe,", "s", float64(law.T0)-Handling, float64(law.T0)*law.High-Handling, func(r *Run) {
			r.Law.T0 *= measure.Seconds(law.High)
			r.Dip.From, r.Dip.To = r.Dip.From*measure.Seconds(law.High), r.Dip.To*measure.Seconds(law.High)
		})
	}
	try("how much heat speeds up the bath (activation energy)", "kJ/mol", law.EaKJ, law.EaKJ+law.EaSpread, func(r *Run) { r.Law.EaKJ += law.EaSpread })
	try("how much strength speeds up the bath (order)", "", law.Order, law.Order+law.OrderSpread, func(r *Run) { r.Law.Order += law.OrderSpread })
	if r.Fade > 0 {
		try("the strength that the bath loses to air", "g/(m2 h)", r.Fade, r.Fade*2.5, func(r *Run) { r.Fade *= 2.5 })
	}
	if r.Air.SpeedMS == 0 {
		try("the air over the bath", "m/s", 0, 0.4, func(r *Run) { r.Air.SpeedMS = 0.4 })
	}
	size := func(m Move) float64 {
		return 10*math.Abs(float64(m.Baths-m.Was)) + math.Abs(math.Log(float64(max(m.DipS, 1))/float64(max(m.WasS, 1))))
	}
	slices.SortStableFunc(moves, func(a, b Move) int { return cmp.Compare(size(b), size(a)) })
	return moves[:min(most, len(moves))]
}
