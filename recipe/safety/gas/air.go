package gas

import (
	"math"
	"strconv"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Room is the room in which the work is done. A zero figure was not given.
type Room struct {
	VolumeM3          float64 // m3
	AirChangesPerHour float64
	Outdoors          bool // no walls: the figures above are not used
}

// A small workshop with door and window shut, for scale where no room is given. Assumed.
const (
	AssumedRoomM3     = 30.0 // m3
	AssumedAirChanges = 0.5  // per hour
)

// Check refuses what can be no room, from a cupboard in which one can stand to a hall, with
// an error of kind Usage. 0, not given, passes.
func (r Room) Check() error {
	if v := r.VolumeM3; v != 0 && !(v >= 2 && v <= 100_000) {
		return fault.Usagef("a room of %v m3 is out of range", v).Try("give length x width x height in m3, from 2 to 100000, or leave the room out")
	}
	if n := r.AirChangesPerHour; !(n >= 0 && n <= 200) {
		return fault.Usagef("%v air changes an hour are out of range", n).
			Try("give more than 0 and at most 200 an hour, or leave them out; a closed room has about 0.5")
	}
	return nil
}

// Filled returns the room with the assumed figures in place of those not given.
func (r Room) Filled() Room {
	if r.Outdoors { // ten metres round, up to 2.5 m, moving at 0.5 m/s: assumed, on the still side
		r.VolumeM3, r.AirChangesPerHour = 250, 180
	}
	if !(r.VolumeM3 > 0) || math.IsInf(r.VolumeM3, 0) {
		r.VolumeM3 = AssumedRoomM3
	}
	if !(r.AirChangesPerHour > 0) || math.IsInf(r.AirChangesPerHour, 0) {
		r.AirChangesPerHour = AssumedAirChanges
	}
	return r
}

// Molar masses in g/mol, from the IUPAC 2021 atomic weights.
const (
	H2SMass        = 34.076
	NH3Mass        = 17.031
	NO2Mass        = 46.005
	Cl2Mass        = 70.90
	SO2Mass        = 64.058
	ChloramineMass = 51.473 // NH2Cl
)

// LitersPerMol25C is the molar volume of air in L/mol at 25 C and one atmosphere, rounded as
// the lists of limits do: footnote to 29 CFR 1910.1000 Table Z-1.
const LitersPerMol25C = 24.45

// MgPerM3 turns ppm of a gas into mg/m3 at 25 C and one atmosphere; molar in g/mol. Source:
// footnote to 29 CFR 1910.1000 Table Z-1.
func MgPerM3(ppm, molar float64) float64 {
	return within(ppm, 0, 1e6) * within(molar, 0, 1e4) / LitersPerMol25C
}

// PPM is the reverse of [MgPerM3], at most 1e6; 0 for a molar mass that is not above zero.
func PPM(mgPerM3, molar float64) float64 {
	if !(molar > 0) {
		return 0
	}
	return min(within(mgPerM3, 0, 1e12)*LitersPerMol25C/molar, 1e6)
}

const (
	// MixingFactor is K, no unit: how much worse a real room is swept than one in which the
	// air mixes at once. Values from 1 to 10 are in use; 3 is the usual choice, 10 is for dead
	// corners. From memory. It divides every flow of air.
	MixingFactor = 3.0
	// NearM3 is the air round a spill or a bath in m3, within an arm's reach. Assumed.
	NearM3 = 1.0
	// exchange is the air that draughts and movement carry out of it, in m3/s: half its free
	// surface as a half ball, 3.84 m2, times 0.05 m/s. Source: the two-zone model of
	// occupational hygiene, from memory.
	exchange = 0.5 * 3.84 * 0.05
)

// Mixed is the concentration in ppm, at most 1e6, of grams of a gas spread evenly through
// cubic metres of air: m/V, an instantaneous worst case.
func Mixed(g measure.Grams, molar, m3 float64) float64 {
	if !(m3 > 0) {
		return 0
	}
	return PPM(within(float64(g), 0, 1e9)*1000/m3, molar)
}

// Airflow is the flow of air in m3/h, up to 1e12, that keeps a source of G mg/s at a
// concentration in mg/m3: K G/C. Source: dilution ventilation, V dC = G dt - Q' C dt.
func Airflow(mgPerSecond, mgPerM3, k float64) float64 {
	if !(mgPerM3 > 0) {
		return 1e12
	}
	return min(within(k, 1, 10)*within(mgPerSecond, 0, 1e12)*3600/mgPerM3, 1e12)
}

// ClearMinutes is the time in minutes, up to 1e6, until the air of a room has fallen from one
// concentration to another, in any one unit, by so many air changes an hour: K (V/Q)
// ln(from/to). It holds once no more comes off, which only a meter shows. Source: the room
// purge equation.
func ClearMinutes(from, to, changesPerHour, k float64) float64 {
	if !(from > to) {
		return 0
	}
	if !(to > 0) || !(changesPerHour > 0) {
		return 1e6
	}
	ratio := within(from/to, 1, 1e300)
	return min(within(k, 1, 10)*60/within(changesPerHour, 1e-6, 1e6)*math.Log(ratio), 1e6)
}

// figures rounds to three figures: an estimate has no more. Less than 1e-30 is nothing.
func figures(x float64) float64 {
	if !(x > 1e-30) || math.IsInf(x, 0) {
		return 0
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 2, 64), 64)
	return rounded
}

// within brings x between low and high; what is no number counts as low.
func within(x, low, high float64) float64 {
	if !(x > low) {
		return low
	}
	return min(x, high)
}
