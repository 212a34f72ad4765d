package journal_test

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hepar/journal"
)

// modelBatch is a batch in the simplest journal there can be: a slice.
type modelBatch struct {
	number, recipe, alloy, note string
	state                       journal.State
	made, good, rework, reject  int
	causes                      map[string]int
	people                      []string
	created                     time.Time
	order                       int64 // milliseconds: the clock, or that of the batch before where it went back
	serial                      int
	events                      int

	reviewed   time.Time
	digestFits bool            // of the last review
	vouched    map[string]bool // who logged or amended it, in lower case
	signed     bool            // and not amended since
	loads      int
	photos     int
	waste      []string
	used       []modelUse
}

func (b *modelBatch) touch(by string) {
	b.events++
	b.people = append(b.people, strings.ToLower(by))
}

// machine drives a journal and the model side by side.
type machine struct {
	j      *journal.Journal
	now    time.Time
	newest int64
	all    []*modelBatch
	years  map[int]int
	shelf  []*modelContainer
}

func (m *machine) plan(t *rapid.T) (journal.Batch, *modelBatch) {
	b := order(rapid.IntRange(1, 20).Draw(t, "pieces"))
	b.Recipe.Slug = rapid.SampledFrom([]string{"black", "black-2", "brown"}).Draw(t, "recipe")
	b.Alloy = rapid.SampledFrom([]string{"fine-999", "sterling-925"}).Draw(t, "alloy")
	b.By = rapid.SampledFrom([]string{"Ilka Brandt", "ILKA BRANDT", "Tomas Reh"}).Draw(t, "by")
	b.Note = rapid.SampledFrom([]string{"", "For the Museum", "museum shop"}).Draw(t, "note")
	m.now = m.now.Add(time.Duration(rapid.Int64Range(-50, 400).Draw(t, "hours")) * time.Hour)
	b.Created = time.Time{}
	created := m.now
	m.newest = max(m.newest, created.UnixMilli())
	at := m.newest
	if rapid.IntRange(0, 4).Draw(t, "past") == 0 {
		b.Created = m.now.Add(-time.Duration(rapid.Int64Range(1, 9000).Draw(t, "ago")) * time.Hour)
		created, at = b.Created, b.Created.UnixMilli()
	}
	m.years[created.Year()]++
	mb := &modelBatch{
		number: fmt.Sprintf("%04d-%03d", created.Year(), m.years[created.Year()]), recipe: b.Recipe.Slug, alloy: b.Alloy, note: b.Note,
		state: journal.Planned, made: b.Pieces + b.Spares, created: created, order: at, serial: len(m.all),
	}
	mb.touch(b.By)
	return b, mb
}

// result draws a result that may or may not fit.
func (m *machine) result(t *rapid.T, made int) (r journal.Result, fits bool) {
	r = journal.Result{
		Good: rapid.IntRange(0, made).Draw(t, "good"), Rework: rapid.IntRange(0, 3).Draw(t, "rework"), Reject: rapid.IntRange(0, 2).Draw(t, "reject"),
	}
	if rapid.Bool().Draw(t, "causes") {
		r.Causes = map[string]int{rapid.SampledFrom([]string{"patchy", "too-light"}).Draw(t, "cause"): rapid.IntRange(1, 3).Draw(t, "of")}
	}
	return r, fit(made, r.Good, r.Rework, r.Reject, r.Causes)
}

func fit(made, good, rework, reject int, causes map[string]int) bool {
	caused := 0
	for _, n := range causes {
		caused += n
	}
	counted := good + rework + reject
	return counted > 0 && counted <= made && caused <= rework+reject
}

func (m *machine) take(b *modelBatch, r journal.Result) {
	b.state, b.good, b.rework, b.reject, b.causes = journal.Logged, r.Good, r.Rework, r.Reject, r.Causes
}

// want checks that a call succeeded exactly where the model allows it.
func want(t *rapid.T, what string, err error, allowed bool) {
	t.Helper()
	if (err == nil) != allowed {
		t.Fatalf("%s: got %v, the model says allowed = %v", what, err, allowed)
	}
}

func (m *machine) pick(t *rapid.T) *modelBatch {
	if len(m.all) == 0 {
		t.Skip("no batches yet")
	}
	return m.all[rapid.IntRange(0, len(m.all)-1).Draw(t, "which")]
}

