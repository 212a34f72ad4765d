// Package coupon plans a stepped test strip: one strip of the same metal as the
// pieces, lowered into the bath or drawn out of it in steps, so that its zones
// get times in geometric progression around the time that is expected. One dip
// then shows which time makes the wanted shade in this bath, on this bench.
//
// Call [Plan]. The [Strip] holds the zones with their times, the cues for the
// hand ("at 4 s lower 5 mm") in two ways of doing it, and what to write down. When
// the strip is dry, [Strip.Read] turns the number of the right zone into readings
// for the journal.
//
// The package promises that cues fall on whole seconds, that they rise, and that
// the zones together are never longer than the strip.
package coupon
