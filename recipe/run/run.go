// Package run is a batch at the bench: what comes next, what happened, and what the
// bath now asks for.
//
// [New] takes the sheet, the recipe and what was written down so far. [Run.Next] says what
// to do now, from mixing to the result, and what can be chosen instead; the full screen, the
// plain lines and the page of the tablet show it. Whoever did something makes an [Entry] of
// it and stores it before going on; the next Run is made of the entries with that one among
// them. Nothing is kept here.
//
// A dip time follows the last temperature read: the bath is reckoned to cool from there
// as the sheet says, and the law of the sheet turns temperature and strength into a time.
// Without a law the recipe's time holds. All of it is an estimate; a reading overrules it.
package run

import (
	"cmp"
	"crypto/rand"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Entry is one thing that happened at the bench. It is stored as it is (CBOR) and
// exported as it is (JSON).
type Entry struct {
	// Key is made by the program that writes the entry, 8 to 40 letters, digits and dashes. An
	// entry that is sent twice has the same key and counts once.
	Key         string           `cbor:"1,keyasint" json:"key"`
	Do          string           `cbor:"2,keyasint" json:"do"`                                   // one of the words below
	Load        int              `cbor:"3,keyasint,omitempty" json:"load,omitempty"`             // of the sheet, from 1
	Pieces      int              `cbor:"4,keyasint,omitempty" json:"pieces,omitempty"`           // that went in
	Temperature *measure.Celsius `cbor:"5,keyasint,omitempty" json:"temperature_c,omitempty"`    // of the bath, as read
	Time        *measure.Seconds `cbor:"6,keyasint,omitempty" json:"time_s,omitempty"`           // in the bath
	Action      string           `cbor:"7,keyasint,omitempty" json:"action,omitempty"`           // what was done to the bath: reheat, fresh-bath
	Event       int              `cbor:"8,keyasint,omitempty" json:"event,omitempty"`            // which action of the sheet, from 1; 0: one that it does not have
	Note        string           `cbor:"9,keyasint,omitempty" json:"note,omitempty" long:"note"` // why it was skipped, paused, stopped
	Undoes      string           `cbor:"10,keyasint,omitempty" json:"undoes,omitempty"`          // the key of the entry that does not count

	At time.Time `cbor:"-" json:"-"` // when it was written down
	By string    `cbor:"-" json:"-"`
}

// What an entry says.
const (
	Mixed   = "mixed"   // the bath is ready
	Read    = "read"    // a temperature was read, or passed over where there is none
	In      = "in"      // a load is in the bath: its time runs
	Out     = "out"     // a load has come out
	Skipped = "skipped" // a load or an action was left out
	Acted   = "acted"   // something was done to the bath
	Again   = "again"   // a load is to go in once more
	Paused  = "paused"
	Stopped = "stopped" // the run has ended before its last load
	Judged  = "judged"  // so many pieces of a load are not good; the note is the cause
	Undone  = "undone"  // an entry before does not count
)

var words = []string{Mixed, Read, In, Out, Skipped, Acted, Again, Paused, Stopped, Judged, Undone}

// Keyed returns an entry with a key of its own.
func Keyed(e Entry) *Entry {
	e.Key = rand.Text()
	return &e
}

// Of begins an entry about a load. A time of 0 is left out.
func Of(do string, load, pieces int, took measure.Seconds) *Entry {
	e := Keyed(Entry{Do: do, Load: load, Pieces: pieces})
	if took > 0 {
		e.Time = &took
	}
	return e
}

// Text says the entry in a few words.
func (e Entry) Text() string {
	switch {
	case e.Do == In || e.Do == Out || e.Do == Again:
		return fmt.Sprintf("load %d %s", e.Load, e.Do)
	case e.Do == Judged:
		return fmt.Sprintf("%s of load %d: %s", count(e.Pieces, "piece"), e.Load, e.Note)
	case e.Do == Acted:
		return cmp.Or(acts[e.Action], strings.ReplaceAll(e.Action, "-", " "))
	case e.Do == Skipped && e.Load > 0:
		return fmt.Sprintf("load %d left out", e.Load)
	case e.Do == Read && e.Temperature == nil:
		return "no temperature"
	}
	said := map[string]string{Undone: "an entry undone", Mixed: "bath mixed", Skipped: "an action left out", Read: "temperature read"}
	return cmp.Or(said[e.Do], e.Do)
}

// acts say what was done to the bath.
var acts = map[string]string{plan.Reheat: "bath heated", plan.PourHot: "hot water poured in", plan.Strengthen: "bath strengthened", plan.FreshBath: "fresh bath mixed", plan.ChangeRinse: "rinse changed"}

// count puts a number before what it counts.
func count(n int, what string) string { return measure.Counted(n, what, what+"s") }

// Hottest is the highest temperature that is taken for one of a bath, in C: salt water
// boils little above 100 C.
const Hottest measure.Celsius = 110

// Log is what was written down, without what was undone.
type Log struct {
	Entries []Entry      // that count, in order
	Last    *Entry       // the newest of them; nil if there is none
	done    map[int]bool // loads that are out or skipped
	out     map[int]int  // pieces of the loads that are out
	acted   map[int]bool // actions of the sheet that are done or skipped
	mixed   bool
	stopped bool
	open    *Entry // the load that is in the bath
	again   int    // load that is to go in once more
}

// MixedAt returns when the bath that stands there was mixed, the newest one; zero where none was.
func (l Log) MixedAt() (at time.Time) {
	for _, e := range l.Entries {
		if e.Do == Mixed || e.Do == Acted && e.Action == plan.FreshBath {
			at = e.At
		}
	}
	return at
}

// Replay reads entries in the order in which they were written down.
func Replay(entries []Entry) Log {
	l := Log{done: map[int]bool{}, out: map[int]int{}, acted: map[int]bool{}}
	undone := map[string]bool{}
	for _, e := range entries {
		if e.Do == Undone {
			undone[e.Undoes] = true
		}
	}
	for _, e := range entries {
		if e.Do == Undone || undone[e.Key] {
			continue
		}
		l.Entries, l.Last = append(l.Entries, e), &e
		if e.Do != Judged {
			l.stopped = e.Do == Stopped
		}
		switch {
		case e.Do == Mixed:
			l.mixed = true
		case e.Do == In:
			l.open = &e
		case e.Do == Again:
			l.again, l.open = e.Load, nil
		case (e.Do == Skipped || e.Do == Acted) && e.Event > 0:
			l.acted[e.Event] = true
		case e.Do == Out || e.Do == Skipped:
			l.open, l.again = nil, 0
			if l.done[e.Load] = true; e.Do == Out {
				l.out[e.Load] = e.Pieces
			}
		}
	}
	return l
}

// People returns who is named in entries, in the order they came, once in whatever case.
func People(entries []Entry) (names []string) {
	for _, e := range entries {
		if e.By != "" && !slices.ContainsFunc(names, func(had string) bool { return strings.EqualFold(had, e.By) }) {
			names = append(names, e.By)
		}
	}
	return names
}

// Loads returns the loads that came out, in order.
func (l Log) Loads() []Entry { return l.where(func(e Entry) bool { return e.Do == Out }) }

func (l Log) where(is func(Entry) bool) (list []Entry) {
	for _, e := range l.Entries {
		if is(e) {
			list = append(list, e)
		}
	}
	return list
}

// Check returns an error of kind Usage if the entry is impossible: an unknown word, a
// figure that no bath has.
func (e Entry) Check() error {
	const plain = "-0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
	if len(e.Key) < 8 || len(e.Key) > 40 || strings.Trim(e.Key, plain) != "" {
		return fault.Usagef("an entry has the key %q", measure.Clean(e.Key)).Try("give it 8 to 40 letters, digits and dashes")
	}
	switch {
	case !slices.Contains(words, e.Do):
		return fault.Usagef("%q is no step at a bench", measure.Clean(e.Do)).Try("write one of: %s", strings.Join(words, ", "))
	case e.Temperature != nil && !(*e.Temperature >= 0 && *e.Temperature <= Hottest):
		return fault.Usagef("a bath cannot be at %s", measure.Metric.Temperature(*e.Temperature)).Try("read the thermometer again: 0 to 110 C")
	case e.Time != nil && !(*e.Time > 0 && *e.Time <= 24*3600):
		return fault.Usagef("a dip cannot take %g s", float64(*e.Time)).Try("give the time from in to out: 1 s to a day")
	case min(e.Load, e.Pieces, e.Event) < 0 || max(e.Load, e.Pieces, e.Event) > 1_000_000:
		return fault.Usagef("load %d cannot have %d pieces", e.Load, e.Pieces).Try("count them again")
	case (e.Do == In || e.Do == Out || e.Do == Again) && e.Load == 0:
		return fault.Usagef("the entry does not say which load").Try("name the load")
	case (e.Do == In || e.Do == Out) && e.Pieces == 0:
		return fault.Usagef("load %d has no pieces", e.Load).Try("give how many go in, or skip the load with a reason")
	case e.Do == Judged && (e.Load == 0 || e.Pieces == 0 || e.Note == ""):
		return fault.Usagef("the entry does not say how many pieces of which load are not good, and why").Try("name the load, the pieces and the cause")
	case e.Do == Skipped && e.Load == 0 && e.Event == 0:
		return fault.Usagef("the entry does not say what was skipped").Try("name the load or the action")
	}
	return nil
}

// Check returns an error of kind Usage if e is impossible or cannot follow the entries
// before it: a load that is out already, an action that is done.
func (l Log) Check(e Entry) error {
	if err := e.Check(); err != nil {
		return err
	}
	switch {
	case (e.Do == In || e.Do == Out) && l.done[e.Load] && l.again != e.Load:
		return fault.Usagef("load %d is written down already%s", e.Load, l.when(e.Load)).Try("go on with the next load; undo it if it is wrong, or dip it again")
	case (e.Do == In || e.Do == Out) && l.open != nil && l.open.Load != e.Load:
		return fault.Usagef("load %d is still in the bath", l.open.Load).Try("write down when it came out")
	case e.Do == Judged && !l.done[e.Load]:
		return fault.Usagef("load %d has not been dipped, so none of its pieces can be judged", e.Load).Try("name a load that came out")
	case e.Do == Again && !l.done[e.Load]:
		return fault.Usagef("load %d has not been dipped, so it cannot go in again", e.Load).Try("dip it")
	case (e.Do == Acted || e.Do == Skipped) && e.Event > 0 && l.acted[e.Event]:
		return fault.Usagef("this action is written down already").Try("go on with what comes next")
	case e.Do == Undone && !slices.ContainsFunc(l.Entries, func(had Entry) bool { return had.Key == e.Undoes }):
		return fault.Usagef("there is no such entry to undo").Try("undo the last one")
	}
	return nil
}

// Follows is [Log.Check] for a hand that writes down a load as it goes in and comes out: one that is
// not in does not come out, and one that is in does not go in. An entry that is there already changes nothing and is let pass.
func (r *Run) Follows(e Entry) error {
	if slices.ContainsFunc(r.written, func(had Entry) bool { return had.Key == e.Key }) {
		return nil
	}
	err := r.Check(e)
	switch {
	case err != nil || len(r.sheet.Loads) == 0:
		return err
	case e.Do == In && r.open != nil:
		return fault.Usagef("load %d is in the bath already, since %s", r.open.Load, r.open.At.Format("15:04:05")).Try("write down when it came out; undo it if it never went in")
	case e.Do != Out || r.open != nil:
		return nil
	}
	return fault.Usagef("load %d is not written down as in, so it cannot come out", e.Load).Try("look which load is in the bath; start the load if it is to go in now")
}

// Doubt asks whether a reading is right that lies far from where the last one, or the bath as it was
// mixed, has the bath by now; it returns "" for any other entry.
func (r *Run) Doubt(e Entry, now time.Time) string {
	if e.Do != Read || e.Temperature == nil {
		return ""
	}
	if at := r.now(now); math.Abs(float64(*e.Temperature-at)) > unlikely {
		return fmt.Sprintf("%s is far from the %s that the bath should be at by now. Is the reading right?", r.units.Temperature(*e.Temperature), r.whole(at))
	}
	return ""
}

// now is how warm the bath is reckoned to be.
func (r *Run) now(now time.Time) measure.Celsius {
	if r.since.IsZero() {
		return r.from
	}
	return r.cooled(r.from, now.Sub(r.since))
}

func (l Log) when(load int) string {
	text := ""
	for _, e := range l.where(func(e Entry) bool { return e.Do == Out && e.Load == load && !e.At.IsZero() }) {
		if text = " at " + e.At.Format("15:04"); e.By != "" {
			text += " by " + measure.Clean(e.By)
		}
	}
	return text
}

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
	Word string      // what the run goes by: load or coat

	coats   bath.CoatsLine // empty where the sheet has none
	units   measure.System
	sheet   *bath.Sheet
	recipe  *recipe.Recipe
	written []Entry // all of them, undone or not

	from  measure.Celsius // of the bath as it was read, or as planned
	since time.Time       // from; zero where nobody wrote it down
	read  bool            // from was read
	least measure.Celsius // below it the bath is to be read before the next load

	behind int // pieces that the loads so far left, see topUp

	Baths   int         // that were mixed at the bench; 0 where nobody wrote it down
	fresh   int         // baths that the sheet did not plan
	strong  float64     // of such a bath; 0: there is none, and each load has the strength of the sheet
	lack    float64     // of strength, by actions that were left out
	ladled  float64     // of the bath, taken out for it, in baths
	thinned float64     // share of it that is left after hot water was poured in that the sheet did not plan
	weakest float64     // strength of a bath that should have given way to a fresh one
	doses   []bath.Dose // that went into the bath, as the sheet weighs them
}

