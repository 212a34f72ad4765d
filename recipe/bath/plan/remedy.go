package plan

import (
	"cmp"
	"math"

	"hepar/recipe/bath/heat"
	"hepar/recipe/measure"
)

// lowest is the least temperature at which the bath works; 0 where the dip decides.
func (s *settled) lowest() measure.Celsius {
	if !s.Law.Known() {
		return cmp.Or(s.WorksDownTo, s.Water.From)
	}
	return s.WorksDownTo
}

// wrong says what is wrong with a load as it would be now: "", "cold", "weak" or "long".
func (w *walk) wrong(x *dip) string {
	low, at := w.lowest(), x.mid
	if !w.Law.Known() {
		at = min(x.mid, x.end) // no law says what a colder bath would do; a plate may have warmed it by the end
	}
	switch {
	case low > 0 && at < low-0.05:
		return "cold"
	case x.Strength < w.Weakest-1e-9:
		return "weak"
	case w.Law.Known() && float64(x.DipS) > float64(w.Dip.To)+0.5:
		return "long"
	}
	return ""
}

// ready does what the bath needs before a load goes in: heat, more reagent, a fresh bath,
// in this order. What is then still outside the limits is left for the warnings.
func (w *walk) ready(x *dip) {
	w.try(x)
	for tried := range 5 {
		switch why := w.wrong(x); {
		case why == "":
			return
		case tried < 4 && why != "weak" && w.t < w.start-1 && w.warm():
		case tried < 4 && why != "cold" && w.strengthen(x):
		case tried < 4 && x.Number > 1 && w.clock > w.mixed && w.freshHelps(x):
			w.fresh()
		default:
			w.failed = append(w.failed, failure{x.Number, why, min(x.mid, x.end)})
			return
		}
		w.try(x)
	}
}

func (w *walk) freshHelps(x *dip) bool {
	t, strength := w.t, w.strength
	w.t, w.strength = w.start, w.Strength
	w.try(x)
	helps := w.wrong(x) == ""
	w.t, w.strength = t, strength
	w.try(x)
	return helps
}

func (w *walk) warm() bool {
	if !w.heated() {
		return w.Heat.Kind == Kettle && w.pour()
	}
	s, ok := w.idle.WaitTo(w.start, w.t, w.capacity, w.Heat.Watts)
	if !ok || s > 45*60 {
		return false
	}
	_, steam := w.idle.After(w.t, w.capacity, w.Heat.Watts, s)
	w.steam(float64(steam))
	w.event(Event{Do: Reheat, FromC: float64(w.t), ToC: float64(w.start), Strength: w.strength, Minutes: float64(s) / 60})
	w.lose(&w.lost.air, w.fading(w.start, false)*float64(s))
	w.t = w.start
	return true
}

// pour ladles out and pours in what the kettle holds or brings the bath back to its start.
func (w *walk) pour() bool {
	k := w.Heat
	if k.Water <= w.t+5 {
		return false
	}
	per := heat.Capacity(1, k.Water)
	liters := w.capacity * float64(w.start-w.t) / (per * float64(k.Water-w.t))
	liters = min(liters, float64(k.Liters), float64(w.Volume)/3)
	out := max(0, liters-w.owed)
	left := w.strength * (1 - out/float64(w.Volume))
	if liters < 0.02*float64(w.Volume) || left < w.Weakest {
		return false
	}
	t := heat.Join(w.t, w.capacity-liters*per, k.Water, heat.Capacity(measure.Liters(liters), k.Water))
	if t < w.t+1 {
		return false
	}
	t = min(t, w.start)
	w.event(Event{Do: PourHot, FromC: float64(w.t), ToC: float64(t), Strength: w.strength, Minutes: 1, OutL: out, InL: liters})
	w.lose(&w.lost.water, w.strength-left)
	w.owed = max(0, w.owed-liters)
	w.plan.Totals.WaterL += liters
	w.plan.Totals.WasteL += out
	w.t = t
	return true
}

// strengthen adds as much reagent as brings the dip well into the recipe's times, up
// to the strongest that the recipe allows. It is left out where it would not be enough.
func (w *walk) strengthen(x *dip) bool {
	to := w.Strength
	if w.Law.Known() && w.Law.Order > 0 {
		aim := math.Sqrt(float64(w.Dip.To) * max(float64(w.Dip.From), float64(w.Dip.To)/4))
		to = max(to, w.strength*math.Pow(x.need/aim, 1/w.Law.Order))
	}
	to = min(to, w.Strongest)
	if to < w.strength+0.05 {
		return false
	}
	stirred, steam := w.cool(w.t, w.wet, 120)
	if w.Law.Known() {
		if need := w.needAt(x.mid-(w.t-stirred), to); need-w.handling() > float64(w.Dip.To) {
			return false
		}
	}
	share := (to - w.strength) / w.Strength
	w.event(Event{Do: Strengthen, Strength: w.strength, Share: share, Minutes: 2})
	w.plan.Totals.Doses += share
	w.steam(steam)
	w.strength = to
	w.t = stirred
	return true
}

// warmUp is how long a bath that is mixed cold takes to its start, on a plate of
// [DefaultWarming] where nothing heats it. It is 0 for a bath that is mixed hot.
func (w *walk) warmUp() measure.Seconds {
	if w.MixedAt == nil || w.start <= *w.MixedAt+ColdOver {
		return 0
	}
	watts := DefaultWarming
	if w.heated() {
		watts = w.Heat.Watts
	}
	t, ok := w.idle.WaitTo(w.start, *w.MixedAt, w.capacity, watts)
	if !ok && !w.heated() { // at the least
		t = measure.Seconds(w.capacity * float64(w.start-*w.MixedAt) / watts)
	}
	return t
}

func (w *walk) fresh() {
	v, warm := float64(w.Volume), w.warmUp().Minutes()
	w.event(Event{Do: FreshBath, FromC: float64(w.t), ToC: float64(w.start), Strength: w.strength, Share: 1, OutL: v, InL: v, WarmMin: warm, Minutes: DefaultChange.Minutes() + warm})
	w.plan.Totals.WaterL += w.owed // the old bath was kept at its level
	w.plan.Totals.Baths++
	w.plan.Totals.Doses++
	w.t, w.strength, w.owed, w.mixed = w.start, w.Strength, 0, w.clock
}
