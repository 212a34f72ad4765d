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

// air is what the review estimates of the room, and what that rests on.
type air struct {
	room   gas.Room // filled
	lowest gas.Limit

	sulfides []load
	bath     gas.Bath // zero where there is no sulfide in it

	estimates []gas.Estimate
	grams     []gas.GramsToLimit
	flows     []gas.Flow
	inputs    []gas.Input
}

// load is one sulfide in the bath of the recipe.
type load struct {
	agent agent
	grams float64
	yield float64 // g of gas for each g, at most
	usual float64 // as expected
}

// liters is the volume of the bath, and whether it had to be assumed.
func (w work) liters() (measure.Liters, bool) {
	if w.Bath > 0 {
		return w.Bath, false
	}
	for _, g := range w.Recipe.Bath.Reagents {
		for _, in := range w.Reagents {
			if in.Substance.ID == g.Substance && in.Shown > 0 && in.Factor() > 0 && g.Concentration.At.PerL > 0 {
				return in.Fills(g.Concentration.At), false
			}
		}
	}
	return 1, true
}

// inBath gives the grams of a substance in the bath, as weighed: what the batch holds,
// or else the strongest that the recipe allows.
func (w work) inBath(a agent) float64 {
	if a.grams > 0 {
		return a.grams
	}
	liters, _ := w.liters()
	return min(a.gPerL*float64(liters), 1e9)
}

// inPlan returns the grams in all baths of the plan and in what strengthens them, as
// weighed; never less than in one bath.
func (w work) inPlan(a agent) float64 {
	sum := 0.0
	for _, in := range w.Plan {
		if in.Substance.ID == a.id {
			sum += mass(in)
		}
	}
	return min(max(sum, w.inBath(a)), 1e9)
}

// surface is that of the bath, as given or of a low tub.
func (w work) surface() measure.SquareCM {
	if w.SurfaceCM2 > 0 {
		return measure.SquareCM(w.SurfaceCM2)
	}
	liters, _ := w.liters()
	return measure.SquareCM(liters.Milliliters() / gas.AssumedDepthCM)
}

// trust says how far the widest estimate may be out.
func (a air) trust() string {
	factor := gas.Factor
	for _, e := range a.estimates {
		factor = max(factor, e.Factor)
	}
	return gas.Trust(factor)
}

// loads gives the sulfides of the bath.
func (w work) loads() []load {
	var list []load
	for _, a := range w.bathAgents() {
		if a.sulfide() {
			yield := cmp.Or(a.jar.GasUpper, a.sub.GasGramsPerGram)
			list = append(list, load{a, w.inBath(a), yield, cmp.Or(a.jar.GasExpected, yield)})
		}
	}
	return list
}

// phPerDegree is the pH that a bath loses with each degree above 25 C: a unit up to 75 C,
// as the ion product of water rises. From memory.
const phPerDegree = 1.0 / 50

// phBand is the pH between which a sulfide bath lies that nobody has measured, at its
// temperature: at 25 C 10 to 12, and 8.5 to 10 where ammonium sulfide makes it without
// caustic. From memory.
func (w work) phBand(t measure.Celsius) (from, to float64) {
	from, to = 10, 12
	if w.selfAlkaline() {
		from, to = keepAmmonium, 10
	}
	lost := max(float64(t)-25, 0) * phPerDegree
	return from - lost, to - lost
}

// selfAlkaline tells whether the bath is of ammonium sulfide without caustic.
func (w work) selfAlkaline() bool {
	ammonium, strong := false, false
	for _, a := range w.bathAgents() {
		ammonium = ammonium || a.sulfide() && a.in(reagent.AmmoniumSalt)
		strong = strong || a.in(reagent.Caustic)
	}
	return ammonium && !strong
}

// note adds a figure on which the estimates rest: given, or assumed as what says.
func (a *air) note(name string, value float64, unit string, assumed bool, what string) {
	source := "given"
	if assumed {
		source = "assumed: " + what
	}
	a.inputs = append(a.inputs, gas.In(name, value, unit, source))
}

// limits returns those of a gas, with those of the workshop over them.
func (w work) limits(name string) []gas.Limit {
	list, _ := gas.With(name, w.Limits) // breathe has looked at them
	return list
}

