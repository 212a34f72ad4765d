package gas

import (
	"math"

	"hepar/recipe/measure"
)

// AmmoniaBath is a bath that gives off ammonia, as far as that gas is concerned.
type AmmoniaBath struct {
	// LowG and HighG are the ammonia, in g, that is free in the bath: at least, with all
	// that copper can bind taken off, and at most, with nothing taken off.
	LowG, HighG measure.Grams
	Volume      measure.Liters   // above 0
	Temperature measure.Celsius  // 0 to 100 C
	Surface     measure.SquareCM // open to the air; 0: as if it stood AssumedDepthCM deep
}

// airFilm is the speed at which ammonia leaves the surface through the still air over it,
// in m/s: 3e-3, as water does from an open pan. From memory; right within [Factor].
const airFilm = 3e-3

// HenryAmmonia is the solubility of ammonia in water in mol/(m3 Pa):
// 0.59 exp(4200 (1/T - 1/298.15)). It holds for dilute ammonia; over strong solutions the
// air holds up to twice as much. Source: Sander 2015, compilation of Henry's law
// constants, from memory.
func HenryAmmonia(t measure.Celsius) float64 {
	return 0.59 * math.Exp(4200*(1/inWater(t).Kelvin()-1/298.15))
}

// Planned estimates the bath in use in a room: a band, because what copper binds is not
// known. A bath without ammonia returns false.
func (b AmmoniaBath) Planned(r Room) (Estimate, bool) {
	if !(b.HighG > 0 && b.Volume > 0) {
		return Estimate{}, false
	}
	r, _, _ = r.Filled()
	surface := b.Surface
	if !(surface > 0) {
		surface = measure.SquareCM(b.Volume.Milliliters() / AssumedDepthCM)
	}
	air := func(g measure.Grams) (room, near, still float64) {
		mol := within(float64(g), 0, 1e9) / NH3Mass / float64(b.Volume) * 1000 // mol/m3
		still = min(mol/HenryAmmonia(b.Temperature)/standardPressure*1e6, 1e6)
		most := MgPerM3(still, NH3Mass)
		// Two films in series: the water side as for hydrogen sulfide, the air side as here.
		airWater := 1 / (HenryAmmonia(b.Temperature) * gasConstant * inWater(b.Temperature).Kelvin())
		speed := float64(surface) / 1e4 / (1/airFilm + airWater/Transfer) // m3/s
		mg := min(most*speed/(r.FlowM3H()/3600/MixingFactor+speed), float64(g)*1000/r.VolumeM3)
		return PPM(mg, NH3Mass), PPM(min(mg+most*speed/exchange, most), NH3Mass), still
	}
	lowRoom, lowNear, _ := air(min(b.LowG, b.HighG))
	highRoom, highNear, still := air(b.HighG)
	e := Estimate{Gas: Ammonia, Code: "ammonia-planned", Scenario: "the ammonia bath as planned at " + measure.Round(float64(b.Temperature), 0) + " C"}
	return e.band([2]float64{lowRoom, highRoom}, [2]float64{lowNear, highNear}, false).under(still), true
}
