package run

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
)

// The steps besides those of entries.
const (
	Mix    = "mix"
	Dip    = "dip"
	Coat   = "coat"
	Wait   = "wait" // until the next coat
	Act    = "act"
	Result = "result"
)

// Step is what to do now, in figures and in words.
type Step struct {
	Do     string          `json:"do"`               // Mix, Read, Act, Dip, Coat, Wait or Result
	Load   int             `json:"load"`             // for Dip and Coat, and the load that comes next otherwise; 0 where none is left
	Of     int             `json:"of"`               // loads of the sheet
	Done   int             `json:"done"`             // loads that are out
	Bath   int             `json:"-"`                // which bath of the run, from 1
	Pieces int             `json:"pieces"`           // of the load, as planned or as they went in; of Result: that came out
	Time   measure.Seconds `json:"time_s"`           // in the bath, or until the next coat; 0 where the recipe has none
	At     measure.Celsius `json:"-"`                // of the bath before the load goes in, as reckoned; 0 where not known
	Event  int             `json:"event,omitempty"`  // of Act: which action of the sheet, from 1
	Action string          `json:"action,omitempty"` // of Act: reheat, fresh-bath
	Wrong  string          `json:"-"`                // why the bath does not do as it is: "cold", "hot", "long" or ""
	Open   *Entry          `json:"-"`                // the load that went in and was not written down as out
	Last   *Entry          `json:"-"`                // the newest entry

	Head   string       `json:"head"`            // to read from afar
	Lines  []string     `json:"lines"`           // that explain it
	Band   string       `json:"band,omitempty"`  // of Dip: from when to when the load is right, and what it looks like then
	Why    string       `json:"wrong,omitempty"` // the bath does not do, in a sentence
	Then   string       `json:"next,omitempty"`  // what follows, in a few words
	Where  string       `json:"where"`           // how far the run has come, for whoever takes it up
	Plain  *Entry       `json:"plain,omitempty"` // says that it was done as it stands there; nil where it takes a time or a temperature
	First  []Choice     `json:"first,omitempty"` // the answers to a load that nobody wrote out, a bath that does not do, a wait
	Others []Choice     `json:"others"`          // what else can be done
	Times  [][2]float64 `json:"times,omitempty"` // of Dip: the dip at other temperatures of the bath, pairs of C and s
	Stand  []string     `json:"stand,omitempty"` // what holds as long as the bath stands there
	Ahead  []Step       `json:"ahead,omitempty"` // this step and those that follow, see ahead
}

// Choice is one line of a list to choose from.
type Choice struct {
	Text  string   `json:"text"`
	Entry *Entry   `json:"entry,omitempty"` // to write down; nil where nothing is
	Ask   string   `json:"ask,omitempty"`   // what comes first: one of the words below, or ""
	Word  string   `json:"-"`               // that chooses it on plain lines
	Lines []string `json:"lines,omitempty"` // to read and do before the entry is written down: a bath is mixed, hot water is poured
	Why   []Choice `json:"why,omitempty"`   // the reasons to choose from: a glove types nothing
}

// What a choice asks for before anything is written down.
const (
	AskTemperature = "temperature" // a reading of the bath
	AskAnyway      = "anyway"      // the load is dipped though the bath does not do
	AskClock       = "clock"       // the time since the load went in
)

// mixing says how a bath is made up: what could kill, what goes in, in its order, and what to look out for.
func (r *Run) mixing() (lines []string) {
	brief := r.sheet.Brief(r.recipe, r.units)
	for _, text := range brief.Capitals {
		lines = append(lines, "! "+text)
	}
	lines = append(lines, brief.Bath)
	for i, text := range brief.Pour {
		lines = append(lines, fmt.Sprintf("%d. %s", i+1, text))
	}
	for _, w := range r.sheet.Warnings {
		if w.Code == "thick-glass" || w.Code == "hot-vessel" || w.Code == "heat" {
			lines = append(lines, "! "+w.In(r.units))
		}
	}
	if brief.Discard != "" {
		lines = append(lines, "discard the bath "+brief.Discard)
	}
	return lines
}

