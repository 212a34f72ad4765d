package plan

import (
	"hepar/recipe/bath/heat"
)

// Make plans a run. Errors are of kind Usage where a figure cannot be, and of kind
// Failure where the pieces do not fit the vessel or a set does not fit a load;
// each says what to do. What can be done but will not be good is in the warnings.
func Make(r Run) (Plan, error) {
	p := Plan{Events: []Event{}, Warnings: []Warning{}, Assumptions: []Assumption{}}
	if err := r.check(); err != nil {
		return Plan{}, err
	}
	s := fill(r, &p)
	s.before()
	limits, err := s.limits()
	if err != nil {
		return Plan{}, err
	}
	d, by := s.spread(limits)
	w, err := s.walk(d, 0)
	if err != nil {
		return Plan{}, err
	}
	if m := w.matched(); m.PlannedSpreadPercent > m.FixedSpreadPercent {
		// Whole seconds cost more than the drift of this bath: one time for all.
		if w, err = s.walk(d, s.fixedWhole()); err != nil {
			return Plan{}, err
		}
	}
	p.Capacity = s.report(limits, by)
	w.fill(&p)
	w.after()
	w.explain(&p, limits)
	return p, nil
}

// fill takes what the walk found into the plan.
func (w *walk) fill(p *Plan) {
	p.Loads, p.Match, p.Totals = w.loads, w.matched(), w.totals
	if len(w.events) > 0 {
		p.Events = w.events
	}
	p.Held, p.Lid = w.Held, w.Lid
	p.Shares = w.lost.shares(w.totals.Baths)
	p.StartC = float64(w.Start)
	lid := w.open
	lid.Lid = true
	p.HoldingWattsOpen, p.HoldingWattsLid = heat.HoldingWatts(w.Start, w.open, w.Air), heat.HoldingWatts(w.Start, lid, w.Air)
	p.CoolingPerMin = heat.CoolingRatePerMinute(w.Start, w.capacity, w.open, w.Air, 0)
	p.CoolingLidPerMin = heat.CoolingRatePerMinute(w.Start, w.capacity, lid, w.Air, 0)
	if s, err := heat.WaitTo(w.lowC, w.Start, w.capacity, w.open, w.Air, 0); err == nil && w.lowC < w.Start {
		p.MinutesInRange = float64(s) / 60
	}
	p.StrengthFrom, p.TemperatureFromC, p.TemperatureToC = w.lowStrength, float64(w.lowC), float64(w.highC)
	p.LowestC, p.HighestC, p.LeastStrength = p.Loads[0].TemperatureC, p.Loads[0].TemperatureC, p.Loads[0].Strength
	for i := range p.Loads {
		l := &p.Loads[i]
		p.LowestC, p.HighestC = min(p.LowestC, l.TemperatureC), max(p.HighestC, l.TemperatureC)
		p.LeastStrength = min(p.LeastStrength, l.Strength)
		p.Capacity.Pieces = max(p.Capacity.Pieces, l.Pieces)
	}
}

// before warns of what needs no walk to be seen.
func (s *filled) before() {
	if s.Start < s.lowC || s.Start > s.highC {
		s.warn("start-out-of-range", "The bath is to start at ", s.Start, ", outside the ", s.lowC, " to ", s.highC, " of the recipe.")
	}
	c := s.limiting().Concentration
	if high := c.To.PerL / max(c.At.PerL, 1e-9); s.StartStrength < s.lowStrength || c.At.PerL > 0 && s.StartStrength > max(high, 1)+1e-9 {
		s.warn("start-out-of-range", "The bath is to start at a strength of ", s.StartStrength, " times the recipe's, outside its range.")
	}
	if s.Air.Ambient > s.Start && !s.Held {
		parts := []any{"The room at ", s.Air.Ambient, " is warmer than the bath at ", s.Start, " and warms it."}
		if s.Air.Ambient > s.highC {
			parts = append(parts, " In time it leaves the ", s.lowC, " to ", s.highC, " of the recipe: stand the vessel in cold water.")
		}
		s.warn("ambient-above", parts...)
	}
	hand := max(s.Hands.InS, s.Hands.OutS)
	if !s.Basket && s.RackPieces == 0 && s.fixed < s.Hands.InS+s.Hands.OutS {
		s.warn("dip-short", "A dip of "+num(s.fixed)+" s is shorter than it takes to place a piece and take it out ("+num(s.Hands.InS)+" s and "+num(s.Hands.OutS)+
			" s): hands cannot time it. Use a basket, or a cooler or weaker bath in which the dip is longer.")
	} else if s.fixed < 2 {
		s.warn("dip-short", "A dip of "+num(s.fixed)+" s is too short to time in whole seconds, and hands take "+num(hand)+
			" s. Take a cooler or weaker bath in which the dip is longer.")
	}
	if watts := heat.HoldingWatts(s.Start, s.open, s.Air); s.Held && s.HeaterW > 0 && s.HeaterW < watts {
		s.warn("heater-weak", "The heater supplies ", s.HeaterW, " W, but the open bath loses about ", watts, " W at ", s.Start, ". It cannot hold the bath, so the plan lets it cool.")
		s.Held = false
		if s.ReheatMinutes == 0 {
			take(s, &s.ReheatMinutes, DefaultReheatMin, "reheating on a plate", "min", guess)
		}
	}
	if k := s.Kettle; k.Most > 0 && k.At <= s.Start && !s.Held {
		s.warn("kettle-cold", "Water at ", k.At, " does not warm a bath of ", s.Start, ": the plan leaves topping up out.")
	}
	if s.Start >= 95 {
		s.warn("near-boiling", "At ", s.Start, " the bath nearly boils: it steams off fast and carries gas with it. Never boil a sulfide bath.")
	}
}
