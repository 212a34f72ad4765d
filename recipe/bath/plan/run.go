package plan

import (
	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Run is everything the plan rests on. Lots, Volume, Water and Dip are required;
// a zero field elsewhere was not given, and takes the default that its comment
// names, which the plan then lists among its assumptions.
type Run struct {
	Lots    []Lot
	Group   int                      // pieces of one kind that stay together; 0 and 1: none
	MaxLoad measure.SquareDMPerLiter // 0: [DefaultMaxLoad]
	PerLoad int                      // most pieces in one load; 0: no such limit

	Volume          measure.Liters
	Vessel          Vessel
	Tub             heat.Tub // surfaces that lose heat, its Lid not read; zero: from Vessel, or from Volume
	VesselHeatJPerK float64  // heat capacity of the vessel itself

	GapMM      measure.Millimeters // between pieces; 0: [DefaultGapMM]
	Hung       bool                // pieces hang upright, so that their narrow side counts
	Basket     bool                // all pieces of a load go in and out at once
	RackPieces int                 // what one rack holds; a rack goes in and out at once
	Hands      Hands

	Water         recipe.Range[measure.Celsius]
	Start         measure.Celsius // planned temperature of a fresh or reheated bath; 0: Water.At
	Dip           recipe.Range[measure.Seconds]
	Life          measure.Seconds               // half-life; 0: 4 h for a sulfide, else no ageing is counted
	Reagents      []Reagent                     // what a fresh bath takes, the limiting one first; a sulfide there makes a sulfide bath
	StartStrength float64                       // planned strength of a fresh bath; 0: 1, the recipe's
	FilmNM        float64                       // film wanted, for the sulfur that it binds; 0: [kinetics.BlackFilmNM]
	Film          kinetics.Sulfide              // zero: silver's
	Rate          kinetics.Rate                 // zero: [kinetics.Assumed]
	Drain         measure.MillilitersPerSquareM // drag-out; 0: poorly drained

	Air     heat.Air
	Metal   measure.Celsius // of the pieces as they go in; 0: as the room
	Held    bool            // a thermostat or hot plate keeps the bath
	Lid     bool            // on between loads
	HeaterW float64         // steady heat while the run goes on
	Kettle  Kettle

	ReheatMinutes float64         // on a plate, per reheating; 0: [DefaultReheatMin]
	ChangeMinutes float64         // to mix a fresh bath; 0: [DefaultChangeMin]
	Between       measure.Seconds // from the last piece out to the next one in; 0: [DefaultBetween]
	Rinse         Rinse

	Explain int // load whose working is shown; 0: the one that stays in longest
}

// Reagent is one thing that goes into every fresh bath.
type Reagent struct {
	reagent.Stock
	Concentration recipe.Range[measure.Concentration]
	Step          float64 // of balance or cylinder, g or mL; 0: nothing is rounded
}

// Dose returns what balance or cylinder shows for a bath of a volume, at a share of
// the strength of the recipe (1: the recipe's).
func (r Reagent) Dose(v measure.Liters, strength float64) reagent.Amount {
	c := r.Concentration
	return r.Weigh(c.At.Times(strength), c.From, c.To, v, r.Step)
}

// limiting returns the reagent whose strength decides; one of nothing where the run
// has none.
func (r *Run) limiting() Reagent {
	if len(r.Reagents) == 0 {
		return Reagent{}
	}
	return r.Reagents[0]
}

// Lot is one kind of piece. Area and Pieces are above 0; with a mass of 0 the cold
// that it brings is left out, with an extent of 0 the room that it takes up.
type Lot struct {
	Name         string
	Pieces       int
	AreaCM2      measure.SquareCM
	MassG        measure.Grams
	SpecificHeat float64                // J/(g K)
	ExtentMM     [3]measure.Millimeters // largest side first
}

// Vessel is the inside of the tub: a box, or round where DiameterMM is given.
type Vessel struct {
	LengthMM, WidthMM, DiameterMM, HeightMM measure.Millimeters
}

// Hands is how fast pieces are placed and taken, one after the other and in the
// same order. Zero fields take the defaults of [DefaultHands].
type Hands struct {
	InS, OutS float64 // s per piece
	// Tolerance is how far the first and the last piece of a load may differ, as a
	// part of the dip time.
	Tolerance float64
	// Uneven is how far the pace in and the pace out of the same hands differ, as a
	// part of the seconds per piece, where InS and OutS differ by less.
	Uneven float64
}

// Kettle is hot water at hand for topping up: At, and how much between two loads.
type Kettle struct {
	At   measure.Celsius
	Most measure.Liters
}

// Rinse is the row of static tubs behind the bath. With 0 tubs none is planned.
type Rinse struct {
	Tubs   int
	Volume measure.Liters // of each
	// LimitPerL is the most of the limiting reagent that may cling behind the last
	// tub, in g or mL of its recipe's form per L; 0: a hundredth of the bath.
	LimitPerL float64
}

// Defaults of a run. All are assumed: common practice, no published source.
const (
	DefaultMaxLoad   measure.SquareDMPerLiter = 2
	DefaultGapMM     measure.Millimeters      = 5
	DefaultLife      measure.Seconds          = 4 * 3600
	DefaultReheatMin                          = 10
	DefaultChangeMin                          = 15
	DefaultBetween   measure.Seconds          = 90
	// DefaultFallC is how far a bath may cool where its recipe names no lower limit, in K.
	DefaultFallC measure.Celsius = 5
	// DefaultStrengthLeft is the least strength where the recipe names no lower
	// limit: half is gone.
	DefaultStrengthLeft = 0.5
	// DefaultRinseShare is what may cling behind the last rinse, as a part of the bath.
	DefaultRinseShare = 0.01
)

// DefaultHands is a practised pair of hands: assumed.
func DefaultHands() Hands { return Hands{InS: 2, OutS: 2, Tolerance: 0.1, Uneven: 0.25} }

// Most pieces and kinds that are taken.
const (
	MostPieces = 1_000_000
	MostLots   = 100
)
