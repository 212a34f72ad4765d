package plan

import (
	"fmt"
	"math"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/measure"
)

// explain writes down one load from end to end: formula, numbers, result, source.
func (w *walk) explain() {
	x := w.traced
	step := func(name, formula, numbers, result, source string) {
		w.Step(fmt.Sprintf("load %d: %s", x.Number, name), formula, numbers, result, source)
	}
	long := func(v float64) string { return measure.Figures(v, 6) }
	loss := heat.Losses(x.wet, w.open, w.Air)
	step("heat lost by the open bath", fmt.Sprintf("%g kW/(m2 kPa) x (1 + %g v) A (p - p room) + %g sigma A (T^4 - T room^4) + (%g A + %g walls) W/(m2 K) x (T - T room)", heat.EvaporationKW, heat.EvaporationByAir, heat.Emissivity, heat.ConvectionW, float64(heat.WallW)),
		fmt.Sprintf("A %s cm2, walls and floor %s cm2, v %s m/s: %s + %s + %s + %s W", num(w.open.SurfaceCM2), num(w.open.WallCM2), num(w.Air.SpeedMS), num(loss.EvaporationW), num(loss.RadiationW), num(loss.ConvectionW), num(loss.WallW)), num(loss.TotalW)+" W",
		"open-tank heat loss table, handbook constants; published correlations differ by a quarter")
	if x.cold > 0 {
		step("metal goes in", "(C_bath T_bath + C_metal T_metal) / (C_bath + C_metal)",
			fmt.Sprintf("(%s J/K x %s C + %s J/K x %s C) / sum", long(w.capacity), long(x.BeforeC), long(x.cold), long(float64(w.MetalIn))), long(float64(x.wet))+" C", "energy balance")
	}
	step("temperature in the middle of the dip", "cooled from the temperature with metal in", long(float64(x.wet))+" C", long(float64(x.mid))+" C", "the losses above")
	lost := "film and drag-out by area"
	if w.Fade > 0 {
		lost = fmt.Sprintf("air takes %s g of pure reagent from each m2 of surface and hour, %s times that while pieces are moved; a hot bath loses 0.5 %% an hour at 75 C by itself; %s", num(w.Fade), num(kinetics.Stirred), lost)
	}
	step("strength", "fresh strength less air, film and drag-out", num(w.Strength)+" when mixed", long(x.Strength), lost)
	if !w.Law.Known() {
		step("dip time", "the recipe's", fmt.Sprintf("%s s", num(w.Dip.At)), fmt.Sprintf("%d s", x.DipS), "recipe; what heat and strength change of it is not known")
		return
	}
	l := w.Law
	step("contact that makes the film", "t0 (C/C0)^-a exp(Ea/R (1/T - 1/T0))",
		fmt.Sprintf("%s s x (%s/%s)^-%s x exp(%s/0.008314 x (1/%s - 1/%s))", long(float64(l.T0)), long(x.Strength), long(l.Strength), num(l.Order), num(l.EaKJ), long(x.mid.Kelvin()), long(l.At.Kelvin())),
		long(x.need)+" s", l.Source)
	step("dip time", "contact less lifting, draining and moving to the rinse", fmt.Sprintf("%s s - %s s", long(x.need), num(Handling)), fmt.Sprintf("%d s", x.DipS), "handling assumed: common practice, no source")
	e, o, h := l.Doubt(x.mid, w.unsure(x.mid), x.Strength)
	low, high := l.Band(x.mid, w.unsure(x.mid), x.Strength)
	step("dip-time range", "contact x low / f - handling to contact x high x f - handling; f = exp(sqrt((dEa/R (1/T - 1/T0))^2 + (da ln(C/C0))^2 + (Ea/R dT/T^2)^2))",
		fmt.Sprintf("%s s, low %s, high %s, dEa %s kJ/mol, da %s, dT %s K: f = exp(sqrt(%s^2 + %s^2 + %s^2))", long(x.need), num(l.Low), num(l.High), num(l.EaSpread), num(l.OrderSpread), num(w.unsure(x.mid)), num(math.Abs(e)), num(math.Abs(o)), num(math.Abs(h))),
		fmt.Sprintf("%s to %s s", long(max(1, float64(low)-Handling)), long(float64(high)-Handling)), "low and high: the recipe's range and the makers' times, whichever is wider, or a reading of this bench; spreads assumed; dT: a quarter of what the bath has cooled")
	step("film on the first and on the last piece", "(dip + handling +/- unevenness) / contact that makes the film there",
		fmt.Sprintf("(%d + %s + %s) / %s, (%d + %s - %s) / %s", x.DipS, num(Handling), num(x.uneven), long(x.needFirst), x.DipS, num(Handling), num(x.uneven), long(x.needLast)),
		fmt.Sprintf("%s to %s of what is wanted", long(x.last), long(x.first)), "unevenness assumed; the verdict takes the least and the most of all loads")
}
