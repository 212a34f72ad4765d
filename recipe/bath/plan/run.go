package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Asked is what a person asks of a run. Kinds are required; a zero field elsewhere was not
// given, and takes the default that its comment names.
type Asked struct {
	Kinds    []job.Kind // of piece, in the same bath
	Group    int        // pieces of one kind that stay together; 0 and 1: none
	PerLoad  int        // most pieces in a load; 0: no such limit
	Volume   measure.Liters
	Vessel   Vessel
	Heat     Heat
	Lid      bool            // on between loads
	Transfer Transfer        // empty: Together
	Rack     int             // pieces on one rack, with OnRacks
	Start    measure.Celsius // of the bath; 0: chosen
	Explain  int             // load whose working is written down; 0: the one that stays in longest
}

// Count returns how many pieces go into the bath, spares among them.
func (a *Asked) Count() (n int) {
	for _, k := range a.Kinds {
		n += k.Count()
	}
	return n
}

// Run is everything that a plan rests on; defaults that matter are listed among the assumptions.
type Run struct {
	Asked                            // Volume is required
	MaxLoad measure.SquareDMPerLiter // where the recipe gives one with a reason; 0: none

	Room measure.Liters // of the volume, taken by reagents: no water
	Bulk float64        // J/K of what shares the temperature of the bath besides water: vessel, solids

	Pace float64 // by hand, s for each piece in and again out; 0: DefaultPace

	Water       recipe.Range[measure.Celsius] // where to mix
	Dip         recipe.Range[measure.Seconds]
	WorksDownTo measure.Celsius  // 0: no such limit; the dip decides
	Weakest     float64          // share of the recipe's strength; 0: DefaultWeakest
	Strongest   float64          // share of the recipe's strength up to which it may be strengthened; 0: 1
	Window      recipe.Window    // zero: a tenth either way
	Law         kinetics.Law     // of the dip time; zero: none, the recipe's time holds at any temperature in its range
	Strength    float64          // of a fresh bath, against the recipe's, as the rounded dose makes it; 0: 1
	Most        measure.Celsius  // the hottest that the bath can be mixed
	MixedAt     *measure.Celsius // the water that it is mixed with and then warmed; nil: the bath decides

	Sulfur  float64 // g of sulfide sulfur in each L at a strength of 1; 0: no sulfide
	Reagent float64 // g of the reagent that fades, in a fresh bath at a strength of 1
	Fade    float64 // g/(m2 h) of the reagent that a bath left alone loses to air; 0: it does not

	Drain   measure.MillilitersPerSquareM // drag-out
	Air     heat.Air
	MetalIn measure.Celsius // of the pieces as they go in
	Rinse   rinse.Row       // of static tubs behind the bath; with none, none is planned
}

// Transfer is how pieces go in and come out.
type Transfer string

// The ways.
const (
	Together Transfer = "together" // in a strainer, a basket or on wires, all at once
	ByHand   Transfer = "by-hand"  // one after the other, out in the order they went in
	OnRacks  Transfer = "rack"
)

// Heat is what the bench has to warm a bath.
type Heat struct {
	Kind   HeatKind        // empty: NoHeat
	Watts  float64         // that reach the bath, of a plate or a thermostat; 0: DefaultWatts
	Liters measure.Liters  // in the kettle, for one pouring; 0: DefaultKettle
	Water  measure.Celsius // of the kettle
}

// HeatKind is the word for it.
type HeatKind string

// The kinds.
const (
	NoHeat     HeatKind = "none"
	Kettle     HeatKind = "kettle"
	Plate      HeatKind = "plate"
	Thermostat HeatKind = "thermostat"
)

// ParseHeat reads what warms the bath: none, kettle:1.5L, plate:500W, thermostat.
func ParseHeat(text string) (h Heat, err error) {
	kind, amount, given := strings.Cut(strings.TrimSpace(text), ":")
	h.Kind = HeatKind(strings.ToLower(kind))
	switch {
	case !slices.Contains([]HeatKind{NoHeat, Kettle, Plate, Thermostat}, h.Kind):
		return h, fault.Usagef("%q is not a way to heat", measure.Clean(text)).Try("write none, kettle:1.5L, plate:500W or thermostat")
	case !given:
		return h, nil
	case h.Kind == NoHeat:
		return h, fault.Usagef("%q: none takes no amount", measure.Clean(text)).Try("write --heat none")
	case h.Kind == Kettle:
		h.Liters, err = measure.ParseVolume(amount)
	default:
		h.Watts, err = measure.ParseWatts(amount)
	}
	if err == nil && h.Liters <= 0 && h.Watts <= 0 {
		err = fault.Usagef("%q is not above zero", measure.Clean(text)).Try("write its volume or its watts, as in kettle:1.5L or plate:500W")
	}
	return h, err
}

