// Package yield is how many pieces to start and what the job takes.
//
// [Start] returns the pieces to start so that enough come out good, from a yield
// (the share that is good at the first go) and a confidence.
// [Total] adds up the minutes and the cost of a [Job]: cleaning, bath, relief,
// inspection, rework, reagents, with the share of each.
//
// What it promises: the counts are exact, not from a normal approximation, up to
// a million good pieces; a share that rests on a default of [DefaultMinutes] is
// marked as assumed. The counts take every piece to have the same chance, one by
// one; a bath that spoils a whole load at once does worse than any count says.
package yield
