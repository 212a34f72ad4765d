package journal_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// salvaged salvages the journal at path, which must give a sound one.
func salvaged(t testing.TB, path string) (*journal.Journal, journal.SalvageReport) {
	t.Helper()
	into := filepath.Join(t.TempDir(), "salvaged.journal")
	report, err := journal.At(path, journal.Options{Wait: -1}).Salvage(into)
	if err != nil {
		t.Fatalf("%v\n%+v", err, report)
	}
	return journaltest.Open(t, into, journal.Options{}), report
}

// A sound journal comes out as it is, with nothing added.
func TestSalvageOfSoundJournal(t *testing.T) {
	j := journaltest.New(t)
	history(t, j)
	stocked(t, j)
	before := verified(t, j)
	out, report := salvaged(t, j.Path())
	after := verified(t, out)
	if !report.Whole() || report.DamageCount != 0 || report.Events != before.Events || report.ID != before.ID {
		t.Errorf("the report says %+v", report)
	}
	if after.Head != before.Head || after.Events != before.Events || everything(t, out) != everything(t, j) || len(after.Missing) != 0 {
		t.Errorf("it differs: %+v", after)
	}
	if left := names(t, filepath.Dir(out.Path())); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
	if _, err := journal.At(j.Path(), journal.Options{}).Salvage(out.Path()); fault.KindOf(err) != fault.Usage {
		t.Errorf("onto something: %v", err)
	}
}

func TestSalvageOfNothing(t *testing.T) {
	dir := t.TempDir()
	for name, data := range map[string][]byte{"empty": {}, "junk": bytes.Repeat([]byte("junk and more junk\n"), 4000), "one byte": {7}} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := journal.At(path, journal.Options{}).Salvage(filepath.Join(dir, "into")); fault.KindOf(err) != fault.Damaged || fault.CureOf(err) == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if left := names(t, dir); len(left) != 3 {
		t.Errorf("left behind: %v", left)
	}
}

// take gives a change that takes an entry out of a bucket.
func take(name string, keys ...[]byte) func(tx *bolt.Tx) error {
	return func(tx *bolt.Tx) error {
		for _, k := range keys {
			if err := tx.Bucket([]byte(name)).Delete(k); err != nil {
				return err
			}
		}
		return nil
	}
}

// takeAll gives a change that empties a bucket.
func takeAll(names ...string) func(tx *bolt.Tx) error {
	return func(tx *bolt.Tx) error {
		for _, name := range names {
			if err := tx.DeleteBucket([]byte(name)); err != nil {
				return err
			}
			if _, err := tx.CreateBucket([]byte(name)); err != nil {
				return err
			}
		}
		return nil
	}
}

func both(fns ...func(tx *bolt.Tx) error) func(tx *bolt.Tx) error {
	return func(tx *bolt.Tx) error {
		for _, fn := range fns {
			if err := fn(tx); err != nil {
				return err
			}
		}
		return nil
	}
}

func seq(n byte) []byte { return []byte{0, 0, 0, 0, 0, 0, 0, n} }

