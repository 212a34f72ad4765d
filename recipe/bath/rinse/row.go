package rinse

import (
	"math"

	"hepar/recipe/measure"
)

// MostTubs is the longest row of tubs that is reckoned.
const MostTubs = 8

// Row is a row of equal static tubs: the pieces go through all of them, in order,
// and the water stands until somebody changes it. A Row is a value: a copy is a
// row of its own.
type Row struct {
	volume float64 // L in each tub
	tubs   int
	at     [MostTubs]float64 // g/L in each tub
}

// NewRow returns a row of tubs of clean water, 1 or more (those beyond [MostTubs] do not
// count), each of a volume of 0 L or more.
func NewRow(volume measure.Liters, tubs int) Row {
	return Row{volume: float64(volume), tubs: min(tubs, MostTubs)}
}

// Dip takes a load through the row and returns what clings to it behind the last
// tub, in g/L. The load comes in wet with carried liters of a liquid of bath g/L.
// In each tub it mixes fully and takes as much out as it brought:
// c = (V c + D c') / (V + D).
func (r *Row) Dip(bath measure.GramsPerLiter, carried measure.Liters) measure.GramsPerLiter {
	clings, drag := float64(bath), float64(carried)
	for i := range r.tubs {
		clings = (r.volume*r.at[i] + drag*clings) / (r.volume + drag)
		r.at[i] = clings
	}
	return measure.GramsPerLiter(clings)
}

// After is what [Row.Dip] would return, with the row left as it is.
func (r Row) After(bath measure.GramsPerLiter, carried measure.Liters) measure.GramsPerLiter {
	return r.Dip(bath, carried)
}

// Change empties the first tub and moves the others up a place, with a clean one
// at the end: the cleaner water does the work twice. Common practice, no
// published source.
func (r *Row) Change() {
	copy(r.at[:], r.at[1:r.tubs])
	r.at[r.tubs-1] = 0
}

// CounterFlow returns the water that a row of n rinses needs per liquid carried
// over, Q/D, when the water runs against the work and each rinse is fully mixed:
// the r that solves Cn/Cp = (r - 1) / (r^(n+1) - 1). The ratio Cp/Cn is from 1 to
// 1e12, n from 1 to 20; with n = 1 it is that of one running rinse, ratio - 1.
// The n-th root of the ratio is the usual shortcut and a little too large. Source:
// the mass balance of the stages.
func CounterFlow(ratio float64, n int) float64 {
	// (r^(n+1) - 1)/(r - 1) = 1 + r + ... + r^n, which rises and bends upward, so
	// that Newton's way down from a point above the root never passes it.
	r := math.Pow(ratio, 1/float64(n))
	for range 200 {
		value, slope := 1.0, 0.0
		for range n {
			slope = slope*r + value
			value = value*r + 1
		}
		next := max(0, r-(value-ratio)/slope)
		if !(next < r) {
			break
		}
		r = next
	}
	return r
}
