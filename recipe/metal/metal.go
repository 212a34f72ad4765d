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

import "hepar/recipe/measure"

// Alloy is one metal that a piece can be made of.
type Alloy struct {
	Name    string // "sterling-925"
	Title   string // "sterling silver 925"
	Family  string // "silver", "gold", "platinum", "copper", "brass", "bronze", "nickel silver", "cupronickel", "nickel", "tin", "zinc", "aluminium", "steel"
	Density measure.GramsPerCM3
	// SpreadPercent is half the width of the published densities, in percent.
	SpreadPercent float64
	SpecificHeat  float64            // J/(g K)
	Composition   map[string]float64 // mass fractions by element symbol, summing to 1; nil where not known
	Source        string             // of the density
	Evidence      string             // "opened", "from memory", "computed"
	HeatSource    string             // of the specific heat, with its evidence
}

// Dimensions is what is known of a piece. A zero field was not given.
type Dimensions struct {
	Diameter  measure.Millimeters // outside diameter
	Inside    measure.Millimeters // inside diameter
	Thickness measure.Millimeters // of a disc or sheet; of a tube or ring wall
	Length    measure.Millimeters
	Width     measure.Millimeters
	Height    measure.Millimeters
	Wire      measure.Millimeters // wire diameter
	Area      measure.SquareCM    // whole surface of one piece, for custom
	Mass      measure.Grams       // of one piece
	Relief    float64             // multiplies the area for stamped or textured faces; 0 means 1
}

// Piece is one piece as far as the bath cares.
type Piece struct {
	Shape     string
	Alloy     Alloy
	Area      measure.SquareCM // relief included
	Mass      measure.Grams
	Volume    measure.Liters
	Thickness measure.Millimeters // 0 where the shape has none
	// Extent is the bounding box, largest side first; a zero means not known.
	Extent   [3]measure.Millimeters
	Relief   float64
	Working  []Step         // how each figure came about, in order
	Warnings []measure.Note // contradictions between what was given, in whole sentences
}

// Step is one line of working: a formula with the numbers put in.
type Step struct {
	Name    string // "area of one piece"
	Formula string // "pi D^2/2 + 4 m/(rho D)"
	Numbers string // "pi x 39.0^2/2 + ..."
	Result  string // "26.93 cm2"
	Source  string
}
