package rinse

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// MostTubs is the longest row of tubs that is taken.
const MostTubs = 8

// Row is a row of equal static tubs: the pieces go through all of them, in order,
// and the water stands until somebody changes it. A Row is a value: a copy is a
// row of its own.
type Row struct {
	volume float64 // L in each tub
	tubs   int
	at     [MostTubs]float64 // g/L in each tub
}

// NewRow gives a row of 1 to [MostTubs] tubs of clean water, each of a volume
// above 0 L. Errors are of kind Usage.
func NewRow(volume measure.Liters, tubs int) (Row, error) {
	if !(volume > 0 && volume <= 1e5) {
		return Row{}, fault.Usagef("rinse tubs of %g L", float64(volume)).Try("give the water in one tub, above zero")
	}
	if tubs < 1 || tubs > MostTubs {
		return Row{}, fault.Usagef("a row of %d rinse tubs", tubs).Try("give a whole number from 1 to %d", MostTubs)
	}
	return Row{volume: float64(volume), tubs: tubs}, nil
}

// Dip takes a load through the row and returns what clings to it behind the last
// tub, in g/L. The load comes in wet with carried liters of a liquid of bath g/L.
// In each tub it mixes fully and takes as much out as it brought:
// c = (V c + D c') / (V + D).
func (r *Row) Dip(bath measure.GramsPerLiter, carried measure.Liters) measure.GramsPerLiter {
	clings, drag := clamp(float64(bath), 0, 1e6), clamp(float64(carried), 0, 1e6)
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
	r.at[max(r.tubs, 1)-1] = 0
}

// At is what the water of a tub holds, in g/L; tubs count from 1.
func (r Row) At(tub int) measure.GramsPerLiter {
	if tub < 1 || tub > r.tubs {
		return 0
	}
	return measure.GramsPerLiter(r.at[tub-1])
}

// Tubs is the number of tubs in the row.
func (r Row) Tubs() int { return r.tubs }

// Volume is the water of one tub.
func (r Row) Volume() measure.Liters { return measure.Liters(r.volume) }

// Change is an event of a plan: before a load, so many tubs are emptied and the
// others moved up.
type Change struct {
	BeforeLoad int // loads count from 1
	Tubs       int
}

// Changes tells when a row of tubs must be changed so that what clings to each of
// the loads behind the last tub stays at or under a limit, in g/L. No change is
// made before it is needed. It is an error of kind Usage when even clean tubs
// leave too much, and the message says so.
func Changes(bath, limit measure.GramsPerLiter, carried, volume measure.Liters, tubs, loads int) ([]Change, error) {
	row, err := NewRow(volume, tubs)
	if err != nil {
		return nil, err
	}
	if loads < 0 || loads > 1_000_000 {
		return nil, fault.Usagef("%d loads", loads).Try("give a whole number up to a million")
	}
	clean := row
	if left := clean.Dip(bath, carried); left > limit || limit != limit {
		return nil, fault.Usagef("%d clean rinse tubs of %s leave %.2g g/L, which is more than %.2g g/L", tubs, measure.Metric.Volume(volume), float64(left), float64(limit)).
			Try("add a tub, take larger ones, let the pieces drain longer, or rinse in running water")
	}
	var changes []Change
	for load := 1; load <= loads; load++ {
		fresh := 0
		for row.After(bath, carried) > limit && fresh < tubs {
			row.Change()
			fresh++
		}
		if fresh > 0 {
			changes = append(changes, Change{load, fresh})
		}
		row.Dip(bath, carried)
	}
	return changes, nil
}
