package bath

import (
	"slices"

	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// loads plans the run in time.
func (o *Order) loads(s *Sheet) error {
	run := o.run(s)
	first, err := plan.FirstLoad(run)
	if err != nil {
		return err
	}
	// The water is mixed so that the first load does not pull the bath below the
	// recipe's temperature: it starts that much warmer.
	if cold := o.heatJPerK(first); cold > 0 && !o.Held {
		capacity := heat.Capacity(run.Volume, run.Water.At) + run.VesselHeatJPerK
		run.Start = min(run.Water.At+measure.Celsius(cold/capacity)*(run.Water.At-o.Shop.Ambient), max(run.Water.To, run.Water.At), 100)
	}
	p, err := plan.Make(run)
	if err != nil {
		return err
	}
	s.Loads, s.Events, s.Match = p.Loads, p.Events, &p.Match
	s.Run = &p.Summary
	s.Warnings, s.Assumptions = append(s.Warnings, p.Warnings...), append(s.Assumptions, p.Assumptions...)
	s.Working = append(s.Working, p.Working...)
	if most := p.Capacity.Pieces; o.PerLoad > most && o.count() > most {
		s.warn("per-load", "Loads of ", o.PerLoad, " were asked for, but ", limitText(p.Capacity.By), ": the loads are cut to ", most, ".")
	}
	if o.Explain > len(p.Loads) {
		return fault.Usagef("load %d of %d", o.Explain, len(p.Loads)).At("--explain").Try("give a load from 1 to %d", len(p.Loads))
	}
	if limit, spread := o.Shop.MatchPercent, p.Match.PlannedSpreadPercent; spread > limit {
		s.warn("match", "The pieces will not match: even with each load its own time they spread by ", measure.Figures(spread, 2), " %, more than the ", num(limit),
			" % that will do. See what would help.")
	}
	if limit := o.Shop.MatchPercent; p.Match.PlannedSpreadPercent > limit && len(p.Loads) <= MostHelped {
		s.Help = plan.Help(run, limit)
	}
	return nil
}

// heatJPerK is the heat capacity of the metal of a load, in J/K.
func (o *Order) heatJPerK(load []plan.Part) float64 {
	lots, sum := o.lots(), 0.0
	for _, part := range load {
		sum += float64(part.Pieces) * float64(lots[part.Lot].MassG) * lots[part.Lot].SpecificHeat
	}
	return sum
}

// MostHelped is the largest run for which the levers are tried: each try plans
// the whole run again.
const MostHelped = 2000

// limitText says what keeps a load from being larger.
func limitText(by string) string {
	switch by {
	case "area":
		return "this bath takes no more metal at once"
	case "floor":
		return "no more pieces lie or hang in the vessel without touching"
	case "rack":
		return "the rack holds no more"
	case "hands":
		return "hands do not place and take more within the time of the dip (--basket brings all in and out as one)"
	}
	return "the loads are filled evenly"
}

// run describes the order to the plan.
func (o *Order) run(s *Sheet) plan.Run {
	r, shop := o.Recipe, o.Shop
	run := plan.Run{
		Lots: o.lots(), Group: o.Group, MaxLoad: r.Bath.MaxLoad, PerLoad: o.PerLoad,
		Volume: measure.Liters(s.Bath.VolumeL),
		Basket: o.Basket || shop.Basket, RackPieces: o.Rack, Hands: shop.Hands,
		Water: r.Bath.Water, Reagents: o.reagents,
		Drain: shop.Drain, Air: heat.Air{Ambient: shop.Ambient, HumidityPercent: shop.HumidityPercent},
		Held: o.Held, Lid: o.Lid, HeaterW: o.HeaterW, Rinse: o.rinseRow(s), Explain: o.Explain,
	}
	if o.Kettle > 0 {
		run.Kettle = plan.Kettle{At: shop.HotWater, Most: o.Kettle}
	}
	if r.Dip != nil {
		run.Dip = r.Dip.Time
	}
	if v := o.Vessel; v != nil {
		run.Vessel = plan.Vessel{LengthMM: v.Length, WidthMM: v.Width, DiameterMM: v.Diameter, HeightMM: v.Height}
		run.VesselHeatJPerK = v.WallCM2() * WallGramsPerCM2 * GlassHeat
	}
	if o.Piece.Alloy.Family != "silver" {
		run.Film = kinetics.CopperFilm
	}
	switch {
	case r.Kind == recipe.Pickle || r.Kind == recipe.Stop:
		// Helpers do their work to an end: no film to match, no time to correct.
		run.Rate = kinetics.Rate{Source: "a helper bath is not timed by a film"}
	case !o.reagents[0].Substance.In(reagent.Sulfide):
		run.Rate = kinetics.Assumed()
		run.Rate.Source = "assumed as for silver in polysulfide; nothing published for this bath"
	}
	if o.PerLoad > 0 {
		// Whoever says how many go in says that hands can do it; the match still
		// counts their pace.
		run.Hands.Tolerance = 1
	}
	return run
}

// lots describes the kinds of piece to the plan.
func (o *Order) lots() []plan.Lot {
	var lots []plan.Lot
	for _, k := range o.kinds() {
		p := k.Piece
		lots = append(lots, plan.Lot{Name: k.Name, Pieces: k.Count(), AreaCM2: p.Area, MassG: p.Mass, SpecificHeat: p.Alloy.SpecificHeat, ExtentMM: p.Extent})
	}
	return lots
}

// rinseRow is the row of static tubs right behind the dip.
func (o *Order) rinseRow(s *Sheet) plan.Rinse {
	steps := o.Recipe.Steps
	at := slices.IndexFunc(steps, func(step recipe.Step) bool { return step.Do == "dip" })
	if at < 0 || at+1 >= len(steps) || steps[at+1].Do != "rinse" || steps[at+1].Running {
		return plan.Rinse{}
	}
	return plan.Rinse{Tubs: max(steps[at+1].Baths, 1), Volume: measure.Liters(s.Bath.VolumeL)}
}

// maxLoadQuiet is the load limit, the default where the recipe gives none.
func (o *Order) maxLoadQuiet() measure.SquareDMPerLiter {
	if m := o.Recipe.Bath.MaxLoad; m > 0 {
		return m
	}
	return plan.DefaultMaxLoad
}