// New returns the run of a sheet with what was written down so far, in order.
func New(sheet *bath.Sheet, r *recipe.Recipe, u measure.System, entries []Entry) *Run {
	run := &Run{Log: Replay(entries), Plan: sheet.Loads, Word: "load", units: u, sheet: sheet, recipe: r, written: entries,
		from: sheet.Start(), least: Hottest, weakest: math.Inf(1), thinned: 1}
	if sheet.Coats != nil {
		run.Word, run.coats = "coat", *sheet.Coats
	}
	if len(sheet.Loads) == 0 {
		run.Plan = make([]plan.Load, max(run.coats.Number, 1))
		for i := range run.Plan {
			run.Plan[i] = plan.Load{Number: i + 1, Pieces: sheet.Pieces + sheet.Spares}
		}
	}
	run.topUp()
	for _, e := range run.Entries {
		run.apply(e)
	}
	return run
}

// topUp counts the pieces that stayed behind, where somebody at the bench put fewer into a load than its sheet
// planned. They go along with the loads that have room; for those left after the last planned load it adds another,
// which may be left out. A run that was written down afterwards is as it was.
func (r *Run) topUp() {
	planned, timed, extra := len(r.sheet.Loads), map[int]bool{}, 0
	if planned == 0 {
		return
	}
	for _, e := range r.Entries {
		timed[e.Load] = timed[e.Load] || e.Do == In
		extra = max(extra, e.Load-planned)
	}
	for load, out := range r.out {
		if load > planned {
			r.behind -= out
		} else if l := r.Plan[load-1]; timed[load] || out > l.Pieces {
			r.behind += l.Pieces - out
		}
	}
	leftOut := r.stopped
	for load := range r.done {
		_, out := r.out[load]
		leftOut = leftOut || load > planned && !out
	}
	if len(r.done) == planned+extra && r.behind > 0 && !leftOut {
		extra++
	}
	for n := range extra {
		l := r.sheet.Loads[planned-1]
		l.Number, l.Pieces, l.ByKind = planned+n+1, r.behind, nil
		r.Plan = append(slices.Clip(r.Plan), l)
	}
}

