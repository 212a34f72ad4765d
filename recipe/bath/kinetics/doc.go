// Package kinetics is the law by which a sulfide bath works: how long a dip takes at
// another temperature and strength, what the film binds, and how the bath fades.
//
// Start from Silver or Copper, what is assumed until the bench has taught better, and
// make a Law of it with a time that is known to come out right. The law holds for
// sulfide baths only: a nitrate, sulfate, acetate or ammoniacal bath has none.
//
// What it promises: a time is finite, never shorter at a lower temperature or
// strength, and inside its band. What it does not: that the assumed constants are
// those of your bath. No activation energy of silver or copper in polysulfide was
// found in print; the band says how little is known, and a test piece overrules it.
package kinetics
