package plan

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/measure"
)

// bench goes through a plan in steps of a fifth of a second and reckons what film each
// piece gets. It shares no code with the plan: losses, law, fading and film are written
// out again, with the saturation pressure from another formula (Antoine).
type bench struct {
	run              Run
	openM2, wallM2   float64
	heatJ            float64 // J/K
	between          float64 // s
	t, strength      float64
	start            float64 // C
	clock            float64 // s
	least, most      float64
	farthestS        float64 // by which the clock differs from the plan's
	farthestK        float64 // by which the temperature in the middle of a dip does
	farthestStrength float64
}

const tick = 0.2 // s

func ticks(seconds float64) int { return int(math.Round(seconds / tick)) }

func kPa(c float64) float64 { return math.Pow(10, 8.07131-1730.63/(233.426+c)) * 0.133322 }

func (b *bench) loss(lid bool) float64 {
	room, wind := float64(b.run.Air.Ambient), 1+0.0782/0.089*b.run.Air.SpeedMS
	vapour := 107 * b.openM2 * wind * max(0, kPa(b.t)-b.run.Air.HumidityPercent/100*kPa(room)) // W
	if lid {
		return vapour/wind*0.35 + 11*(b.wallM2+b.openM2)*(b.t-room)
	}
	hot, cold := math.Pow(b.t+273.15, 4), math.Pow(room+273.15, 4)
	return vapour + b.openM2*(0.95*5.670374e-8*(hot-cold)+4.7*(b.t-room)) + 11*b.wallM2*(b.t-room)
}

// pass lets the bath stand for a tick.
func (b *bench) pass(lid, moved bool) {
	watts := 0.0
	if k := b.run.Heat.Kind; (k == Plate || k == Thermostat) && b.t < b.start {
		watts = b.run.Heat.Watts
	}
	b.t = b.t + (watts-b.loss(lid))*tick/b.heatJ
	if watts > 0 {
		b.t = min(b.t, b.start)
	}
	b.strength -= b.fade(moved) * tick
	b.clock += tick
}

func (b *bench) fade(moved bool) float64 {
	if b.run.Fade == 0 {
		return 0
	}
	air := b.run.Fade * b.openM2 / b.run.Reagent
	if moved {
		air *= 2.5
	}
	return (air + 0.005*math.Exp(104000/8.314*(1/348.15-1/(b.t+273.15)))) / 3600
}

// rate is the film that grows in a second, of the film wanted.
func (b *bench) rate() float64 {
	l := b.run.Law
	return math.Pow(b.strength/l.Strength, l.Order) * math.Exp(-l.EaKJ*1000/8.314*(1/(b.t+273.15)-1/(float64(l.At)+273.15))) / float64(l.T0)
}

// load takes a load through the bath. Pieces by hand go in one after the other and come
// out so; the hurried one gets less, the dawdled one more.
func (b *bench) load(l Load) {
	area, mass := 0.0, 0.0 // dm2, J/K
	for _, p := range l.parts() {
		lot := b.run.Kinds[p.Lot]
		area += float64(p.Pieces) * float64(lot.Piece.Area) / 100
		mass += float64(p.Pieces) * float64(lot.Piece.Mass) * lot.Piece.Alloy.SpecificHeat
	}
	b.farthestS = max(b.farthestS, math.Abs(b.clock-l.StartMin*60))
	b.t = (b.heatJ*b.t + mass*float64(b.run.MetalIn)) / (b.heatJ + mass)

	pace, uneven := 0.0, 0.5
	if b.run.Transfer == ByHand {
		pace = 2
		uneven = max(0.25*2*float64(l.Pieces-1)/2, 0.5)
	}
	last := pace * float64(l.Pieces-1) // the last goes in
	dip := float64(l.DipS)             // of each piece
	end := dip + last                  // the last comes out
	bound := area * b.run.perDM2() / (b.run.Sulfur * float64(b.run.Volume))
	first, final := 0.0, 0.0
	middle := last/2 + dip/2
	for i := range ticks(end + 2 + uneven) {
		s := float64(i) * tick
		if math.Abs(s-middle) < tick/2 {
			b.farthestK = max(b.farthestK, math.Abs(b.t-l.TemperatureC))
			b.farthestStrength = max(b.farthestStrength, math.Abs(b.strength-l.Strength))
		}
		r := b.rate() * tick
		if s < dip+2+uneven {
			first += r
		}
		if s >= last && s < end+2-uneven {
			final += r
		}
		if i < ticks(end) { // afterwards film grows outside the bath, which goes on as it is
			b.pass(false, true)
			b.strength -= bound * tick / end
		}
	}
	b.least, b.most = min(b.least, first, final), max(b.most, first, final)
	b.strength -= b.strength * area / 100 * 0.0815 / float64(b.run.Volume) // 81.5 mL/m2, poorly drained
	for range ticks(b.between) {
		b.pass(b.run.Lid, false)
	}
}

// perDM2 is the sulfur that the film holds, in g/dm2.
func (r Run) perDM2() float64 {
	return 100 * r.Law.Film.NM * 1e-7 * float64(r.Law.Film.Density) * 32.06 / r.Law.Film.Molar
}

func (b *bench) event(e Event) {
	switch e.Do {
	case Strengthen:
		b.strength += e.Share * b.run.Strength
		for range ticks(120) {
			b.pass(false, false)
		}
		return
	case FreshBath:
		b.strength = b.run.Strength
		b.t = e.ToC
	case PourHot:
		b.strength *= 1 - e.OutL/float64(b.run.Volume)
		b.t = e.ToC
	case Reheat:
		b.strength -= b.fade(false) * e.Minutes * 60
		b.t = e.ToC
	}
	b.clock += e.Minutes * 60
}

