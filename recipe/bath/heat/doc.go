// Package heat is the warmth of an open bath: what it loses, how fast it cools,
// and what would hold it.
//
// Describe the vessel with a [Tub] and the room with an [Air], call
// [Tub.Check] and [Air.Check] once on what a person typed in, and then
//
//	loss := heat.Losses(75, tub, air)                 // watts by way of loss
//	next, steam := heat.Stand(tub, air).After(75, capacity, 0, 60)  // a minute later
//
// where capacity comes from [Capacity]. [HoldingWatts] is the warm plate that would
// hold the bath, [WaitTo] the time to a temperature. [AfterLoad] drops in cold metal,
// [TopUp] pours in water from a kettle.
//
// What it promises: every figure is finite; a bath stays between freezing and
// boiling whatever the length of a step; without a heater it never passes the
// temperature of the room. The losses are rough, to
// about a fifth, as their source says: they are for planning, and a thermometer
// in the bath overrules them.
package heat
