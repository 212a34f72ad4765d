package bath

import (
	"fmt"
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Planner lays out the loads of a run. [EvenLoads] is the plain one; the plan in
// time stands behind the same face.
type Planner interface {
	Plan(Run) ([]Load, error)
}

// Run is what a planner needs to know.
type Run struct {
	Pieces      int             // spares included
	Group       int             // pieces that stay together
	MostPerLoad int             // by area, and by --per-load
	Temperature measure.Celsius // of the mixed bath
	Dip         measure.Seconds // at that temperature and full strength
	Handling    measure.Seconds // from one load to the next, besides the dip
}

// EvenLoads is the plain plan: as few loads as the limit allows, filled evenly,
// sets kept together, each at the recipe's own temperature and time.
type EvenLoads struct{}

// HandlingS is the time between two loads besides the dip, in s: taking out,
// draining, placing the next. Assumed.
const HandlingS measure.Seconds = 90

// Plan lays out the loads. Pieces must be a multiple of Group.
func (EvenLoads) Plan(r Run) ([]Load, error) {
	if r.MostPerLoad < r.Group {
		return nil, fault.Failuref("a set of %d is more than the %d pieces of one load", r.Group, r.MostPerLoad).At("--group").
			Try("take a larger bath, or let the sets be split with --group 1")
	}
	sets := r.Pieces / r.Group
	perLoad := r.MostPerLoad / r.Group
	n := (sets + perLoad - 1) / perLoad
	loads := make([]Load, n)
	start := 0.0
	for i := range loads {
		// Spread the remainder over the first loads, so that no two loads differ
		// by more than one set.
		in := sets / n
		if i < sets%n {
			in++
		}
		loads[i] = Load{Number: i + 1, Pieces: in * r.Group, Bath: 1, StartMin: start,
			TemperatureC: float64(r.Temperature), Strength: 1, DipS: float64(r.Dip)}
		start += (r.Dip + r.Handling).Minutes()
	}
	return loads, nil
}

func (o *Order) loads(s *Sheet) error {
	total := o.Pieces + o.Spares
	most := int(math.Floor(float64(o.maxLoadQuiet())*s.Bath.VolumeL/(float64(o.Piece.Area)/100) + 1e-9))
	most = max(most, o.Group) // a bath too small for one set has its own warning
	s.work("most pieces in one load", "load limit x bath / area of one piece",
		fmt.Sprintf("%s dm2/L x %s L / %s dm2", num(o.maxLoadQuiet()), num(s.Bath.VolumeL), num(float64(o.Piece.Area)/100)),
		fmt.Sprint(most), "load limit: recipe")
	if o.PerLoad > 0 {
		if o.PerLoad > most {
			s.warn("per-load", fmt.Sprintf("Loads of %d were asked for, but this bath takes %d at %s dm2/L. The loads are cut to %d.",
				o.PerLoad, most, measure.Figures(float64(o.maxLoadQuiet()), 2), most))
		}
		most = min(most, o.PerLoad)
	}
	run := Run{Pieces: total, Group: o.Group, MostPerLoad: most, Temperature: o.Recipe.Bath.Water.At, Handling: HandlingS}
	if o.Recipe.Dip != nil {
		run.Dip = o.Recipe.Dip.Time.At
	}
	s.assume("time between loads", float64(HandlingS), "s", "assumed")
	loads, err := EvenLoads{}.Plan(run)
	if err != nil {
		return err
	}
	s.Loads = loads
	return nil
}

// maxLoadQuiet is maxLoad without listing the assumption a second time.
func (o *Order) maxLoadQuiet() measure.SquareDMPerLiter {
	if m := o.Recipe.Bath.MaxLoad; m > 0 {
		return m
	}
	return DefaultMaxLoad
}
