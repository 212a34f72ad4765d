package journal_test

import (
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func celsius(x float64) *measure.Celsius { c := measure.Celsius(x); return &c }

func seconds(x float64) *measure.Seconds { s := measure.Seconds(x); return &s }

func TestRefusedPlans(t *testing.T) {
	j := journaltest.New(t)
	for name, spoil := range map[string]func(b *journal.Batch){
		"no pieces":             func(b *journal.Batch) { b.Pieces = 0 },
		"fewer than no pieces":  func(b *journal.Batch) { b.Pieces = -3 },
		"a milliard pieces":     func(b *journal.Batch) { b.Pieces = 1_000_000_000 },
		"fewer than no spares":  func(b *journal.Batch) { b.Spares = -1 },
		"no recipe":             func(b *journal.Batch) { b.Recipe.Slug = "  " },
		"an escape in the name": func(b *journal.Batch) { b.By = "Ilka\x1b[2J" },
		"a zero in the alloy":   func(b *journal.Batch) { b.Alloy = "sterling\x00925" },
		"bad UTF-8":             func(b *journal.Batch) { b.Note = "\xff\xfe" },
		"text turned round":     func(b *journal.Batch) { b.Note = "abc\u202edef" },
		"a long name":           func(b *journal.Batch) { b.By = strings.Repeat("x", 201) },
		"a long note":           func(b *journal.Batch) { b.Note = strings.Repeat("x", 64<<10+1) },
		"a sheet not JSON":      func(b *journal.Batch) { b.Sheet = []byte("{") },
		"a sheet too long":      func(b *journal.Batch) { b.Sheet = []byte(`"` + strings.Repeat("x", 4<<20) + `"`) },
		"a recipe too long":     func(b *journal.Batch) { b.Recipe.Text = strings.Repeat("x", 1<<20+1) },
		"the year 1066":         func(b *journal.Batch) { b.Created = time.Date(1066, 10, 14, 9, 0, 0, 0, time.UTC) },
		"the year 9999":         func(b *journal.Batch) { b.Created = time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC) },
	} {
		t.Run(name, func(t *testing.T) {
			b := order(48)
			spoil(&b)
			if _, err := j.Create(b); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
				t.Errorf("got %v (%q), want it refused with a cure", err, fault.CureOf(err))
			}
		})
	}
	if n, err := j.Count(journal.Filter{}); n != 0 || err != nil {
		t.Errorf("the journal has %d batches, %v; want none", n, err)
	}
	if b, err := j.Create(order(48)); err != nil || !strings.HasSuffix(b.Number, "-001") {
		t.Errorf("after all refusals: %s, %v; want number 001", b.Number, err)
	}
}

func TestRefusedResults(t *testing.T) {
	j := journaltest.New(t)
	b, err := j.Create(order(48)) // and 2 spares
	if err != nil {
		t.Fatal(err)
	}
	review(t, j, b.Number)
	for name, r := range map[string]journal.Result{
		"more than were made":   {Good: 49, Rework: 1, Reject: 1},
		"nothing counted":       {},
		"fewer than none":       {Good: 48, Reject: -1},
		"more causes than bad":  {Good: 45, Rework: 2, Causes: map[string]int{"patchy": 3}},
		"a cause of no piece":   {Good: 45, Rework: 2, Causes: map[string]int{"patchy": 0}},
		"a cause with a colon":  {Good: 45, Rework: 2, Causes: map[string]int{"too:light": 1}},
		"a cause without name":  {Good: 45, Rework: 2, Causes: map[string]int{" - ": 1}},
		"no number of degrees":  {Good: 45, Temperature: celsius(math.NaN())},
		"endless heat":          {Good: 45, Temperature: celsius(math.Inf(1))},
		"too cold":              {Good: 45, Temperature: celsius(-300)},
		"time running back":     {Good: 45, Time: seconds(-1)},
		"a bell in the shade":   {Good: 45, Shade: "blue\a"},
		"an overlong note":      {Good: 45, Note: strings.Repeat("é", 40<<10)},
		"an overflow of pieces": {Good: math.MaxInt, Rework: 1},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := j.Log(b.Number, r, "", time.Time{}); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
				t.Errorf("log: got %v (%q), want it refused with a cure", err, fault.CureOf(err))
			}
			if _, err := j.LogNew(order(48), r); fault.KindOf(err) != fault.Usage {
				t.Errorf("log new: got %v, want it refused", err)
			}
		})
	}
	if got, err := j.Get(b.Number); err != nil || got.State != journal.Reviewed || len(got.Events) != 2 {
		t.Errorf("after all refusals: %+v, %v; want it untouched", got, err)
	}
}

