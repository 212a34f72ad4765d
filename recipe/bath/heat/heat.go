// Package heat is the warmth of an open bath: what it loses, how fast it cools, and what
// would hold it.
//
// [Stand] puts a [Tub] into the [Air] of a room, once [Air.Check] has looked at what a person
// typed in. [Place.After] is the bath some time later, [Place.WaitTo] the time to a
// temperature, [Losses] the watts by way of loss; [Join] drops in cold metal or pours in
// water from a kettle. The capacity of a bath comes from [Capacity].
//
// What it promises: a bath stays between freezing and boiling whatever the length of a
// step; without a heater it never passes the temperature of the room. The losses are rough, to
// about a fifth, as their source says: a thermometer in the bath overrules them.
package heat

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// The constants of the loss from an open bath.
const (
	// EvaporationKW is the heat of evaporation into still air, in kW per m2 and kPa of
	// vapour pressure difference: the form published for pools, 0.089 + 0.0782 x air
	// speed in m/s, raised by a fifth, which brings it within 5 % of the open-tank heat
	// loss table from 49 to 99 C (see the tests). Good to about 20 %.
	EvaporationKW = 0.107
	// EvaporationByAir is what each m/s of air over the bath adds to it, as a part:
	// 0.0782 / 0.089 of the same published form. Air of 0.3 to 0.5 m/s, as before a
	// hood, adds about a quarter to a half.
	EvaporationByAir = 0.88
	// LidLeak is the part of the evaporation that goes on under a lid. A mug of 250 mL
	// under a foam cover kept 0.62 of its open loss (measured, secondary); with this
	// part the model keeps 0.62 of it too. A tight lid keeps more.
	LidLeak = 0.35
	// Emissivity of a water surface, no unit (handbook value, from memory).
	Emissivity = 0.95
	// StefanBoltzmann is in W/(m2 K4) (CODATA 2018).
	StefanBoltzmann = 5.670374419e-8
	// ConvectionW is the heat taken by air from the open surface in W/(m2 K). With the
	// radiation it makes the column "radiation" of the open-tank heat loss table.
	ConvectionW = 4.7
	// WallW is the heat that bare walls lose, by air and radiation, in W/(m2 K). The
	// open-tank heat loss table has 11.4 at 66 C and 8.8 to 14 over its whole range.
	WallW = 11
)

// Air is the room around the bath.
type Air struct {
	Ambient         measure.Celsius
	HumidityPercent float64 // relative humidity, 0 to 100
	SpeedMS         float64 // over the bath, in m/s, 0 to 5
}

// Hood is the air speed before a hood that draws well, in m/s: 0.3 to 0.5 is common practice.
const Hood = 0.4

// Check refuses a room that cannot be; the error is of kind Usage.
func (a Air) Check() error {
	switch {
	case !(a.Ambient >= -20 && a.Ambient <= 50):
		return fault.Usagef("a room of %s is out of range", measure.Metric.Temperature(a.Ambient)).At("--ambient").
			Try("give a temperature between -20 and 50 C")
	case !(a.HumidityPercent >= 0 && a.HumidityPercent <= 100):
		return fault.Usagef("a humidity of %g %% is out of range", a.HumidityPercent).At("--humidity").
			Try("give the relative humidity of the room, 0 to 100 %%; 50 if you did not measure it")
	case !(a.SpeedMS >= 0 && a.SpeedMS <= 5):
		return fault.Usagef("air of %g m/s over the bath is out of range", a.SpeedMS).At("--air-speed").
			Try("give a speed between 0 and 5 m/s; 0.3 to 0.5 is usual in front of a hood")
	}
	return nil
}

// Tub is the vessel as far as heat goes.
type Tub struct {
	SurfaceCM2 float64 // free surface of the liquid
	WallCM2    float64 // wetted walls and floor
	Lid        bool
}

// Loss is the heat that leaves the bath, by its ways, in W. All but the evaporation are
// below zero where a warmer room warms it.
type Loss struct {
	EvaporationW, RadiationW, ConvectionW, WallW, TotalW float64
}

