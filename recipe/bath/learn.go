package bath

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Reading is what came out right here in one batch, of a recipe and a family of metal.
type Reading struct {
	Dips  []Timed // of its loads, or the one of its result; one at least
	Day   string  // "12 March 2026"
	Batch string
}

// Timed is a dip that came out right.
type Timed struct {
	Time measure.Seconds
	At   measure.Celsius
}

// mostReadings is how many readings count: the newest.
const mostReadings = 7

// Learn returns the dip time that came out right at this bench, carried over to the
// temperature of the recipe by the law: the median of the readings, the newer ones
// weighing more (n for the newest of n, down to 1). A batch of several loads counts with
// their median, so that a single late lift teaches nothing. Readings come newest first. Those
// beyond the recipe's dip times, carried over, are left out and named in strange. It
// returns nil if nothing is left, or if the bath has no law.
func Learn(r *recipe.Recipe, silver bool, readings []Reading) (m *Measured, strange []string) {
	if r.Dip == nil || len(r.Bath.Reagents) == 0 {
		return nil, nil
	}
	if what, err := reagent.Find(r.Bath.Reagents[0].Substance); err != nil || !what.In(reagent.Sulfide) {
		return nil, nil
	}
	prior := kinetics.Copper
	if silver {
		prior = kinetics.Silver
	}
	var all []measure.Seconds // newest first
	var newest Reading
	at := r.Bath.Water.At
	for _, reading := range readings {
		if len(all) == mostReadings {
			break
		}
		there := func(d Timed) measure.Seconds {
			return kinetics.Law{T0: d.Time + plan.Handling, At: d.At, Strength: 1, Prior: prior}.Time(at, 1) - plan.Handling
		}
		dips := slices.SortedFunc(slices.Values(reading.Dips), func(a, b Timed) int { return cmp.Compare(there(a), there(b)) })
		dip := dips[(len(dips)-1)/2]
		carriedTo := there(dip)
		if low, high := r.Dip.Time.From/2, r.Dip.Time.To*2; carriedTo < low || carriedTo > high {
			number, _, _ := strings.Cut(reading.Batch, " ")
			strange = append(strange, fmt.Sprintf("batch %s has %s at %s, which is %s at %s: far from the recipe's %s to %s. It is left out. To correct it: hepar journal amend %s temperature=... time=... --reason ...", reading.Batch,
				measure.Metric.Time(dip.Time), measure.Metric.Temperature(dip.At), measure.Metric.Time(measure.Seconds(math.Round(float64(max(carriedTo, 0))))), measure.Metric.Temperature(at),
				measure.Metric.Time(r.Dip.Time.From), measure.Metric.Time(r.Dip.Time.To), number))
			continue
		}
		if len(all) == 0 {
			newest = reading
		}
		all = append(all, carriedTo)
	}
	if len(all) == 0 {
		return nil, strange
	}
	var weighed []measure.Seconds // each as often as it weighs
	for i, time := range all {
		weighed = append(weighed, slices.Repeat([]measure.Seconds{time}, len(all)-i)...)
	}
	slices.Sort(weighed)
	source := fmt.Sprintf("%s, batch %s", newest.Day, newest.Batch)
	if len(all) > 1 {
		source = fmt.Sprintf("%d readings, the newest of %s", len(all), source)
	}
	return &Measured{Time: weighed[(len(weighed)-1)/2], At: at, Strength: 1, Source: source, Readings: len(all)}, strange
}
