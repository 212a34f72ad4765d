// Package metal knows what pieces are made of and how large they are: the
// alloys with their densities, and the area, volume and mass of one piece.
//
// Call [Find] with the name of an alloy, fill in a [Dimensions] with whatever was
// measured, and call [New]:
//
//	sterling, err := metal.Find("sterling-925")
//	piece, err := metal.New("disc", sterling, metal.Dimensions{Diameter: 39, Mass: 31.1})
//
// New needs no more than a shape asks for, and takes more: when a piece is both
// measured and weighed, the balance wins (only the area of a ball stays that of its
// diameter, for beads are hollow) and the two are compared. They may differ
// by 10 % in silence, by a factor of three with a warning, and beyond that the
// input is refused, because a wrong unit is then the usual reason.
//
// What it promises: the area is in closed form and carries the relief; volume is
// always mass over density; no figure is negative, infinite or not a number; and
// each stands in [Piece].Working with its formula, numbers and source. A figure
// that cannot be known is zero and a warning says so. Errors name the flags of the
// command line and say what would complete the input.
//
// An alloy that is not in the table can be put together: fill in an [Alloy].
package metal