// stands says what holds as long as the bath stands there: what could kill, and until when it is used.
func (r *Run) stands(now time.Time) (lines []string) {
	if !r.mixed {
		return nil
	}
	lines = bath.Capitals(r.recipe)
	if life, mixed := r.sheet.BathLife(), r.MixedAt(); life > 0 && !mixed.IsZero() {
		end := mixed.Add(time.Duration(float64(life) * float64(time.Second)))
		text := "discard the bath at " + end.Format("15:04") + " at the latest"
		if now.After(end) {
			text = "DISCARD THE BATH: IT WAS TO BE WASTE AT " + end.Format("15:04")
		}
		lines = append(lines, text)
	}
	return lines
}

// anew says how the bath gives way to a fresh one.
func (r *Run) anew() []string {
	return append(r.mixing(), "the old bath goes to its own waste first: acid and sulfide waste never share a container")
}

// Next says what to do now.
func (r *Run) Next(now time.Time) Step {
	s := r.step(now)
	s.Ahead, s.Others, s.Stand = r.ahead(now), r.others(s), r.stands(now)
	follow := s.Ahead
	if s.Do != Read && len(follow) > 0 {
		follow = follow[1:]
	}
	switch {
	case s.Do == Result || s.Do == Wait || s.Do == Coat && s.Load < s.Of:
	case len(follow) == 0:
		s.Then = "then: the result"
	case follow[0].Do == Act:
		s.Then = "then: " + follow[0].Lines[0]
	default:
		s.Then = fmt.Sprintf("then: load %d, %s, about %.0f s", follow[0].Load, count(follow[0].Pieces, "piece"), follow[0].Time)
	}
	switch all := count(s.Of, r.Word); {
	case s.Last == nil:
		s.Where = all + ", nothing done yet"
	case s.Do == Result:
		s.Where = fmt.Sprintf("%d of %s done", s.Done, all)
	default:
		s.Where = fmt.Sprintf("%s %d of %d; %d done", r.Word, s.Load, s.Of, s.Done)
	}
	if outs := r.Loads(); len(outs) > 0 {
		last := outs[len(outs)-1].At
		s.Where += ", the last at " + last.Format("15:04")
		if stood := now.Sub(last); stood > standing && !last.IsZero() && s.Do != Result {
			s.Where += fmt.Sprintf("; the bath has been standing for %s: read its temperature", r.units.Time(measure.Seconds(stood.Round(time.Minute).Seconds())))
		}
	}
	if s.Open != nil {
		s.Where += fmt.Sprintf("; load %d went in at %s, and the time it came out is not written down", s.Load, s.Open.At.Format("15:04:05"))
	}
	return s
}

