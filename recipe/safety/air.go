package safety

import (
	"cmp"
	"fmt"
	"slices"

	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

type air struct {
	work
	*Review
	room   gas.Room // filled
	bath   gas.Bath // filled; without gas where there is no sulfide in it
	lowest gas.Limit
}

// breathe adds what could be in the air to the review, with the figures that it rests on.
func (w work) breathe(r *Review) error {
	limits, err := gas.With(gas.HydrogenSulfide, w.Limits) // looks at those of the other gases too
	if err != nil {
		return err
	}
	lowest, _ := gas.Lowest(limits)
	a := air{w, r, w.Room.Filled(), gas.Bath{}, lowest}
	size, changes := "a small workshop, for scale", "door and window shut"
	if a.room.Outdoors {
		size, changes = "outdoors: the air ten metres round the bath", "outdoors: air that moves at 0.5 m/s"
	}
	a.note("room", a.room.VolumeM3, "m3", a.room.Outdoors || !(w.Room.VolumeM3 > 0), "assumed: "+size)
	a.note("air changes", a.room.AirChangesPerHour, "1/h", a.room.Outdoors || !(w.Room.AirChangesPerHour > 0), "assumed: "+changes)
	a.note("mixing factor", gas.MixingFactor, "", true, "usual choice between 1 and 10, from memory")
	a.note("nearest air", gas.NearM3, "m3", true, "assumed: an arm's reach")
	a.fillBath(limits)
	if w.bathHas(sulfide) {
		a.noteBath()
		r.Gas = append(r.Gas, a.bath.Scenarios(a.room, lowest.Value)...)
		if r.Airflow = append(r.Airflow, a.bath.Flows(a.room, lowest)...); len(r.Airflow) > 0 {
			r.AirflowM3H = &r.Airflow[0].M3H
		}
		a.dragIn()
	}
	a.ammonia()
	a.nitrous()
	a.freedByAcid()
	factor := gas.Factor
	for i, e := range r.Gas {
		factor = max(factor, e.Factor)
		if !slices.ContainsFunc(r.Gas[:i], func(other gas.Estimate) bool { return other.Gas == e.Gas }) {
			of, _ := gas.With(e.Gas, w.Limits)
			r.Limits = append(r.Limits, of...)
		}
	}
	r.Note = gas.Trust(factor)
	return nil
}

// note adds a figure on which the estimates rest: given, or from elsewhere.
func (a air) note(name string, value float64, unit string, elsewhere bool, source string) {
	if !elsewhere {
		source = "given"
	}
	a.Inputs = append(a.Inputs, gas.In(name, value, unit, source))
}

// liters is the volume of the bath, and whether it had to be assumed.
func (w work) liters() (measure.Liters, bool) {
	if w.Bath > 0 {
		return w.Bath, false
	}
	for _, g := range w.Recipe.Bath.Reagents {
		for _, in := range w.Reagents {
			if in.Substance.ID == g.Substance && in.Shown > 0 && in.Factor > 0 && g.Concentration.At.PerL > 0 {
				return in.Fills(g.Concentration.At), false
			}
		}
	}
	return 1, true
}

// inBath returns the grams of a substance in the bath, as weighed: of the batch, or else at
// most.
func (w work) inBath(a agent) float64 {
	if a.grams > 0 {
		return a.grams
	}
	liters, _ := w.liters()
	return min(a.gPerL*float64(liters), 1e9)
}

// inPlan returns the grams in all baths of the plan and what strengthens them, or of one bath.
func (w work) inPlan(a agent) float64 {
	sum := 0.0
	for _, in := range w.Plan {
		if in.Substance.ID == a.id {
			sum += mass(in)
		}
	}
	return min(max(sum, w.inBath(a)), 1e9)
}

// phPerDegree is the pH that a bath loses with each degree above 25 C: a unit up to 75 C, as
// the ion product of water rises. From memory.
const phPerDegree = 1.0 / 50

// selfAlkaline tells whether the bath is of ammonium sulfide without caustic.
func (w work) selfAlkaline() bool {
	return w.bathHas(ammoniumSulfide) && !w.bathHas(of(reagent.Caustic))
}

// fillBath describes the bath to package gas, and says how little of its sulfides it takes.
// Not measured, the pH of a sulfide bath lies at 25 C between 10 and 12, and between 8.5 and
// 10 where ammonium sulfide makes it without caustic. From memory.
func (a *air) fillBath(limits []gas.Limit) {
	liters, _ := a.liters()
	b := gas.Bath{Volume: liters, Temperature: cmp.Or(a.BathC, a.Recipe.Bath.Water.At), PH: a.PH, PHFrom: 10, PHTo: 12, Surface: measure.SquareCM(a.SurfaceCM2), Lid: a.Lid}
	if a.selfAlkaline() {
		b.PHFrom, b.PHTo = keepAmmonium, 10
	}
	lost := max(float64(b.Temperature)-25, 0) * phPerDegree
	b.PHFrom, b.PHTo = b.PHFrom-lost, b.PHTo-lost
	for _, s := range a.bathAgents() {
		if sulfide(s) {
			yield := cmp.Or(s.jar.GasUpper, s.sub.GasGramsPerGram)
			b.FreeG += measure.Grams(a.inBath(s) * yield)
			b.PlanFreeG += measure.Grams(a.inPlan(s) * yield)
			b.ExpectedG += measure.Grams(a.inBath(s) * cmp.Or(s.jar.GasExpected, yield))
			a.GramsToLimit = append(a.GramsToLimit, gas.ToLimit(s.id, yield, a.room, limits)...)
		}
	}
	a.bath = b.Filled()
}

// noteBath adds the figures on which the estimates of a sulfide bath rest.
func (a *air) noteBath() {
	b := a.bath
	_, assumed := a.liters()
	a.note("bath", float64(b.Volume), "L", assumed, "assumed: one liter, for scale")
	a.note("bath temperature", float64(b.Temperature), "C", a.BathC == 0, "the recipe")
	if b.PH > 0 {
		a.note("pH at that temperature", b.PH, "", false, "")
	} else {
		a.note("pH at that temperature, from", b.PHFrom, "", true, "assumed: usual for such a bath, not measured; heat takes a unit from 25 to 75 C")
		a.note("pH at that temperature, to", b.PHTo, "", true, "assumed: usual for such a bath, not measured")
	}
	a.note("surface", float64(b.Surface), "cm2", !(a.SurfaceCM2 > 0), "assumed: a low tub, 5 cm deep")
	a.note("hydrogen sulfide in the bath, at most", float64(b.FreeG), "g", true, "yield of pure substance, atomic weights")
	a.note("hydrogen sulfide in the bath, expected", float64(b.ExpectedG), "g", true, "yield of the common product, see the list of substances")
	a.note("speed through the surface", gas.Transfer, "m/s", true, "from memory, right within a factor of five")
	a.note("share as hydrogen sulfide", gas.PK1(b.Temperature), "pK1", true, "Millero 1988")
	a.note("solubility of hydrogen sulfide", gas.Henry(b.Temperature), "mol/(m3 Pa)", true, "Sander 2023")
}

// dragIn estimates the gas from acid that the pieces drag into the sulfide bath: by area,
// drag-out and rinses in fresh water, all pieces at once.
func (a *air) dragIn() {
	acid, from, rinses, found := a.lastAcid()
	if !found {
		return
	}
	area, drain := cmp.Or(a.MetalArea.SquareDM(), 1), cmp.Or(measure.MillilitersPerSquareM(a.DragOutMLM2), rinse.Poor)
	a.note("metal area", area, "dm2", a.MetalArea == 0, "assumed: one square decimetre, for scale")
	a.note("liquid on the pieces", float64(drain), "mL/m2", a.DragOutMLM2 == 0, "assumed: hung, poorly drained; "+rinse.Source)
	substance, form, strength := acid.strength()
	add := func(code, scenario string, clings measure.GramsPerLiter) {
		g, _ := rinse.GasFreed(substance, form, measure.Grams(float64(clings)*float64(rinse.Carried(area, drain))))
		a.Gas = append(a.Gas, a.bath.Acid(code, scenario, float64(min(g, a.bath.FreeG))/gas.H2SMass, a.room, a.lowest.Value)) // no more than the bath holds
	}
	add("drag-in-unrinsed", "acid of "+from.String()+" dragged in, unrinsed", strength)
	if rinses == 0 || a.traps() { // hollow or porous pieces: no rinse reaches what they hold
		return
	}
	tub, _ := a.liters()
	row := rinse.Row{Volume: tub, Tubs: rinses}
	add("drag-in-rinsed", fmt.Sprintf("the same after %d rinses in fresh water", rinses), row.Dip(strength, rinse.Carried(area, drain)))
}

// lastAcid finds the last acid before the first sulfide that comes behind one, and the rinses
// between. Both in one vessel are stopped for themselves.
func (w work) lastAcid() (acid agent, from vessel, rinses int, found bool) {
	for _, v := range w.vessels {
		if found && v.has(sulfide) {
			return acid, from, rinses, from.at != v.at
		}
		for _, a := range v.agents {
			if sour(a) {
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
	if a.sub.AcidEquivalents > 0 && a.gPerL > 0 && reagent.MolarMass(a.jar.Formula) > 0 && a.jar.MassPercent > 0 {
		return a.sub, a.jar, measure.GramsPerLiter(a.gPerL)
	}
	// The usual pickle, 100 g/L of bisulfate: common practice, no published source.
	s, _ := reagent.Find("sodium-bisulfate") // a test holds that it is in the table
	return s, s.Forms[0], 100
}

// What comes off by stoichiometry, in g of gas for each g, at most. IUPAC 2021 atomic weights.
const (
	no2PerCopper  = 2 * 46.005 / 63.546 // Cu + 4 HNO3 -> 2 NO2, strong acid: 1.45
	no2PerSilver  = 46.005 / 107.8682   // Ag + 2 HNO3 -> NO2: 0.43
	nh3PerSulfide = 2 * 17.031 / 68.138 // (NH4)2S: 0.50
	chloraminePer = 51.473 / 74.4388    // NaOCl + NH3 -> NH2Cl, each g of NaOCl: 0.69
	chlorinePer   = 70.90 / 74.4388     // NaOCl + 2 HCl -> Cl2, each g of NaOCl: 0.95
	no2PerNitrate = 46.005 / 62.004     // each g of nitrate ion, the most a nitrate can give: 0.74
	so2PerHypo    = 64.058 / 248.1715   // Na2S2O3.5H2O with acid: 0.26
	copperBound   = 4                   // mol of ammonia that a mol of copper binds; general chemistry, from memory
	bleachSpillG  = 100.0               // g of bleach taken for scale where no amount is known; assumed
)

// loss adds a gas that is in the air at once: grams of it, with its molar mass in g/mol.
func (a air) loss(name, code, scenario string, grams, molar float64) {
	if grams > 0 {
		limits, _ := gas.With(name, a.Subject.Limits)
		low, _ := gas.Lowest(limits)
		a.Gas = append(a.Gas, gas.Loss(name, code, scenario, measure.Grams(grams), molar, a.room, low.Value))
	}
}

func (a air) freedByAcid() {
	bleach, hypo, scale := 0.0, 0.0, ""
	for _, s := range a.agents {
		switch grams := a.inPlan(s); {
		case s.in(reagent.Hypochlorite):
			if !(grams > 0) {
				grams, scale = bleachSpillG, ", 100 g of it for scale"
			}
			bleach += grams * s.percent()
		case s.in(reagent.Thiosulfate):
			hypo += grams * max(s.jar.GasUpper, so2PerHypo*s.percent())
		}
	}
	a.loss(gas.Chlorine, "bleach-acid", "acid on the bleach"+scale+", at most", bleach*chlorinePer, gas.Cl2Mass)
	if a.any(of(reagent.Ammonia, reagent.AmmoniumSalt)) {
		a.loss(gas.Chloramine, "bleach-ammonia", "ammonia on the bleach"+scale+", which must not happen at all", bleach*chloraminePer, gas.ChloramineMass)
	}
	a.loss(gas.SulfurDioxide, "thiosulfate-acid", "acid on all the thiosulfate of the work, at most", hypo, gas.SO2Mass)
}

// percent is the solute in a form, from 0 to 1; 1 where it is not known.
func (a agent) percent() float64 { return cmp.Or(a.jar.MassPercent, 100) / 100 }

// nitrogenAs returns the g of a gas with one nitrogen, molar in g/mol, that the nitrogen in a
// g of the pure form makes, and otherwise where no formula is known.
func (a agent) nitrogenAs(molar, otherwise float64) float64 {
	return cmp.Or(reagent.MassFraction(a.jar.Formula, "N")*molar/14.007, otherwise)
}

// ammonia estimates the bath as it is used, then all that the baths of the plan could lose by
// themselves, and what their salts hold until an alkali from elsewhere frees it.
func (a air) ammonia() {
	var high, complexed, free, held float64
	alkali := a.bathHas(alkaline)
	for _, s := range a.bathAgents() {
		nh3 := s.percent() * s.nitrogenAs(gas.NH3Mass, nh3PerSulfide)
		switch salt := s.in(reagent.AmmoniumSalt); {
		case ammoniacal(s):
			high += a.inBath(s) * nh3
			free += a.inPlan(s) * nh3
		case salt && alkali:
			free += a.inPlan(s) * nh3
		case salt:
			held += a.inPlan(s) * nh3
		}
		if s.in(reagent.CopperSalt) && !ammoniacal(s) {
			complexed += a.inBath(s) * s.percent() * reagent.MassFraction(s.jar.Formula, "Cu") / 63.546 * copperBound * gas.NH3Mass
		}
	}
	if e, ok := a.bath.Ammonia(measure.Grams(max(high-complexed, high/20)), measure.Grams(high), a.room); ok {
		a.Gas = append(a.Gas, e)
	}
	a.loss(gas.Ammonia, "ammonia-all", "all the ammonia of the plan's baths driven off, at most", free, gas.NH3Mass)
	a.loss(gas.Ammonia, "ammonia-alkali", "only with soda, caustic or another alkali in the bath: all the ammonia of its ammonium salts driven off, at most", held, gas.NH3Mass)
}

// nitrous estimates nitrogen dioxide from nitric acid on the metal, and from nitrates on hot
// metal, by the gram: nobody roasts a whole bath.
func (a air) nitrous() {
	if a.any(of(reagent.OxidizingAcid)) {
		a.loss(gas.NitrogenDioxide, "nitric-copper-1-g", "one gram of copper dissolved by strong nitric acid", no2PerCopper, gas.NO2Mass)
		if slices.Contains(families(a.Recipe, a.Alloy), "silver") {
			a.loss(gas.NitrogenDioxide, "nitric-silver-1-g", "one gram of silver dissolved by nitric acid", no2PerSilver, gas.NO2Mass)
		}
	}
	for _, s := range a.agents {
		if nitrate(s) && !s.in(reagent.SilverSalt) {
			a.loss(gas.NitrogenDioxide, s.id+"-hot-1-g", "one gram of "+s.name+" on metal hot from a torch", s.nitrogenAs(gas.NO2Mass, no2PerNitrate), gas.NO2Mass)
		}
	}
}