// simulate goes through the whole plan.
func simulate(r Run, p Plan) *bench {
	s := settle(r)
	b := &bench{run: s.Run, between: float64(s.between), start: p.StartC, t: p.StartC, strength: s.Strength, least: math.Inf(1)}
	across := float64(r.Vessel.Length) / 10 * float64(r.Vessel.Width) / 10
	around := 2 * float64(r.Vessel.Length+r.Vessel.Width) / 10
	if d := float64(r.Vessel.Diameter) / 10; d > 0 {
		across, around = math.Pi*d*d/4, math.Pi*d
	}
	b.openM2 = across / 1e4
	b.wallM2 = (across + around*float64(r.Volume)*1000/across) / 1e4
	b.heatJ = float64(r.Volume)*975*4.19 + r.Bulk // water at 75 C
	events := p.Events
	take := func(after int) {
		for len(events) > 0 && events[0].AfterLoad == after {
			b.event(events[0])
			events = events[1:]
		}
	}
	take(0)
	for _, l := range p.Loads {
		b.load(l)
		take(l.Number)
	}
	return b
}

// agrees compares a plan with the simulation, in points of the film wanted.
func agrees(t interface {
	Helper()
	Logf(string, ...any)
	Errorf(string, ...any)
}, name string, r Run, p Plan, points float64) {
	t.Helper()
	b := simulate(r, p)
	least, most := (b.least-1)*100, (b.most-1)*100
	t.Logf("%s: least film %+.1f %%, simulated %+.1f %%; most %+.1f %%, simulated %+.1f %%; clock off by %.1f s, temperature by %.2f K, strength by %.4f",
		name, p.Match.LeastPercent, least, p.Match.MostPercent, most, b.farthestS, b.farthestK, b.farthestStrength)
	if math.Abs(least-p.Match.LeastPercent) > points || math.Abs(most-p.Match.MostPercent) > points {
		t.Errorf("%s: film from %+.1f to %+.1f %%, simulated from %+.1f to %+.1f %%", name, p.Match.LeastPercent, p.Match.MostPercent, least, most)
	}
	if off := 0.3 * float64(len(p.Loads)+len(p.Events)+1); b.farthestS > off {
		t.Errorf("%s: the clock is off by %.1f s", name, b.farthestS)
	}
}

// TestPlanAgainstIndependentSimulation: the verdict holds in finer steps with another
// integration.
func TestPlanAgainstIndependentSimulation(t *testing.T) {
	plate, hand, kettle, draught, covered := medals(), medals(), medals(), medals(), medals()
	plate.Heat, plate.Lid = Heat{Kind: Plate, Watts: 500}, true
	hand.Transfer = ByHand
	kettle.Heat = Heat{Kind: Kettle, Liters: 1.5, Water: 95}
	draught.Air.SpeedMS = 0.5
	covered.Lid = true
	two := black(3, Vessel{Length: 250, Width: 180, Height: 90}, disc("medal", 60, 34, 2.5), disc("token", 120, 24, 1.6))
	for name, r := range map[string]Run{"strainer": medals(), "plate and lid": plate, "by hand": hand, "kettle": kettle, "moving air": draught, "lid": covered, "two kinds": two} {
		p, err := Make(r)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		agrees(t, name, r, p, 3)
	}
}

// anyRun draws a run that Make takes or refuses.
func anyRun(t *rapid.T) Run {
	r := black(measure.Liters(rapid.Float64Range(0.4, 6).Draw(t, "liters")), Vessel{Length: 260, Width: 180, Height: 120},
		disc("", 0, rapid.Float64Range(8, 45).Draw(t, "across"), rapid.Float64Range(0.6, 4).Draw(t, "thick")))
	r.Group = rapid.IntRange(1, 3).Draw(t, "group")
	r.Kinds[0].Pieces = r.Group * rapid.IntRange(1, 60).Draw(t, "sets")
	if rapid.Bool().Draw(t, "second kind") {
		r.Kinds = append(r.Kinds, disc("other", r.Group*rapid.IntRange(1, 30).Draw(t, "sets of the other"), 20, 1.5))
	}
	r.Transfer = rapid.SampledFrom([]Transfer{Together, ByHand}).Draw(t, "transfer")
	r.Heat.Kind = rapid.SampledFrom([]HeatKind{NoHeat, Kettle, Plate, Thermostat}).Draw(t, "heat")
	if r.Heat.Kind == Kettle {
		r.Heat.Water = 95
	}
	r.Lid = rapid.Bool().Draw(t, "lid")
	r.Air.Ambient = measure.Celsius(rapid.Float64Range(10, 30).Draw(t, "room"))
	r.Air.SpeedMS = rapid.SampledFrom([]float64{0, 0.4}).Draw(t, "air")
	r.MetalIn = measure.Celsius(rapid.Float64Range(15, 60).Draw(t, "metal in"))
	if rapid.Bool().Draw(t, "limit") {
		r.MaxLoad = measure.SquareDMPerLiter(rapid.Float64Range(0.5, 4).Draw(t, "max load"))
	}
	if rapid.Bool().Draw(t, "per load") {
		r.PerLoad = rapid.IntRange(3, 60).Draw(t, "per load")
	}
	return r
}

func TestAnyPlanAgainstIndependentSimulation(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(rt *rapid.T) {
		r := anyRun(rt)
		p, err := Make(r)
		if err != nil || len(p.Loads) > 60 {
			return
		}
		agrees(rt, fmt.Sprintf("%d loads", len(p.Loads)), r, p, 5)
		b := simulate(r, p)
		worst = max(worst, math.Abs((b.least-1)*100-p.Match.LeastPercent), math.Abs((b.most-1)*100-p.Match.MostPercent))
	})
	t.Logf("the simulation differs by up to %.1f points", worst)
}