func TestOrderOfWork(t *testing.T) {
	j := journaltest.New(t)
	b, err := j.Create(order(48))
	if err != nil {
		t.Fatal(err)
	}
	good := journal.Result{Good: 40}
	step := func(what string, call func() (journal.Batch, error), want bool) {
		t.Helper()
		if _, err := call(); (err == nil) != want || err != nil && fault.CureOf(err) == "" {
			t.Errorf("%s: got %v (%q), want done = %v", what, err, fault.CureOf(err), want)
		}
	}
	review := func() (journal.Batch, error) {
		return j.Review(b.Number, journal.Acknowledgement{Digest: b.Recipe.Digest})
	}
	log := func() (journal.Batch, error) { return j.Log(b.Number, good, "", time.Time{}) }
	amend := func(field, value string) func() (journal.Batch, error) {
		return func() (journal.Batch, error) { return j.Amend(b.Number, field, value, "counted again", "") }
	}
	withdraw := func() (journal.Batch, error) { return j.Withdraw(b.Number, "entered twice", "") }
	step("amend a result that is not there", amend("good", "3"), false)
	step("review", review, true)
	step("review again", review, true)
	step("amend the plan", amend("pieces", "50"), true)
	step("log", log, true)
	step("log again", log, false)
	step("review what is logged", review, false)
	step("amend to more than were made", amend("good", "53"), false)
	step("amend", amend("good", "44"), true)
	step("amend to the same", amend("good", "44"), false)
	step("amend the pieces below the count", amend("pieces", "41"), false)
	step("withdraw without a reason", func() (journal.Batch, error) { return j.Withdraw(b.Number, " ", "") }, false)
	step("withdraw", withdraw, true)
	step("withdraw again", withdraw, false)
	step("amend what is withdrawn", amend("good", "1"), false)
	got, err := j.Get(b.Number)
	if err != nil || got.State != journal.Withdrawn || got.Result.Good != 44 || got.Missing() != 8 {
		t.Errorf("at the end: %+v, %v", got, err)
	}
}

// Every field can be amended; the value before, the value after and the reason stay.
func TestAmend(t *testing.T) {
	for _, c := range []struct{ field, value, old, new string }{
		{"alloy", "fine-999", "sterling-925", "fine-999"},
		{"shape", "ring", "disc", "ring"},
		{"pieces", "60", "48", "60"},
		{"spares", "0", "2", "0"},
		{"order", "For the museum\r\nof Elmstad", "Tokens for the Rowing Club of Elmstad", "For the museum\nof Elmstad"},
		{"good", "44", "43", "44"},
		{"rework", "2", "3", "2"},
		{"reject", "0", "1", "0"},
		{"causes", "Too light = 1, patchy=2", "patchy=2", "patchy=2, too-light=1"},
		{"causes", "", "patchy=2", ""},
		{"temperature", "160 F", "71 C", "71.11111111111111 C"},
		{"temperature", "", "71 C", ""},
		{"time", "1 min 30 s", "12 s", "90 s"},
		{"shade", "blue-black", "brown", "blue-black"},
		{"note", "=1+1 is a note", "first of the new lot", "=1+1 is a note"},
	} {
		t.Run(c.field+" "+c.value, func(t *testing.T) {
			j := journaltest.New(t)
			b, err := j.LogNew(order(48), journal.Result{
				Good: 43, Rework: 3, Reject: 1, Causes: map[string]int{"patchy": 2}, Temperature: celsius(71), Time: seconds(12),
				Shade: "brown", Note: "first of the new lot",
			})
			if err != nil {
				t.Fatal(err)
			}
			if _, err := j.Amend(b.Number, c.field, c.value, "", ""); fault.KindOf(err) != fault.Usage || !strings.Contains(err.Error(), "reason") {
				t.Errorf("without a reason: %v", err)
			}
			if _, err := j.Amend(b.Number, c.field, c.value, "read it again", "Tomas Reh"); err != nil {
				t.Fatal(err)
			}
			got, err := j.Get(b.Number)
			if err != nil {
				t.Fatal(err)
			}
			e := got.Events[len(got.Events)-1]
			if e.Kind != journal.Amended || e.Field != c.field || e.Old != c.old || e.New != c.new || e.Reason != "read it again" || e.By != "Tomas Reh" {
				t.Errorf("the event is %+v, want %q -> %q", e, c.old, c.new)
			}
			if plan := order(48); got.Recipe != plan.Recipe || string(got.Sheet) != string(plan.Sheet) {
				t.Error("the frozen recipe or sheet has changed")
			}
		})
	}
}

