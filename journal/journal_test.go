package journal_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/oklog/ulid/v2"
	"pgregory.net/rapid"

	"hepar/journal"
	"hepar/journal/internal/record"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

var bench = time.FixedZone("", 3600)

// at returns a journal whose clock stands at a time of a working day.
func at(t testing.TB) (*journal.Journal, *clock) {
	clock := newClock(time.Date(2026, 3, 9, 9, 30, 0, 0, bench))
	return journaltest.Open(t, t.TempDir()+"/books/hepar.journal", journal.Options{By: "Ilse Tamm", Now: clock.Now}), clock
}

func tokens() journal.Plan {
	return journal.Plan{
		Recipe: journal.Recipe{Slug: "fernholm-token-black", Title: "Token black", Kind: "antique", Revision: 2, Digest: "sha256:aa", Text: "title = \"Token black\"\n"},
		Alloy:  "sterling-925", Shape: "disc", Pieces: 60, Spares: 3, Order: "Saltholm Rowing Club",
	}
}

func must[T any](t testing.TB) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatalf("%v", err)
		}
		return v
	}
}

func kind(t testing.TB, err error, want fault.Kind, text string) {
	t.Helper()
	if err == nil || fault.KindOf(err) != want || !strings.Contains(err.Error(), text) {
		t.Errorf("got %v, want a fault of kind %v with %q", err, want, text)
	} else if fault.CureOf(err) == "" {
		t.Errorf("%v: no cure", err)
	}
}

func TestLifeOfABatch(t *testing.T) {
	j, clock := at(t)
	batch := must[journal.Batch](t)
	b := batch(j.Create(tokens(), []byte(`{"schema": 1}`)))
	if b.Number != "2026-001" || b.State != journal.Planned || b.By != "Ilse Tamm" {
		t.Fatalf("planned: %+v", b)
	}
	jar := must[journal.Container](t)(j.AddContainer(journal.ContainerPlan{Substance: "liver-of-sulfur", Form: "lump", Unit: journal.UnitGrams, Amount: 500, Lot: "K2291"}, ""))
	_, err := dipped(j, "last", "", "", nil, journal.Load{Pieces: 1})
	kind(t, err, fault.Safety, "has no safety review")
	clock.Add(time.Minute)
	batch(j.Review("1", journal.Review{Digest: "sha256:aa", Points: []string{"acid-sulfide", "ventilation"}}))
	clock.Add(time.Minute)
	b = batch(dipped(j, "2026-1", "", "", []journal.Use{{Number: jar.Number, Amount: 8.5, Unit: "g"}}, journal.Load{Pieces: 32}, journal.Load{Pieces: 31}))
	if b.State != journal.Dipped || len(b.Dip.Loads) != 2 || b.Dip.Loads[1].Number != 2 || b.Uses[0].Lot != "K2291" {
		t.Fatalf("dipped: %+v", b)
	}
	if got := must[journal.Container](t)(j.Container("s-1")); got.Left != 491.5 {
		t.Errorf("%v g are left in the jar, want 491.5", got.Left)
	}
	_, err = j.Log("last", journal.Result{Good: 64}, journal.LogOptions{})
	kind(t, err, fault.Usage, "only 63 were started")
	_, err = j.Log("last", journal.Result{Good: 60, Rework: 1, Causes: map[string]int{"spots": 2}}, journal.LogOptions{})
	kind(t, err, fault.Usage, "add up to 2")
	b = batch(j.Log("last", journal.Result{Good: 60, Rework: 2, Causes: map[string]int{"Too Light": 2}, Shade: " blue-black "}, journal.LogOptions{}))
	if b.State != journal.Logged || *b.Missing != 1 || b.Causes["too-light"] != 2 || b.Shade != "blue-black" {
		t.Fatalf("logged: %+v", b.Result)
	}
	_, err = j.Log("last", journal.Result{Good: 60}, journal.LogOptions{})
	kind(t, err, fault.Failure, "cannot be logged again")
	_, err = j.SignOff("last", "ilse tamm", "")
	kind(t, err, fault.Failure, "cannot sign it off as well")
	_, err = j.Amend("last", "good", "61", "", "Marek Oja")
	kind(t, err, fault.Usage, "--reason is required")
	b = batch(j.Amend("last", "good", "61", "found one in the sieve", "Marek Oja"))
	if b.Good != 61 || b.Latest().Old != "60" || *b.Missing != 0 {
		t.Fatalf("amended: %+v", b.Latest())
	}
	_, err = j.SignOff("last", "Marek Oja", "")
	kind(t, err, fault.Failure, "cannot sign it off as well")
	batch(j.SignOff("last", "Runa Fern", "counted"))
	_, err = j.SignOff("last", "Runa Fern", "")
	kind(t, err, fault.Failure, "already signed off")
	b = batch(j.Amend("last", "temperature", "71.5 C", "thermometer read again", ""))
	if !b.SignOff.AmendedSince || float64(*b.Temperature) != 71.5 {
		t.Errorf("after the amendment: %+v", b.SignOff)
	}
	must[journal.Container](t)(j.ChangeContainer("S-001", "lot", "K2292", "misread", ""))
	for lot, want := range map[string]int{"k2291": 0, "K2292": 1} {
		if n := must[int](t)(count(j, journal.Filter{Lot: lot})); n != want {
			t.Errorf("%d batches of lot %s, want %d", n, lot, want)
		}
	}
	batch(j.AddWaste("last", journal.Waste{Liters: 1.9, Container: "W-3"}))
	if got := must[[]journal.WasteOf](t)(j.ListWaste("w-3")); len(got) != 1 || got[0].Batch != "2026-001" {
		t.Errorf("the waste is %+v", got)
	}
	b = batch(j.Get("last"))
	if string(b.Sheet) != `{"schema":1}` || b.Text != tokens().Text || len(b.Events) != 11 {
		t.Errorf("read back: %d events, sheet %s", len(b.Events), b.Sheet)
	}
	batch(j.Withdraw("last", "entered twice", ""))
	_, err = j.Get("last")
	kind(t, err, fault.Failure, "no batch, or only withdrawn")
}

