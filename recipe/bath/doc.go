// Package bath turns a recipe and a pile of pieces into a batch sheet: how much
// bath, what to weigh, which water, how many loads.
//
// Call [Prepare] with an [Order]. It returns a [Sheet] or says in one line what is
// missing. A sheet holds every figure that a person needs at the bench, the
// working behind each (see [Sheet.Working]) and the list of what was assumed
// because it was not given (see [Sheet.Assumptions]).
//
// The package promises that no figure on a sheet is NaN, infinite or negative,
// that the pieces of the loads add up to the pieces ordered and their spares,
// that sets stay together, and that no load holds more metal than the recipe
// allows per litre unless a warning says so. It rounds only what a balance
// rounds; everything else is rounded where it is printed.
package bath
