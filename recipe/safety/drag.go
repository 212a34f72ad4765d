package safety

import (
	"fmt"

	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// drag is the acid that comes along on the pieces into the sulfide bath.
type drag struct {
	from, to    vessel
	acid        agent
	rinses      int
	alkali      bool // an alkaline bath stands between
	held        bool // hollow or porous pieces: no rinse reaches it
	areaDM2     float64
	areaGiven   bool
	liquid      measure.Liters
	unrinsed    float64 // g of hydrogen sulfide, at most
	rinsed      float64
	estimates   []gas.Estimate
	acidAssumed bool
}

// pickleGramsL is the strength taken for an acid whose strength is not given: 100 g/L of
// bisulfate, the usual pickle. Common practice, no published source.
const pickleGramsL = 100.0

// dragIn reckons the acid that reaches the sulfide bath: by area, drag-out and rinses
// in fresh water, all pieces at once. Nil where no acid comes before a sulfide.
func (w work) dragIn(a air, note func(name string, value float64, unit string, assumed bool, what string)) *drag {
	d := w.lastAcid()
	if d == nil || len(a.sulfides) == 0 {
		return nil
	}
	d.areaDM2, d.areaGiven = w.MetalArea.SquareDM(), w.MetalArea > 0
	if !d.areaGiven {
		d.areaDM2 = 1
	}
	drain, assumed := measure.MillilitersPerSquareM(w.DragOutMLM2), false
	if !(drain > 0) {
		drain, assumed = rinse.Poor, true
	}
	note("metal area", d.areaDM2, "dm2", !d.areaGiven, "one square decimetre, for scale")
	note("liquid on the pieces", float64(drain), "mL/m2", assumed, "hung, poorly drained; "+rinse.Source)
	substance, form, strength := d.strength()
	d.liquid = rinse.Carried(d.areaDM2, drain)
	freed := func(clings measure.GramsPerLiter) float64 {
		g, err := rinse.GasFreed(substance, form, rinse.AcidCarried(d.areaDM2, drain, clings))
		if err != nil {
			return 0
		}
		return float64(g)
	}
	d.unrinsed = freed(strength)
	d.unrinsed = min(d.unrinsed, float64(a.bath.FreeG)) // no more than the bath holds
	d.rinsed = d.unrinsed
	if d.held = w.traps(); !d.held && d.rinses > 0 {
		tub, _ := w.liters()
		if row, err := rinse.NewRow(tub, min(d.rinses, rinse.MostTubs)); err == nil {
			d.rinsed = min(freed(row.Dip(strength, d.liquid)), d.unrinsed)
		}
	}
	mol := func(g float64) float64 { return g / gas.H2SMass }
	unrinsed := a.bath.Acid("drag-in-unrinsed", "acid of "+d.from.String()+" dragged in, unrinsed", mol(d.unrinsed), a.room, a.lowest.Value)
	d.estimates = append(d.estimates, unrinsed)
	if d.rinses > 0 && !d.held {
		d.estimates = append(d.estimates, a.bath.Acid("drag-in-rinsed", fmt.Sprintf("the same after %d rinses in fresh water", d.rinses), mol(d.rinsed), a.room, a.lowest.Value))
	}
	return d
}

// lastAcid finds the last acid vessel before the first sulfide one and what lies between.
func (w work) lastAcid() *drag {
	var d *drag
	for _, v := range w.vessels {
		if d != nil && v.has(agent.sulfide) {
			if d.from.at == v.at {
				return nil // in one vessel: that is stopped for itself
			}
			d.to = v
			return d
		}
		for _, a := range v.agents {
			if a.sour() {
				d = &drag{from: v, acid: a}
			}
		}
		if d != nil && d.from.at != v.at {
			d.rinses += v.rinses + v.washes()
			d.alkali = d.alkali || v.has(agent.alkaline)
		}
	}
	return nil
}

// strength gives the acid as a substance that can be counted, and g/L of it.
func (d *drag) strength() (reagent.Substance, reagent.Form, measure.GramsPerLiter) {
	if s := d.acid.sub; s.AcidEquivalents > 0 && d.acid.gPerL > 0 {
		if f := d.acid.jar; f.MolarMass > 0 && f.MassPercent > 0 {
			return s, f, measure.GramsPerLiter(d.acid.gPerL)
		}
	}
	d.acidAssumed = true
	s, err := reagent.Find("sodium-bisulfate")
	if err != nil || len(s.Forms) == 0 {
		return reagent.Substance{}, reagent.Form{}, 0
	}
	return s, s.Forms[0], pickleGramsL
}
