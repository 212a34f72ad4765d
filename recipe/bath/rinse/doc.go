// Package rinse is what clings to the pieces and where it goes: drag-out, the
// tubs of a rinse, and acid that comes along into a sulfide bath.
//
// [Carried] is the liquid on the pieces, by area and by how well they drain
// ([Habit] reads the word of the shop file). A [Row] is a row of static tubs;
// [Row.Dip] takes each load through it.
// [Running] is the flow of a running rinse, [CounterFlow] that of a row in which
// the water runs against the work. [AcidCarried] and [GasFreed] are for the
// safety review: what a bad rinse brings into the bath.
//
// What it promises: figures are finite and not negative, and every tub is taken
// as fully mixed, which is the best that a rinse can do. Real ones are worse:
// move the pieces. The drag-out figures are from memory and differ by a factor of
// ten between a flat disc and a cup; weigh a wet load and a dry one for your own.
package rinse
