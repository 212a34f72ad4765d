package plan

import (
	"fmt"
	"math"
	"slices"

	"hepar/recipe/bath/heat"
	"hepar/recipe/measure"
)

// Lever is one thing that a person can change, and what the run then looks like.
// The three changes are against the run as it stands: below zero is less.
type Lever struct {
	Name string `json:"name"` // "lid", "warm-plate", "larger-bath", "cooler", "weaker", "smaller-loads", "basket", "kettle"
	measure.Note
	SpreadPercent float64 `json:"spread_percent"`
	Minutes       float64 `json:"minutes"`
	Reagent       float64 `json:"reagent"`
	Loads         int     `json:"loads"`
	Events        int     `json:"events"`
	ByPercent     float64 `json:"by_percent"` // points of spread
	ByMinutes     float64 `json:"by_minutes"`
	ByReagent     float64 `json:"by_reagent"`
	Enough        bool    `json:"enough"` // the spread then keeps the limit
}

// Help tries the levers one at a time where the planned spread of a run is above a
// limit in percent, and lists what each does, the best match first and among
// equals the shortest run. What would do nothing is left out. It returns nothing
// where the match is good enough, or the run cannot be planned.
func Help(r Run, limitPercent float64) []Lever {
	base, err := Make(r)
	if err != nil || !(base.Match.PlannedSpreadPercent > limitPercent) {
		return nil
	}
	var levers []Lever
	for _, t := range tries(r, base) {
		p, err := Make(t.run)
		if err != nil || same(p, base) {
			continue
		}
		levers = append(levers, Lever{Name: t.name, Note: t.note, SpreadPercent: p.Match.PlannedSpreadPercent, Minutes: p.Totals.Minutes,
			Reagent: p.Totals.Reagent, Loads: p.Totals.Loads, Events: len(p.Events),
			ByPercent: p.Match.PlannedSpreadPercent - base.Match.PlannedSpreadPercent, ByMinutes: p.Totals.Minutes - base.Totals.Minutes,
			ByReagent: p.Totals.Reagent - base.Totals.Reagent, Enough: p.Match.PlannedSpreadPercent <= limitPercent})
	}
	slices.SortStableFunc(levers, func(a, b Lever) int {
		switch {
		case math.Abs(a.SpreadPercent-b.SpreadPercent) > 0.05:
			if a.SpreadPercent < b.SpreadPercent {
				return -1
			}
			return 1
		case a.Minutes < b.Minutes:
			return -1
		case a.Minutes > b.Minutes:
			return 1
		}
		return 0
	})
	return levers
}

// same tells that a lever does nothing to a run.
func same(a, b Plan) bool {
	return a.Match.PlannedSpreadPercent == b.Match.PlannedSpreadPercent && a.Totals.Minutes == b.Totals.Minutes && a.Totals.Reagent == b.Totals.Reagent
}

type trial struct {
	name string
	run  Run
	note measure.Note
}

// tries lists the levers that this run has left.
func tries(r Run, base Plan) []trial {
	var list []trial
	add := func(name string, run Run, parts ...any) { list = append(list, trial{name, run, measure.Say(parts...)}) }
	watts := func(w float64) string { return figure(w, 0) + " W" }
	hot := base.CoolingPerMin > 0 && !r.Held
	if hot && !r.Lid {
		run := r
		run.Lid = true
		add("lid", run, "put a lid on between loads: the bath loses "+watts(base.HoldingWattsLid)+" under it, "+watts(base.HoldingWattsOpen)+" without")
	}
	if hot {
		run := r
		run.Held, run.HeaterW = true, 0
		add("warm-plate", run, "hold the bath on a hot plate or in a water bath that supplies about "+watts(base.HoldingWattsOpen))
	}
	largest := base.Capacity.Pieces
	if run := larger(r); run.Volume <= 1000 {
		run.PerLoad = largest // the same loads in more bath
		add("larger-bath", run, "take twice the bath, ", run.Volume, ", with the same loads")
	}
	start, low := measure.Celsius(base.StartC), measure.Celsius(base.TemperatureFromC)
	if start-low >= 2 {
		run := r
		run.Start = (start + low) / 2
		add("cooler", run, "start at ", run.Start, " instead of ", start, ": dips are longer, and whole seconds and hands count for less")
	}
	strength := r.StartStrength
	if strength == 0 {
		strength = 1
	}
	if at := r.limiting().Concentration.At; strength-base.StrengthFrom >= 0.05 && at.PerL > 0 {
		run := r
		run.StartStrength = (strength + base.StrengthFrom) / 2
		add("weaker", run, "mix it weaker, ", at.Times(run.StartStrength), ": dips are longer, and whole seconds and hands count for less")
	}
	group := max(r.Group, 1)
	if half := max(group, largest/2/group*group); half < largest {
		run := r
		run.PerLoad = half
		text := fmt.Sprintf("put in at most %d pieces at a time", half)
		if half == 1 {
			text = "put in one piece at a time"
		}
		add("smaller-loads", run, text)
	}
	if !r.Basket && r.RackPieces == 0 && largest > 1 {
		run := r
		run.Basket = true
		add("basket", run, "use a basket, so that all pieces of a load go in and come out as one")
	}
	if hot && r.Kettle.Most == 0 && start < 95 {
		run := r
		run.Kettle = Kettle{At: 95, Most: r.Volume / 4}
		add("kettle", run, "top up from a kettle at ", run.Kettle.At, " instead of reheating, up to ", run.Kettle.Most, " at a time")
	}
	return list
}

// larger is the run in twice the bath, the vessel grown in all directions alike.
func larger(r Run) Run {
	side := math.Cbrt(2)
	r.Volume *= 2
	v := &r.Vessel
	for _, s := range []*measure.Millimeters{&v.LengthMM, &v.WidthMM, &v.DiameterMM, &v.HeightMM} {
		*s *= measure.Millimeters(side)
	}
	if r.Tub.SurfaceCM2 > 0 {
		r.Tub = heat.Tub{SurfaceCM2: r.Tub.SurfaceCM2 * side * side, WallCM2: r.Tub.WallCM2 * side * side}
	}
	r.VesselHeatJPerK *= side * side
	return r
}