func TestGate(t *testing.T) {
	for name, c := range map[string]struct {
		age                       time.Duration
		digest, by, second, wants string
		stops                     []string
	}{
		"of today":           {age: 3 * time.Hour, digest: "sha256:aa"},
		"of the day before":  {age: 15 * time.Hour, digest: "sha256:aa", wants: "a review is valid until midnight"},
		"of another person":  {age: time.Hour, digest: "sha256:aa", by: "Marek Oja", wants: "was reviewed by Marek Oja, not by Ilse Tamm"},
		"of a second person": {age: time.Hour, digest: "sha256:aa", by: "Marek Oja", second: "Ilse Tamm"},
		"with a stop":        {age: time.Hour, digest: "sha256:aa", stops: []string{"acid-sulfide"}, wants: "found a stop (acid-sulfide)"},
		"of another recipe":  {age: time.Hour, digest: "sha256:bb", wants: "another recipe"},
		"after the work":     {age: -time.Hour, digest: "sha256:aa", wants: "the clock says"},
	} {
		t.Run(name, func(t *testing.T) {
			j, clock := at(t)
			must[journal.Batch](t)(j.Create(tokens(), nil))
			must[journal.Batch](t)(j.Review("last", journal.Review{By: c.by, Digest: c.digest, Stops: c.stops, Answers: map[string]string{"second": c.second}}))
			clock.Add(c.age)
			for what, try := range map[string]func(string) error{
				"dip": func(g string) error {
					_, err := dipped(j, "last", "", g, nil, journal.Load{Pieces: 1})
					return err
				},
				"log": func(g string) error {
					_, err := j.Log("last", journal.Result{Good: 1}, journal.LogOptions{WithoutReview: g})
					return err
				},
			} {
				if c.wants == "" || what == "log" && c.by != "" { // whoever counts need not have been at the bath
					continue
				}
				kind(t, try(""), fault.Safety, c.wants)
			}
			b, err := dipped(j, "last", "", map[bool]string{true: "asked Marek"}[c.wants != ""], nil, journal.Load{Pieces: 1})
			if err != nil || (b.WithoutReview != "") != (c.wants != "") {
				t.Errorf("%v, %q", err, b.WithoutReview)
			}
		})
	}
	j, clock := at(t)
	must[journal.Batch](t)(j.Create(tokens(), nil))
	_, err := j.Review("last", journal.Review{Digest: "sha256:aa", At: journal.StampOf(clock.Now().Add(time.Hour))})
	kind(t, err, fault.Usage, "is in the future")
}