// What is lost is said exactly, and what is left is put to use. The history: 1 to 4
// create, 5 reviews batch 2, 6 logs and 7 amends batch 3, 8 withdraws batch 4, 9
// and 10 make batch 5.
func TestSalvageTellsWhatIsLost(t *testing.T) {
	year := time.Now().Year()
	number := func(n int) string { return fmt.Sprintf("%04d-%03d", year, n) }
	for name, c := range map[string]struct {
		fn    func(tx *bolt.Tx) error
		check func(t *testing.T, r journal.SalvageReport, out *journal.Journal)
	}{
		"an amendment": {take("events", seq(7)), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if !reflect.DeepEqual(r.Gaps, []journal.EventRange{{From: 7, To: 7}}) || r.LostEvents != 1 || r.IncompleteCount != 1 || r.Incomplete[0].Where != "batch "+number(3) {
				t.Errorf("%+v", r)
			}
			b, err := out.Get(number(3))
			if err != nil || b.Result.Good != 41 || b.Events[len(b.Events)-1].Kind != journal.Salvaged || !strings.Contains(b.Events[len(b.Events)-1].Reason, "event 7") {
				t.Errorf("%+v, %v: what the amendment did is in the record of the batch", b, err)
			}
		}},
		"all batches": {takeAll("batches", "index", "numbers"), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if !r.Whole() || r.Batches != 5 {
				t.Errorf("%+v: all of it follows from the events", r)
			}
		}},
		"all events": {takeAll("events"), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if !reflect.DeepEqual(r.Gaps, []journal.EventRange{{From: 1, To: 10}}) || r.Batches != 5 || r.IncompleteCount != 5 || r.TailLost {
				t.Errorf("%+v", r)
			}
			if b, err := out.Get(number(4)); err != nil || b.State != journal.Withdrawn || len(b.Sheet) == 0 {
				t.Errorf("%+v, %v", b, err)
			}
		}},
		"the last events": {take("events", seq(9), seq(10)), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if !reflect.DeepEqual(r.Gaps, []journal.EventRange{{From: 9, To: 10}}) || r.TailLost {
				t.Errorf("%+v", r)
			}
		}},
		"the first events": {take("events", seq(1), seq(2)), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if !reflect.DeepEqual(r.Gaps, []journal.EventRange{{From: 1, To: 2}}) {
				t.Errorf("%+v", r)
			}
			if b, err := out.Get(number(2)); err != nil || b.State != journal.Reviewed {
				t.Errorf("%+v, %v", b, err)
			}
		}},
		"a batch and its plan": {both(takeAll("batches", "numbers"), take("events", seq(3))), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			n := 0
			for b, err := range out.List(journal.Filter{Recipe: "antique-black-silver", Frozen: true}) {
				if err != nil {
					t.Fatal(err)
				}
				n++
				if b.Result != nil && b.Result.Good == 41 && (len(b.Sheet) == 0 || b.Alloy != "" || b.Recipe.Text != "") {
					t.Errorf("the batch without a plan is %+v", b)
				}
			}
			if n != 5 || r.LostEvents != 1 {
				t.Errorf("%d batches: its result, its sheet and the name of its recipe are left; %+v", n, r)
			}
		}},
		"the recipes": {takeAll("recipes"), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if r.LostRecipeCount != 1 || r.IncompleteCount != 0 || r.LostEvents != 0 {
				t.Errorf("%+v", r)
			}
			if n, err := out.Count(journal.Filter{Recipe: "antique-black-silver"}); n != 5 || err != nil {
				t.Errorf("%d, %v: its name is left in the index", n, err)
			}
			// The next batch by the same recipe brings it back, for the old ones too.
			if _, err := out.Create(order(3)); err != nil {
				t.Fatal(err)
			}
			if b, err := out.Get(number(1)); err != nil || b.Recipe.Text != order(1).Recipe.Text {
				t.Errorf("%+v, %v", b.Recipe, err)
			}
		}},
		"the recipes and their names": {takeAll("recipes", "index"), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if n, err := out.Count(journal.Filter{Recipe: "lost"}); n != 5 || err != nil {
				t.Errorf("%d, %v", n, err)
			}
			if _, err := out.Create(order(3)); err != nil {
				t.Fatal(err)
			}
			if n, err := out.Count(journal.Filter{Recipe: "antique-black-silver"}); n != 6 || err != nil {
				t.Errorf("%d, %v after the recipe was seen again", n, err)
			}
		}},
		"the sheets": {takeAll("sheets"), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if r.LostSheetCount != 5 || r.LostSheets[0] != number(1) {
				t.Errorf("%+v", r)
			}
			if b, err := out.Get(number(1)); err != nil || b.Sheet != nil {
				t.Errorf("%+v, %v", b, err)
			}
		}},
		"the head": {take("meta", []byte("head")), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if !r.TailLost || r.Events != 10 || r.Whole() {
				t.Errorf("%+v", r)
			}
		}},
		"the id": {take("meta", []byte("about")), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if !r.NewID || r.Events != 10 || r.LostEvents != 0 || r.GapCount != 1 {
				t.Errorf("%+v", r)
			}
		}},
		"all but the numbers": {takeAll("events", "batches", "sheets", "index", "recipes"), func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if r.LostNumberCount != 5 || r.LostNumbers[4] != number(5) {
				t.Errorf("%+v", r)
			}
			if b, err := out.Create(order(1)); err != nil || b.Number != number(6) {
				t.Errorf("the next batch is %s, %v: a number was given out again", b.Number, err)
			}
		}},
		"a link of the chain": {func(tx *bolt.Tx) error { return journal.Reword(tx, 7, "it was never said") }, func(t *testing.T, r journal.SalvageReport, out *journal.Journal) {
			if !reflect.DeepEqual(r.Gaps, []journal.EventRange{{From: 8, To: 7}}) || r.LostEvents != 0 || r.Events != 10 {
				t.Errorf("%+v", r)
			}
		}},
	} {
		t.Run(name, func(t *testing.T) {
			out, report := salvaged(t, compacted(t, tampered(t, c.fn)))
			if missing := len(verified(t, out).Missing); (missing == 0) != report.Whole() {
				t.Errorf("the salvaged journal tells of %d things; %+v", missing, report)
			}
			c.check(t, report, out)
			history(t, out) // it is a journal like any other
			stocked(t, out)
			// Salvaged again, it comes out as it is: what is lost was told already. (A
			// sheet that was lost may be found: another batch has the same since.)
			again, second := salvaged(t, out.Path())
			if !second.Whole() || report.LostSheetCount == 0 && everything(t, again) != everything(t, out) || verified(t, again).Head != verified(t, out).Head {
				t.Errorf("salvaged again: %+v", second)
			}
		})
	}
}