// step is what to do now, without what else could be done and what follows.
func (r *Run) step(now time.Time) Step {
	s := Step{Load: r.nextLoad(), Of: len(r.Plan), Done: len(r.done), Last: r.Last}
	say := func(do, head string, lines ...string) Step {
		s.Do, s.Head = do, head
		s.Lines = slices.DeleteFunc(lines, func(line string) bool { return line == "" })
		return s
	}
	if r.stopped || s.Load == 0 && r.open == nil {
		head, of := "ALL LOADS ARE OUT", 0
		if _, s.Pieces, of = r.Dipped(); s.Pieces < of {
			head = fmt.Sprintf("%d OF %d PIECES ARE DONE", s.Pieces, of)
		}
		empty := ""
		if r.mixed && r.sheet.BathLife() > 0 {
			empty = "empty the bath and its still rinses into the container of its own waste: acid and sulfide waste never share one"
		}
		return say(Result, head, r.remark(), "rinse, neutralise and dry as the sheet says", empty)
	}
	if s.Open = r.open; s.Open != nil {
		s.Load = s.Open.Load
	}
	l := r.Plan[min(s.Load, s.Of)-1]
	s.Pieces, s.Bath = l.Pieces, l.Bath+r.fresh
	if run := r.sheet.Run; run != nil && r.behind > 0 && l.ByKind == nil && s.Load <= len(r.sheet.Loads) && r.again == 0 {
		s.Pieces = max(l.Pieces, min(l.Pieces+r.behind, run.Capacity.Pieces))
	}
	due, events := 0, r.sheet.Events // the first action that is not done comes next
	for r.acted[due+1] {
		due++
	}
	at := r.now(now)
	switch {
	case len(r.sheet.Loads) == 0: // the next coat, or the single dip of a sheet without loads
		if s.Last != nil && s.Last.Do == Out {
			if left := r.coats.WaitS - now.Sub(s.Last.At).Seconds(); left > 0 {
				s.Time, s.Plain = measure.Seconds(math.Ceil(left)), Keyed(Entry{Do: Acted, Action: "waited"})
				s.First = []Choice{{Text: "wait on"}, {Text: "go on now", Entry: s.Plain}}
				return say(Wait, fmt.Sprintf("WAIT BEFORE COAT %d OF %d", s.Load, s.Of))
			}
		}
		s.Plain = Of(Out, s.Load, s.Pieces, 0)
		head, wait := "DO THE STEPS OF THE SHEET", ""
		if r.coats.Number > 0 {
			head = fmt.Sprintf("COAT %d OF %d", s.Load, s.Of)
		}
		if s.Load < s.Of && r.coats.WaitS > 0 {
			s.Time = measure.Seconds(r.coats.WaitS)
			wait = "then wait " + r.units.Time(s.Time)
		}
		return say(Coat, head, wait, count(s.Pieces, "piece"))
	case s.Open == nil && !r.mixed && s.Done == 0:
		s.Plain = Keyed(Entry{Do: Mixed})
		return say(Mix, "MIX THE BATH", r.mixing()...)
	case s.Open == nil && r.again == 0 && due < len(events) && events[due].AfterLoad < s.Load:
		s.Event, s.Action = due+1, events[due].Do
		s.Plain = Keyed(Entry{Do: Acted, Action: s.Action, Event: s.Event})
		lines := []string{events[due].In(r.units)}
		if s.Action == plan.FreshBath {
			lines = append(lines, r.mixing()...)
		}
		return say(Act, "BEFORE LOAD "+fmt.Sprint(s.Load), lines...)
	}
	s.At, s.Time = at, r.dipTime(l, at)
	if r.again > 0 { // what it had counts; a quarter of a dip is the least that is worth a second one
		least := measure.Seconds(math.Ceil(float64(s.Time) / 4))
		for _, e := range r.where(func(e Entry) bool { return e.Do == Out && e.Load == s.Load && e.Time != nil }) {
			s.Time -= *e.Time
		}
		s.Time = max(s.Time, least)
	}
	if s.Open != nil {
		s.Pieces = s.Open.Pieces
		if s.Open.Time != nil {
			s.Time = *s.Open.Time
		}
	}
	from, bathLine, rinse := "as planned", "", ""
	if l.HighS > l.LowS && l.DipS > 0 { // as on the sheet, moved with the dip
		moved := r.moved(l, at, s.Time)
		s.Band = fmt.Sprintf("dip-time range %.0f to %.0f s", float64(l.LowS)*moved, float64(l.HighS)*moved)
	}
	if at > 0 && !r.sheet.Knows(float64(at)) {
		s.Band = "the dip time is not known at " + r.whole(at)
	}
	if r.recipe.Dip != nil && r.recipe.Dip.How() != "" {
		s.Band = strings.TrimPrefix(s.Band+"; "+r.recipe.Dip.How(), "; ")
	}
	if s.Open != nil {
		s.First = r.opened(s)
		return say(Dip, fmt.Sprintf("LOAD %d WENT IN AT %s", s.Load, s.Open.At.Format("15:04:05")), "the time it came out is not written down: take it out now if it is still in")
	}
	if r.read {
		from = "calculated from the last reading"
		if s.Wrong, s.Why = r.wrong(l, at); s.Wrong != "" {
			s.First = r.cures(s)
		}
	}
	if s.Times = r.times(l); at < r.least {
		return r.Reading(s)
	}
	if s.Last != nil && s.Last.Do == Out {
		rinse = fmt.Sprintf("rinse load %d at once", s.Last.Load)
	}
	if at > 0 {
		bathLine = fmt.Sprintf("bath %d, about %s, %s", s.Bath, r.whole(at), from)
		if hot := r.recipe.Bath.Water.To; hot > 0 && at >= hot+1 && s.Wrong == "" {
			bathLine += "; hotter than the " + r.units.Temperature(hot) + " of the recipe: let it cool"
		}
	}
	order, more := "", ""
	if s.Load > len(r.sheet.Loads) {
		more = "one more load: its pieces stayed behind before. If they are not to be dipped, leave it out"
	}
	if run := r.sheet.Run; run != nil && run.Transfer == plan.ByHand && s.Pieces > 1 {
		order = bath.OneByOne
	}
	return say(Dip, fmt.Sprintf("LOAD %d OF %d", s.Load, s.Of), r.remark(), more, rinse, order, s.Band, bathLine)
}

