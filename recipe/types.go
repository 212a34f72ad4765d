package recipe

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe/measure"
)

// Kind says how a recipe reaches the metal, and so what it scales by.
type Kind string

// The kinds. A pickle and a stop are helper baths around a finish.
const (
	Immersed Kind = "immersed" // pieces go into the bath; scales by bath volume
	Brushed  Kind = "brushed"  // scales by area and coats
	Sprayed  Kind = "sprayed"  // scales by area and coats
	Pickle   Kind = "pickle"   // an acid helper bath
	Stop     Kind = "stop"     // an alkaline helper bath: it stops a finish or strips it
)

// Coated tells whether the pieces are brushed or sprayed, rather than going into a bath.
func (k Kind) Coated() bool { return k == Brushed || k == Sprayed }

var kinds = []string{string(Immersed), string(Brushed), string(Sprayed), string(Pickle), string(Stop)}

// Range is a figure with its limits, From <= At <= To; all are equal for a single figure.
type Range[T comparable] struct{ At, From, To T }

// Recipe is a finish: the master from which every batch is scaled. [Decode] makes it, and it
// does not change.
type Recipe struct {
	Slug     string // file name without .toml
	Title    string
	Revision int
	Kind     Kind
	Alloys   []string
	Look     string
	Source   string   // a published work, or "common practice, no published source"
	WarnsOf  []string // what title, look, source, [bath] and [dip] only warn of: ids and group words, see [reagent.Called]
	Plated   bool     // made for plated ware, whose silver is thin
	Bath     Bath
	Dip      *Dip   // immersed, pickle and stop
	Coats    *Coats // brushed and sprayed
	Steps    []Step
	Hazards  Hazards

	File    string // where it was read from; "built-in" for the embedded ones
	Builtin bool
	Text    string // the file itself
	Digest  string // "sha256:" and 64 hex digits over the canonical content

	texts []Said
}

// Bath is the solution and how it is kept.
type Bath struct {
	Water         Range[measure.Celsius]   // where to mix and start, 0 to 110 C
	WorksDownTo   measure.Celsius          // below it the bath does not work; 0 where not given
	Weakest       float64                  // share of its strength below which it does not work, over 0 and under 1; 0 where not given
	MaxLoad       measure.SquareDMPerLiter // metal in the bath at one time; 0 where not given
	MaxLoadReason string                   // why; empty where MaxLoad is 0
	Vessel        string                   // what it may stand in, in words
	Reagents      []Reagent                // the first is the limiting one
	Mix           []MixStep                // as the file has it; [Bath.Mixing] returns the order to follow
}

// MixStep is one thing put into the vessel when the bath is mixed.
type MixStep struct {
	Add      string          // AddWater, or the id of a reagent of the bath
	Part     float64         // share of that water or reagent, over 0 and up to 1
	Water    measure.Celsius // temperature of the water, 0 to 100 C
	HasWater bool            // whether Water is given
	How      string          // in words
	WarnsOf  []string        // what How only warns of
	Line     int             // in the file; 0 where the file has no [[bath.mix]]
}

// Reagent is one thing weighed or measured into the bath.
type Reagent struct {
	Substance     string // an id of the reagent package
	Form          string // one of the forms of the substance; empty for the default
	Concentration Range[measure.Concentration]
	Note          string   // what to do and to look for
	Source        string   // where the figure is from, and what was assumed
	WarnsOf       []string // what Note and Source only warn of
}

// Dip is the time in the bath.
type Dip struct {
	Time   Range[measure.Seconds]
	Dips   int    // how many times a piece goes in, 1 if not given; Time is for all of them together
	StopAt string // what to look for
	Window Window
}

// How says in how many dips the time passes and what ends it; "" where neither is given.
func (d *Dip) How() string {
	var parts []string
	if d.Dips > 1 {
		parts = append(parts, fmt.Sprintf("in %d dips, time in all", d.Dips))
	}
	if d.StopAt != "" {
		parts = append(parts, "stop at "+measure.Clean(d.StopAt))
	}
	return strings.Join(parts, "; ")
}

// Window says how far a time in the bath may miss and the piece still looks the same, or
// nothing.
type Window struct {
	Short  float64 // share of the time that may be missing, 0 to 0.9: 0.33 is a third shorter
	Long   float64 // share of the time that may be too much, 0 to 9: 0.67 is two thirds longer
	Source string  // a published work, or "common practice, no published source"
}

// Given tells whether the recipe has a window.
func (w Window) Given() bool { return w.Source != "" }

// Coats is how often and how thickly a brushed or sprayed finish is laid on.
type Coats struct {
	Number Range[float64]
	Spread Range[measure.MillilitersPerSquareM] // per coat
	Wait   Range[measure.Seconds]               // between coats
}

// Step is one thing done, in order. Only the keys that fit Do are set.
type Step struct {
	Do            string                       // degrease, matte, heat, pickle, rinse, dip, coat, neutralise, dry, relieve, seal, inspect, wait
	With          string                       // a substance of the reagent package, or empty
	Concentration Range[measure.Concentration] // of With; zero where not given
	Water         Range[measure.Celsius]       // zero where not given
	HasWater      bool
	Time          Range[measure.Seconds] // zero where not given
	Baths         int                    // how many rinses one after the other; 1 if not given
	Running       bool                   // a running rinse
	In            string                 // the vessel it is done in, by the workshop's own name; for a dip, the vessel of the bath
	Tools         []string               // baskets, tongs, brushes, by the workshop's own names; at most 8
	How           string                 // free text: tool, cloth, what to look for
	Note          string
	WarnsOf       []string // what How and Note only warn of
	Line          int      // in the file
}

// Hazards is what the recipe itself adds to what follows from its substances.
type Hazards struct {
	Gas         []string
	Ventilation string
	PPE         []string
	Disposal    string
	Notes       []string
	WarnsOf     []string // what the texts of [hazards] only warn of
}

// For tells whether the recipe is written for an alloy; the empty name is any.
func (r *Recipe) For(alloy string) bool {
	return alloy == "" || slices.Contains(r.Alloys, alloy)
}

// Said is one text of a recipe, in the words of its author.
type Said struct {
	Key  string // "how"
	Text string
	Line int // in the file
}

// Texts returns every text that a person reads, without the sources, as the file has it.
func (r *Recipe) Texts() []Said { return r.texts }
