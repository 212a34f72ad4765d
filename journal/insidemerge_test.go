package journal

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// copied gives a copy of a journal, changed behind its back.
func copied(t *testing.T, j *Journal, fn func(tx *bolt.Tx) error) *Journal {
	t.Helper()
	data, err := os.ReadFile(j.path)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "other.journal")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := Tamper(path, fn); err != nil {
		t.Fatal(err)
	}
	return At(path, Options{})
}

// The same event cannot say two things. Where it does, what is here stays, the batch
// is listed, and nothing of it is taken over: not even what happened to it since.
func TestMergeOfAnEventThatSaysSomethingElse(t *testing.T) {
	j := told(t)
	lines := func() string {
		var out bytes.Buffer
		if _, err := j.Export(&out, JSONLines, Filter{Frozen: true}); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	before := lines()
	b := reviewed(t, j)
	other := copied(t, j, func(tx *bolt.Tx) error {
		return rechained(tx, 4, func(e *eventRecord) { e.Reason = "it was never said" })
	})
	if _, err := other.Withdraw(b.ID, "cancelled", ""); err != nil {
		t.Fatal(err)
	}
	report, err := j.Merge(other.path, MergeOptions{})
	if err != nil || len(report.Conflicts) != 1 || report.New != 0 || report.Further != 0 || report.Events != 0 {
		t.Fatalf("%+v, %v", report, err)
	}
	if c := report.Conflicts[0]; c.Number != b.Number || c.Merged || !strings.Contains(c.What, "says something else there") {
		t.Errorf("%+v", c)
	}
	if lines() != before {
		t.Error("something was changed")
	}
}

// reviewed gives the batch of told that was reviewed.
func reviewed(t *testing.T, j *Journal) Batch {
	t.Helper()
	for b, err := range j.List(Filter{State: Reviewed}) {
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	t.Fatal("there is none")
	return Batch{}
}

// An id is drawn when a batch is made, so its time is never behind that of the
// batch: a search by dates goes by that.
func TestImportOfAnIDFromBefore(t *testing.T) {
	j := told(t)
	b := reviewed(t, j)
	var out bytes.Buffer
	if _, err := j.Export(&out, JSONLines, Filter{State: Reviewed}); err != nil {
		t.Fatal(err)
	}
	const form = "2006-01-02T15:04:05"
	line := strings.ReplaceAll(out.String(), b.Created.Format(form), b.Created.Add(time.Hour).Format(form))
	if line == out.String() {
		t.Fatalf("%s has no %s", line, b.Created)
	}
	into := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{})
	report, err := into.Import(strings.NewReader(line), ImportOptions{Format: JSONLines})
	if err == nil || fault.CureOf(err) == "" {
		t.Errorf("%+v, %v", report, err)
	}
	t.Logf("%+v, %v", report, err)
	if there, _ := into.Exists(); there {
		if n, err := into.Count(Filter{}); n != 0 || err != nil {
			t.Errorf("%d batches, %v", n, err)
		}
	}
}

// A batch with waste in two containers, and a person, cause or lot twice, stands
// under each once.
func TestOneBatchIsListedOnce(t *testing.T) {
	j := told(t)
	b := reviewed(t, j)
	for _, name := range []string{"Drum 1", "Drum 2", "drum 1"} {
		if _, err := j.AddWaste(b.ID, Waste{VolumeL: 1, Container: name, By: "Uwe Stern"}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := j.Amend(b.ID, "shape", "bar", "seen again", "Uwe Stern"); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]int{"": 3, "drum 1": 2, "Drum 2": 1, "drum": 0} {
		if all, err := j.ListWaste(name); err != nil || len(all) != want {
			t.Errorf("waste in %q: %d entries, %v; want %d", name, len(all), err, want)
		}
	}
	for filter, want := range map[Filter]int{{By: "uwe stern"}: 1, {By: "ILKA BRANDT"}: 5, {Waste: "DRUM 1"}: 1} {
		if n, err := j.Count(filter); err != nil || n != want {
			t.Errorf("%+v: %d, %v; want %d", filter, n, err, want)
		}
	}
	var out bytes.Buffer
	if _, err := j.Export(&out, CSV, Filter{By: "uwe stern"}); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(out.String(), "Ilka Brandt; Uwe Stern"); n != 1 || strings.Contains(out.String(), "Uwe Stern; Uwe Stern") {
		t.Errorf("of batch %s the table says %s", b.Number, out.String())
	}
}

// Three benches gave out the same number. Whatever the order in which they meet, it
// leads to all three, in the order of their ids.
func TestThreeBenchesOneNumber(t *testing.T) {
	now := time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)
	var benches []*Journal
	for range 3 {
		now = now.Add(time.Hour)
		at := now
		j := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{Now: func() time.Time { return at }})
		if _, err := j.Create(oneOrder()); err != nil {
			t.Fatal(err)
		}
		benches = append(benches, j)
	}
	for _, order := range [][]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		j := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{})
		for _, k := range order {
			if _, err := j.Merge(benches[k].path, MergeOptions{}); err != nil {
				t.Fatal(err)
			}
		}
		var value []byte
		err := j.read(func(tx *bolt.Tx) error {
			value = bytes.Clone(tx.Bucket([]byte(numbersBucket)).Get([]byte("2026-001")))
			return nil
		})
		ids, err2 := bearers("2026-001", value)
		if err != nil || err2 != nil || len(ids) != 3 || ids[0].compare(ids[1]) >= 0 || ids[1].compare(ids[2]) >= 0 {
			t.Errorf("in the order %v: %v, %v, %v", order, ids, err, err2)
		}
		if report, err := j.Verify(); err != nil || !report.Sound() {
			t.Errorf("in the order %v: %v, %v", order, report.Findings, err)
		}
		if _, err := j.Get("2026-001"); fault.KindOf(err) != fault.Usage || strings.Count(err.Error(), "2026-001-") != 3 {
			t.Errorf("in the order %v: %v", order, err)
		}
	}
}

// An amendment says its values in one form. A line that says them in another would
// make other bytes of the same event.
func TestImportOfAnAmendmentInOtherWords(t *testing.T) {
	j := told(t)
	b := reviewed(t, j)
	if _, err := j.LogWith(b.ID, Result{Good: 12, Note: "kettle late"}, LogOptions{WithoutReview: "a test"}); err != nil {
		t.Fatal(err)
	}
	if _, err := j.Amend(b.ID, "time", "11 s", "read the clock again", ""); err != nil {
		t.Fatal(err)
	}
	if _, err := j.Amend(b.ID, "time", "12 s", "and again", ""); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if _, err := j.Export(&out, JSONLines, Filter{State: Logged, Frozen: true}); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(out.String()) {
		if !strings.Contains(line, b.ID) {
			continue
		}
		for text, right := range map[string]bool{"11 s": true, "11.0 s": false, "11s": false, "0011 s": false} {
			other := strings.ReplaceAll(line, `"11 s"`, `"`+text+`"`)
			if !right && other == line {
				t.Fatalf("%s does not say 11 s", line)
			}
			into := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{})
			if report, err := into.Import(strings.NewReader(other), ImportOptions{Format: JSONLines}); (err == nil) != right {
				t.Errorf("%q: %+v, %v", text, report, err)
			}
		}
	}
}