// apply changes the bath by an entry: how warm it is, and whether it is to be read before the
// next load (after mixing, after anything that warms it or makes a new one, and where it has
// cooled since it was read); what went into it and how strong it is.
func (r *Run) apply(e Entry) {
	var event bath.EventLine
	if e.Event > 0 && e.Event <= len(r.sheet.Events) {
		event = r.sheet.Events[e.Event-1]
	}
	to, anew := measure.Celsius(event.ToC), e.Do == Mixed || e.Do == Acted && e.Action == plan.FreshBath
	switch {
	case (e.Do == Read || e.Do == Out) && e.Temperature != nil:
		r.from, r.since, r.read, r.least = *e.Temperature, e.At, true, *e.Temperature-readAgain
	case e.Do == Read: // passed over
		r.least = 0
	case e.Do == Skipped && event.Do == plan.Strengthen:
		r.lack, r.weakest = r.lack+event.Share, r.weakest-event.Share
	case e.Do == Skipped && event.Do == plan.FreshBath:
		r.weakest = min(r.weakest, event.Strength)
	case e.Do == Mixed || e.Do == Acted && e.Action != plan.ChangeRinse:
		if r.least = Hottest; e.Event == 0 && e.Action == plan.PourHot {
			share := min(r.poured(r.now(e.At)), 1)
			r.thinned, r.ladled = r.thinned*(1-share), r.ladled+share
		}
		if anew || to > 0 || e.Action == plan.Reheat || e.Action == plan.PourHot {
			r.from, r.since, r.read = cmp.Or(to, r.sheet.Start()), e.At, false
		}
		r.doses = append(r.doses, event.Doses...)
	}
	if anew {
		r.Baths++
		r.thinned = 1
		if e.Event == 0 {
			r.doses = append(r.doses, r.sheet.Doses()...)
		}
		if e.Event == 0 && e.Do == Acted {
			r.fresh, r.strong, r.lack, r.weakest = r.fresh+1, r.Plan[0].Strength, 0, math.Inf(1)
		}
	}
}