func (m *machine) filter(t *rapid.T) journal.Filter {
	maybe := func(name string, words ...string) string {
		return rapid.SampledFrom(append([]string{"", "", ""}, words...)).Draw(t, name)
	}
	f := journal.Filter{
		Recipe: maybe("recipe", "black", "black-2", "blac"), Alloy: maybe("alloy", "fine-999"),
		State: journal.State(maybe("state", "planned", "logged", "withdrawn")), Result: maybe("result", "good", "rework", "reject"),
		Cause: maybe("cause", "patchy", "Too Light"), Lot: maybe("lot", "a1", "B7"), Waste: maybe("drum", "W1"), By: maybe("by", "ilka brandt", "Uwe"), Text: maybe("text", "museum"),
		Reverse: rapid.Bool().Draw(t, "reverse"), Offset: rapid.IntRange(0, 3).Draw(t, "offset"), Limit: rapid.IntRange(0, 4).Draw(t, "limit"),
		Sort: maybe("sort", journal.SortNumber, journal.SortPieces, journal.SortState, journal.SortRecipe, journal.SortCreated),
	}
	if rapid.Bool().Draw(t, "dated") {
		f.From = m.now.Add(-time.Duration(rapid.Int64Range(0, 3000).Draw(t, "from")) * time.Hour)
		f.To = f.From.Add(time.Duration(rapid.Int64Range(1, 3000).Draw(t, "to")) * time.Hour)
	}
	return f
}

func (b *modelBatch) matches(f journal.Filter) bool {
	logged := b.state == journal.Logged
	return (f.Recipe == "" || f.Recipe == b.recipe) && (f.Alloy == "" || f.Alloy == b.alloy) && (f.State == "" || f.State == b.state) &&
		(f.Result == "" || logged && map[string]bool{"good": b.rework+b.reject == 0, "rework": b.rework > 0, "reject": b.reject > 0}[f.Result]) &&
		(f.Cause == "" || logged && b.causes[strings.ReplaceAll(strings.ToLower(f.Cause), " ", "-")] > 0) &&
		(f.By == "" || slices.Contains(b.people, strings.ToLower(f.By))) &&
		(f.Waste == "" || slices.Contains(b.waste, strings.ToLower(f.Waste))) &&
		(f.Text == "" || strings.Contains(strings.ToLower(b.note), f.Text)) &&
		(f.From.IsZero() || !b.created.Before(f.From)) && (f.To.IsZero() || b.created.Before(f.To))
}

func (m *machine) list(f journal.Filter) (out []string) {
	var found []*modelBatch
	for _, b := range m.all {
		if b.matches(f) && (f.Lot == "" || m.tookLot(b, f.Lot)) {
			found = append(found, b)
		}
	}
	state := func(b *modelBatch) int { return slices.Index(journal.States(), b.state) }
	slices.SortFunc(found, func(a, b *modelBatch) int {
		c := 0
		switch f.Sort {
		case journal.SortNumber:
			c = cmp.Compare(a.number, b.number)
		case journal.SortPieces:
			c = cmp.Compare(a.made, b.made) // all have two spares
		case journal.SortState:
			c = cmp.Compare(state(a), state(b))
		case journal.SortRecipe:
			c = cmp.Compare(a.recipe, b.recipe)
		case journal.SortCreated:
			c = a.created.Compare(b.created)
		}
		c = cmp.Or(c, cmp.Compare(a.order, b.order), cmp.Compare(a.serial, b.serial))
		if (f.Sort == "") != f.Reverse {
			c = -c
		}
		return c
	})
	found = found[min(f.Offset, len(found)):]
	if f.Limit > 0 {
		found = found[:min(f.Limit, len(found))]
	}
	for _, b := range found {
		out = append(out, b.number)
	}
	return out
}

