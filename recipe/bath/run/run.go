// Package run is a batch at the bench: what comes next, what happened, and what the
// bath now asks for.
//
// [New] takes the sheet, the recipe and what was written down so far. [Run.Next] says
// what to do now: mix, read a temperature, do something to the bath, dip a load, enter
// the result. The terminal, the page of the tablet and a run written down afterwards all
// ask it. Whoever did something makes an [Entry] of it and stores it before going on;
// the next Run is made of the entries with that one among them. Nothing is kept here.
//
// A dip time follows the last temperature read: the bath is reckoned to cool from there
// as the sheet says, and the law of the sheet turns temperature and strength into a time.
// Without a law the recipe's time holds. All of it is an estimate; a reading overrules it.
package run

import (
	"cmp"
	"math"
	"slices"
	"time"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// ReadAgain is how far the bath may be reckoned to have cooled since it was read, in K,
// before [Run.Next] asks for a temperature. Assumed: at an activation energy of 38 kJ/mol
// and 70 C it makes a tenth of the dip.
const ReadAgain measure.Celsius = 3

// Standing is how long a bath may stand between two loads before it is said. Assumed.
const Standing = 5 * time.Minute

// Run is a batch at the bench.
type Run struct {
	Log
	sheet  *bath.Sheet
	recipe *recipe.Recipe
}

// New returns the run of a sheet with what was written down so far, in order.
func New(sheet *bath.Sheet, r *recipe.Recipe, entries []Entry) *Run {
	return &Run{Log: Replay(entries), sheet: sheet, recipe: r}
}

// The steps besides those of entries.
const (
	Mix    = "mix"
	Dip    = "dip"
	Coat   = "coat"
	Wait   = "wait" // until the next coat
	Act    = "act"
	Result = "result"
)

// Step is what to do now.
type Step struct {
	Do       string          `json:"do"`               // Mix, Read, Act, Dip, Coat, Wait or Result
	Load     int             `json:"load"`             // for Dip and Coat, and the load that comes next otherwise; 0 where none is left
	Of       int             `json:"of"`               // loads of the sheet
	Done     int             `json:"done"`             // loads that are out
	Bath     int             `json:"-"`                // which bath of the run, from 1
	Pieces   int             `json:"pieces"`           // of the load, as planned
	Time     measure.Seconds `json:"time_s"`           // in the bath, or until the next coat; 0 where the recipe has none
	At       measure.Celsius `json:"-"`                // of the bath before the load goes in, as reckoned; 0 where not known
	FromRead bool            `json:"-"`                // At rests on a reading of this run
	Event    int             `json:"event,omitempty"`  // of Act: which action of the sheet, from 1; 0: one that it does not have
	Action   string          `json:"action,omitempty"` // of Act: reheat, fresh-bath
	Say      measure.Note    `json:"-"`                // of Act: in a sentence
	Wrong    string          `json:"-"`                // why the bath does not work as it is: "cold", "hot", "long" or ""
	Open     *Entry          `json:"-"`                // the load that went in and was not written down as out
	Last     *Entry          `json:"-"`                // the newest entry
	Stood    time.Duration   `json:"-"`                // since the last load, where that is longer than Standing
}

// Next says what to do now.
func (r *Run) Next(now time.Time) Step {
	s := r.step(now)
	s.Last, s.Of, s.Done = r.Last(), r.count(), len(r.done)
	if outs := r.Loads(); len(outs) > 0 {
		if stood := now.Sub(outs[len(outs)-1].At); stood > Standing && !outs[len(outs)-1].At.IsZero() && s.Do != Result {
			s.Stood = stood
		}
	}
	return s
}

func (r *Run) step(now time.Time) Step {
	s := Step{Load: r.nextLoad()}
	if r.stopped || s.Load == 0 && r.open == nil {
		s.Do = Result
		return s
	}
	if r.open != nil {
		s.Load, s.Open = r.open.Load, r.open
	}
	if r.sheet.Coats != nil || len(r.sheet.Loads) == 0 {
		return r.coat(s, now)
	}
	l := r.sheet.Loads[s.Load-1]
	s.Pieces, s.Bath = l.Pieces, r.bathOf(l)
	if !r.mixed && len(r.done) == 0 && r.open == nil {
		s.Do = Mix
		return s
	}
	if i := r.due(s.Load); i > 0 && r.open == nil && r.again == 0 {
		e := r.sheet.Events[i-1]
		s.Do, s.Event, s.Action, s.Say = Act, i, e.Do, e.Note
		s.At, s.FromRead = r.Temperature(now)
		return s
	}
	s.Do = Dip
	s.At, s.FromRead = r.Temperature(now)
	if r.open == nil && r.askReading(s.At) {
		s.Do = Read
	}
	s.Time = r.DipAt(s.Load, s.At)
	if r.again > 0 { // what it had counts; a quarter of a dip is the least that is worth a second one
		s.Time = max(s.Time-r.had(s.Load), measure.Seconds(math.Ceil(float64(s.Time)/4)))
	}
	if r.open != nil && r.open.Time != nil {
		s.Time = *r.open.Time
	}
	if s.FromRead {
		s.Wrong = r.Wrong(s.Load, s.At)
	}
	return s
}

// coat is the next coat of a brushed or sprayed finish, or the single dip of a sheet
// without loads.
func (r *Run) coat(s Step, now time.Time) Step {
	s.Do, s.Pieces = Coat, r.sheet.Pieces+r.sheet.Spares
	c := r.sheet.Coats
	if c == nil {
		return s
	}
	if last := r.Last(); last != nil && last.Do == Out && c.WaitS > 0 {
		if left := c.WaitS - now.Sub(last.At).Seconds(); left > 0 {
			s.Do, s.Time = Wait, measure.Seconds(math.Ceil(left))
			return s
		}
	}
	if s.Load < r.count() {
		s.Time = measure.Seconds(c.WaitS)
	}
	return s
}

func (r *Run) had(load int) (sum measure.Seconds) {
	for _, e := range r.where(func(e Entry) bool { return e.Do == Out && e.Load == load && e.Time != nil }) {
		sum += *e.Time
	}
	return sum
}

// Planned returns the time that a load was to be in when it went in, nil where nobody
// wrote it down.
func (l Log) Planned(load int) (planned *measure.Seconds) {
	for _, e := range l.where(func(e Entry) bool { return e.Do == In && e.Load == load }) {
		planned = e.Time
	}
	return planned
}

// Missed says whether a dip took another time than planned: by 2 s and by a quarter or
// more. What is less is the hand's. Assumed.
func Missed(took, planned measure.Seconds) bool {
	return math.Abs(float64(took-planned)) >= max(2, float64(planned)/4)
}

// Waited is the action of an entry that ends a wait before its time.
const Waited = "waited"

func (r *Run) count() int {
	if c := r.sheet.Coats; c != nil {
		return max(c.Number, 1)
	}
	return max(len(r.sheet.Loads), 1)
}

// nextLoad is the first load that is not done, or the one that goes in again; 0 where
// none is left.
func (r *Run) nextLoad() int {
	if r.again > 0 {
		return r.again
	}
	for n := 1; n <= r.count(); n++ {
		if !r.done[n] {
			return n
		}
	}
	return 0
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

// bathOf counts fresh baths that the sheet did not plan as well.
func (r *Run) bathOf(l plan.Load) int {
	return l.Bath + len(r.where(func(e Entry) bool { return e.Do == Acted && e.Action == plan.FreshBath && e.Event == 0 }))
}

// askReading says whether the temperature is to be read before the next load: after
// mixing, after anything that warms the bath or makes a new one, and where it has cooled
// since it was read.
func (r *Run) askReading(at measure.Celsius) bool {
	for _, e := range slices.Backward(r.Entries) {
		switch {
		case e.Do == Read && e.Temperature == nil:
			return false // passed over
		case e.Do == Read || e.Do == Out && e.Temperature != nil:
			return *e.Temperature-at > ReadAgain
		case e.Do == Mixed, e.Do == Acted && e.Action != plan.ChangeRinse:
			return true
		}
	}
	return true
}

// Temperature reckons the bath as it is now: from the last reading, or as planned where
// there is none. It tells whether it rests on a reading of this bath.
func (r *Run) Temperature(now time.Time) (at measure.Celsius, read bool) {
	planned := r.sheet.Start()
	for _, e := range slices.Backward(r.Entries) {
		switch {
		case (e.Do == Read || e.Do == Out) && e.Temperature != nil:
			return r.cooled(*e.Temperature, now.Sub(e.At)), true
		case e.Do == Acted && e.Event > 0 && r.sheet.Events[e.Event-1].ToC > 0:
			return r.cooled(measure.Celsius(r.sheet.Events[e.Event-1].ToC), now.Sub(e.At)), false
		case e.Do == Acted && (e.Action == plan.FreshBath || e.Action == plan.Reheat), e.Do == Mixed:
			return r.cooled(planned, now.Sub(e.At)), false
		}
	}
	return planned, false
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

// DipAt returns the time of a load, in whole seconds, in a bath that reads at before the
// load goes in: by the law of the sheet, never shorter than the recipe's shortest. Where
// no law is known it returns the time of the sheet.
func (r *Run) DipAt(load int, at measure.Celsius) measure.Seconds {
	if load < 1 || load > len(r.sheet.Loads) {
		return 0
	}
	l := r.sheet.Loads[load-1]
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
		case e.Do == Skipped && e.Event > 0 && r.sheet.Events[e.Event-1].AfterLoad < l.Number:
			switch had := r.sheet.Events[e.Event-1]; had.Do {
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

// Wrong says why the bath does not do for a load as it reads: "cold" below what the
// recipe works down to, "hot" above what it is mixed at, "long" where the dip is longer
// than the recipe's longest; "" where it does.
func (r *Run) Wrong(load int, at measure.Celsius) string {
	law := r.sheet.Run != nil && r.sheet.Run.Law != nil
	low := r.recipe.Bath.WorksDownTo
	if low == 0 && !law {
		low = r.recipe.Bath.Water.From
	}
	switch longest := r.sheet.Bath.DipToS; {
	case at < low-0.5:
		return "cold"
	case r.recipe.Bath.Water.To > 0 && at > r.recipe.Bath.Water.To+3:
		return "hot"
	case law && longest > 0 && float64(r.DipAt(load, at)) > longest+0.5:
		return "long"
	}
	return ""
}

// Cures returns what can be done about a bath that does not do, by the heat of the
// bench: the words of plan events, the first answer first. A bath that is too hot has
// none: it is left to cool.
func (r *Run) Cures(wrong string) []string {
	if wrong == "" || wrong == "hot" {
		return nil
	}
	heats := map[plan.HeatKind]string{plan.Plate: plan.Reheat, plan.Thermostat: plan.Reheat, plan.Kettle: plan.PourHot}
	if run := r.sheet.Run; run != nil && heats[run.Heat] != "" {
		return []string{heats[run.Heat], plan.FreshBath}
	}
	return []string{plan.FreshBath}
}

// Cure says one of the cures in a sentence, with the doses of the sheet.
func (r *Run) Cure(do string) measure.Note {
	to := r.sheet.Start()
	switch do {
	case plan.Reheat:
		return measure.Say("heat the bath to ", to)
	case plan.PourHot:
		return measure.Say("ladle out, pour in from the kettle until it reads ", to)
	case plan.FreshBath:
		return measure.Say("mix a fresh bath as the first; the old one to its waste")
	}
	return measure.Say(do)
}

// Rest reckons the loads that are left, from the temperature of now on and at the pace
// of the sheet, with the actions of the sheet among them.
func (r *Run) Rest(now time.Time) []plan.Load {
	next := r.nextLoad()
	if next == 0 || r.stopped || next > len(r.sheet.Loads) {
		return nil
	}
	at, _ := r.Temperature(now)
	first := r.sheet.Loads[next-1]
	var out []plan.Load
	at0, start := at, first.StartMin
	for _, l := range r.sheet.Loads[next-1:] {
		if r.done[l.Number] && l.Number != r.again {
			continue
		}
		for _, e := range r.sheet.Events {
			if e.AfterLoad == l.Number-1 && e.ToC > 0 && e.AfterLoad >= next {
				at0, start = measure.Celsius(e.ToC), l.StartMin
			}
		}
		before := r.cooled(at0, time.Duration((l.StartMin-start)*float64(time.Minute)))
		l.TemperatureC = float64(before) - (l.BeforeC - l.TemperatureC)
		l.BeforeC, l.DipS = float64(before), int(r.DipAt(l.Number, before))
		out = append(out, l)
	}
	return out
}

// Dipped returns how many pieces came out, each load counted once, and how many the
// sheet has.
func (r *Run) Dipped() (pieces, of int) {
	seen := map[int]int{}
	for _, e := range r.Loads() {
		seen[e.Load] = e.Pieces
	}
	for _, n := range seen {
		pieces += n
	}
	if r.sheet.Coats != nil && pieces > 0 {
		pieces /= max(len(seen), 1)
	}
	return pieces, r.sheet.Pieces + r.sheet.Spares
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
		case e.Do == Acted && e.Event > 0:
			all = append(all, r.sheet.Events[e.Event-1].Doses...)
		}
	}
	return bath.Sum(all)
}