// Nobody can hide in a salvaged journal what was taken out of it afterwards.
func TestTamperWithSalvaged(t *testing.T) {
	for name, c := range map[string]struct {
		fn   func(tx *bolt.Tx) error
		want string
	}{
		"a gap taken out":            {take("gaps", seq(8)), "missing"},
		"the gaps taken out":         {func(tx *bolt.Tx) error { return tx.DeleteBucket([]byte("gaps")) }, "missing"},
		"another event taken out":    {take("events", seq(9)), "missing"},
		"another gap made up":        {func(tx *bolt.Tx) error { return journal.MakeGap(tx, 9) }, "not those that the salvage recorded"},
		"the close taken out":        {take("events", seq(12)), "its head says"},
		"the salvage event reworded": {func(tx *bolt.Tx) error { return journal.Reword(tx, 11, "nothing was lost") }, "does not follow"},
	} {
		t.Run(name, func(t *testing.T) {
			out, _ := salvaged(t, compacted(t, tampered(t, take("events", seq(7)))))
			path := filepath.Join(t.TempDir(), "hepar.journal")
			data, err := os.ReadFile(out.Path())
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, data, 0o600); err != nil {
				t.Fatal(err)
			}
			if err := journal.Tamper(path, c.fn); err != nil {
				t.Fatal(err)
			}
			report, err := journal.At(path, journal.Options{}).Verify()
			if err != nil || !strings.Contains(fmt.Sprint(report.Findings), c.want) {
				t.Errorf("%v, %v; want %q", err, report.Findings, c.want)
			}
		})
	}
}