// Random work on a journal gives what the simplest journal gives.
func TestAgainstModel(t *testing.T) {
	fewerRuns(t, 30)
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		m := &machine{years: map[int]int{}, now: time.Date(2026, 1, 5, 8, 0, 0, 0, time.FixedZone("", 3600))}
		m.j = journal.At(filepath.Join(dir, fmt.Sprint(n), "hepar.journal"), journal.Options{Now: func() time.Time { return m.now }})
		if err := m.j.Init(); err != nil {
			t.Fatal(err)
		}
		steps := map[string]func(*rapid.T){
			"create": func(t *rapid.T) {
				b, mb := m.plan(t)
				got, err := m.j.Create(b)
				want(t, "create", err, true)
				if got.Number != mb.number {
					t.Fatalf("got number %s, want %s", got.Number, mb.number)
				}
				m.all = append(m.all, mb)
			},
			"log new": func(t *rapid.T) {
				years := maps.Clone(m.years)
				b, mb := m.plan(t)
				r, fits := m.result(t, mb.made)
				_, err := m.j.LogNew(b, r)
				want(t, "log new", err, fits)
				if !fits {
					m.years = years
					return
				}
				mb.touch(b.By)
				mb.vouch(b.By)
				m.take(mb, r)
				m.all = append(m.all, mb)
			},
			"review": func(t *rapid.T) {
				b := m.pick(t)
				digest := rapid.SampledFrom([]string{"sha256:6c1f", "sha256:6c1f", "sha256:0"}).Draw(t, "digest")
				_, err := m.j.Review(b.number, journal.Acknowledgement{By: "Uwe", Digest: digest})
				allowed := b.state == journal.Planned || b.state == journal.Reviewed || b.state == journal.Dipped
				want(t, "review", err, allowed)
				if allowed {
					if b.state == journal.Planned {
						b.state = journal.Reviewed
					}
					b.reviewed, b.digestFits = m.now, digest == "sha256:6c1f"
					b.touch("Uwe")
				}
			},
			"log": func(t *rapid.T) {
				b := m.pick(t)
				r, fits := m.result(t, b.made)
				reason := rapid.SampledFrom([]string{"", "", "a test"}).Draw(t, "reason")
				_, err := m.j.LogWith(b.number, r, journal.LogOptions{By: "Tomas Reh", WithoutReview: reason})
				allowed := fits && (b.state == journal.Dipped ||
					(b.state == journal.Planned || b.state == journal.Reviewed) && (reason != "" || m.ready(b)))
				want(t, "log", err, allowed)
				if allowed {
					m.take(b, r)
					b.touch("Tomas Reh")
					b.vouch("Tomas Reh")
				}
			},
			"amend": func(t *rapid.T) {
				b := m.pick(t)
				good := rapid.IntRange(0, 22).Draw(t, "good")
				_, err := m.j.Amend(b.number, "good", fmt.Sprint(good), "counted again", "Uwe")
				allowed := b.state == journal.Logged && good != b.good && fit(b.made, good, b.rework, b.reject, b.causes)
				want(t, "amend", err, allowed)
				if allowed {
					b.good = good
					b.amended("Uwe")
				}
			},
			"withdraw": func(t *rapid.T) {
				b := m.pick(t)
				_, err := m.j.Withdraw(b.number, "a mistake", "Uwe")
				allowed := b.state != journal.Withdrawn
				want(t, "withdraw", err, allowed)
				if allowed {
					b.state = journal.Withdrawn
					b.touch("Uwe")
				}
			},
			"list": func(t *rapid.T) {
				f := m.filter(t)
				var got []string
				for b, err := range m.j.List(f) {
					if err != nil {
						t.Fatal(err)
					}
					got = append(got, b.Number)
				}
				if want := m.list(f); !slices.Equal(got, want) {
					t.Fatalf("list %+v\n got %v\nwant %v", f, got, want)
				}
				f.Offset, f.Limit = 0, 0
				if n, err := m.j.Count(f); err != nil || n != len(m.list(f)) {
					t.Fatalf("count %+v: got %d, %v, want %d", f, n, err, len(m.list(f)))
				}
			},
			"get": func(t *rapid.T) {
				b := m.pick(t)
				got, err := m.j.Get(b.number)
				if err != nil || got.State != b.state || len(got.Events) != b.events || !got.Created.Equal(b.created) {
					t.Fatalf("got %+v, %v, want %+v", got, err, *b)
				}
				if b.state == journal.Logged && (got.Result.Good != b.good || got.Missing() != b.made-b.good-b.rework-b.reject) {
					t.Fatalf("got %+v, want %+v", *got.Result, *b)
				}
				loads := 0
				if got.Dip != nil {
					loads = len(got.Dip.Loads)
				}
				if loads != b.loads || len(got.Photos) != b.photos || len(got.Waste) != len(b.waste) || len(got.Lots) != len(b.used) {
					t.Fatalf("got %+v, want %+v", got, *b)
				}
				if b.signed != (got.SignedOff != nil && !got.SignedOff.AmendedSince) {
					t.Fatalf("got signed off %+v, want %v", got.SignedOff, b.signed)
				}
			},
			"an hour passes": func(t *rapid.T) { m.now = m.now.Add(time.Hour) },
		}
		maps.Copy(steps, m.more())
		t.Repeat(steps)
		if report, err := m.j.Verify(); err != nil || !report.Sound() || report.Batches != len(m.all) {
			t.Fatalf("verify: %v, %+v; want %d batches", err, report, len(m.all))
		}
	})
}

// fewerRuns lowers the runs of a property test of which every step waits for the
// disk, unless somebody asked for a number of them.
func fewerRuns(t *testing.T, n int) {
	t.Helper()
	runs := flag.Lookup("rapid.checks")
	if runs.Value.String() != runs.DefValue {
		return
	}
	if err := runs.Value.Set(strconv.Itoa(n)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = runs.Value.Set(runs.DefValue) })
}
