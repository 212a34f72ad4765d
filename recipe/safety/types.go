package safety

import (
	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// Level says what a point asks. There is nothing between: what is only to be known
// stands among the lines to read.
type Level string

// The levels.
const (
	Stop Level = "stop" // must not be done; nothing overrides it
	Do   Level = "do"   // done before the work begins, and confirmed
)

// Point is one thing that follows from what is declared.
type Point struct {
	Code   string `json:"code"` // "acid-sulfide", stable
	Level  Level  `json:"level"`
	Text   string `json:"text"`
	Source string `json:"source"`
	Cure   string `json:"cure,omitempty"` // what to do about it, in one line
}

// Subject is what is to be reviewed: a recipe, and as much of the batch as is known.
type Subject struct {
	Recipe    *recipe.Recipe
	Alloy     *metal.Alloy     // nil where not chosen
	MetalArea measure.SquareCM // of the whole batch; 0 where not known
	Bath      measure.Liters   // 0 where not known
	Reagents  []reagent.Amount // what goes into one bath, as it stands on the shelf; nil where not known
	Plan      []reagent.Amount // what goes into all baths of the plan and strengthens them; nil: one bath

	Room        gas.Room        // zero figures: not given; a small room is then taken for scale
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

	Answers
}

// Answers are what was measured or named before the work. A zero field was not answered.
type Answers struct {
	PH       float64 // of the bath at working temperature, above 0, up to 14
	Capture  string  // one of [Captures]
	MeterPPM float64 // at which the gas meter gives alarm, above 0
	Second   string  // name of the second person
	SDS      string  // day of the data sheet, "2025-04-30"
}

// Person is one who works on it, with what adds lines to the review. The flags are
// for the person to give; nothing here says who is fit to work, and none is stored.
type Person struct {
	Name     string
	NoSmell  bool // no or little sense of smell
	Pregnant bool
	Lungs    bool // asthma or another disease of the lungs
	Alone    bool // nobody within sight or call
	New      bool // new to this work
}

// Confirmation is one thing done before the work, or a value typed.
type Confirmation struct {
	Code   string `json:"code"`
	Text   string `json:"text"` // at most 25 words
	Ask    string `json:"ask"`  // ph, capture, meter, second, sds: what is typed; empty where a yes is enough
	Answer string `json:"answer,omitempty"`
	Source string `json:"source"`
}

// Line is one thing to read before the work.
type Line struct {
	Code   string `json:"code"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

// Review is the outcome: what to say before anything is mixed.
type Review struct {
	Emergency []string       `json:"emergency"` // three lines
	Points    []Point        `json:"points"`    // stops first
	Confirm   []Confirmation `json:"confirm"`   // at most ten
	Read      []Line         `json:"read"`

	// Substances has the hazards, codes, storage and gloves of each: family defaults.
	Substances []Line `json:"substances"`

	// Gas estimates what could be in the air, and the rest what these figures rest on.
	// Each says within what factor it is right at best.
	Gas          []gas.Estimate     `json:"gas"`
	GramsToLimit []gas.GramsToLimit `json:"grams_to_limit"`
	// AirflowM3H is the air in m3/h that would keep the bath as planned, at the upper end
	// of its band, at the lowest limit for work; nil where no pH was measured or no bath
	// is modelled.
	AirflowM3H *float64    `json:"airflow_m3_h"`
	Airflow    []gas.Flow  `json:"airflow"`
	Limits     []gas.Limit `json:"limits"` // of the gases in Gas
	Inputs     []gas.Input `json:"inputs"` // what was given and what was assumed
	Note       string      `json:"note"`   // how far to trust the figures
}

// Stops returns the codes of the points that forbid the work.
func (r Review) Stops() []string {
	var codes []string
	for _, p := range r.Points {
		if p.Level == Stop {
			codes = append(codes, p.Code)
		}
	}
	return codes
}