// poured is the share of the bath that gives way to water from the kettle where it is brought from
// at back to its start; over 1 where that water is not hot enough. Source: the energy balance, of water.
func (r *Run) poured(at measure.Celsius) float64 {
	kettle, start := bath.DefaultShop().HotWater, r.sheet.Start()
	if kettle < start+5 {
		return 2
	}
	return max(0, float64((start-at)/(kettle-at)))
}

// strength is that of the bath for a load, 1 as the recipe has it.
func (r *Run) strength(l plan.Load) float64 {
	return max(r.thinned*min(cmp.Or(r.strong, l.Strength)-r.lack, r.weakest), 0.05)
}

// Waste is what the baths that were mixed, what was ladled out of them and the still tubs after them leave, as the
// sheet reckons it; 0 where it reckons none.
func (r *Run) Waste() measure.Liters {
	if r.sheet.Run == nil {
		return 0
	}
	more := float64(max(r.Baths-r.sheet.Run.Totals.Baths, 0)) + r.ladled
	return measure.Liters(r.sheet.Run.Totals.WasteL + more*r.sheet.Bath.VolumeL)
}

// Planned returns the time that a load was to be in when it went in, or the one it took if
// that was not recorded; and whether it took another, by 2 s and by a quarter or more. A smaller
// difference comes from the hand. Assumed.
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
	time := r.exact(l, at, r.strength(l))
	return max(1, measure.Seconds(math.Round(float64(time))), measure.Seconds(math.Ceil(r.sheet.Bath.DipFromS-1e-9)))
}