func TestReferences(t *testing.T) {
	j, clock := at(t)
	var ids []journal.ID
	for range 12 {
		ids = append(ids, must[journal.Batch](t)(j.Create(tokens(), nil)).ID)
		clock.Add(time.Second)
	}
	for ref, want := range map[string]string{"last": "2026-012", "LAST": "2026-012", "3": "2026-003", "2026-7": "2026-007", "2026-007": "2026-007", ids[4].String(): "2026-005", strings.ToLower(ids[4].String()): "2026-005"} {
		if b, err := j.Get(ref); err != nil || b.Number != want {
			t.Errorf("%s: %s, %v, want %s", ref, b.Number, err, want)
		}
	}
	for ref, want := range map[string]string{"13": "no batch 2026-013", "2025-001": "no batch 2025-001", "abc": `"abc" is not the number`, "": "is not the number", ids[4].String()[:6]: "more than one batch", "first": "is not the number", "2026-01x": "is not the number"} {
		_, err := j.Get(ref)
		kind(t, err, fault.Usage, want)
	}
	clock.Set(time.Date(2027, 1, 2, 9, 0, 0, 0, bench))
	if b := must[journal.Batch](t)(j.Create(tokens(), nil)); b.Number != "2027-001" {
		t.Errorf("the first number of the year is %s", b.Number)
	}
	if b := must[journal.Batch](t)(j.Get("1")); b.Number != "2027-001" {
		t.Errorf("1 names %s in the new year", b.Number)
	}
}

func TestIDsRiseWhenTheClockGoesBack(t *testing.T) {
	j, clock := at(t)
	must[journal.Batch](t)(j.Create(tokens(), nil))
	clock.Add(-time.Hour)
	b := must[journal.Batch](t)(j.Amend("1", "order", "Ferry Museum", "wrong club", ""))
	if b.Events[0].ID.Compare(b.Events[1].ID) >= 0 || b.Order != "Ferry Museum" {
		t.Errorf("the events are %v", b.Events)
	}
}

// TestFailedChangeLeavesNothing runs two changes of which the second fails.
func TestFailedChangeLeavesNothing(t *testing.T) {
	j, _ := at(t)
	must[journal.Batch](t)(j.Create(tokens(), nil))
	want := errors.New("changed my mind")
	err := j.Update(func(tx *journal.Tx) error {
		if _, err := tx.Create(tokens(), []byte(`{}`)); err != nil {
			return err
		}
		return fault.Failuref("no").Because(want).Try("nothing")
	})
	if !errors.Is(err, want) || must[int](t)(count(j, journal.Filter{})) != 1 {
		t.Errorf("%v", err)
	}
	if b := must[journal.Batch](t)(j.Create(tokens(), nil)); b.Number != "2026-002" {
		t.Errorf("the next number is %s", b.Number)
	}
}

