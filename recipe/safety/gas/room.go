package gas

import (
	"math"

	"hepar/recipe/fault"
)

// Room is the room in which the work is done. A zero figure was not given.
type Room struct {
	VolumeM3          float64 // m3
	AirChangesPerHour float64
	Hood              bool // capture at the source: a hood or slot, ducted outdoors
	Outdoors          bool // no walls: the figures above are not used
}

// The room that is taken for scale where none is given: a small workshop with door and
// window shut. Assumed.
const (
	AssumedRoomM3     = 30.0 // m3
	AssumedAirChanges = 0.5  // per hour
)

// The air that is taken for the room where the work is done outdoors: ten metres round
// the bath, up to 2.5 m, in air that moves at 0.5 m/s. Assumed, on the still side.
const (
	outdoorsM3      = 250.0 // m3
	outdoorsChanges = 180.0 // per hour
)

// The rooms that are taken: from a cupboard in which one can stand to a hall.
const (
	leastRoomM3    = 2.0
	mostRoomM3     = 100_000.0
	mostAirChanges = 200.0
)

// Check refuses, with an error of kind Usage, what can be no room. A figure that was
// not given, 0, passes.
func (r Room) Check() error {
	if v := r.VolumeM3; v != 0 && !(v >= leastRoomM3 && v <= mostRoomM3) {
		return fault.Usagef("a room of %v m3", v).
			Try("give length x width x height in m3, from %g to %.0f, or leave the room out", leastRoomM3, mostRoomM3)
	}
	if n := r.AirChangesPerHour; !(n >= 0 && n <= mostAirChanges) {
		return fault.Usagef("a room with %v air changes an hour", n).
			Try("give air changes above 0 and up to %g an hour, or leave them out; a closed room has about 0.5", mostAirChanges)
	}
	return nil
}

// Filled returns the room with the assumed figures in place of those not given, and
// tells which were assumed.
func (r Room) Filled() (filled Room, volumeAssumed, airAssumed bool) {
	if r.Outdoors {
		r.VolumeM3, r.AirChangesPerHour = outdoorsM3, outdoorsChanges
		return r, true, true
	}
	if !(r.VolumeM3 > 0) || math.IsInf(r.VolumeM3, 0) {
		r.VolumeM3, volumeAssumed = AssumedRoomM3, true
	}
	if !(r.AirChangesPerHour > 0) || math.IsInf(r.AirChangesPerHour, 0) {
		r.AirChangesPerHour, airAssumed = AssumedAirChanges, true
	}
	return r, volumeAssumed, airAssumed
}

// FlowM3H is the flow of air through the room in m3/h: volume times air changes.
func (r Room) FlowM3H() float64 { return r.VolumeM3 * r.AirChangesPerHour }
