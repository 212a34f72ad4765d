package safety

import (
	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// Level says how grave a point is.
type Level string

// The levels, gravest first.
const (
	StopLevel    Level = "stop"          // must not be done; the program refuses
	CorrectFirst Level = "correct first" // put right before starting
	Caution      Level = "caution"       // to be known and acknowledged
)

// Point is one numbered line of a review.
type Point struct {
	Code   string `json:"code"` // "acid-sulfide", stable
	Level  Level  `json:"level"`
	Text   string `json:"text"`
	Source string `json:"source"`
	// Cure is what to do about a stop or a correct-first, in one line; it is the last
	// sentence of the text as well. Empty where the text itself is the advice.
	Cure string `json:"cure,omitempty"`
}

// Subject is what is to be reviewed: a recipe, and as much of the batch as is known.
type Subject struct {
	Recipe    *recipe.Recipe
	Alloy     *metal.Alloy     // nil where not chosen
	MetalArea measure.SquareCM // of the whole batch; 0 where not known
	Bath      measure.Liters   // 0 where not known
	Reagents  []reagent.Amount // what goes into the bath, as it stands on the shelf; nil where not known

	Room        gas.Room        // zero figures: not given; a small room is then taken for scale
	PH          float64         // of the bath at working temperature, above 0, up to 14; 0 where not measured
	BathC       measure.Celsius // 0: the temperature of the recipe
	SurfaceCM2  float64         // of the bath, open to the air; 0: reckoned from its volume
	Lid         bool
	DragOutMLM2 float64 // liquid that clings to the pieces, mL/m2; 0: the poor drain of package rinse
	Persons     []Person
	With        []string // what the pieces have that a bath may harm: see [Withs]
	Shared      []string // what acid and sulfide work have in common in this shop: see [Shares]
	Limits      []gas.Override

	// Before and After are helper recipes through which the pieces go as well, in
	// order: a pickle before, a stop behind.
	Before, After []*recipe.Recipe
}

// Person is one who works on it, with what adds points to the review. The flags are
// for the person to give; nothing here says who is fit to work.
type Person struct {
	Name     string
	NoSmell  bool // no or little sense of smell
	Pregnant bool
	Lungs    bool // asthma or another disease of the lungs
	Alone    bool // nobody within sight or call
	New      bool // new to this work
}

// Review is the outcome: what to say before anything is mixed.
type Review struct {
	Emergency []string `json:"emergency"` // get out, close the door, call; first aid
	Points    []Point  `json:"points"`    // gravest first

	// Gas estimates what could be in the air, and the rest what these figures rest on.
	// Every one of them is right within a factor of five at best.
	Gas          []gas.Estimate     `json:"gas"`
	GramsToLimit []gas.GramsToLimit `json:"grams_to_limit"`
	// AirflowM3H is the air in m3/h that would keep the bath as planned, at the upper end
	// of its band, at the lowest limit for work; nil where no bath is modelled.
	AirflowM3H *float64    `json:"airflow_m3_h"`
	Airflow    []gas.Flow  `json:"airflow"`
	Limits     []gas.Limit `json:"limits"` // of the gases in Gas
	Inputs     []gas.Input `json:"inputs"` // what was given and what was assumed
	Note       string      `json:"note"`   // how far to trust the figures
}

// Stopped tells whether any point forbids the work.
func (r Review) Stopped() bool {
	for _, p := range r.Points {
		if p.Level == StopLevel {
			return true
		}
	}
	return false
}