func TestWrongInput(t *testing.T) {
	j, _ := at(t)
	_, err := j.Get("2026-001")
	kind(t, err, fault.Failure, "there is no journal")
	if there, _ := j.Exists(); there {
		t.Error("reading made a journal")
	}
	long := strings.Repeat("x", 70_000)
	for name, p := range map[string]journal.Plan{
		"is 0":                     {Recipe: journal.Recipe{Slug: "a"}},
		"the recipe is missing":    {Pieces: 1},
		"bytes long":               {Pieces: 1, Recipe: journal.Recipe{Slug: long}},
		"control character U+202E": {Pieces: 1, Recipe: journal.Recipe{Slug: "a"}, Order: "Ferry \u202e Museum"},
		"control character U+001B": {Pieces: 1, Recipe: journal.Recipe{Slug: "a"}, Alloy: "sterling\x1b[31m"},
		"valid UTF-8":              {Pieces: 1, Recipe: journal.Recipe{Slug: "a"}, Shape: "disc\xff"},
		"in the year 1200":         {Pieces: 1, Recipe: journal.Recipe{Slug: "a"}, Created: journal.StampOf(time.Date(1200, 1, 1, 0, 0, 0, 0, time.UTC))},
	} {
		_, err := j.Create(p, nil)
		if err == nil || fault.KindOf(err) != fault.Usage {
			t.Errorf("%s: %v", name, err)
		} else if name != "is 0" && !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, err = j.Create(tokens(), []byte(`{"schema":`))
	kind(t, err, fault.Usage, "not JSON")
}

// model is what a journal should hold, kept in the plainest way.
type model struct {
	number string
	state  journal.State
	alloy  string
	good   int
	rework int
	people []string
}

// TestRandomOperations holds random changes and questions against a model.
func TestRandomOperations(t *testing.T) {
	dir := t.TempDir()
	runs := 0
	rapid.Check(t, func(r *rapid.T) {
		runs++
		clock := newClock(time.Date(2026, 12, 30, 22, 0, 0, 0, bench))
		j := journal.At(fmt.Sprintf("%s/%d.journal", dir, runs), journal.Options{Now: clock.Now})
		var all []*model
		pick := func() *model {
			if len(all) == 0 {
				r.Skip()
			}
			return all[rapid.IntRange(0, len(all)-1).Draw(r, "batch")]
		}
		who := rapid.SampledFrom([]string{"Ilse Tamm", "Marek Oja", "Runa Fern"})
		alloy := rapid.SampledFrom([]string{"sterling-925", "fine-999", "copper-c110"})
		open := func(m *model) bool {
			return m.state == journal.Planned || m.state == journal.Reviewed || m.state == journal.Dipped
		}
		check := func(what string, err error, allowed bool) bool {
			if (err == nil) != allowed {
				r.Fatalf("%s: %v, and it is allowed: %v", what, err, allowed)
			}
			return err == nil
		}
		r.Repeat(map[string]func(*rapid.T){
			"create": func(r *rapid.T) {
				clock.Add(time.Duration(rapid.IntRange(0, 7200).Draw(r, "seconds")) * time.Second)
				p := tokens()
				p.Alloy, p.By = alloy.Draw(r, "alloy"), who.Draw(r, "by")
				b, err := j.Create(p, nil)
				if err != nil {
					r.Fatal(err)
				}
				all = append(all, &model{number: b.Number, state: journal.Planned, alloy: p.Alloy, people: []string{p.By}})
			},
			"review": func(r *rapid.T) {
				m, by := pick(), who.Draw(r, "by")
				_, err := j.Review(m.number, journal.Review{By: by, Digest: "sha256:aa"})
				if check("review", err, open(m)) {
					m.people = append(m.people, by)
					if m.state == journal.Planned {
						m.state = journal.Reviewed
					}
				}
			},
			"dip": func(r *rapid.T) {
				m, by := pick(), who.Draw(r, "by")
				_, err := dipped(j, m.number, by, "for the test", nil, journal.Load{Pieces: 5})
				if check("dip", err, open(m)) {
					m.state, m.people = journal.Dipped, append(m.people, by)
				}
			},
			"log": func(r *rapid.T) {
				m, by, good := pick(), who.Draw(r, "by"), rapid.IntRange(1, 63).Draw(r, "good")
				_, err := j.Log(m.number, journal.Result{Good: good, Rework: min(2, 63-good)}, journal.LogOptions{By: by, WithoutReview: "for the test"})
				if check("log", err, open(m)) {
					m.state, m.good, m.rework, m.people = journal.Logged, good, min(2, 63-good), append(m.people, by)
				}
			},
			"amend": func(r *rapid.T) {
				m, a := pick(), alloy.Draw(r, "alloy")
				_, err := j.Amend(m.number, "alloy", a, "misread", "Runa Fern")
				if check("amend", err, m.state != journal.Withdrawn && a != m.alloy) {
					m.alloy, m.people = a, append(m.people, "Runa Fern")
				}
			},
			"withdraw": func(r *rapid.T) {
				m := pick()
				_, err := j.Withdraw(m.number, "never made", "Marek Oja")
				if check("withdraw", err, m.state != journal.Withdrawn) {
					m.state, m.people = journal.Withdrawn, append(m.people, "Marek Oja")
				}
			},
			"": func(r *rapid.T) {
				f := journal.Filter{Reverse: rapid.Bool().Draw(r, "oldest first")}
				if rapid.Bool().Draw(r, "by alloy") {
					f.Alloy = alloy.Draw(r, "alloy")
				}
				if rapid.Bool().Draw(r, "by person") {
					f.By = strings.ToUpper(who.Draw(r, "person"))
				}
				if rapid.Bool().Draw(r, "by result") {
					f.Result = rapid.SampledFrom([]string{"good", "rework"}).Draw(r, "result")
				}
				var want []string
				for _, m := range all {
					if (f.Alloy == "" || f.Alloy == m.alloy) &&
						(f.By == "" || slices.ContainsFunc(m.people, func(p string) bool { return strings.EqualFold(p, f.By) })) &&
						(f.Result == "" || m.state == journal.Logged && (m.rework > 0) == (f.Result == "rework")) {
						want = append(want, m.number)
					}
				}
				if !f.Reverse {
					slices.Reverse(want)
				}
				if len(all) == 0 {
					return
				}
				var got []string
				for b, err := range j.List(f) {
					if err != nil {
						r.Fatal(err)
					}
					got = append(got, b.Number)
				}
				if !slices.Equal(got, want) {
					r.Fatalf("%+v lists %v, want %v", f, got, want)
				}
				groups, err := j.Sum(journal.Filter{}, "alloy")
				if err != nil {
					r.Fatal(err)
				}
				sum := map[string]int{}
				for _, m := range all {
					sum[m.alloy] += m.good * map[bool]int{true: 1}[m.state == journal.Logged]
				}
				for _, g := range groups {
					if sum[g.Key] != g.Good {
						r.Fatalf("%d good pieces of %s, want %d", g.Good, g.Key, sum[g.Key])
					}
				}
			},
		})
		journaltest.Sound(t, j)
	})
}

// TestBareEvents: an event without the part that its kind is about is a fault of the batch,
// and no panic.
func TestBareEvents(t *testing.T) {
	of := ulid.Make()
	replay := func(kind string, before ...*record.Event) (b *record.Batch) {
		defer func() {
			if r := recover(); r != nil {
				t.Errorf("a bare event %s: %v: what it must have is missing in whole", kind, r)
				b = &record.Batch{}
			}
		}()
		return record.ReplayAs(of, append(before, &record.Event{ID: ulid.Make(), Of: of, Kind: kind, Field: "order", New: "Saltholm"}), false).(*record.Batch)
	}
	for _, kind := range []string{record.Created, record.Reviewed, record.Bench, record.Logged, record.PhotoAdded, record.WasteAdded} {
		b := replay(kind)
		if !slices.ContainsFunc(b.Faults, func(fault string) bool { return !strings.Contains(fault, "planned it is missing") }) {
			t.Errorf("a bare event %s is taken: %v", kind, b.Faults)
		}
	}
	for kind := range journal.StepStates() { // each has its effect in apply: none is taken for a newer build's
		plan := tokens()
		b := replay(kind, &record.Event{ID: ulid.Make(), Of: of, Kind: record.Created, Plan: &plan})
		if len(b.Newer) > 0 {
			t.Errorf("%s has no effect: %v", kind, b.Newer)
		}
	}
}
