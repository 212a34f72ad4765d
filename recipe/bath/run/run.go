// Package run is a batch at the bench: what comes next, what happened, and what the
// bath now asks for.
//
// [New] takes the sheet, the recipe and what was written down so far. [Run.Next] says
// what to do now: mix, read a temperature, do something to the bath, dip a load, enter
// the result; and what can be chosen instead. The full screen and the plain lines of the
// terminal and the page of the tablet show it as it is. Whoever did something makes an [Entry] of it and stores it before going on;
// the next Run is made of the entries with that one among them. Nothing is kept here.
//
// A dip time follows the last temperature read: the bath is reckoned to cool from there
// as the sheet says, and the law of the sheet turns temperature and strength into a time.
// Without a law the recipe's time holds. All of it is an estimate; a reading overrules it.
package run

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// readAgain is how far the bath may be reckoned to have cooled since it was read, in K,
// before [Run.Next] asks for a temperature. Assumed: at an activation energy of 38 kJ/mol
// and 70 C it makes a tenth of the dip.
const readAgain measure.Celsius = 3

// standing is how long a bath may stand between two loads before it is said. Assumed.
const standing = 5 * time.Minute

// Run is a batch at the bench.
type Run struct {
	Log
	Plan []plan.Load // the loads of the sheet; where it has none, one without a time for each coat

	units   measure.System
	sheet   *bath.Sheet
	recipe  *recipe.Recipe
	written []Entry // all of them, undone or not

	from  measure.Celsius // of the bath as it was read, or as planned
	since time.Time       // from; zero where nobody wrote it down
	read  bool            // from was read
	least measure.Celsius // below it the bath is to be read before the next load
	fresh int             // baths that the sheet did not plan
}

// New returns the run of a sheet with what was written down so far, in order.
func New(sheet *bath.Sheet, r *recipe.Recipe, u measure.System, entries []Entry) *Run {
	run := &Run{Log: Replay(entries), Plan: sheet.Loads, units: u, sheet: sheet, recipe: r, written: entries, from: sheet.Start(), least: Hottest}
	if len(sheet.Loads) == 0 {
		run.Plan = make([]plan.Load, max(run.coats().Number, 1))
		for i := range run.Plan {
			run.Plan[i] = plan.Load{Number: i + 1, Pieces: sheet.Pieces + sheet.Spares}
		}
	}
	for _, e := range run.Entries {
		run.warm(e)
	}
	return run
}

// warm takes from an entry how warm the bath is, and whether it is to be read before the next
// load: after mixing, after anything that warms it or makes a new one, and where it has cooled
// since it was read.
func (r *Run) warm(e Entry) {
	fresh := e.Do == Acted && e.Action == plan.FreshBath
	to := measure.Celsius(r.event(e).ToC)
	switch {
	case (e.Do == Read || e.Do == Out) && e.Temperature != nil:
		r.from, r.since, r.read, r.least = *e.Temperature, e.At, true, *e.Temperature-readAgain
	case e.Do == Read: // passed over
		r.least = 0
	case e.Do == Mixed || e.Do == Acted && e.Action != plan.ChangeRinse:
		r.least = Hottest
		if to > 0 || e.Do == Mixed || fresh || e.Action == plan.Reheat {
			r.from, r.since, r.read = cmp.Or(to, r.sheet.Start()), e.At, false
		}
	}
	if fresh && e.Event == 0 {
		r.fresh++
	}
}

// coats are those of the sheet; none where it is dipped.
func (r *Run) coats() bath.CoatsLine {
	if r.sheet.Coats == nil {
		return bath.CoatsLine{}
	}
	return *r.sheet.Coats
}

// Planned returns the time that a load was to be in when it went in, or the one it took where
// nobody wrote that down; and whether it took another: by 2 s and by a quarter or more. What is
// less is the hand's. Assumed.
func (l Log) Planned(load int, took measure.Seconds) (planned measure.Seconds, missed bool) {
	planned = took
	for _, e := range l.where(func(e Entry) bool { return e.Do == In && e.Load == load && e.Time != nil }) {
		planned = *e.Time
	}
	return planned, math.Abs(float64(took-planned)) >= max(2, float64(planned)/4)
}

// nextLoad is the first load that is not done, or the one that goes in again; 0 where
// none is left.
func (r *Run) nextLoad() int {
	if r.again > 0 {
		return r.again
	}
	i := slices.IndexFunc(r.Plan, func(l plan.Load) bool { return !r.done[l.Number] })
	return i + 1
}

// event is the action of the sheet that an entry is about; empty where it has none.
func (r *Run) event(e Entry) (line bath.EventLine) {
	if e.Event > 0 && e.Event <= len(r.sheet.Events) {
		line = r.sheet.Events[e.Event-1]
	}
	return line
}

// due is the action of the sheet that comes before a load; 0 where none does.
func (r *Run) due(load int) int {
	for i, e := range r.sheet.Events {
		if e.AfterLoad < load && !r.acted[i+1] {
			return i + 1
		}
	}
	return 0
}

