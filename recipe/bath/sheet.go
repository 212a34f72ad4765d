// Package bath turns a recipe and a pile of pieces into a batch sheet: how much bath, what to
// weigh, which water, how many loads.
//
// Call [Prepare] with an [Order]. It returns a [Sheet] or says in one line what is missing. A
// sheet holds every figure that a person needs at the bench, the working behind each and the
// list of what was assumed because it was not given.
//
// The package promises that no figure on a sheet is NaN, infinite or negative,
// that the pieces of the loads add up to the pieces ordered and their spares,
// that sets stay together, and that no load holds more metal than the recipe
// allows per litre unless a warning says so. It rounds only what a balance
// rounds; everything else is rounded where it is printed.
package bath

import (
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/yield"
	"hepar/recipe/measure"
)

// Sheet is everything a person needs to run a batch. Its JSON keys are stable.
type Sheet struct {
	Recipe      RecipeLine     `json:"recipe"`
	Piece       PieceLine      `json:"piece"`
	Pieces      int            `json:"pieces"`
	Spares      int            `json:"spares"`
	MetalAreaDM float64        `json:"metal_area_dm2"`
	Bath        Mix            `json:"bath"`
	Coats       *CoatsLine     `json:"coats,omitempty"`
	Kinds       []KindLine     `json:"kinds,omitempty"`
	Loads       []plan.Load    `json:"loads"`
	Events      []EventLine    `json:"events"`
	Match       *plan.Match    `json:"match,omitempty"`
	Run         *RunLine       `json:"run,omitempty"`
	Work        *yield.Bill    `json:"work,omitempty"`
	StartAdvice string         `json:"start_advice,omitempty"`
	Rinses      []Rinse        `json:"rinses"`
	Ready       []measure.Note `json:"ready,omitempty"` // what stands beside the bath before the first dip
	plan.Notes
}

// RecipeLine says which recipe, and which state of it, the sheet was made from.
type RecipeLine struct {
	Slug     string `json:"slug"`
	Title    string `json:"title"`
	Kind     string `json:"kind"`
	Revision int    `json:"revision"`
	Digest   string `json:"digest"`
	Source   string `json:"source"`
}

// PieceLine is one piece.
type PieceLine struct {
	Shape       string  `json:"shape"`
	Alloy       string  `json:"alloy"`
	AreaCM2     float64 `json:"area_cm2"`
	MassG       float64 `json:"mass_g"`
	VolumeML    float64 `json:"volume_ml"`
	ThicknessMM float64 `json:"thickness_mm"`
}

// KindLine is one of several kinds of piece in a batch.
type KindLine struct {
	Name   string    `json:"name"`
	Pieces int       `json:"pieces"`
	Spares int       `json:"spares"`
	Piece  PieceLine `json:"piece"`
}

// Mix is the bath as mixed.
type Mix struct {
	VolumeL      float64       `json:"volume_l"`
	LimitedBy    string        `json:"limited_by"` // "volume", "vessel", "cover", "load", "reagent", "bench", "area"
	Vessel       plan.Vessel   `json:"vessel,omitzero"`
	DepthMM      float64       `json:"depth_mm,omitempty"`
	TemperatureC float64       `json:"temperature_c"`
	FromC        float64       `json:"from_c"`
	ToC          float64       `json:"to_c"`
	DipS         float64       `json:"dip_s,omitempty"`
	DipFromS     float64       `json:"dip_from_s,omitempty"`
	DipToS       float64       `json:"dip_to_s,omitempty"`
	Reagents     []ReagentLine `json:"reagents"`
	Water        Water         `json:"water"`
	Pour         []PourLine    `json:"pour"` // what goes into the vessel, in its order
}

// ReagentLine is one thing to weigh or measure. Grams and Milliliters are what balance or
// cylinder show of the form on the shelf; the per-litre figure is what then results, of the
// form that the recipe speaks of. [ReagentLine.Amount] reads it back.
type ReagentLine struct {
	Substance           string   `json:"substance"`
	Name                string   `json:"name"`
	Form                string   `json:"form,omitempty"`
	RecipeForm          string   `json:"recipe_form"`
	PurityPercent       float64  `json:"purity_percent,omitempty"`
	Grams               *float64 `json:"grams,omitempty"`
	Milliliters         *float64 `json:"milliliters,omitempty"`
	GramsPerLiter       *float64 `json:"grams_per_liter,omitempty"`
	MillilitersPerLiter *float64 `json:"milliliters_per_liter,omitempty"`
	FromPerLiter        float64  `json:"from_per_liter"`
	ToPerLiter          float64  `json:"to_per_liter"`
	ReadingPercent      float64  `json:"reading_uncertainty_percent"`
	Source              string   `json:"source,omitempty"` // of the figure, as the recipe says
}

// Water is the water of the bath, hot and cold.
type Water struct {
	HotL  float64 `json:"hot_l"`
	HotC  float64 `json:"hot_c"`
	ColdL float64 `json:"cold_l"`
	ColdC float64 `json:"cold_c"`
	Stand bool    `json:"let_stand,omitempty"` // until it is as warm as the room
	Warm  bool    `json:"warm_up,omitempty"`   // no water at hand is hot enough: warm it before the reagent goes in
}

// CoatsLine is how a brushed or sprayed finish is laid on.
type CoatsLine struct {
	Number     int     `json:"number"`
	FromNumber int     `json:"from_number"`
	ToNumber   int     `json:"to_number"`
	SpreadMLM2 float64 `json:"spread_ml_m2"`
	WaitS      float64 `json:"wait_s"`
	PerCoatML  float64 `json:"per_coat_ml"`
	PerPieceML float64 `json:"per_piece_ml"`
}

// Rinse is one rinse or neutralising bath beside the finish, in the order of the steps.
type Rinse struct {
	Step      int      `json:"step"` // number of the recipe's step
	Do        string   `json:"do"`   // "rinse", "neutralise", "pickle"
	Baths     int      `json:"baths"`
	Running   bool     `json:"running"`
	VolumeL   float64  `json:"volume_l"` // of each bath
	Substance string   `json:"substance,omitempty"`
	Grams     *float64 `json:"grams,omitempty"`
	// LeastGrams is the stoichiometric least for the acid carried over or held.
	LeastGrams *float64 `json:"least_grams,omitempty"`
	Note       string   `json:"note,omitempty"`             // in the recipe's own words
	FoamG      float64  `json:"carbon_dioxide_g,omitempty"` // that foams off while an acid is neutralised
	// What running water would do instead of static tubs while the run goes on: the
	// flow that keeps a hundredth of the bath behind the rinse, in one tub, and against
	// the work through as many tubs as the step has, or two.
	RunningLMin float64 `json:"running_l_min,omitempty"`
	CounterLMin float64 `json:"counter_flow_l_min,omitempty"`
	CounterTubs int     `json:"counter_flow_tubs,omitempty"`
}

// num prints a figure for the working: as it is where it is short, with guard
// digits where it is not, never with an exponent.
func num[T ~float64](x T) string {
	if text := measure.Plain(float64(x)); len(text) <= 7 {
		return text
	}
	return measure.Figures(float64(x), 6)
}
