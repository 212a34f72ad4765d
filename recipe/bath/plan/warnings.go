package plan

import (
	"fmt"

	"hepar/recipe/bath/heat"
	"hepar/recipe/measure"
)

// tally counts the loads of which something is true.
type tally struct {
	count, first int
	worst        float64
}

func (t *tally) add(load int) {
	if t.count == 0 {
		t.first = load
	}
	t.count++
}

// lower and higher also keep the worst figure.
func (t *tally) lower(load int, x float64) {
	if t.count == 0 || x < t.worst {
		t.worst = x
	}
	t.add(load)
}

func (t *tally) higher(load int, x float64) {
	if t.count == 0 || x > t.worst {
		t.worst = x
	}
	t.add(load)
}

// loads names them, with the verb for one or the verb for several.
func (t tally) loads(one, several string) string {
	if t.count == 1 {
		return fmt.Sprintf("Load %d %s", t.first, one)
	}
	return fmt.Sprintf("%d loads, the first of them load %d, %s", t.count, t.first, several)
}

// findings is what is wrong with the loads of a walk.
type findings struct {
	cold, hot, weak, quick, slow, rinse tally
}

// note looks at a load as it will be done.
func (w *walk) note(i int, x dip) {
	load := i + 1
	if low := min(x.mid, x.end); low < w.lowC-hair {
		w.found.cold.lower(load, float64(low))
	}
	if high := max(x.wet, x.mid); high > w.highC+hair {
		w.found.hot.higher(load, float64(high))
	}
	if x.strength < w.lowStrength {
		w.found.weak.lower(load, x.strength)
	}
	given := float64(x.given)
	if given < float64(w.Dip.From) {
		w.found.quick.lower(load, given)
	}
	if given > float64(w.Dip.To) {
		w.found.slow.higher(load, given)
	}
}

// after turns findings into warnings.
func (w *walk) after() {
	f := w.found
	if f.cold.count > 0 {
		w.warn("load-out-of-range", f.cold.loads("cools", "cool"), " below the ", w.lowC, " of the recipe before the last piece is out (down to ", measure.Celsius(f.cold.worst),
			"), although the bath starts hot: take smaller loads, warm the pieces first, or hold the bath.")
	}
	if f.hot.count > 0 {
		w.warn("load-out-of-range", f.hot.loads("goes", "go"), " in above the ", w.highC, " of the recipe (up to ", measure.Celsius(f.hot.worst), "): cool the bath first.")
	}
	if f.weak.count > 0 {
		w.warn("load-out-of-range", fmt.Sprintf("%s a bath below %s %% of its strength (down to %s %%), although it is fresh: it takes too much out of it. Take a larger bath or smaller loads.",
			f.weak.loads("meets", "meet"), num(w.lowStrength*100), num(f.weak.worst*100)))
	}
	if f.quick.count > 0 {
		w.warn("dip-out-of-limits", fmt.Sprintf("%s only %s s, below the %s s of the recipe: start cooler or weaker.", f.quick.loads("would need", "would need"), num(f.quick.worst), num(float64(w.Dip.From))))
	}
	if f.slow.count > 0 {
		w.warn("dip-out-of-limits", fmt.Sprintf("%s %s s, above the %s s of the recipe: start hotter or with a stronger bath, within the recipe.", f.slow.loads("would need", "would need"), num(f.slow.worst), num(float64(w.Dip.To))))
	}
	if f.rinse.count > 0 {
		w.warn("rinse-short", f.rinse.loads("leaves", "leave"), " more than ", measure.Concentration{PerL: w.Rinse.LimitPerL, ByVolume: w.limiting().ByVolume},
			" behind the last rinse, even in clean tubs: add a tub, take larger ones, or rinse in running water.")
	}
	if t, err := heat.AfterLoad(w.Start, w.capacity, w.mostChill, 1, w.metal()); w.Held && err == nil && w.Start-t > heldChillC {
		w.warn("held-chill", "The bath is held, but a load of cold metal takes ", measure.Degrees(w.Start-t), " out of it for a moment, and no plate replaces that within a dip. Warm the pieces in hot water first.")
	}
	w.hold()
}

// heldChillC is the chill by a load that a held bath is warned of, in K. Assumed:
// it changes the dip by a twentieth.
const heldChillC = 1

// driftC is how far an unheated bath may fall over a run before it is worth a
// word, in K: it then changes the dip by more than a tenth. Assumed.
const driftC = 2

// hold says plainly when an open bath cannot be kept by pouring it once.
func (w *walk) hold() {
	p := w.plan
	if w.Held || !(p.CoolingPerMin > 0) {
		return
	}
	leaves := w.totals.Reheats > 0 || w.totals.TopUps > 0 || p.MinutesInRange > 0 && p.MinutesInRange < w.totals.Minutes
	if w.HeaterW >= p.HoldingWattsOpen || !leaves && p.HighestC-p.LowestC < driftC {
		return
	}
	parts := []any{"An open bath of ", w.Volume, " at ", w.Start, " in a room of ", w.Air.Ambient, " loses about " + figure(p.HoldingWattsOpen, 0) + " W and cools ",
		measure.Degrees(p.CoolingPerMin), " a minute"}
	add := func(more ...any) { parts = append(parts, more...) }
	switch {
	case p.MinutesInRange > 0 && leaves:
		add(": left alone it falls below ", w.lowC, " after about "+figure(p.MinutesInRange, 1)+" min. This run takes "+figure(w.totals.Minutes, 0)+
			" min, so pouring it hot once does not keep it in its range of ", w.lowC, " to ", w.highC, ".")
	case leaves:
		add(", so pouring it hot once does not keep it in its range of ", w.lowC, " to ", w.highC, ".")
	default:
		add(": it stays in its range, but between the loads it falls from ", measure.Celsius(p.HighestC), " to ", measure.Celsius(p.LowestC), ", and one fixed time would not serve.")
	}
	if w.HeaterW > 0 {
		add(" The heater of " + num(w.HeaterW) + " W slows that down.")
	}
	add(" A hot plate that supplies about " + figure(p.HoldingWattsOpen, 0) + " W would hold it (" + figure(p.HoldingWattsLid, 0) +
		" W under a lid); losses are right to about a fifth, so trust the thermometer.")
	w.warn("cannot-hold", parts...)
}
