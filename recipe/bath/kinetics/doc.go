// Package kinetics is the law by which a bath works: how long a dip takes at
// another temperature and strength, and what becomes of the strength.
//
// Start from [Assumed], or from a [Rate] that the journal has learnt, and call
// [DipTime] for each load. Strength is a ratio, 1 for a fresh bath of
// the recipe; [Aged] lets it fall with time, [SilverFilm] and [CopperFilm] tell
// the sulfur that goes into the film.
//
// What it promises: a time is finite and between 0 and [Longest], never shorter
// at a lower temperature or strength, and always inside its band. What it does
// not: that the assumed constants are those of your bath. No activation energy of
// silver or copper in polysulfide was found in print; the band is how little is
// known, and a test piece overrules it.
package kinetics