// exact is the time of a load by the law of the sheet, before it is rounded.
func (r *Run) exact(l plan.Load, at measure.Celsius, strength float64) measure.Seconds {
	middle := at - measure.Celsius(l.BeforeC-l.TemperatureC) // the pieces cool it
	return r.sheet.Run.Law.Time(middle, strength) - plan.Handling
}

// times are the dips of a load at temperatures around those of the run, as pairs of C and s, for a page
// that has no connection when the bath is read. Where the bath would not do there is none.
func (r *Run) times(l plan.Load) (list [][2]float64) {
	if r.sheet.Run == nil || r.sheet.Run.Law == nil || !r.sheet.Run.Law.Known() {
		return nil
	}
	for c := 5 * math.Ceil(float64(r.sheet.Start())/5+1); c > 0 && c > float64(r.sheet.Start())-40; c -= 5 {
		if word, _ := r.wrong(l, measure.Celsius(c)); word == "" {
			list = append(list, [2]float64{c, float64(r.dipTime(l, measure.Celsius(c)))})
		}
	}
	return list
}

// moved is how much longer than on the sheet a load may take that is in for so long: by the law
// where the time follows it, so that the range does not jump where a second is rounded.
func (r *Run) moved(l plan.Load, at measure.Celsius, time measure.Seconds) float64 {
	if run := r.sheet.Run; run != nil && run.Law != nil && run.Law.Known() && at > 0 {
		now, then := r.exact(l, at, r.strength(l)), r.exact(l, measure.Celsius(l.BeforeC), l.Strength)
		if then > 0 && math.Abs(float64(time-now)) <= 0.5 {
			return float64(now / then)
		}
	}
	return float64(time) / float64(l.DipS)
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
		return "hot", fmt.Sprintf("the bath is at %s; the recipe allows at most %s: let it cool", reads, u.Temperature(hot))
	case law && longest > 0 && dip > longest+0.5:
		return "long", fmt.Sprintf("at %s the dip takes %s; the recipe allows at most %s", reads, u.Time(dip), u.Time(longest))
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
	for _, n := range r.out {
		pieces += n
	}
	if r.sheet.Coats != nil {
		pieces /= max(len(r.out), 1)
	}
	return len(r.out), pieces, r.sheet.Pieces + r.sheet.Spares
}

// Doses returns what went into the bath so far, as the sheet weighs it: one full dose
// for each bath mixed and what strengthened it. Where loads are out and nobody wrote down that
// a bath was mixed, it is what the sheet has up to the last of them.
func (r *Run) Doses() []bath.Dose {
	if r.Baths > 0 || len(r.out) == 0 {
		return bath.Sum(r.doses)
	}
	doses, last := r.sheet.Doses(), slices.Max(slices.Collect(maps.Keys(r.out)))
	for _, e := range r.sheet.Events {
		if e.AfterLoad < last {
			doses = append(doses, e.Doses...)
		}
	}
	return bath.Sum(doses)
}

// Amounts returns what went into one bath, as it stands on the shelf: what the bench used,
// over the baths that were mixed; what the sheet weighs if the bench recorded nothing.
func (r *Run) Amounts() []reagent.Amount {
	list := r.sheet.Amounts()
	for _, d := range r.Doses() {
		for i := range list {
			if list[i].Substance.ID == d.Substance && r.Baths > 0 {
				list[i].Shown = d.Amount / float64(r.Baths)
			}
		}
	}
	return list
}
