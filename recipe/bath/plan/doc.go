// Package plan lays out a whole run in time: which pieces go in together, when,
// into a bath how hot and how strong, and how long each load stays in so that the
// last piece gets the film that the first one got.
//
// Fill a [Run] and call [Make]. The [Plan] has the loads, the events between them
// (reheat, top up, fresh bath, change the rinse), what the strength went into, and
// the [Match]: how far the pieces spread at one fixed time, and with this plan.
// Where the match is poorer than wanted, [Help] tries what a person can do about
// it and says what each costs.
//
// The package promises: pieces in the loads are the pieces of the run, kind by
// kind, and sets stay together; loads are as few as the limits allow and differ by
// no more than one set; no load leaves the recipe's range of temperature, strength
// or time without an event before it or a warning; the planned spread is never
// larger than the fixed one; no figure is NaN, infinite or negative.
//
// The model of a load: its cold metal mixes with the bath at once, the bath cools
// open while hands are in it and between loads under its lid where it has one, and
// a load's time is that of its middle piece at the middle of its dip. The level is
// kept with hot water, so that what is dragged out and steams off thins the bath
// by the drag-out alone. A bath that is held stays where the thermostat is set.
package plan
