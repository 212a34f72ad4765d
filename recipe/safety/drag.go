package safety

import (
	"fmt"

	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// pickleGramsL is the strength taken for an acid whose strength is not given: 100 g/L of
// bisulfate, the usual pickle. Common practice, no published source.
const pickleGramsL = 100.0

// dragIn estimates the gas from acid that comes along on the pieces into the sulfide bath:
// by area, drag-out and rinses in fresh water, all pieces at once. None where no acid
// comes before a sulfide.
func (w work) dragIn(a air, note func(name string, value float64, unit string, assumed bool, what string)) (list []gas.Estimate) {
	acid, from, rinses, found := w.lastAcid()
	if !found || len(a.sulfides) == 0 {
		return nil
	}
	area, drain := w.MetalArea.SquareDM(), measure.MillilitersPerSquareM(w.DragOutMLM2)
	areaAssumed, drainAssumed := !(area > 0), !(drain > 0)
	if areaAssumed {
		area = 1
	}
	if drainAssumed {
		drain = rinse.Poor
	}
	note("metal area", area, "dm2", areaAssumed, "one square decimetre, for scale")
	note("liquid on the pieces", float64(drain), "mL/m2", drainAssumed, "hung, poorly drained; "+rinse.Source)
	substance, form, strength := acid.strength()
	add := func(code, scenario string, clings measure.GramsPerLiter) {
		g, err := rinse.GasFreed(substance, form, rinse.AcidCarried(area, drain, clings))
		if err != nil {
			g = 0
		}
		list = append(list, a.bath.Acid(code, scenario, float64(min(g, a.bath.FreeG))/gas.H2SMass, a.room, a.lowest.Value)) // no more than the bath holds
	}
	add("drag-in-unrinsed", "acid of "+from.String()+" dragged in, unrinsed", strength)
	if rinses == 0 || w.traps() { // hollow or porous pieces: no rinse reaches what they hold
		return list
	}
	tub, _ := w.liters()
	if row, err := rinse.NewRow(tub, min(rinses, rinse.MostTubs)); err == nil {
		add("drag-in-rinsed", fmt.Sprintf("the same after %d rinses in fresh water", rinses), row.Dip(strength, rinse.Carried(area, drain)))
	}
	return list
}

// lastAcid finds the last acid before the first sulfide that comes behind one, and the
// rinses between. Both in one vessel are stopped for themselves.
func (w work) lastAcid() (acid agent, from vessel, rinses int, found bool) {
	for _, v := range w.vessels {
		if found && v.has(agent.sulfide) {
			return acid, from, rinses, from.at != v.at
		}
		for _, a := range v.agents {
			if a.sour() {
				acid, from, rinses, found = a, v, 0, true
			}
		}
		if found && from.at != v.at {
			rinses += v.rinses + v.washes()
		}
	}
	return acid, from, 0, false
}

// strength returns an acid as a substance that can be counted, and g/L of it.
func (a agent) strength() (reagent.Substance, reagent.Form, measure.GramsPerLiter) {
	if a.sub.AcidEquivalents > 0 && a.gPerL > 0 && a.jar.MolarMass > 0 && a.jar.MassPercent > 0 {
		return a.sub, a.jar, measure.GramsPerLiter(a.gPerL)
	}
	s, err := reagent.Find("sodium-bisulfate")
	if err != nil || len(s.Forms) == 0 {
		return reagent.Substance{}, reagent.Form{}, 0
	}
	return s, s.Forms[0], pickleGramsL
}
