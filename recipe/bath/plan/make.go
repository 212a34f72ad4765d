package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hepar/recipe/bath/heat"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Make plans a run: it chooses the start temperature and the number of loads that match
// best with the fewest baths and in the least time. Errors are of kind Usage where a figure
// cannot be, and of kind Failure where the pieces do not fit the vessel. What can be done
// and will not be good is in the warnings.
func Make(r Run) (Plan, error) {
	w, by, err := best(r, 24, 4)
	if err != nil {
		return Plan{}, err
	}
	p := &w.plan
	p.Capacity.By, p.Capacity.Why = by.by, by.why
	loss := heat.Losses(w.start, w.open, w.Air).TotalW
	p.HoldingWatts, p.CoolingPerMin = max(0, loss), loss/w.capacity*60
	if all := w.lost.air + w.lost.film + w.lost.drag + w.lost.water; all > 1e-12 {
		p.Shares = Shares{w.lost.air / all * 100, w.lost.film / all * 100, w.lost.drag / all * 100, w.lost.water / all * 100}
	}
	if w.heated() {
		p.WarmMin = w.warmUp().Minutes()
	}
	w.warn()
	w.explain()
	p.Notes = w.Notes
	return *p, nil
}

// best walks the run from so many start temperatures and with so many numbers of loads that
// may be best, twice as many while none matches. It returns the cheapest walk and the limit
// that asks for its loads.
func best(r Run, starts, counts int) (best *walk, by limit, err error) {
	if err := cmp.Or(r.Check(), r.Air.Check()); err != nil {
		return nil, by, err
	}
	if r.Volume == 0 {
		return nil, by, fault.Usagef("no bath is given").At("--volume").Try("give a volume up to 1000 L")
	}
	s := settle(r)
	limits, err := s.limits()
	if err != nil {
		return nil, by, err
	}
	least := math.Inf(1)
	var spare []Load // of a walk that was not taken
	for _, start := range s.starts(starts) {
		all := limits
		if s.Transfer == ByHand && s.PerLoad == 0 { // all pieces are in before the first is due out, by the dip that is printed
			fit := 1 + math.Floor(float64(s.dipS(s.needAt(start, s.Strength)))/s.Pace+slack)
			all = append(slices.Clip(limits), limit{by: "pace", use: slices.Repeat([]float64{min(1, float64(s.Group)/fit)}, len(s.Kinds))})
		}
		n, asks := s.least(all)
		for i := 0; i < counts || i < 2*counts && best.plan.Match.Verdict.rank() > 0; i++ { // on while none matches
			more := n + i + n*i/8
			if i > 0 && n > 400 {
				break
			}
			deal := s.deal(more, all)
			if i > 0 && !s.fit(deal, all) {
				continue
			}
			w := s.walk(start, deal, spare)
			if c := w.cost(); c < least-1e-9 {
				least, best, w, by = c, w, best, asks
			}
			if w != nil {
				spare = w.plan.Loads[:0]
			}
			if more > len(deal) {
				break // one set in each
			}
		}
	}
	return best, by, nil
}

// starts are the temperatures at which the bath may be mixed: the recipe's where it
// is heated or has no range, else steps over the range.
func (s *settled) starts(most int) []measure.Celsius {
	if s.Start > 0 {
		return []measure.Celsius{s.Start}
	}
	low, high := s.Water.From, min(s.Water.To, s.Most)
	if s.heated() || high <= low || s.Water.At <= s.Air.Ambient+ColdOver {
		return []measure.Celsius{s.Water.At}
	}
	steps := min(most, max(1, int(math.Round(float64(high-low)/0.5))))
	out := []measure.Celsius{min(s.Water.At, high)}
	for i := range steps + 1 {
		out = append(out, low+(high-low)*measure.Celsius(i)/measure.Celsius(steps))
	}
	return out
}

// cost weighs a walk in minutes: a poorer match weighs most, then a load that is
// outside the limits, then a further bath; a load costs a little more than its time.
func (w *walk) cost() float64 {
	p, m := &w.plan, &w.plan.Match
	cost := p.Totals.Minutes + 0.3*float64(len(p.deal)) + 30*float64(p.Totals.Baths-1) + 3*float64(len(p.Events))
	cost += 500*float64(m.Verdict.rank()) + 100*float64(len(w.failed))
	// Among equals the match that is nearest to what is wanted, whole seconds and all, then the
	// tighter one and the recipe's own temperature.
	return cost + min(max(-m.LeastPercent, m.MostPercent), 1000)/20 + min(m.SpreadPercent, 1000)/100 + math.Abs(float64(w.start-w.Water.At))/40
}