// Losses returns what a bath of water loses at a temperature from 0 to 100 C; outside it
// returns the loss at the nearer end. The evaporation is never below zero: nothing
// condenses on a cold bath. Under a lid the part [LidLeak] of it goes on, without the
// moving air, and the covered surface counts as bare wall, as warm as the liquid.
func Losses(bath measure.Celsius, tub Tub, air Air) Loss {
	loss, _ := Stand(tub, air).at(liquid(bath))
	return loss
}

// Place is a tub in a room in SI units, computed once for many temperatures.
type Place struct {
	open, wall  float64 // m2
	ambient     float64 // C
	ambientT4   float64 // K4
	vapourKPa   float64 // in the air of the room
	evaporation float64 // W/kPa
	perGram     float64 // L of water of the room for each g
}

// Stand makes a place ready.
func Stand(tub Tub, air Air) *Place {
	p := &Place{open: tub.SurfaceCM2 / 1e4, wall: tub.WallCM2 / 1e4, ambient: float64(air.Ambient), ambientT4: math.Pow(air.Ambient.Kelvin(), 4),
		perGram: 1 / 1000.0 / float64(reagent.WaterDensity(air.Ambient))}
	wet := p.open * (1 + EvaporationByAir*air.SpeedMS)
	if tub.Lid {
		wet, p.wall, p.open = p.open*LidLeak, p.wall+p.open, 0
	}
	saturated, _ := reagent.WaterVapourPressure(air.Ambient)
	p.vapourKPa, p.evaporation = air.HumidityPercent/100*saturated, EvaporationKW*1000*wet
	return p
}

// at returns the loss at t in C and its slope in W/K.
func (p *Place) at(t float64) (loss Loss, slope float64) {
	over, k := t-p.ambient, measure.Celsius(t).Kelvin()
	loss = Loss{WallW: WallW * p.wall * over, RadiationW: Emissivity * StefanBoltzmann * p.open * (k*k*k*k - p.ambientT4), ConvectionW: ConvectionW * p.open * over}
	slope = WallW*p.wall + p.open*(4*Emissivity*StefanBoltzmann*k*k*k+ConvectionW)
	if kPa, perK := reagent.WaterVapourPressure(measure.Celsius(t)); kPa > p.vapourKPa {
		loss.EvaporationW = p.evaporation * (kPa - p.vapourKPa)
		slope += p.evaporation * perK
	}
	loss.TotalW = loss.EvaporationW + loss.RadiationW + loss.ConvectionW + loss.WallW
	return loss, slope
}

// waterMolar is the molar mass of water in g/mol (IUPAC 2021 atomic weights).
const waterMolar = 18.015

// LatentHeat is the heat that evaporates a gram of water, in J/g, from 0 to 100
// C: the line through 44.01 kJ/mol at 25 C and 40.67 kJ/mol at 100 C (OpenStax
// Chemistry 2e, 10.3; the figures from memory).
func LatentHeat(t measure.Celsius) float64 {
	return (44010 - (44010-40670)*(clamp(float64(t), 0, 100)-25)/75) / waterMolar
}

func clamp(x, low, high float64) float64 { return max(low, min(x, high)) }

func liquid(bath measure.Celsius) float64 {
	return clamp(float64(bath), float64(reagent.WaterLowest), float64(reagent.WaterHighest))
}

// Capacity is the heat, in J/K, that warms a bath of water by one degree. The salts of a
// dilute bath are left out: they take less than they displace.
func Capacity(volume measure.Liters, at measure.Celsius) float64 {
	return float64(volume) * 1000 * float64(reagent.WaterDensity(at)) * reagent.WaterSpecificHeat(at)
}

