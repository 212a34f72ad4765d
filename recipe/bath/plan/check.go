package plan

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func finite(low, high float64, figures ...float64) bool {
	for _, x := range figures {
		if !(x >= low && x <= high) {
			return false
		}
	}
	return true
}

// check refuses what cannot be planned.
func (r *Run) check() error {
	if err := r.checkPieces(); err != nil {
		return err
	}
	if !(r.Volume > 0 && r.Volume <= 1000) {
		return fault.Usagef("a bath of %g L", float64(r.Volume)).At("--volume").Try("give a volume above 0 and up to 1000 L")
	}
	if !(r.MaxLoad >= 0 && r.MaxLoad <= 1e4) || r.PerLoad < 0 || r.RackPieces < 0 || !(r.GapMM >= 0 && r.GapMM <= 1000) {
		return fault.Usagef("a load limit below zero").At("--per-load").Try("give limits above zero, or leave them out")
	}
	if err := r.Air.Check(); err != nil {
		return err
	}
	if err := r.Tub.Check(); err != nil {
		return err
	}
	w := r.Water
	if !(w.From >= 0 && w.From <= w.At && w.At <= w.To) {
		return fault.Usagef("a bath from %g to %g C, at %g C", float64(w.From), float64(w.To), float64(w.At)).At("water").Try("give a temperature from 0 to 100 C between its limits")
	}
	if w.At > 100 || r.Start > 100 {
		return fault.Usagef("a bath of %g C would have to be above boiling", float64(max(w.At, r.Start))).At("water").Try("give 100 C at the most; a sulfide bath is never boiled")
	}
	if r.Start < 0 || math.IsNaN(float64(r.Start)) {
		return fault.Usagef("a start at %g C", float64(r.Start)).At("--start").Try("give a temperature from 0 to 100 C")
	}
	d := r.Dip
	if !(d.From >= 0 && d.From <= d.At && d.At <= d.To && d.To <= 30*24*3600) {
		return fault.Usagef("a dip from %g to %g s, at %g s", float64(d.From), float64(d.To), float64(d.At)).At("dip").Try("give a time above zero between its limits")
	}
	if d.At < 0.5 {
		return fault.Usagef("a dip of %g s is shorter than hands can do", float64(d.At)).At("dip").
			Try("take a weaker or a cooler bath, in which the dip is longer")
	}
	if d.At > 24*3600 {
		return fault.Usagef("a dip of more than a day is not planned").At("dip").Try("give a time up to 24 h")
	}
	return r.checkRest()
}

func (r *Run) checkRest() error {
	for _, in := range r.Reagents {
		c := in.Concentration
		if from, at, to := c.From.PerL, c.At.PerL, c.To.PerL; !finite(0, 1e5, from, at, to) || from > at || at > to || !finite(0, 1e5, in.Step) || in.Factor() == 0 {
			return fault.Usagef("a concentration from %s to %s, at %s", c.From, c.To, c.At).At("concentration").Try("give a figure above zero between its limits")
		}
	}
	if !finite(0, 100, r.StartStrength) || !finite(0, 1e6, r.FilmNM) ||
		!finite(0, 1e5, float64(r.Drain), r.HeaterW) || !finite(0, 1e10, float64(r.Life)) || !finite(0, 1e9, r.VesselHeatJPerK) {
		return fault.Usagef("a figure of the bath is below zero or out of all measure").Try("check half-life, film, drag-out, heater and strength")
	}
	if !finite(0, 7*24*60, r.ReheatMinutes, r.ChangeMinutes, float64(r.Between)/60) {
		return fault.Usagef("a time for reheating, changing or handling is below zero or over a week").Try("give minutes from the shop file")
	}
	if !finite(0, 3600, r.Hands.InS, r.Hands.OutS) || !finite(0, 1, r.Hands.Tolerance, r.Hands.Uneven) {
		return fault.Usagef("hands of %g s in and %g s out with a tolerance of %g", r.Hands.InS, r.Hands.OutS, r.Hands.Tolerance).At("hands").
			Try("give seconds per piece above zero, and a tolerance from 0 to 1")
	}
	if !finite(0, 1000, float64(r.Kettle.Most)) || !finite(-20, 100, float64(r.Kettle.At), float64(r.Metal)) {
		return fault.Usagef("topping up with %g L at %g C, or metal at %g C", float64(r.Kettle.Most), float64(r.Kettle.At), float64(r.Metal)).At("--top-up").
			Try("water of a kettle is up to 100 C; a bath that needs more has to be heated")
	}
	v := r.Vessel
	if !finite(0, 1e4, float64(v.LengthMM), float64(v.WidthMM), float64(v.DiameterMM), float64(v.HeightMM)) {
		return fault.Usagef("a vessel with a side below zero or above 10 m").At("--vessel").Try("give the inside of the vessel in mm")
	}
	if k := r.Rinse; k.Tubs < 0 || !finite(0, 1e5, float64(k.Volume), k.LimitPerL) || k.Tubs > 0 && k.Volume == 0 {
		return fault.Usagef("%d rinse tubs of %g L", k.Tubs, float64(k.Volume)).At("rinse").Try("give the water in each tub, above zero")
	}
	return nil
}

func (r *Run) checkPieces() error {
	if len(r.Lots) == 0 || len(r.Lots) > MostLots {
		return fault.Usagef("%d kinds of pieces", len(r.Lots)).At("--kind").Try("give 1 to %d kinds", MostLots)
	}
	if r.Group < 0 || r.Group > MostPieces {
		return fault.Usagef("sets of %d", r.Group).At("--group").Try("give how many pieces stay together, 2 for pairs")
	}
	group := max(r.Group, 1)
	total := 0
	for i, l := range r.Lots {
		name := l.Name
		if name == "" {
			name = "kind " + measure.Plain(float64(i+1))
		}
		if l.Pieces < 1 || l.Pieces > MostPieces || total+l.Pieces > MostPieces {
			return fault.Usagef("%d pieces of %s", l.Pieces, name).At("--pieces").Try("give a whole number from 1, all kinds together up to %d", MostPieces)
		}
		total += l.Pieces
		if l.Pieces%group != 0 {
			return fault.Usagef("%d pieces of %s do not divide into sets of %d", l.Pieces, name, group).At("--group").
				Try("plan %d, or change --group", (l.Pieces/group+1)*group)
		}
		if !(l.AreaCM2 > 0 && l.AreaCM2 <= 1e6) || !finite(0, 1e6, float64(l.MassG)) || !finite(0, 100, l.SpecificHeat) {
			return fault.Usagef("%s has %g cm2, %g g and %g J/(g K)", name, float64(l.AreaCM2), float64(l.MassG), l.SpecificHeat).At("--kind").
				Try("give an area above zero, and a mass and a specific heat that are not below it")
		}
		for _, side := range l.ExtentMM {
			if !(side >= 0 && side <= 1e5) {
				return fault.Usagef("%s has a side of %g mm", name, float64(side)).At("--kind").Try("give sides that are not below zero")
			}
		}
	}
	if r.PerLoad > 0 && r.PerLoad < group {
		return fault.Usagef("sets of %d do not fit loads of %d", group, r.PerLoad).At("--group").
			Try("raise --per-load to %d or more, or lower --group", group)
	}
	return nil
}