// Defaults of a run. All are assumed: common practice, no published source.
const (
	DefaultGap           measure.Millimeters = 1 // pieces in a strainer lie close and are kept moving
	DefaultGapByHand     measure.Millimeters = 5
	DefaultBetween       measure.Seconds     = 60 // out, drained, rinsed, the next in the strainer
	DefaultBetweenByHand measure.Seconds     = 15
	DefaultChange        measure.Seconds     = 600
	DefaultWeakest                           = 0.5
	DefaultWatts                             = 300.0 // of a small plate, as they reach the bath
	DefaultWarming                           = 500.0 // of what warms a further bath that is mixed cold, where nobody said
	DefaultKettle        measure.Liters      = 1
	// ColdOver is by how much a bath may be wanted above the room and still be mixed
	// from the tap and left to stand, in K.
	ColdOver measure.Celsius = 5
	// DefaultPace is that of a practised pair of hands.
	DefaultPace = 2.0 // s for each piece
	// unevenPace is how far the pace in and the pace out differ, as a part of it.
	unevenPace = 0.25
	// Handling is how long film grows on a piece that is lifted, drained and taken to the rinse.
	Handling = 2.0 // s
	// Uneven is how far times differ in a load: the first wet is not the first out.
	Uneven = 1.0 // s
	// coldest is how far a load may chill the bath at once, in K.
	coldest = 8.0
	// thirstiest is the share of the sulfur in the bath that one load may bind.
	thirstiest = 0.15
	// rinseShare is what may cling behind the last rinse, as a part of the bath.
	rinseShare = 0.01
)

// MostKinds is how many kinds of piece are taken.
const MostKinds = 100

// Check refuses what cannot be asked of a run; the error is of kind Usage.
func (a *Asked) Check() error {
	group, pieces, spares := max(a.Group, 1), "--pieces", "--spares"
	if len(a.Kinds) > 1 {
		pieces, spares = "--kind", "--kind"
	}
	for _, k := range a.Kinds {
		of := ""
		if len(a.Kinds) > 1 {
			of = " of " + k.Name
		}
		switch {
		case a.Group < 0 || a.Group > 1000:
			return fault.Usagef("a set cannot have %d pieces", a.Group).At("--group").Try("give how many pieces stay together, 2 for pairs")
		case k.Pieces < 1 || k.Pieces > job.MostPieces:
			return fault.Usagef("a batch cannot have %d pieces%s", k.Pieces, of).At(pieces).Try("give a whole number from 1 to %d", job.MostPieces)
		case k.Spares < 0 || k.Spares > k.Pieces+1000:
			return fault.Usagef("a batch cannot have %d spares%s", k.Spares, of).At(spares).Try("give a whole number that is not more than the pieces")
		case k.Count()%group != 0:
			return fault.Usagef("%s and %s%s do not divide into sets of %d", measure.Counted(k.Pieces, "piece", "pieces"), measure.Counted(k.Spares, "spare", "spares"), of, group).At("--group").
				Try("order a multiple of %d, for instance with %s", group, measure.Counted(k.Spares+group-k.Count()%group, "spare", "spares"))
		}
	}
	switch n := a.Count(); {
	case len(a.Kinds) < 1 || len(a.Kinds) > MostKinds:
		return fault.Usagef("a batch cannot have %d kinds of piece", len(a.Kinds)).At("--kind").Try("give 1 to %d kinds", MostKinds)
	case n > job.MostPieces:
		return fault.Usagef("%d pieces in all are too many", n).At("--kind").Try("give at most %d", job.MostPieces)
	case a.PerLoad < 0 || a.PerLoad > job.MostPieces:
		return fault.Usagef("a load cannot have %d pieces", a.PerLoad).At("--per-load").Try("give a whole number of 1 or more")
	case a.PerLoad > 0 && a.PerLoad < group:
		return fault.Usagef("sets of %d do not fit loads of %d", group, a.PerLoad).At("--group").
			Try("raise --per-load to %d or more, or lower --group", group)
	case !(a.Volume >= 0 && a.Volume <= 1000):
		return fault.Usagef("a bath of %s is out of range", measure.Metric.Volume(a.Volume)).At("--volume").Try("give a volume up to 1000 L")
	case a.Transfer == OnRacks && a.Rack < group:
		return fault.Usagef("a rack of %d does not hold a set of %d", a.Rack, group).At("--rack").Try("take a larger rack, or let the sets be split with --group 1")
	case a.Heat.Watts < 0 || a.Heat.Watts > 100_000 || math.IsNaN(a.Heat.Watts):
		return fault.Usagef("a heater of %g W is out of range", a.Heat.Watts).At("--heat").Try("give its watts, as in plate:500W")
	case a.Heat.Liters > 30: // an urn; chosen
		return fault.Usagef("a kettle of %s is out of range", measure.Metric.Volume(a.Heat.Liters)).At("--heat").Try("give what one filling holds, at most 30 L, as in kettle:1.5L")
	case a.Start != 0 && !(a.Start >= 0 && a.Start <= 100):
		return fault.Usagef("a bath at %s is out of range", measure.Metric.Temperature(a.Start)).At("--start").Try("give a temperature between 0 and 100 C")
	}
	return nil
}

