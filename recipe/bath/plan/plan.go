// Package plan is a run in time: which pieces go in together, how hot and how strong
// the bath then is, how long each load takes, and what is done to the bath between
// loads.
//
// Call [Make] with a [Run]: it matches with the fewest baths and in the least time.
// [Compare] says what a change at the bench would bring; [Sensitive] says which
// assumptions move the run most.
//
// A range of strength or temperature says where to mix. A bath works as long as the
// dip that it asks for lies within the recipe's dip times, and not below WorksDownTo
// or Weakest. What a bath that works no longer needs is tried in this order: a longer
// dip (each load has its own), heat, more reagent, a fresh bath.
//
// The package knows no substances: doses are shares of the whole dose, which package bath
// turns into grams of what stands on the shelf.
package plan

import (
	"math"

	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// Plan is a run in time.
type Plan struct {
	Course
	EndC   float64  // of the coldest load, as it comes out
	deal   [][]Part // what goes into each load
	Loads  []Load
	Events []Event
	Match  Match
	Notes
}

// Course is what a plan says of the run as a whole.
type Course struct {
	StartC        float64  `json:"start_c"`
	WarmMin       float64  `json:"warm_min,omitempty"` // a bath that is mixed cold, on the plate; 0 where nothing heats it
	LowestC       float64  `json:"lowest_c"`           // of a load, in its middle
	LeastStrength float64  `json:"least_strength"`     // likewise
	Heat          HeatKind `json:"heat"`
	Transfer      Transfer `json:"transfer"`
	Lid           bool     `json:"lid"`
	HeatW         float64  `json:"heat_w,omitempty"`  // of a plate or a thermostat, as asked for
	HoldingWatts  float64  `json:"holding_watts"`     // what keeps the open bath at its start temperature
	CoolingPerMin float64  `json:"cooling_c_per_min"` // at the start, open
	Capacity      Capacity `json:"capacity"`
	Shares        Shares   `json:"strength_loss"`
	Totals        Totals   `json:"totals"`
}

// Load is what goes in at once.
type Load struct {
	Number       int     `json:"number"`
	Pieces       int     `json:"pieces"`
	ByKind       []Part  `json:"by_kind,omitempty"` // where there are several kinds
	Bath         int     `json:"bath"`              // 1 for the first
	StartMin     float64 `json:"start_min"`
	BeforeC      float64 `json:"before_c"`      // of the bath before the load goes in
	TemperatureC float64 `json:"temperature_c"` // in the middle of the dip
	Strength     float64 `json:"strength"`      // 1 is the recipe's
	DipS         int     `json:"dip_s"`         // from in to out
	LowS         int     `json:"dip_low_s"`     // between these the right time lies, as far as is known
	HighS        int     `json:"dip_high_s"`
	RinseShare   float64 `json:"rinse_share,omitempty"` // of the bath, clings behind the last rinse
}

// Part is how many pieces of a kind are in a load.
type Part struct {
	Lot    int `json:"kind"` // from 0
	Pieces int `json:"pieces"`
}

// Event is what is done between two loads.
type Event struct {
	AfterLoad int     `json:"after_load"`
	Do        string  `json:"do"` // one of the words below
	AtMin     float64 `json:"at_min"`
	Minutes   float64 `json:"minutes"` // it takes
	FromC     float64 `json:"from_c,omitempty"`
	ToC       float64 `json:"to_c,omitempty"`
	Strength  float64 `json:"strength,omitempty"` // before
	Share     float64 `json:"share,omitempty"`    // of the whole dose of each reagent
	OutL      float64 `json:"out_l,omitempty"`    // ladled or poured out
	InL       float64 `json:"in_l,omitempty"`     // of water
	Tubs      int     `json:"tubs,omitempty"`
	WarmMin   float64 `json:"warm_min,omitempty"` // of Minutes, a fresh bath that is mixed cold takes to warm
}

// What an event does.
const (
	Reheat      = "reheat"
	PourHot     = "pour-hot"
	Strengthen  = "strengthen"
	FreshBath   = "fresh-bath"
	ChangeRinse = "change-rinse"
)

// Note says an event in a sentence; doses are the reagents as the balance shows them.
func (e Event) Note(doses measure.Note) measure.Note {
	to := measure.Celsius(e.ToC)
	switch e.Do {
	case Reheat:
		return measure.Say("reheat to ", to, " (it has cooled to ", measure.Celsius(e.FromC), ")")
	case PourHot:
		if e.OutL > 0 {
			return measure.Say("ladle out ", measure.Liters(e.OutL), ", pour in ", measure.Liters(e.InL), " from the kettle: back to ", to)
		}
		return measure.Say("pour in ", measure.Liters(e.InL), " from the kettle: back to ", to)
	case Strengthen:
		return measure.Say("add ", doses, ", stir, 2 min")
	case FreshBath:
		if e.WarmMin > 0 {
			return measure.Say("fresh bath: ", measure.Liters(e.InL), ", ", doses, ", mixed as the first and warmed to ", to, ", about ", measure.Seconds(math.Ceil(e.WarmMin)*60), "; the old one goes to its waste")
		}
		return measure.Say("fresh bath: ", measure.Liters(e.InL), " at ", to, ", ", doses, "; the old one goes to its waste")
	case ChangeRinse:
		return measure.Say("empty the first rinse into the waste of this bath, move the others up, fill the last with ", measure.Liters(e.InL))
	}
	return measure.Say(e.Do)
}

// Verdict is how well the pieces of a run will match.
type Verdict string

// The verdicts.
const (
	ShouldMatch Verdict = "should match"
	MayShow     Verdict = "may show in direct comparison"
	WillNot     Verdict = "will not match"
	NotKnown    Verdict = "not known"
)

func (v Verdict) rank() int {
	return map[Verdict]int{ShouldMatch: 0, NotKnown: 0, MayShow: 1, WillNot: 2}[v]
}

// Match compares the pieces with one another: the film of each against the film wanted.
type Match struct {
	Verdict        Verdict `json:"verdict"`
	SpreadPercent  float64 `json:"spread_percent"` // the most film over the least, less one
	LeastPercent   float64 `json:"least_percent"`  // against what is wanted, below zero is less
	MostPercent    float64 `json:"most_percent"`
	WindowPercent  float64 `json:"window_percent"` // the spread that still looks the same
	ShortPercent   float64 `json:"window_short_percent"`
	LongPercent    float64 `json:"window_long_percent"`
	OneTimePercent float64 `json:"one_time_spread_percent"` // with one dip time for all
}

// Totals is what a run takes.
type Totals struct {
	Baths       int     `json:"baths"`
	Loads       int     `json:"loads"`
	Minutes     float64 `json:"minutes"` // at the bath, from the first piece in to the last out
	Doses       float64 `json:"doses"`   // of all reagents, the first is 1
	WaterL      float64 `json:"water_l"`
	WasteL      float64 `json:"waste_l"`
	EvaporatedL float64 `json:"evaporated_l"`
	DraggedOutL float64 `json:"dragged_out_l"`
}

// Capacity says how large a load may be and what keeps it from being larger.
type Capacity struct {
	Pieces int    `json:"pieces"` // of the largest load
	By     string `json:"by"`
	Why    string `json:"why,omitempty"`
}

// Shares says where the strength went, in percent of what was lost.
type Shares struct {
	AirPercent     float64 `json:"air_percent"`
	FilmPercent    float64 `json:"film_percent"`
	DragOutPercent float64 `json:"drag_out_percent"`
	WaterPercent   float64 `json:"water_percent"`
}

// Warning is something to read before starting.
type Warning struct {
	Code string `json:"code"`
	measure.Note
}

// Assumption is a figure that was not given and that the plan is based on.
type Assumption struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Source string  `json:"source"`
}

// Notes are what a reader of figures must know beside them.
type Notes struct {
	Warnings    []Warning    `json:"warnings"`
	Assumptions []Assumption `json:"assumptions"`
	Working     []metal.Step `json:"-"`
}

// Warn adds a warning, its parts as [measure.Say] takes them.
func (n *Notes) Warn(code string, parts ...any) {
	n.Warnings = append(n.Warnings, Warning{code, measure.Say(parts...)})
}

// Assume adds a figure that was not given.
func (n *Notes) Assume(name string, value float64, unit, source string) {
	n.Assumptions = append(n.Assumptions, Assumption{name, value, unit, source})
}

// Default fills in a figure of common practice if none was given, and records it as assumed.
func (n *Notes) Default(to *float64, given bool, value float64, name, unit string) {
	if !given {
		*to = value
		n.Assume(name, value, unit, practice)
	}
}

const practice = "assumed: common practice, no source"

// Step adds a line of working.
func (n *Notes) Step(name, formula, numbers, result, source string) {
	n.Working = append(n.Working, metal.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Source: source})
}

func num[T ~float64](x T) string { return measure.Figures(float64(x), 3) }
