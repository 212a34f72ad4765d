package plan

import (
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// Plan is a run laid out in time.
type Plan struct {
	Summary
	Loads       []Load
	Events      []Event
	Match       Match
	Warnings    []Warning
	Assumptions []Assumption
	Working     []metal.Step
}

// Summary is what a plan says of the run as a whole.
type Summary struct {
	Held     bool     `json:"held"`
	Lid      bool     `json:"lid"`
	Capacity Capacity `json:"capacity"`
	Shares   Shares   `json:"strength_loss"`
	Totals   Totals   `json:"totals"`

	StartC           float64 `json:"start_c"`
	HoldingWattsOpen float64 `json:"holding_watts_open"` // at the start temperature
	HoldingWattsLid  float64 `json:"holding_watts_lid"`
	CoolingPerMin    float64 `json:"cooling_c_per_min"` // open, unheated, at the start; below 0 where the room warms the bath
	CoolingLidPerMin float64 `json:"cooling_lid_c_per_min"`
	MinutesInRange   float64 `json:"minutes_in_range,omitempty"` // open and unheated from the start; 0 where it stays
	LowestC          float64 `json:"lowest_c"`                   // mid-dip, of all loads
	HighestC         float64 `json:"highest_c"`
	LeastStrength    float64 `json:"least_strength"`
	StrengthFrom     float64 `json:"strength_from"` // limits of the plan
	TemperatureFromC float64 `json:"temperature_from_c"`
	TemperatureToC   float64 `json:"temperature_to_c"`
}

// Load is one going-in of pieces.
type Load struct {
	Number       int     `json:"number"`
	Pieces       int     `json:"pieces"`
	ByLot        []Part  `json:"by_lot"`
	Bath         int     `json:"bath"`
	StartMin     float64 `json:"start_min"`
	TemperatureC float64 `json:"temperature_c"` // at the middle of the dip
	Strength     float64 `json:"strength"`      // there; 1 is the fresh bath of the recipe
	DipS         int     `json:"dip_s"`
	NeedS        float64 `json:"need_s"`    // before rounding
	DipLowS      float64 `json:"dip_low_s"` // what the spread of the constants leaves
	DipHighS     float64 `json:"dip_high_s"`
	RinsePerL    float64 `json:"rinse_per_l,omitempty"` // what clings behind the last tub, unit of the reagent per L
	RinseNote    string  `json:"rinse_note,omitempty"`
}

// Part is the pieces of one kind in a load. Lots count from 0.
type Part struct {
	Lot    int `json:"lot"`
	Pieces int `json:"pieces"`
}

// The kinds of event.
const (
	Reheat      = "reheat"
	TopUp       = "top-up"
	FreshBath   = "fresh-bath"
	ChangeRinse = "change-rinse"
)

// Event is something done before a load. [Event.Note] says it in a sentence, which
// its JSON carries as "text", in metric units.
type Event struct {
	BeforeLoad int     `json:"before_load"`
	AtMin      float64 `json:"at_min"`
	Kind       string  `json:"kind"`
	FromC      float64 `json:"from_c,omitempty"`
	ToC        float64 `json:"to_c,omitempty"`
	Strength   float64 `json:"strength,omitempty"` // before
	Minutes    float64 `json:"minutes"`
	WaterL     float64 `json:"water_l,omitempty"`
	WaterC     float64 `json:"water_c,omitempty"` // of the water that tops it up
	WasteL     float64 `json:"waste_l,omitempty"`
	Doses      []Dose  `json:"doses,omitempty"` // of a fresh bath
	Tubs       int     `json:"tubs,omitempty"`
}

// Dose is what balance or cylinder shows of one reagent for one bath, of the form on
// the shelf.
type Dose struct {
	Substance string  `json:"substance"`
	Name      string  `json:"name"`
	Form      string  `json:"form"`
	Amount    float64 `json:"amount"`
	Unit      string  `json:"unit"` // "g" or "mL"
}

// Capacity is how many pieces one load may hold by each limit; 0 where there is no
// such limit. Where kinds differ the figure is for their mixture.
type Capacity struct {
	Pieces  int    `json:"pieces"` // the largest load planned
	By      string `json:"by"`     // the limit that counts: "area", "floor", "rack", "hands", "per-load", or "all" where one load takes all
	Area    int    `json:"area"`
	Floor   int    `json:"floor"` // of the vessel, or the rack
	Hands   int    `json:"hands"`
	PerLoad int    `json:"per_load"`
}

// Match is the spread over all pieces of time given over time needed: largest over
// smallest, less one, in percent.
type Match struct {
	FixedSpreadPercent   float64 `json:"fixed_spread_percent"`
	PlannedSpreadPercent float64 `json:"planned_spread_percent"`
	FixedS               int     `json:"fixed_s"`  // the one time that the fixed figure is for
	OneTime              bool    `json:"one_time"` // the plan keeps the fixed time, for no other does better
	// The worst that each cause adds within one load of the plan, in percent.
	RoundingPercent float64 `json:"rounding_percent"`
	HandsPercent    float64 `json:"hands_percent"`
	DriftPercent    float64 `json:"drift_percent"`
}

// Shares is what the strength of all baths went into, in percent of the loss.
type Shares struct {
	AgePercent      float64 `json:"age_percent"`
	DragOutPercent  float64 `json:"drag_out_percent"`
	FilmPercent     float64 `json:"film_percent"`
	DilutionPercent float64 `json:"dilution_percent"` // by topping up with water
	LostPerBath     float64 `json:"lost_per_bath"`    // strength, mean over the baths
	Ends            string  `json:"ends"`             // the largest: "age", "drag-out", "film", "dilution"; "" where nothing is lost
}

// Totals of the run.
type Totals struct {
	Minutes     float64 `json:"minutes"` // first piece in to last piece out
	Loads       int     `json:"loads"`
	Baths       int     `json:"baths"`
	Reheats     int     `json:"reheats"`
	TopUps      int     `json:"top_ups"`
	Reagent     float64 `json:"reagent"` // of the limiting one, all baths, as it stands on the shelf
	ReagentUnit string  `json:"reagent_unit"`
	WaterL      float64 `json:"water_l"` // baths, topping up, rinses
	WasteL      float64 `json:"waste_l"` // baths, what is ladled out, rinses
	EvaporatedL float64 `json:"evaporated_l"`
	DraggedL    float64 `json:"dragged_l"`
}

// Warning is something to read before starting.
type Warning struct {
	Code string `json:"code"`
	measure.Note
}

// Assumption is a figure that was not given and the plan rests on.
type Assumption struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Source string  `json:"source"`
}