// A write that was cut off leaves pages with events, batches and sheets that were
// never part of the journal. Salvage does not take them for records.
func TestSalvageLeavesWhatWasNeverWritten(t *testing.T) {
	dir := t.TempDir()
	j := journal.At(filepath.Join(dir, "hepar.journal"), journal.Options{By: "Ilka Brandt"})
	for range 6 {
		history(t, j)
	}
	before, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	want := everything(t, j)
	known := map[string]bool{}
	for _, b := range mustContent(t, j) {
		for _, e := range b.Events {
			known[e.ID] = true
		}
	}
	err = j.Update(func(w *journal.Writer) error {
		for range 5 {
			past := order(12)
			past.Created, past.Sheet = time.Date(2024, 11, 5, 14, 0, 0, 0, time.UTC), []byte(`{"never":true}`)
			if _, err := w.Create(past); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	left, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	page := os.Getpagesize()
	copy(left[:2*page], before[:2*page]) // the pages are written, the header that makes them count is not
	path := filepath.Join(dir, "left.journal")
	if err := os.WriteFile(path, left, 0o600); err != nil {
		t.Fatal(err)
	}
	cut := journaltest.Open(t, path, journal.Options{By: "Ilka Brandt"})
	if everything(t, cut) != want {
		t.Fatal("the journal that was cut off is not what it was before: the test is wrong")
	}
	out, report := salvaged(t, path)
	if !report.Whole() || everything(t, out) != want || report.SetAside == 0 {
		t.Errorf("%+v", report)
	}
	// The same where the journal went on, and the numbers of the events were given
	// out again, and where pages are damaged as well.
	history(t, cut)
	went, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	want = everything(t, cut)
	for _, b := range mustContent(t, cut) {
		for _, e := range b.Events {
			known[e.ID] = true
		}
	}
	out, report = salvaged(t, path)
	if !report.Whole() || everything(t, out) != want {
		t.Errorf("after it went on: %+v", report)
	}
	hurt := filepath.Join(dir, "hurt.journal")
	for p := range len(went) / page {
		data := bytes.Clone(went)
		clear(data[p*page : (p+1)*page])
		if err := os.WriteFile(hurt, data, 0o600); err != nil {
			t.Fatal(err)
		}
		out, report := salvaged(t, hurt)
		if report.TailLost {
			continue // then it cannot be told
		}
		for _, b := range mustContent(t, out) {
			for _, e := range b.Events {
				if !known[e.ID] && e.Kind != journal.Salvaged {
					t.Errorf("page %d zeroed: batch %s has an event that was never written: %+v", p, b.Number, e)
				}
			}
		}
	}
}

func mustContent(t testing.TB, j *journal.Journal) []journal.Batch {
	t.Helper()
	all, err := content(j)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// compacted copies a journal without the pages that nothing uses, in which older
// copies of its records may be left.
func compacted(t testing.TB, j *journal.Journal) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "compact.journal")
	in, err := bolt.Open(j.Path(), 0o600, &bolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	out, err := bolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if err := bolt.Compact(out, in, 0); err != nil {
		t.Fatal(err)
	}
	if err := out.Update(journal.SetMoment); err != nil {
		t.Fatal(err)
	}
	return path
}

// A header page written over the other would bring back the journal of before its
// last change, without a trace. It is seen, and the last change is saved.
func TestHeaderOverTheOther(t *testing.T) {
	j := journaltest.New(t)
	history(t, j)
	want := everything(t, j)
	data, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	page := os.Getpagesize()
	for _, from := range []int{0, page} {
		hurt := bytes.Clone(data)
		copy(hurt[page-from:2*page-from], data[from:from+page])
		path := filepath.Join(t.TempDir(), "hepar.journal")
		if err := os.WriteFile(path, hurt, 0o600); err != nil {
			t.Fatal(err)
		}
		bad := journal.At(path, journal.Options{})
		if report, err := bad.Verify(); err != nil || report.Sound() {
			t.Errorf("verify: %+v, %v", report, err)
		}
		if _, err := bad.Count(journal.Filter{}); fault.KindOf(err) != fault.Damaged {
			t.Errorf("count: %v", err)
		}
		out, report := salvaged(t, path)
		if everything(t, out) != want || !report.TailLost {
			t.Errorf("salvage: %+v", report)
		}
	}
}
