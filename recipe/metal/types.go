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