func (w *walk) match() Match {
	percent := func(least, most float64) float64 { return max(0, (most/max(least, 1e-9)-1)*100) }
	width := (1 + w.Window.Long) / (1 - w.Window.Short)
	m := Match{SpreadPercent: percent(w.least, w.most), LeastPercent: (w.least - 1) * 100, MostPercent: (w.most - 1) * 100, OneTimePercent: percent(w.oneLeast, w.oneMost),
		WindowPercent: (width - 1) * 100, ShortPercent: -w.Window.Short * 100, LongPercent: w.Window.Long * 100}
	switch spread := 1 + m.SpreadPercent/100; {
	case !w.Law.Known():
		m.Verdict = NotKnown
	case spread <= width:
		m.Verdict = ShouldMatch
	case spread <= math.Pow(width, 1.5):
		m.Verdict = MayShow
	default:
		m.Verdict = WillNot
	}
	return m
}

func (w *walk) warn() {
	loads, holding := w.plan.Loads, w.plan.HoldingWatts
	if len(w.failed) > 0 {
		first := w.failed[0]
		l, more, it := loads[first.load-1], "", "It"
		if n := len(w.failed) - 1; n > 0 {
			more, it = fmt.Sprintf(" and %d more", n), fmt.Sprintf("In load %d it", first.load)
		}
		why := measure.Say("cold: it falls to ", first.at, ", and ", w.lowest(), " is the least")
		switch first.why {
		case "weak":
			why = measure.Say("weak: ", num(l.Strength*100), " % of its strength, and ", num(w.Weakest*100), " % is the least")
		case "long":
			why = measure.Say("slow: a dip takes ", l.DipS, " s, and ", w.Dip.To, " is the most")
		}
		w.Warn("outside-limits", "For load ", l.Number, more, " the bath is not as the recipe wants it. ", it, " is too ", why, ". Take a larger bath, more heat, or smaller loads.")
	}
	switch s := w.start; {
	case s > w.Water.To+0.05:
		w.Warn("start-out-of-range", "The bath starts at ", s, ", hotter than the ", w.Water.From, " to ", w.Water.To, " of the recipe: it gives off more vapour, and the recipe has no dip time for such heat. Let it cool to ", w.Water.To, " first.")
	case s < w.Water.From-0.05:
		w.Warn("start-out-of-range", "The bath starts at ", s, ", outside the ", w.Water.From, " to ", w.Water.To, " of the recipe.")
	}
	if w.heated() && w.Heat.Watts < holding*0.98 && w.start > w.Air.Ambient {
		w.Warn("heater-weak", "The heater gives ", measure.Plain(w.Heat.Watts), " W, but the open bath loses ", num(holding), " W at ", w.start, ": it slows the cooling and does not hold the temperature.")
	}
	if w.Heat.Kind == Kettle && w.Heat.Water <= w.start {
		w.Warn("kettle-cold", "Water of ", w.Heat.Water, " from the kettle does not warm a bath of ", w.start, ".")
	}
	if w.Law.Known() && loads[0].DipS+int(Handling) < 5 {
		w.Warn("dip-short", "Dips of ", loads[0].DipS, " s are hard to time: lifting, draining and moving to the rinse take ", num(Handling), " s by themselves. A cooler or weaker bath has longer dip times.")
	}
	if w.Sulfur > 0 && w.oldest > 2*3600 {
		w.Warn("long-hot", "The bath stays hot for ", num(w.oldest/3600), " h. A long-heated bath gives a dull grey that does not hold (no hours are published; about 2 h, half or twice that, assumed): try a piece before going on, and mix fresh if it turns grey.")
	}
	if w.Vessel.FloorCM2() == 0 && w.Transfer != OnRacks {
		for i, parts := range w.plan.deal {
			cover := 0.0 // cm2 of the pieces as they lie
			for _, part := range parts {
				e, _ := lying(w.Kinds[part.Lot].Piece)
				cover += float64(part.Pieces) * float64(e[0]) * float64(e[1]) / 100
			}
			if cover > w.open.SurfaceCM2 {
				w.Warn("vessel-unknown", "The vessel is not given: check that the ", loads[i].Pieces, " pieces of load ", i+1, " do not lie on one another. Give --vessel or --per-load.")
				break
			}
		}
	}
	if slices.ContainsFunc(loads, func(l Load) bool { return l.RinseShare > rinseShare*1.01 }) {
		w.Warn("rinse-short", "Clean rinse tubs are not enough for loads of this size: rinse again in running water.")
	}
}
