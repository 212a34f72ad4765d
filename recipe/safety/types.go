package safety

import (
	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
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
	Alloy     *metal.Alloy             // nil where not chosen
	MetalArea measure.SquareCM         // of the whole batch; 0 where not known
	Bath      measure.Liters           // 0 where not known
	ReagentG  map[string]measure.Grams // what goes into the bath, by substance; nil where not known
}

// Review is the outcome: what to say before anything is mixed.
type Review struct {
	Emergency []string `json:"emergency"` // get out, close the door, call; first aid
	Points    []Point  `json:"points"`    // gravest first
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