func TestRefusedAmendments(t *testing.T) {
	j := journaltest.New(t)
	b, err := j.LogNew(order(48), journal.Result{Good: 43, Rework: 3, Causes: map[string]int{"patchy": 2}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ field, value string }{
		{"recipe", "another"}, {"", "1"}, {"number", "2020-001"}, {"good", ""}, {"good", "-1"}, {"good", "4e1"}, {"good", "48.5"},
		{"pieces", "0"}, {"rework", "1"}, {"temperature", "71"}, {"temperature", "71 g"}, {"temperature", "4000 C"},
		{"time", "12"}, {"time", "-3 s"}, {"causes", "patchy"}, {"causes", "patchy=x"}, {"causes", "patchy=9"}, {"shade", "a\nb"},
	} {
		if _, err := j.Amend(b.Number, c.field, c.value, "because", ""); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s = %q: got %v (%q), want it refused with a cure", c.field, c.value, err, fault.CureOf(err))
		}
	}
	if got, err := j.Get(b.Number); err != nil || len(got.Events) != 2 {
		t.Errorf("after all refusals: %d events, %v", len(got.Events), err)
	}
}

// What goes in comes out.
func TestEverythingIsKept(t *testing.T) {
	j := journaltest.New(t)
	zone := time.FixedZone("", -(3*60+30)*60)
	in := order(48)
	in.Created = time.Date(2024, 2, 29, 23, 59, 58, 987654321, zone)
	result := journal.Result{
		Good: 44, Rework: 3, Reject: 2, Causes: map[string]int{"übergang": 1, "too-light": 2},
		Temperature: celsius(70.55), Time: seconds(0.1), Shade: "blau-schwarz", Note: "two lines\n\tand a tab",
	}
	b, err := j.LogNew(in, result)
	if err != nil {
		t.Fatal(err)
	}
	got, err := j.Get(b.ID)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(*got.Result, result) {
		t.Errorf("result: got %+v, want %+v", *got.Result, result)
	}
	if got.Recipe != in.Recipe || string(got.Sheet) != string(in.Sheet) || got.Note != in.Note || got.By != in.By || got.Spares != 2 {
		t.Errorf("plan: got %+v", got)
	}
	if got.Number != "2024-001" || got.Created.Format(time.RFC3339Nano) != "2024-02-29T23:59:58.987-03:30" {
		t.Errorf("number %s, created %s", got.Number, got.Created.Format(time.RFC3339Nano))
	}
	got.Recipe.Text, got.Sheet = "", nil // only Get gives what is frozen
	if !reflect.DeepEqual(got, b) {
		t.Errorf("LogNew gave\n%+v\nand Get\n%+v", b, got)
	}
}

func TestUpdateIsAllOrNothing(t *testing.T) {
	j := journaltest.New(t)
	err := j.Update(func(w *journal.Writer) error {
		for range 5 {
			if _, err := w.Create(order(1)); err != nil {
				return err
			}
		}
		_, _ = w.Create(order(0)) // the error is dropped, and still nothing is kept
		return nil
	})
	if fault.KindOf(err) != fault.Usage {
		t.Errorf("got %v, want the dropped error", err)
	}
	if n, err := j.Count(journal.Filter{}); n != 0 || err != nil {
		t.Errorf("%d batches are kept, %v", n, err)
	}
	err = j.Update(func(w *journal.Writer) error {
		b, err := w.Create(order(5))
		if err == nil {
			_, err = w.Review(b.Number, journal.Acknowledgement{Digest: b.Recipe.Digest})
		}
		if err == nil {
			_, err = w.Log(b.Number, journal.Result{Good: 5}, "", time.Time{})
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
	if n, err := j.Count(journal.Filter{State: journal.Logged}); n != 1 || err != nil {
		t.Errorf("%d batches are logged, %v; want 1", n, err)
	}
}
