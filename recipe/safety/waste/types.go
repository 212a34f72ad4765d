package waste

import (
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// Batch is what went into and through a bath.
type Batch struct {
	Volume   measure.Liters                // of the bath as made up
	Reagents []reagent.Amount              // as weighed and poured
	Area     measure.SquareCM              // of all the metal that went through it; 0 where none or not known
	DragOut  measure.MillilitersPerSquareM // bath that clings to the metal, per area; 0 to count none
	Rinses   measure.Liters                // rinse water collected behind it; 0 for none
	Alloy    metal.Alloy                   // of the pieces; its composition and density are used
	Assume   Assume
}

// Assume is what was not measured. A zero field takes the default.
type Assume struct {
	// FilmNM is the sulfide film that grows on the pieces, in nm. Default [FilmNM].
	FilmNM float64
	// FlakedShare is the share of the film that comes off into the bath, 0 to 1. Default
	// [FlakedShare].
	FlakedShare float64
	// DissolvedNM is the metal that an acid or an acid metal salt takes off, as a depth
	// in nm. Default [DissolvedNM].
	DissolvedNM float64
}

// Figure is the amount of one element in one liquid. Both values are finite and not
// negative, and AtMost is never the smaller one.
type Figure struct {
	What     string  `json:"what"`    // "sulfide, counted as sulfur"
	Element  string  `json:"element"` // "S", "Ag"
	Expected float64 `json:"expected_mg_l"`
	AtMost   float64 `json:"at_most_mg_l"`
	Assumed  bool    `json:"assumed"` // rests on an assumption: off by a factor of five either way
	Working  string  `json:"working"`
	Source   string  `json:"source"`
}

// Estimate is the outcome.
type Estimate struct {
	BathL       float64     `json:"bath_l"`  // left in the tank
	RinseL      float64     `json:"rinse_l"` // rinse water with what was dragged into it
	Bath        []Figure    `json:"bath"`
	Rinse       []Figure    `json:"rinse"`
	Assumptions []gas.Input `json:"assumptions"`
	NotKnown    []string    `json:"not_known"` // what no figure could be given for
}
