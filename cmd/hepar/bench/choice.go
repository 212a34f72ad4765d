package bench

import (
	"cmp"
	"fmt"
	"slices"

	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/run"
	"hepar/recipe/measure"
)

// Choice is one line of a list to choose from.
type Choice struct {
	Text  string     `json:"text"`
	Entry *run.Entry `json:"entry,omitempty"` // to write down; nil where nothing is
	Ask   string     `json:"ask,omitempty"`   // what comes first: one of the words below, or ""
	Word  string     `json:"-"`               // that chooses it on plain lines
}

// What a choice asks for before anything is written down.
const (
	AskWhy         = "why"         // one of [Reasons], as the note of the entry
	AskTemperature = "temperature" // a reading of the bath
	AskAnyway      = "anyway"      // the load is dipped though the bath does not do
)

// Plain returns the entry that says that a step was done as it stands there. It tells
// false for a step that needs a time or a temperature.
func (b *Bench) Plain(s run.Step) (run.Entry, bool) {
	switch s.Do {
	case run.Mix:
		return b.Entry(run.Mixed), true
	case run.Act:
		return b.acted(s.Action, s.Event), true
	case run.Wait:
		return b.acted(run.Waited, 0), true
	case run.Coat:
		return b.Of(run.Out, s.Load, s.Pieces, 0), true
	}
	return run.Entry{}, false
}

// acted is the entry for something done to the bath; event 0 is what the sheet does not have.
func (b *Bench) acted(do string, event int) run.Entry {
	e := b.Entry(run.Acted)
	e.Action, e.Event = do, event
	return e
}

// Others lists what else can be done at a step.
func (b *Bench) Others(s run.Step) []Choice {
	var list []Choice
	add := func(word, text, ask, do string) *run.Entry {
		e := b.Entry(do)
		list = append(list, Choice{text, &e, ask, word})
		return &e
	}
	switch s.Do {
	case run.Read:
		add("none", "there is no thermometer: go on as planned", "", run.Read)
	case run.Dip:
		list = append(list, Choice{Text: "read the temperature", Ask: AskTemperature})
		add("fresh", "fresh bath: mixed now, the old one to its waste", "", run.Acted).Action = plan.FreshBath
	}
	switch s.Do {
	case run.Act:
		add("skip", "leave out this action", AskWhy, run.Skipped).Event = s.Event
	case run.Dip, run.Coat:
		add("skip", fmt.Sprintf("leave out %s %d", b.LoadWord(), s.Load), AskWhy, run.Skipped).Load = s.Load
	}
	if outs := b.Run.Loads(); len(outs) > 0 && (s.Do == run.Dip || s.Do == run.Read || s.Do == run.Result) && s.Open == nil && b.Sheet.Coats == nil {
		last := outs[len(outs)-1].Load
		add("again", fmt.Sprintf("dip load %d again: it is too light", last), "", run.Again).Load = last
	}
	if s.Last != nil {
		add("undo", "undo the last entry: "+EntryText(*s.Last), "", run.Undone).Undoes = s.Last.Key
	}
	if s.Do != run.Result {
		add("", "pause: go on later where you are", "", run.Paused)
		add("stop", "end the run here", AskWhy, run.Stopped)
	}
	return list
}

// Cures lists the answers to a bath that does not do.
func (b *Bench) Cures(s run.Step) []Choice {
	list := []Choice{{Text: "read the temperature again", Ask: AskTemperature}, {Text: "dip this load anyway", Ask: AskAnyway}}
	at := 0
	if b.Sheet.Run != nil && float64(s.At) < b.Sheet.Run.LowestC-unlikely { // a slip of the finger, rather than a cold bath
		at = 1
	}
	for _, do := range slices.Backward(b.Run.Cures(s.Wrong)) {
		list = slices.Insert(list, at, Choice{"done: " + b.Run.Cure(do).In(b.Units), new(b.acted(do, 0)), "", do})
	}
	return list
}

// unlikely is how far below the coldest load of the sheet a reading is taken for a slip, in
// K. Assumed.
const unlikely = 20

// AskClock is a choice whose entry takes the time since the load went in.
const AskClock = "clock"

// Opened lists the answers where a load went in and nobody wrote it out.
func (b *Bench) Opened(s run.Step) []Choice {
	if s.Open == nil {
		return nil
	}
	out := func(took measure.Seconds, note string) *run.Entry {
		e := b.Of(run.Out, s.Load, s.Open.Pieces, took)
		e.Note = note
		return &e
	}
	planned := s.Time
	if s.Open.Time != nil {
		planned = *s.Open.Time
	}
	never := b.Entry(run.Undone)
	never.Undoes = s.Open.Key
	var list []Choice
	for _, e := range slices.Backward(b.Batch.Bench) { // written down as out, and undone
		if e.Do == run.Out && e.Load == s.Load && e.Time != nil && e.At.After(s.Open.At) {
			list = append(list, Choice{"it came out after " + b.Units.Time(*e.Time) + ", as it was written down before", out(*e.Time, e.Note), "", ""})
			break
		}
	}
	return append(list, []Choice{
		{"it comes out now: the time by the clock", out(0, ""), AskClock, "out"},
		{"it came out on time, after " + b.Units.Time(planned), out(planned, "interrupted: the planned time, from memory"), "", ""},
		{"it stayed in longer: nobody knows how long", out(0, "interrupted: stayed in longer than planned"), "", ""},
		{"it came out early: nobody knows when", out(0, "interrupted: came out early"), "", ""},
		{"it never went in: dip it now", &never, "", ""},
	}...)
}

// Reasons to leave out a load or to stop: chosen, because a glove types nothing.
func Reasons() []string {
	return []string{"the pieces are not here", "they are done already", "the bath does not do", "another reason"}
}

// EntryText says an entry in a few words.
func EntryText(e run.Entry) string {
	switch e.Do {
	case run.In, run.Out, run.Again:
		return fmt.Sprintf("load %d %s", e.Load, e.Do)
	case run.Judged:
		return fmt.Sprintf("%s of load %d: %s", count(e.Pieces, "piece"), e.Load, e.Note)
	case run.Acted:
		return e.Action
	}
	switch {
	case e.Do == run.Skipped && e.Load > 0:
		return fmt.Sprintf("load %d left out", e.Load)
	case e.Do == run.Read && e.Temperature == nil:
		return "no temperature"
	}
	said := map[string]string{run.Undone: "an entry undone", run.Mixed: "bath mixed", run.Skipped: "an action left out", run.Read: "temperature read"}
	return cmp.Or(said[e.Do], e.Do)
}