// breathe works out what could be in the air.
func (w work) breathe() (air, error) {
	a := air{sulfides: w.loads(), estimates: []gas.Estimate{}, grams: []gas.GramsToLimit{}, flows: []gas.Flow{}}
	limits, err := gas.With(gas.HydrogenSulfide, w.Limits)
	if err != nil {
		return a, err
	}
	a.lowest, _ = gas.Lowest(limits)
	room, volumeAssumed, airAssumed := w.Room.Filled()
	a.room = room
	size, changes := "a small workshop, for scale", "door and window shut"
	if room.Outdoors {
		size, changes = "outdoors: the air ten metres round the bath", "outdoors: air that moves at 0.5 m/s"
	}
	a.note("room", room.VolumeM3, "m3", volumeAssumed, size)
	a.note("air changes", room.AirChangesPerHour, "1/h", airAssumed, changes)
	a.inputs = append(a.inputs,
		gas.In("mixing factor", gas.MixingFactor, "", "usual choice between 1 and 10, from memory"),
		gas.In("nearest air", gas.NearM3, "m3", "assumed: an arm's reach"))
	if len(a.sulfides) > 0 {
		a.fillBath(w)
		a.estimates = append(a.estimates, a.bath.Scenarios(room, a.lowest.Value)...)
		a.flows = append(a.flows, a.bath.Flows(room, a.lowest)...)
		for _, d := range a.sulfides {
			a.grams = append(a.grams, gas.ToLimit(d.agent.id, d.yield, room, limits)...)
		}
		a.estimates = append(a.estimates, w.dragIn(&a)...)
	}
	a.estimates = append(a.estimates, w.otherGases(room)...)
	return a, nil
}

// fillBath describes the sulfide bath to package gas.
func (a *air) fillBath(w work) {
	liters, assumed := w.liters()
	b := gas.Bath{Volume: liters, Temperature: w.BathC, PH: w.PH, Surface: w.surface(), Lid: w.Lid}
	for _, d := range a.sulfides {
		b.FreeG += measure.Grams(min(d.grams*d.yield, 1e9))
		b.PlanFreeG += measure.Grams(min(w.inPlan(d.agent)*d.yield, 1e9))
		b.ExpectedG += measure.Grams(min(d.grams*d.usual, 1e9))
	}
	a.note("bath", float64(liters), "L", assumed, "one liter, for scale")
	source := "given"
	if b.Temperature == 0 {
		b.Temperature, source = w.Recipe.Bath.Water.At, "the recipe"
	}
	a.inputs = append(a.inputs, gas.In("bath temperature", float64(b.Temperature), "C", source))
	if b.PHFrom, b.PHTo = w.phBand(b.Temperature); b.PH > 0 {
		a.note("pH at that temperature", b.PH, "", false, "")
	} else {
		a.note("pH at that temperature, from", b.PHFrom, "", true, "usual for such a bath, not measured; heat takes a unit from 25 to 75 C")
		a.note("pH at that temperature, to", b.PHTo, "", true, "usual for such a bath, not measured")
	}
	a.note("surface", float64(b.Surface), "cm2", !(w.SurfaceCM2 > 0), "a low tub, 5 cm deep")
	a.inputs = append(a.inputs,
		gas.In("hydrogen sulfide in the bath, at most", float64(b.FreeG), "g", "yield of pure substance, atomic weights"),
		gas.In("hydrogen sulfide in the bath, expected", float64(b.ExpectedG), "g", "yield of the common product, see the list of substances"),
		gas.In("speed through the surface", gas.Transfer, "m/s", "from memory, right within a factor of five"),
		gas.In("share as hydrogen sulfide", gas.PK1(b.Temperature), "pK1", "Millero 1988"),
		gas.In("solubility of hydrogen sulfide", gas.Henry(b.Temperature), "mol/(m3 Pa)", "Sander 2023"))
	a.bath = b
}

// listed returns the limits of every gas among the estimates.
func (w work) listed(estimates []gas.Estimate) []gas.Limit {
	list := []gas.Limit{}
	for i, e := range estimates {
		if !slices.ContainsFunc(estimates[:i], func(other gas.Estimate) bool { return other.Gas == e.Gas }) {
			list = append(list, w.limits(e.Gas)...)
		}
	}
	return list
}

// pickleGramsL is the strength taken for an acid whose strength is not given: 100 g/L of
// bisulfate, the usual pickle. Common practice, no published source.
const pickleGramsL = 100.0

// dragIn estimates the gas from acid that comes along on the pieces into the sulfide bath:
// by area, drag-out and rinses in fresh water, all pieces at once. None where no acid
// comes before a sulfide.
func (w work) dragIn(a *air) (list []gas.Estimate) {
	acid, from, rinses, found := w.lastAcid()
	if !found {
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
	a.note("metal area", area, "dm2", areaAssumed, "one square decimetre, for scale")
	a.note("liquid on the pieces", float64(drain), "mL/m2", drainAssumed, "hung, poorly drained; "+rinse.Source)
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
	if a.sub.AcidEquivalents > 0 && a.gPerL > 0 && reagent.MolarMass(a.jar.Formula) > 0 && a.jar.MassPercent > 0 {
		return a.sub, a.jar, measure.GramsPerLiter(a.gPerL)
	}
	s, _ := reagent.Find("sodium-bisulfate") // a test holds that it is in the table
	return s, s.Forms[0], pickleGramsL
}