// Reading makes a step one that reads the temperature first. What it should be about is what the bath is reckoned to
// have cooled to; where the last reading was far from the plan, rather a slip, the plan.
func (r *Run) Reading(s Step) Step {
	should := "it should be about " + r.whole(s.At)
	if before := measure.Celsius(r.Plan[min(s.Load, s.Of)-1].BeforeC); r.read && before > 0 && math.Abs(float64(r.from-before)) > unlikely {
		should, s.At = fmt.Sprintf("the plan has %s, the last reading was %s", r.whole(before), r.whole(r.from)), before
	}
	s.Do, s.Head, s.Lines = Read, "READ THE TEMPERATURE", []string{"type what the thermometer shows; " + should}
	return s
}

// remark says that the load that came out last was in for another time than was planned.
func (r *Run) remark() string {
	if last := r.Last; last != nil && last.Do == Out && last.Time != nil {
		planned, missed := r.Planned(last.Load, *last.Time)
		if missed && *last.Time > planned {
			return fmt.Sprintf("load %d was in for %s, and %s was planned: check its colour. If it is too dark, keep its pieces apart and count them as rework: this bath cannot make them lighter. To undo the entry, choose What else", last.Load, r.units.Time(*last.Time), r.units.Time(planned))
		}
		if missed {
			return fmt.Sprintf("load %d was in for %s, and %s was planned: check its colour. To undo it or to dip it again, choose What else", last.Load, r.units.Time(*last.Time), r.units.Time(planned))
		}
	}
	return ""
}

// ahead returns this step and those that follow but for readings, each done as it stands there and
// at the pace of the sheet. A finish that is laid on has none.
func (r *Run) ahead(now time.Time) (list []Step) {
	for len(r.sheet.Loads) > 0 {
		s := r.step(now)
		done := s.Plain
		switch s.Do {
		case Result:
			return list
		case Read:
			done = Keyed(Entry{Do: Read})
		case Dip:
			done = Of(Out, s.Load, s.Pieces, s.Time)
		}
		if s.Do != Read {
			list = append(list, s)
		}
		done.At = now
		r = New(r.sheet, r.recipe, r.units, append(slices.Clip(r.Entries), *done))
		if next := r.nextLoad(); next > 0 {
			now = now.Add(time.Duration((r.Plan[next-1].StartMin - r.Plan[min(s.Load, s.Of)-1].StartMin) * float64(time.Minute)))
		}
	}
	return list
}

// others lists what else can be done at a step.
func (r *Run) others(s Step) (list []Choice) {
	add := func(word, text string, e Entry) {
		c := Choice{Text: text, Entry: Keyed(e), Word: word}
		if e.Do == Skipped || e.Do == Stopped {
			for _, why := range []string{"the pieces are not here", "they are done already", "the bath is not right", "another reason"} {
				e.Note = why
				c.Why = append(c.Why, Choice{Text: why, Entry: Keyed(e)})
			}
		}
		list = append(list, c)
	}
	switch s.Do {
	case Read:
		add("none", "there is no thermometer: go on as planned", Entry{Do: Read})
	case Act:
		add("skip", "leave out this action", Entry{Do: Skipped, Event: s.Event})
	case Dip:
		list = append(list, Choice{Text: "read the temperature", Ask: AskTemperature})
		add("fresh", "fresh bath: mixed now, the old one is in its waste", Entry{Do: Acted, Action: plan.FreshBath})
		list[len(list)-1].Lines = r.anew()
	}
	if s.Do == Dip || s.Do == Coat {
		add("skip", fmt.Sprintf("leave out %s %d", r.Word, s.Load), Entry{Do: Skipped, Load: s.Load})
	}
	if outs := r.Loads(); len(outs) > 0 && (s.Do == Dip || s.Do == Read || s.Do == Result) && s.Open == nil && r.sheet.Coats == nil {
		last := outs[len(outs)-1]
		long := false
		if last.Time != nil {
			planned, missed := r.Planned(last.Load, *last.Time)
			long = missed && *last.Time > planned
		}
		if !long {
			add("again", fmt.Sprintf("dip load %d again: it is too light", last.Load), Entry{Do: Again, Load: last.Load})
		}
	}
	if s.Last != nil {
		add("undo", "undo the last entry: "+s.Last.Text(), Entry{Do: Undone, Undoes: s.Last.Key})
	}
	if s.Do != Result {
		add("", "pause: go on later where you are", Entry{Do: Paused})
		add("stop", "end the run here", Entry{Do: Stopped})
	}
	return list
}

