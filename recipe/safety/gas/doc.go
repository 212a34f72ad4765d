// Package gas estimates what a bath could put into the air of a room, and what it would take
// to get there: the arithmetic behind the review of package safety.
//
// Start with a [Room] ([Room.Check] for typed figures) and a [Bath], and call
// [Bath.Scenarios]. [Bath.Ammonia] is for a bath that gives off ammonia, [Loss] for a gas that
// is counted by stoichiometry only. [ToLimit] turns it round: the grams that bring the room to
// each limit. [Limits] is the list of exposure limits, [With] lays a user's own over it.
//
// Every figure is an estimate, right within a factor of five ([Factor]) at best, and [Trust]
// says so wherever one is printed; without a measured pH there is a band only. The model
// counts total sulfide as one bisulfide ion for each chain, leaves out activities and the
// air's oxidation, and takes the room as mixed no better than [MixingFactor] says. It says
// what could be there, never that nothing is: only a meter tells.
//
// It promises: figures are finite and not negative whatever goes in, no limit is without its
// list, averaging time, source and date, and none is from memory.
package gas
