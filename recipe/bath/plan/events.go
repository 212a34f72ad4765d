package plan

import (
	"slices"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/measure"
)

// hair keeps rounding from making an event, in K.
const hair = 1e-6

// ready does what the bath needs before the gathered load goes in, and returns the
// load as it then comes out. Each remedy is tried once: what still lies outside
// the range is left for the warnings.
func (w *walk) ready(load int) dip {
	x := w.try()
	for range 3 {
		cold := x.end < w.lowC-hair && w.t < w.Start-0.05
		weak := x.strength < w.lowStrength && w.strength < w.StartStrength*(1-1e-6)
		long := w.fixedS == 0 && float64(x.given) > float64(w.Dip.To)
		switch {
		case weak:
			w.fresh(load)
		case cold:
			w.warm(load)
		case long && w.t < w.Start-0.5:
			w.warm(load)
		case long && w.strength < w.StartStrength*0.999:
			w.fresh(load)
		default:
			return x
		}
		x = w.try()
	}
	return x
}

// fresh mixes a new bath.
func (w *walk) fresh(load int) {
	v := float64(w.Volume)
	w.event(Event{BeforeLoad: load + 1, Kind: FreshBath, FromC: float64(w.t), ToC: float64(w.Start), Strength: w.strength, Minutes: w.ChangeMinutes,
		WaterL: v, WasteL: v, Doses: w.doses})
	w.clock += w.ChangeMinutes * 60
	w.totals.WaterL += w.owedL // the old bath was kept at its level
	w.totals.Baths++
	w.t, w.strength, w.owedL, w.mixed = w.Start, w.StartStrength, 0, w.clock
}

// warm brings the bath back to its start temperature: with water from the kettle
// where that is enough and does not thin the bath too much, else on a plate; and
// where that would take so long that a fresh bath is due anyway, with a fresh one.
func (w *walk) warm(load int) {
	if w.pour(load) {
		return
	}
	minutes := w.ReheatMinutes
	if w.HeaterW > 0 {
		if s, err := heat.WaitTo(w.Start, w.t, w.capacity, w.shut, w.Air, w.HeaterW); err == nil {
			minutes = float64(s) / 60
		}
	}
	if left := kinetics.Aged(w.strength, measure.Seconds(minutes*60), w.Life) - w.batch.bound; left < w.lowStrength && w.strength < w.StartStrength*(1-1e-6) {
		w.fresh(load) // it would not outlive its own reheating
		return
	}
	w.event(Event{BeforeLoad: load + 1, Kind: Reheat, FromC: float64(w.t), ToC: float64(w.Start), Strength: w.strength, Minutes: minutes})
	w.age(minutes * 60)
	w.clock += minutes * 60
	w.t = w.Start
	w.totals.Reheats++
}

// pourMinutes is what ladling out and pouring in takes: assumed.
const pourMinutes = 1

// pour tops up with hot water, as much as brings the bath back to its start. What
// the bath has lost makes room first; the rest is ladled out.
func (w *walk) pour(load int) bool {
	k := w.Kettle
	if k.Most <= 0 || k.At <= w.Start {
		return false
	}
	perLiter := heat.Capacity(1, k.At)
	liters := w.capacity * float64(w.Start-w.t) / (perLiter * float64(k.At-w.t))
	if liters > float64(k.Most) || liters > float64(w.Volume)/2 {
		return false
	}
	out := max(0, liters-w.owedL)
	left := w.strength * (1 - out/float64(w.Volume))
	if left < w.lowStrength {
		return false
	}
	t, _, err := heat.TopUp(w.t, w.capacity-liters*w.perLiter, measure.Liters(liters), k.At)
	if err != nil {
		return false
	}
	t = min(t, w.Start)
	w.event(Event{BeforeLoad: load + 1, Kind: TopUp, FromC: float64(w.t), ToC: float64(t), Strength: w.strength, Minutes: pourMinutes,
		WaterL: liters, WaterC: float64(k.At), WasteL: out})
	w.lose(&w.lost.dilution, w.strength-left)
	w.owedL = max(0, w.owedL-liters)
	w.t = t
	w.age(pourMinutes * 60)
	w.clock += pourMinutes * 60
	w.totals.TopUps++
	w.totals.WaterL += liters
	w.totals.WasteL += out
	return true
}

// rinse takes the load through the row of tubs, changing it first where it must be.
func (w *walk) rinse(l *Load) {
	at := w.limiting().Concentration.At
	if w.Rinse.Tubs == 0 || !(at.PerL > 0) {
		return
	}
	bath := measure.GramsPerLiter(at.PerL * l.Strength) // the arithmetic of mL/L is the same
	carried := w.carried()
	fresh := 0
	for float64(w.row.After(bath, carried)) > w.Rinse.LimitPerL && fresh < w.row.Tubs() {
		w.row.Change()
		fresh++
	}
	if fresh > 0 {
		water := float64(fresh) * float64(w.row.Volume())
		w.event(Event{BeforeLoad: l.Number, Kind: ChangeRinse, WaterL: water, WasteL: water, Tubs: fresh})
		l.RinseNote = "fresh rinse"
		w.totals.WaterL += water
		w.totals.WasteL += water
	}
	left := float64(w.row.Dip(bath, carried))
	l.RinsePerL = left
	if left > w.Rinse.LimitPerL*(1+1e-9) {
		l.RinseNote = "clean tubs are not enough: rinse again in running water"
		w.found.rinse.add(l.Number)
	}
}

func (w *walk) event(e Event) {
	e.AtMin = w.clock / 60
	if len(w.events) == cap(w.events) && len(w.loads) > 0 {
		// They come as often to the end as they came so far; a tenth more for luck.
		w.events = slices.Grow(w.events, 64+len(w.events)*(w.totals.Loads-len(w.loads))/len(w.loads)*11/10)
	}
	w.events = append(w.events, e)
}
