package tablet

import (
	"fmt"
	"maps"
	"math"
	"net/http"
	"slices"
	"time"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

type state struct {
	run.Step
	Head    string         `json:"head"`
	Lines   []string       `json:"lines"`
	Next    string         `json:"next"`
	Where   string         `json:"where"`
	Made    int            `json:"made"`
	Degrees float64        `json:"degrees"` // of the bath, as reckoned, in the unit of the shop
	Unit    string         `json:"unit"`
	Why     string         `json:"wrong,omitempty"`   // the bath does not do
	OpenMS  int64          `json:"open_ms,omitempty"` // when the load that is in went in
	Plain   *run.Entry     `json:"plain,omitempty"`   // the entry that says the step is done
	Others  []bench.Choice `json:"others"`
	Cures   []bench.Choice `json:"cures,omitempty"`
	Opened  []bench.Choice `json:"opened,omitempty"`
	Reasons []string       `json:"reasons"`
	Causes  []string       `json:"causes,omitempty"`
	After   []string       `json:"after,omitempty"`
	Band    string         `json:"band,omitempty"`
	Loads   int            `json:"loads,omitempty"` // that came out, where the result may name one
	Stock   string         `json:"stock,omitempty"` // what may be taken off the shelf, in a sentence
	Ahead   []ahead        `json:"ahead"`
	Ready   string         `json:"ready,omitempty"` // why the batch may not be dipped
	Logged  string         `json:"logged,omitempty"`
}

type ahead struct {
	run.Step
	Said string `json:"say,omitempty"`
}

func (s *server) stateOf(b *bench.Bench) state {
	step := b.Run.Next(s.Now())
	out := state{Step: step, Lines: []string{}, Where: b.Where(step), Made: b.Batch.Made(), Unit: b.Degree(), Degrees: math.Round(b.Degrees(step.At)),
		Others: b.Others(step), Opened: b.Opened(step), Reasons: bench.Reasons(), Ahead: s.ahead(b)}
	head, lines := b.Task(step)
	out.Head, out.Lines = head, append(out.Lines, lines...)
	if e, ok := b.Plain(step); ok {
		out.Plain = &e
	}
	switch {
	case step.Open != nil:
		out.OpenMS, out.Pieces = step.Open.At.UnixMilli(), step.Open.Pieces
	case step.Wrong != "":
		out.Why, out.Cures = b.Wrong(step), b.Cures(step)
	}
	if err := b.Batch.Ready(s.Now(), ""); err != nil && b.Batch.State != journal.Logged {
		out.Ready = clean(err.Error())
	}
	switch step.Do {
	case run.Dip:
		out.Band, out.Next = b.Band(step), b.Next(step)
	case run.Result:
		out.Causes, _ = b.Causes()
		out.Pieces, _ = b.Run.Dipped()
		out.Loads = len(b.Run.Loads())
		for _, what := range b.After() {
			out.After = append(out.After, "at the computer: "+what)
		}
		if taken := b.Taken(); len(taken) > 0 {
			out.Stock = "Take off the shelf: " + b.TakenText(taken)
		}
	default:
		out.Next = b.Next(step)
	}
	if b.Batch.State == journal.Logged {
		out.Logged = fmt.Sprintf("%d good, %d to rework, %d rejected; what is wrong is put right at the computer: hepar journal amend %s", b.Batch.Good, b.Batch.Rework, b.Batch.Reject, b.Batch.Number)
	}
	return out
}

// ahead lists the steps that follow the one of now, as planned.
func (s *server) ahead(b *bench.Bench) []ahead {
	out := []ahead{}
	for i, l := range b.Run.Rest(s.Now()) {
		for n, e := range b.Sheet.Events {
			if i > 0 && e.AfterLoad == l.Number-1 {
				out = append(out, ahead{run.Step{Do: run.Act, Load: l.Number, Event: n + 1, Action: e.Do}, e.In(s.Units)})
			}
		}
		out = append(out, ahead{run.Step{Do: run.Dip, Load: l.Number, Pieces: l.Pieces, Time: measure.Seconds(l.DipS)}, ""})
	}
	return out
}

func (s *server) state(w http.ResponseWriter, _ *http.Request, b *bench.Bench) error {
	answer(w, http.StatusOK, s.stateOf(b))
	return nil
}

type sent struct {
	Entry   run.Entry `json:"entry"`
	By      string    `json:"by"`
	AtMS    int64     `json:"at_ms"`   // when it happened, by the clock of the page
	NowMS   int64     `json:"now_ms"`  // the clock of the page now: two clocks differ
	Degrees string    `json:"degrees"` // a temperature as typed
}

// entry writes down what happened, once for each key, and answers with the state after it.
func (s *server) entry(w http.ResponseWriter, r *http.Request, b *bench.Bench) error {
	var in sent
	fault.Check(read(w, r, &in))
	e := in.Entry
	b.By, e.By, e.At = in.By, in.By, s.Now()
	if in.AtMS > 0 && in.NowMS >= in.AtMS {
		e.At = s.Now().Add(-time.Duration(min(in.NowMS-in.AtMS, 24*3600*1000)) * time.Millisecond)
	}
	if in.Degrees != "" {
		t := fault.Must(b.Temperature(in.Degrees))
		e.Temperature = &t
	}
	fault.Check(b.Write(e))
	return s.state(w, r, b)
}

type resultIn struct {
	journal.Result
	By    string         `json:"by"`
	Loads map[string]int `json:"loads"` // of which load the pieces with a cause are
	Stock bool           `json:"stock"` // take off the shelf what the run took
}

func (s *server) result(w http.ResponseWriter, r *http.Request, b *bench.Bench) error {
	var in resultIn
	fault.Check(read(w, r, &in))
	maps.DeleteFunc(in.Causes, func(_ string, n int) bool { return n == 0 })
	b.By, in.Logged = in.By, journal.Stamp{}
	batch := fault.Must(bench.Log(s.Journal, b.Batch.Number, in.Result, in.Loads, journal.LogOptions{By: in.By, At: s.Now()}))
	b.Take(batch)
	if in.Stock {
		fault.Check(b.Book(b.Taken()))
	}
	return s.state(w, r, b)
}

func (s *server) reviewPage(w http.ResponseWriter, _ *http.Request, b *bench.Bench) error {
	sub := s.Subject(b.Batch)
	review := fault.Must(safety.Assess(sub))
	s.show(w, "review", map[string]any{"Number": b.Batch.Number, "Title": measure.Clean(b.Recipe.Title), "R": review, "Captures": safety.Captures()})
	return nil
}

// confirmed is what the checklist sends.
type confirmed struct {
	By      string            `json:"by"`
	Yes     []string          `json:"yes"`     // codes that were ticked
	Answers map[string]string `json:"answers"` // what was typed, by what is asked
}

// review takes the checklist: every line ticked or measured, or it is refused.
func (s *server) review(w http.ResponseWriter, r *http.Request, b *bench.Bench) error {
	var in confirmed
	fault.Check(read(w, r, &in))
	sub := s.Subject(b.Batch)
	for ask, text := range in.Answers {
		fault.Check(sub.Answer(ask, text, s.Now()))
	}
	review := fault.Must(safety.Assess(sub))
	fault.Check(safety.Refused(review.Points))
	kept := fault.Must(bench.Reviewed(in.By, s.Now(), sub, review))
	if lacks := review.Lacking(); len(lacks) > 0 {
		return fault.Usagef("what was measured or named is missing: %s", lacks[0]).Try("fill in each line")
	}
	for _, c := range review.Confirm {
		if c.Ask == "" && !slices.Contains(in.Yes, c.Code) {
			return fault.Usagef("not confirmed: %s", c.Text).Try("do it, then tick it")
		}
	}
	fault.Must(s.Journal.Review(b.Batch.Number, kept))
	answer(w, http.StatusOK, map[string]string{"go": "/batch/" + b.Batch.Number})
	return nil
}
