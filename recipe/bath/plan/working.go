package plan

import (
	"fmt"
	"math"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// explain writes down one load from end to end.
func (w *walk) explain(p *Plan, limits []limit) {
	tr := w.traced
	n := tr.load
	l := w.loads[n]
	step := func(name, formula, numbers, result, source string) {
		p.Working = append(p.Working, metal.Step{Name: fmt.Sprintf("load %d: %s", n+1, name), Formula: formula, Numbers: numbers, Result: result, Source: source})
	}
	w.explainLoad(step, limits, l)
	w.explainHeat(step, l, tr)
	w.explainStrength(step, l, tr)
	w.explainTime(step, l, tr)
}

type stepper func(name, formula, numbers, result, source string)

func (w *walk) explainLoad(step stepper, limits []limit, l Load) {
	for _, m := range limits {
		sum := 0.0
		for _, part := range l.ByLot {
			sum += float64(part.Pieces/w.Group) * m.use[part.Lot]
		}
		step("room by "+m.name, "sets in the load x part of the limit that one takes", fmt.Sprintf("%d pieces in sets of %d", l.Pieces, w.Group),
			figure(sum*100, 1)+" % of the limit", w.limitSource(m.name))
	}
}

func (w *walk) limitSource(name string) string {
	switch name {
	case "area":
		return num(float64(w.MaxLoad)) + " dm2/L: recipe"
	case "floor":
		return "laid out in rows with " + num(float64(w.GapMM)) + " mm between: arithmetic"
	case "rack":
		return fmt.Sprintf("a rack of %d: given", w.RackPieces)
	case "hands":
		return fmt.Sprintf("%s s in, %s s out, within %s %% of the dip, all in before the first is due out: shop", num(w.Hands.InS), num(w.Hands.OutS), num(w.Hands.Tolerance*100))
	}
	return "given"
}

func (w *walk) explainHeat(step stepper, l Load, tr trace) {
	if w.Held {
		step("temperature", "held", num(float64(w.Start))+" C by thermostat or hot plate", long(l.TemperatureC)+" C", "given")
		return
	}
	loss := heat.Losses(tr.wet, w.open, w.Air)
	step("heat lost by the open bath", "evaporation + radiation + convection + walls",
		fmt.Sprintf("%s + %s + %s + %s W at %s C", figure(loss.EvaporationW, 1), figure(loss.RadiationW, 1), figure(loss.ConvectionW, 1), figure(loss.WallW, 1), long(tr.wet)),
		figure(loss.TotalW, 1)+" W", "evaporation 0.107 kW/(m2 kPa), emissivity 0.95, 4.7 and 11 W/(m2 K): open-tank heat loss table, good to a fifth")
	step("bath after the cold metal", "(C T + m c Tm) / (C + m c)",
		fmt.Sprintf("C %s J/K at %s C, metal %s J/K at %s C", figure(w.capacity, 0), long(tr.before), figure(tr.chill, 1), num(float64(w.metal()))),
		long(tr.wet)+" C", "energy balance")
	step("temperature at mid-dip", "T - loss x time / C, in small steps", fmt.Sprintf("%s s from the first piece in; about %s C a minute", figure(tr.half, 1),
		figure(heat.CoolingRatePerMinute(tr.wet, w.capacity, w.open, w.Air, w.HeaterW), 2)), long(l.TemperatureC)+" C", "energy balance")
}

func (w *walk) explainStrength(step stepper, l Load, tr trace) {
	if w.Life > 0 {
		step("ageing", "2^(-age / half-life)", fmt.Sprintf("age of the bath %s min, half-life %s min", figure((tr.ageS+tr.half)/60, 1), figure(float64(w.Life)/60, 0)),
			figure(kinetics.Aged(1, measure.Seconds(tr.ageS+tr.half), w.Life), 4), "half-life: recipe, or assumed")
	}
	step("drag-out of the load", "area x liquid that clings / bath", fmt.Sprintf("%s dm2 x %s mL/m2 / %s L", long(tr.areaDM), num(float64(w.Drain)), long(w.Volume)),
		figure(float64(rinse.Carried(tr.areaDM, w.Drain)/w.Volume)*100, 3)+" % of the strength", rinse.Source)
	if w.sulfur > 0 {
		bound := w.Film.SulfurBound(tr.areaDM, w.FilmNM)
		step("sulfur bound as film", "area x film x density x S / molar mass, over the sulfur of the bath",
			fmt.Sprintf("%s dm2 x %s nm of %s: %s mg of %s mg", long(tr.areaDM), num(w.FilmNM), w.Film.Name, figure(float64(bound)*1000, 2), figure(float64(w.sulfur)*1000, 0)),
			figure(w.strengthOf(bound)*100, 3)+" % of the strength", "molar masses; density of the film from memory")
	}
	step("strength at mid-dip", "fresh strength less ageing, drag-out, film and dilution of all loads before",
		fmt.Sprintf("%s before the load, in bath %d", figure(tr.strength, 4), l.Bath), figure(l.Strength, 4), "bookkeeping over the run")
}

func (w *walk) explainTime(step stepper, l Load, tr trace) {
	r := w.Rate
	step("dip time", "t0 (C/C0)^-a exp(Ea/R (1/T - 1/T0))",
		fmt.Sprintf("%s s x %s^-%s x exp(%s kJ/mol / R x (1/%s K - 1/%s K))", long(w.Dip.At), figure(l.Strength, 4), num(r.Order), num(r.EaKJ),
			figure(measure.Celsius(l.TemperatureC).Kelvin(), 2), figure(w.Water.At.Kelvin(), 2)),
		figure(l.NeedS, 2)+" s", r.Source)
	step("band of the dip time", "exp(ln t -+ root(((Ea spread)/R (1/T - 1/T0))^2 + (a spread x ln C)^2))",
		fmt.Sprintf("Ea +- %s kJ/mol, a +- %s", num(r.EaSpreadKJ), num(r.OrderSpread)), figure(l.DipLowS, 1)+" to "+figure(l.DipHighS, 1)+" s", r.Source)
	if w.fixedS > 0 {
		step("whole seconds", "one time for all loads: whole seconds cost more than the drift of this bath", figure(l.NeedS, 2)+" s", fmt.Sprintf("%d s", l.DipS), "plan")
	} else {
		step("whole seconds", "nearest, at least 1", figure(l.NeedS, 2)+" s", fmt.Sprintf("%d s", l.DipS), "plan")
	}
	first, last := tr.ratioFirst, tr.ratioLast
	step("time given over time needed", "given / needed, for the first and the last piece of the load", fmt.Sprintf("%d s; hands differ by %s s from first to last", l.DipS, num(math.Round(w.pace()*float64(w.handledOf(l)-1)*10)/10)),
		figure(first, 3)+" and "+figure(last, 3), "plan")
}

func (w *walk) handledOf(l Load) int {
	if w.Basket || w.RackPieces > 0 {
		return 1
	}
	return l.Pieces
}