// settled is a run whose defaults are filled in.
type settled struct {
	Run
	gap       measure.Millimeters // between pieces
	between   measure.Seconds     // from the last piece out to the next one in
	open      heat.Tub
	wet, idle *heat.Place // the bath while hands are in it; between loads
	capacity  float64     // J/K of the bath
	surface   float64     // m2
	Notes
}

func settle(r Run) *settled {
	s := &settled{Run: r, gap: DefaultGap, between: DefaultBetween}
	s.Transfer = cmp.Or(s.Transfer, Together)
	if s.Transfer == ByHand {
		s.gap, s.between = DefaultGapByHand, DefaultBetweenByHand
		given := s.Pace > 0
		s.Default(&s.Pace, given, DefaultPace, "pace in", "s")
		s.Default(&s.Pace, given, DefaultPace, "pace out", "s")
		s.Assume("unevenness of the pace", unevenPace, "", practice)
	}
	s.Assume("gap between pieces", float64(s.gap), "mm", practice)
	s.Assume("between two loads", float64(s.between), "s", practice)
	further := "mixing another bath, with hot water ready"
	if s.MixedAt != nil && s.Water.At > *s.MixedAt+ColdOver {
		if further = "mixing another bath, before it is warmed"; s.Heat.Watts == 0 {
			s.Assume("heat that warms another bath", DefaultWarming, "W", practice)
		}
	}
	s.Assume(further, float64(DefaultChange), "s", practice)
	s.Group, s.Weakest, s.Strength, s.Heat.Kind = max(s.Group, 1), cmp.Or(s.Weakest, DefaultWeakest), cmp.Or(s.Strength, 1), cmp.Or(s.Heat.Kind, NoHeat)
	s.Strongest = max(s.Strongest, s.Strength, 1)
	if s.Window.Short == 0 && s.Window.Long == 0 {
		s.Window = recipe.Window{Short: 0.1, Long: 0.1}
		s.Assume("colour tolerance of the finish", 10, "%", "assumed: the recipe gives none")
	}
	switch s.Heat.Kind {
	case Plate, Thermostat:
		s.Default(&s.Heat.Watts, s.Heat.Watts > 0, DefaultWatts, "heat of the "+string(s.Heat.Kind)+" that reaches the bath", "W")
	case Kettle:
		s.Default((*float64)(&s.Heat.Liters), s.Heat.Liters > 0, float64(DefaultKettle), "hot water in the kettle", "L")
	}
	s.open = s.Vessel.tub(s.Volume)
	s.wet, s.surface = heat.Stand(s.open, s.Air), s.open.SurfaceCM2/1e4
	s.idle = heat.Stand(heat.Tub{SurfaceCM2: s.open.SurfaceCM2, WallCM2: s.open.WallCM2, Lid: s.Lid}, s.Air)
	s.capacity = max(1, heat.Capacity(s.Volume, s.Water.At)+s.Bulk)
	return s
}

func (r *Run) kindName(i int) string {
	unnamed := "the piece"
	if len(r.Kinds) > 1 {
		unnamed = fmt.Sprintf("kind %d", i+1)
	}
	return cmp.Or(r.Kinds[i].Name, unnamed)
}