// unlikely is how far from the loads of the sheet a temperature is taken for a slip, in K. Assumed.
const unlikely = 20

// cures lists the answers to a bath that does not do, by the heat of the bench: the words of
// plan events, the first answer first. A bath that is too hot is left to cool.
func (r *Run) cures(s Step) []Choice {
	list := []Choice{{Text: "read the temperature again", Ask: AskTemperature}, {Text: "dip this load anyway", Ask: AskAnyway}}
	if s.Wrong == "hot" {
		return list
	}
	at, heat, start := 0, plan.NoHeat, r.sheet.Start()
	if run := r.sheet.Run; run != nil {
		if heat = run.Heat; float64(s.At) < run.LowestC-unlikely/2 { // perhaps a slip of the finger: reading again costs nothing
			at = 1
		}
	}
	add := func(do string, lines []string, say ...any) {
		done := Choice{Text: "done: " + measure.Say(say...).In(r.units), Entry: Keyed(Entry{Do: Acted, Action: do}), Word: do, Lines: lines}
		list = slices.Insert(list, at, done)
	}
	add(plan.FreshBath, r.anew(), "mix a fresh bath as the first; the old one goes to its waste")
	switch heat {
	case plan.Kettle:
		share, l := r.poured(s.At), r.Plan[min(s.Load, s.Of)-1]
		left := r.strength(l) * (1 - share)
		if share >= 0.02 && left >= cmp.Or(r.recipe.Bath.Weakest, plan.DefaultWeakest) {
			liters := measure.Liters(share * r.sheet.Bath.VolumeL)
			lines := []string{}
			for _, text := range bath.Capitals(r.recipe) {
				lines = append(lines, "! "+text)
			}
			lines = append(lines, measure.Say("1. ladle out ", liters, " into the waste of this bath").In(r.units), measure.Say("2. pour in ", liters, " from the kettle, slowly, until it reads ", start).In(r.units),
				fmt.Sprintf("the bath has %.0f %% of its strength then: the dip is longer than in a full one", left*100))
			add(plan.PourHot, lines, "ladle out ", liters, ", pour in as much from the kettle until it reads ", start, fmt.Sprintf(": %.0f %% of the strength is left", left*100))
		}
	case plan.Plate, plan.Thermostat:
		add(plan.Reheat, nil, "heat the bath to ", start)
	}
	return list
}

// opened lists the answers where a load went in and nobody wrote it out.
func (r *Run) opened(s Step) (list []Choice) {
	add := func(word, text, ask string, took measure.Seconds, note string) {
		e := Of(Out, s.Load, s.Open.Pieces, took)
		e.Note = note
		list = append(list, Choice{Text: text, Entry: e, Ask: ask, Word: word})
	}
	for _, e := range slices.Backward(r.written) { // written down as out, and undone
		if e.Do == Out && e.Load == s.Load && e.Time != nil && e.At.After(s.Open.At) {
			add("", "it came out after "+r.units.Time(*e.Time)+", as written down before", "", *e.Time, e.Note)
			break
		}
	}
	add("out", "it comes out now: the time by the clock", AskClock, 0, "")
	add("", "it came out on time, after "+r.units.Time(s.Time), "", s.Time, "interrupted: the planned time, from memory")
	add("", "it stayed in longer: the time is not known", "", 0, "interrupted: stayed in longer than planned")
	add("", "it came out early: the time is not known", "", 0, "interrupted: came out early")
	return append(list, Choice{Text: "it never went in: dip it now", Entry: Keyed(Entry{Do: Undone, Undoes: s.Open.Key})})
}
