package run

import (
	"cmp"
	"crypto/rand"
	"fmt"
	"slices"
	"strings"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Entry is one thing that happened at the bench. It is stored as it is (CBOR) and
// exported as it is (JSON).
type Entry struct {
	// Key is made by whoever writes the entry down, 8 to 40 letters, digits and dashes. An
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

// NewEntry begins an entry with a key of its own.
func NewEntry(do string) *Entry { return &Entry{Key: rand.Text(), Do: do} }

// Of begins an entry about a load. A time of 0 is left out.
func Of(do string, load, pieces int, took measure.Seconds) *Entry {
	e := NewEntry(do)
	if e.Load, e.Pieces = load, pieces; took > 0 {
		e.Time = &took
	}
	return e
}

// acted begins an entry of something done to the bath; event 0 is what the sheet does not have.
func acted(do string, event int) *Entry {
	e := NewEntry(Acted)
	e.Action, e.Event = do, event
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
		return e.Action
	case e.Do == Skipped && e.Load > 0:
		return fmt.Sprintf("load %d left out", e.Load)
	case e.Do == Read && e.Temperature == nil:
		return "no temperature"
	}
	said := map[string]string{Undone: "an entry undone", Mixed: "bath mixed", Skipped: "an action left out", Read: "temperature read"}
	return cmp.Or(said[e.Do], e.Do)
}

// count puts a number before what it counts.
func count(n int, what string) string { return measure.Counted(n, what, what+"s") }

// Hottest is the highest temperature that is taken for one of a bath, in C: salt water
// boils little above 100 C.
const Hottest measure.Celsius = 110

// Log is what was written down, without what was undone.
type Log struct {
	Entries []Entry      // that count, in order
	done    map[int]bool // loads that are out or skipped
	acted   map[int]bool // actions of the sheet that are done or skipped
	mixed   bool
	stopped bool
	open    *Entry // the load that is in the bath
	again   int    // load that is to go in once more
}

// Replay reads entries in the order in which they were written down.
func Replay(entries []Entry) Log {
	l := Log{done: map[int]bool{}, acted: map[int]bool{}}
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
		l.Entries = append(l.Entries, e)
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
			l.done[e.Load] = true
		}
	}
	return l
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

// Last returns the newest entry that counts; nil if there is none.
func (l Log) Last() *Entry {
	if len(l.Entries) == 0 {
		return nil
	}
	return &l.Entries[len(l.Entries)-1]
}

// Check returns an error of kind Usage if the entry cannot be: a word that is none, a
// figure that no bath has.
func (e Entry) Check() error {
	const plain = "-0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
	if len(e.Key) < 8 || len(e.Key) > 40 || strings.Trim(e.Key, plain) != "" {
		return fault.Usagef("an entry has the key %q", measure.Clean(e.Key)).Try("give it 8 to 40 letters, digits and dashes")
	}
	most := func(n int) bool { return n >= 0 && n <= 1_000_000 }
	switch {
	case !slices.Contains(words, e.Do):
		return fault.Usagef("%q does not happen at a bench", measure.Clean(e.Do)).Try("write one of: %s", strings.Join(words, ", "))
	case e.Temperature != nil && !(*e.Temperature >= 0 && *e.Temperature <= Hottest):
		return fault.Usagef("a bath cannot be at %s", measure.Metric.Temperature(*e.Temperature)).Try("read the thermometer again: 0 to 110 C")
	case e.Time != nil && !(*e.Time > 0 && *e.Time <= 24*3600):
		return fault.Usagef("a dip cannot take %g s", float64(*e.Time)).Try("give the time from in to out: 1 s to a day")
	case !most(e.Load) || !most(e.Pieces) || !most(e.Event):
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

// Check returns an error of kind Usage if e cannot be or cannot follow what was written
// down: a load that is out already, an action that is done.
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
		return fault.Usagef("what is to be undone is not among the entries").Try("undo the last one")
	}
	return nil
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
