package tablet

import (
	"fmt"
	"maps"
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

// state is what the page shows of a run.
type state struct {
	Number  string         `json:"number"`
	Do      string         `json:"do"`
	Head    string         `json:"head"`
	Lines   []string       `json:"lines"`
	Next    string         `json:"next"`
	Where   string         `json:"where"`
	Load    int            `json:"load"`
	Of      int            `json:"of"`
	Done    int            `json:"done"`
	Pieces  int            `json:"pieces"`
	Made    int            `json:"made"`
	TimeS   float64        `json:"time_s"`
	Degrees float64        `json:"degrees"` // of the bath, as reckoned, in the unit of the shop
	Unit    string         `json:"unit"`
	Wrong   string         `json:"wrong,omitempty"`
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
	Stock   []string       `json:"stock,omitempty"` // what may be taken off the shelf, in a sentence
	Ahead   []ahead        `json:"ahead"`
	Ready   string         `json:"ready,omitempty"` // why the batch may not be dipped
	Logged  string         `json:"logged,omitempty"`
	Last    string         `json:"last,omitempty"`
}

// ahead is one step that follows, so that the page goes on while the connection is down.
type ahead struct {
	Do     string  `json:"do"`
	Load   int     `json:"load"`
	Pieces int     `json:"pieces,omitempty"`
	TimeS  float64 `json:"time_s,omitempty"`
	Event  int     `json:"event,omitempty"`
	Action string  `json:"action,omitempty"`
	Say    string  `json:"say,omitempty"`
}

// stateOf describes a run as it is now.
func (s *server) stateOf(b *bench.Bench) state {
	now := s.Now()
	step := b.Run.Next(now)
	head, lines := b.Task(step)
	out := state{Number: b.Batch.Number, Do: step.Do, Head: head, Lines: lines, Where: b.Where(step), Load: step.Load, Of: step.Of, Done: step.Done,
		Pieces: step.Pieces, Made: b.Batch.Made(), TimeS: float64(step.Time), Unit: "C", Others: b.Others(step), Reasons: bench.Reasons(), Ahead: s.ahead(b)}
	out.Degrees = float64(int(step.At + 0.5))
	if s.Units == measure.US {
		out.Unit, out.Degrees = "F", float64(int(float64(step.At)*1.8+32.5))
	}
	if out.Lines == nil {
		out.Lines = []string{}
	}
	if step.Do == run.Dip {
		out.Band = b.Band(step)
	}
	if e, ok := b.Plain(step); ok {
		out.Plain = &e
	}
	if step.Do != run.Result {
		out.Next = b.Next(step)
	}
	if step.Last != nil {
		out.Last = bench.EntryText(*step.Last)
	}
	if step.Open != nil {
		out.OpenMS, out.Opened, out.Pieces = step.Open.At.UnixMilli(), b.Opened(step), step.Open.Pieces
	} else if step.Wrong != "" {
		out.Wrong, out.Cures = b.Wrong(step), b.Cures(step)
	}
	if err := b.Batch.Ready(now, ""); err != nil {
		out.Ready = clean(err.Error())
	}
	if step.Do == run.Result {
		out.Causes, _ = b.Causes()
		pieces, _ := b.Run.Dipped()
		out.Pieces, out.After, out.Loads = pieces, b.After(), len(b.Run.Loads())
		for i := range out.After {
			out.After[i] = "at the computer: " + out.After[i]
		}
		if taken := b.Taken(); len(taken) > 0 {
			out.Stock = []string{"Take off the shelf: " + b.TakenText(taken)}
		}
	}
	if b.Batch.State == journal.Logged {
		out.Logged, out.Ready = fmt.Sprintf("%d good, %d to rework, %d rejected; what is wrong is put right at the computer: hepar journal amend %s", b.Batch.Good, b.Batch.Rework, b.Batch.Reject, b.Batch.Number), ""
	}
	return out
}

// ahead lists the steps that follow the one of now, as planned.
func (s *server) ahead(b *bench.Bench) []ahead {
	out := []ahead{}
	events := b.Sheet.Events
	for i, l := range b.Run.Rest(s.Now()) {
		for n, e := range events {
			if i > 0 && e.AfterLoad == l.Number-1 {
				out = append(out, ahead{Do: run.Act, Load: l.Number, Event: n + 1, Action: e.Do, Say: e.In(s.Units)})
			}
		}
		out = append(out, ahead{Do: run.Dip, Load: l.Number, Pieces: l.Pieces, TimeS: float64(l.DipS)})
	}
	return out
}

func (s *server) state(w http.ResponseWriter, _ *http.Request, b *bench.Bench) error {
	answer(w, http.StatusOK, s.stateOf(b))
	return nil
}

// sent is an entry as the page sends it.
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
	if err := read(w, r, &in); err != nil {
		return err
	}
	e := in.Entry
	b.By, e.By, e.At = in.By, in.By, s.Now()
	if in.AtMS > 0 && in.NowMS >= in.AtMS {
		e.At = s.Now().Add(-time.Duration(min(in.NowMS-in.AtMS, 24*3600*1000)) * time.Millisecond)
	}
	if in.Degrees != "" {
		t, err := b.Temperature(in.Degrees)
		if err != nil {
			return err
		}
		e.Temperature = &t
	}
	if err := b.Write(e); err != nil {
		return err
	}
	return s.state(w, r, b)
}