// Join returns the temperature that a bath and something else come to, each with its
// heat capacity in J/K. Source: the energy balance.
func Join(bath measure.Celsius, capacity float64, other measure.Celsius, otherCapacity float64) measure.Celsius {
	t := (capacity*float64(bath) + otherCapacity*float64(other)) / (capacity + otherCapacity)
	return measure.Celsius(clamp(t, float64(min(bath, other)), float64(max(bath, other)))) // not past either by rounding
}

// cutK is the most that the bath moves in one cut of a step, in K. With 2 K a
// fall from 95 C toward the room is right to two hundredths of a degree.
const cutK = 2

// mostCuts ends a step that does not come to an end by itself.
const mostCuts = 1000

// After returns the temperature of a bath of a [Capacity] above 0 after dt, from 0 s to a
// year, with a steady heater in W (0 for none), and the water that evaporates on the way,
// in L at the temperature of the room. The capacity stays what it was: cut a long run in
// an open bath at each topping up.
//
// It is stable for any dt: each cut of at most two degrees is an exponential step, exact
// for a loss that is linear in the temperature. The bath never leaves 0 to 100 C, and
// without a heater never passes the room, although an open one in dry air does settle
// some degrees below it.
func (p *Place) After(bath measure.Celsius, capacity, heaterW float64, dt measure.Seconds) (measure.Celsius, measure.Liters) {
	t, left, grams := liquid(bath), float64(dt), 0.0
	low, high := max(0, min(t, p.ambient)), 100.0
	if heaterW == 0 {
		high = min(high, max(t, p.ambient))
	}
	steam := func(loss Loss, t float64) float64 { return loss.EvaporationW / LatentHeat(measure.Celsius(t)) } // g/s
	loss, slope := p.at(t)
	for range mostCuts {
		if left <= 0 {
			break
		}
		rate := (heaterW - loss.TotalW) / capacity // K/s
		h := min(left, cutK/math.Abs(rate))
		next := clamp(t+rate*h*share(slope*h/capacity), low, high)
		if next == t { // held, or at an end of the range
			return measure.Celsius(t), measure.Liters((grams + left*steam(loss, t)) * p.perGram)
		}
		later, laterSlope := p.at(next)
		grams += h / 2 * (steam(loss, t) + steam(later, next))
		left, t, loss, slope = left-h, next, later, laterSlope
	}
	return measure.Celsius(t), measure.Liters(grams * p.perGram)
}

// share is (1 - exp(-x)) / x, the part of a straight step that a relaxing one makes.
func share(x float64) float64 {
	if math.Abs(x) < 1e-9 {
		return 1
	}
	return -math.Expm1(-x) / x
}

// WaitTo returns the time in which a bath left alone, or with a steady heater, comes to
// the target, from 0 to 100 C. It is false where it never does.
func (p *Place) WaitTo(target, bath measure.Celsius, capacity, heaterW float64) (measure.Seconds, bool) {
	from, to := liquid(bath), float64(target)
	if from == to {
		return 0, true
	}
	if to < from && to < p.ambient || to > from && heaterW == 0 && to > p.ambient {
		return 0, false
	}
	rateAt := func(t float64) float64 {
		loss, _ := p.at(t)
		return (heaterW - loss.TotalW) / capacity
	}
	// The rate falls as the bath warms: its sign at the target rules all the way there.
	cuts := math.Ceil(math.Abs(to-from) / 0.25)
	seconds, t, rate := 0.0, from, rateAt(from)
	for i := 1.0; i <= cuts; i++ {
		next := from + (to-from)*i/cuts
		nextRate := rateAt(next)
		if nextRate*(to-from) <= 0 || rate*(to-from) <= 0 {
			return 0, false
		}
		seconds += (next - t) / logMean(rate, nextRate)
		t, rate = next, nextRate
	}
	return measure.Seconds(seconds), true
}

// logMean is the mean with which a linear rate is exact; both are of one sign and not zero.
func logMean(a, b float64) float64 {
	if x := b/a - 1; math.Abs(x) > 1e-6 {
		return a * x / math.Log1p(x)
	}
	return (a + b) / 2
}