// cooled is the temperature of a bath left alone for a while: the cooling of the sheet,
// slower as it comes nearer to where its plate holds it, or to the room. A thermostat holds
// it, and so does a plate that gives as much as the bath loses.
func (r *Run) cooled(from measure.Celsius, after time.Duration) measure.Celsius {
	run := r.sheet.Run
	if run == nil || run.Heat == plan.Thermostat || run.StartC-run.AmbientC < 1 || after <= 0 {
		return from
	}
	room := measure.Celsius(run.AmbientC)
	if run.Heat == plan.Plate && run.HoldingWatts > 0 {
		watts := cmp.Or(run.HeatW, plan.DefaultWatts)
		if room += measure.Celsius((run.StartC - run.AmbientC) * min(watts/run.HoldingWatts, 1)); from <= room {
			return from
		}
	}
	rate := run.CoolingPerMin / (run.StartC - run.AmbientC) // 1/min
	return room + (from-room)*measure.Celsius(math.Exp(-rate*after.Minutes()))
}

// dipTime returns the time of a load, in whole seconds, in a bath that reads at before the
// load goes in: by the law of the sheet, never shorter than the recipe's shortest. Where
// no law is known it returns the time of the sheet.
func (r *Run) dipTime(l plan.Load, at measure.Celsius) measure.Seconds {
	run := r.sheet.Run
	if run == nil || run.Law == nil || !run.Law.Known() || at <= 0 {
		return measure.Seconds(l.DipS)
	}
	middle := at - measure.Celsius(l.BeforeC-l.TemperatureC) // the pieces cool it
	time := run.Law.Time(middle, r.strength(l)) - plan.Handling
	return max(1, measure.Seconds(math.Round(float64(time))), measure.Seconds(math.Ceil(r.sheet.Bath.DipFromS-1e-9)))
}

// strength of the bath for a load: as planned, but for actions that were left out or
// added.
func (r *Run) strength(l plan.Load) float64 {
	s := l.Strength
	for _, e := range r.Entries {
		switch {
		case e.Do == Skipped && r.event(e).AfterLoad < l.Number:
			switch had := r.event(e); had.Do {
			case plan.Strengthen:
				s -= had.Share
			case plan.FreshBath:
				s = min(s, had.Strength)
			}
		case e.Do == Acted && e.Event == 0 && e.Action == plan.FreshBath:
			s = r.sheet.Loads[0].Strength
		}
	}
	return max(s, 0.05)
}

// wrong says why the bath does not do for a load as it reads, in a word and in a sentence:
// "cold" below what the recipe works down to, "hot" above what it is mixed at, "long" where
// the dip is longer than the recipe's longest; "" where it does.
func (r *Run) wrong(l plan.Load, at measure.Celsius) (word, why string) {
	law := r.sheet.Run != nil && r.sheet.Run.Law != nil
	low, hot := r.recipe.Bath.WorksDownTo, r.recipe.Bath.Water.To
	if low == 0 && !law {
		low = r.recipe.Bath.Water.From
	}
	u, reads, dip, longest := r.units, r.whole(at), r.dipTime(l, at), measure.Seconds(r.sheet.Bath.DipToS)
	switch {
	case at < low-0.5:
		return "cold", fmt.Sprintf("the bath is at %s; below %s it does not work", reads, u.Temperature(low))
	case hot > 0 && at > hot+3:
		return "hot", fmt.Sprintf("the bath is at %s; the recipe has %s at most: let it cool", reads, u.Temperature(hot))
	case law && longest > 0 && dip > longest+0.5:
		return "long", fmt.Sprintf("at %s the dip takes %s; the recipe has %s at most", reads, u.Time(dip), u.Time(longest))
	}
	return "", ""
}

// whole prints a temperature in whole degrees.
func (r *Run) whole(t measure.Celsius) string {
	return r.units.Temperature(measure.Celsius(int(t + 0.5)))
}

// Dipped returns how many loads and pieces came out, each load counted once, and how many
// pieces the sheet has.
func (r *Run) Dipped() (loads, pieces, of int) {
	seen := map[int]int{}
	for _, e := range r.Loads() {
		seen[e.Load] = e.Pieces
	}
	for _, n := range seen {
		pieces += n
	}
	if r.sheet.Coats != nil {
		pieces /= max(len(seen), 1)
	}
	return len(seen), pieces, r.sheet.Pieces + r.sheet.Spares
}

// Baths returns how many baths were mixed at the bench; 0 where nobody wrote it down, as
// of a run that was written down afterwards.
func (r *Run) Baths() int {
	return len(r.where(func(e Entry) bool { return e.Do == Mixed || e.Do == Acted && e.Action == plan.FreshBath }))
}

// Amounts returns what went into one bath, as it stands on the shelf: what the bench used,
// over the baths that were mixed; what the sheet weighs where nobody wrote it down.
func (r *Run) Amounts() []reagent.Amount {
	list := r.sheet.Amounts()
	baths := r.Baths()
	if baths == 0 {
		return list
	}
	for _, d := range r.Doses() {
		for i := range list {
			if list[i].Substance.ID == d.Substance {
				list[i].Shown = d.Amount / float64(baths)
			}
		}
	}
	return list
}

// Doses returns what went into the bath so far, as the sheet weighs it: one full dose
// for each bath mixed and what strengthened it.
func (r *Run) Doses() []bath.Dose {
	var all []bath.Dose
	for _, e := range r.Entries {
		switch {
		case e.Do == Mixed, e.Do == Acted && e.Event == 0 && e.Action == plan.FreshBath:
			all = append(all, r.sheet.Doses()...)
		case e.Do == Acted:
			all = append(all, r.event(e).Doses...)
		}
	}
	return bath.Sum(all)
}