// resultIn is how the pieces turned out.
type resultIn struct {
	By     string         `json:"by"`
	Good   int            `json:"good"`
	Rework int            `json:"rework"`
	Reject int            `json:"reject"`
	Causes map[string]int `json:"causes"`
	Loads  map[string]int `json:"loads"` // of which load the pieces with a cause are
	Shade  string         `json:"shade"`
	Note   string         `json:"note"`
	Stock  bool           `json:"stock"` // take off the shelf what the run took
}

func (s *server) result(w http.ResponseWriter, r *http.Request, b *bench.Bench) error {
	var in resultIn
	if err := read(w, r, &in); err != nil {
		return err
	}
	maps.DeleteFunc(in.Causes, func(_ string, n int) bool { return n == 0 })
	b.By = in.By
	if err := b.Judge(in.Causes, in.Loads); err != nil {
		return err
	}
	result := journal.Result{Good: in.Good, Rework: in.Rework, Reject: in.Reject, Causes: in.Causes, Shade: in.Shade, Note: in.Note}
	batch, err := s.Journal.Log(b.Batch.Number, result, journal.LogOptions{By: in.By, At: s.Now()})
	if err != nil {
		return err
	}
	b.Take(batch)
	if in.Stock {
		if err := b.Book(b.Taken()); err != nil {
			return err
		}
	}
	return s.state(w, r, b)
}

// reviewPage shows the review of a batch as a checklist.
func (s *server) reviewPage(w http.ResponseWriter, _ *http.Request, b *bench.Bench) error {
	sub, err := s.Subject(b.Batch)
	if err != nil {
		return err
	}
	review, err := safety.Assess(sub)
	if err != nil {
		return err
	}
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
	if err := read(w, r, &in); err != nil {
		return err
	}
	sub, err := s.Subject(b.Batch)
	if err != nil {
		return err
	}
	for ask, text := range in.Answers {
		if err := sub.Answer(ask, text, s.Now()); err != nil {
			return err
		}
	}
	review, err := safety.Assess(sub)
	if err == nil {
		err = safety.Refused(review.Points)
	}
	if err != nil {
		return err
	}
	if in.By == "" || in.By != measure.Clean(in.By) {
		return fault.Usagef("the review names nobody").Try("write your name above the list")
	}
	if lacks := review.Lacking(); len(lacks) > 0 {
		return fault.Usagef("what was measured or named is missing: %s", lacks[0]).Try("fill in each line")
	}
	for _, c := range review.Confirm {
		if c.Ask == "" && !slices.Contains(in.Yes, c.Code) {
			return fault.Usagef("not confirmed: %s", c.Text).Try("do it, then tick it")
		}
	}
	if _, err = s.Journal.Review(b.Batch.Number, s.Kept(in.By, sub, review)); err != nil {
		return err
	}
	answer(w, http.StatusOK, map[string]string{"go": "/batch/" + b.Batch.Number})
	return nil
}
