package journal

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

func oneOrder() Batch {
	return Batch{Recipe: RecipeRef{Slug: "black", Title: "Black", Kind: "dip", Revision: 1, Digest: "sha256:1", Text: "title = \"Black\"\n"},
		Alloy: "sterling-925", Shape: "disc", Pieces: 12, By: "Ilka Brandt"}
}

// A store whose list of free pages is not in the file is read from end to end at
// every opening. Long work leaves the list out while it goes on; what it leaves
// behind must have it.
func TestFreePagesAreListed(t *testing.T) {
	j := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{})
	listed := func(when string) {
		t.Helper()
		file, err := os.Open(j.path)
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		h, err := readHeader(file)
		if err != nil || h.freelist == noFreelist {
			t.Errorf("%s: %v, the list of free pages is at %d", when, err, h.freelist)
		}
		if report, err := j.Verify(); err != nil || !report.Sound() {
			t.Errorf("%s: %v, %v", when, report.Findings, err)
		}
	}
	if _, err := j.Create(oneOrder()); err != nil {
		t.Fatal(err)
	}
	listed("a batch")
	a, err := j.openAside()
	if err != nil {
		t.Fatal(err)
	}
	defer a.drop()
	for range 3 {
		if err := a.update(func(w *Writer) error { _, err := w.Create(oneOrder()); return err }); err != nil {
			t.Fatal(err)
		}
	}
	if err := a.put(); err != nil {
		t.Fatal(err)
	}
	listed("long work")
	if _, err := j.Compact(); err != nil {
		t.Fatal(err)
	}
	listed("compact")
	saved := filepath.Join(t.TempDir(), "saved")
	if _, err := j.Salvage(saved); err != nil {
		t.Fatal(err)
	}
	j = At(saved, Options{})
	listed("salvage")
}

// The store leaves its pages half empty where keys only ever come at the end,
// unless told: the file would be twice as large.
func TestPagesAreFilled(t *testing.T) {
	j := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{})
	for range 600 { // each in a transaction of its own, as at the bench
		if _, err := j.LogNew(oneOrder(), Result{Good: 12}); err != nil {
			t.Fatal(err)
		}
	}
	err := j.read(func(tx *bolt.Tx) error {
		for name, least := range map[string]float64{eventsBucket: 0.85, batchesBucket: 0.75} {
			s := tx.Bucket([]byte(name)).Stats()
			if filled := float64(s.LeafInuse) / float64(s.LeafAlloc); filled < least {
				t.Errorf("the leaves of %s are filled by %.0f %%, want %.0f %%", name, 100*filled, 100*least)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The store gives nil for a bucket that is not there, and who uses that falls over.
// Every call says that the file is damaged, or does not need the bucket.
func TestBucketsThatAreNotThere(t *testing.T) {
	for _, name := range bucketNames() {
		j := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{})
		b, err := j.LogNew(oneOrder(), Result{Good: 12})
		if err != nil {
			t.Fatal(err)
		}
		c, err := j.AddContainer(Container{Substance: "soda", AmountG: 10})
		if err != nil {
			t.Fatal(err)
		}
		if err := Tamper(j.path, func(tx *bolt.Tx) error { return tx.DeleteBucket([]byte(name)) }); err != nil {
			t.Fatal(err)
		}
		calls := map[string]error{}
		_, calls["create"] = j.Create(oneOrder())
		_, calls["get"] = j.Get(b.Number)
		_, calls["amend"] = j.Amend(b.Number, "good", "11", "counted again", "")
		_, calls["count"] = j.Count(Filter{Recipe: "black"})
		_, calls["sum"] = j.Count(Filter{By: "ilka brandt"})
		_, calls["container"] = j.Container(c.Number)
		_, calls["use"] = j.Use(Use{Container: c.Number, Grams: 1}, b.Number, "")
		damaged := 0
		for call, err := range calls {
			if err != nil && (fault.KindOf(err) != fault.Damaged || fault.CureOf(err) == "") {
				t.Errorf("without %s: %s: %v", name, call, err)
			}
			if err != nil {
				damaged++
			}
		}
		report, err := j.Verify()
		if err == nil && report.Sound() || damaged == 0 && name != "sheets" {
			t.Errorf("without %s: %d calls of %d saw it; verify gives %v, %v", name, damaged, len(calls), report.Findings, err)
		}
	}
}

// What the store gives is part of the file in memory and goes with the transaction.
// What a caller got must be a copy: it is read here after the file is closed, and
// written over.
func TestNothingPointsIntoTheFile(t *testing.T) {
	j := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{})
	plan := oneOrder()
	plan.Sheet, plan.Note = []byte(`{"pieces":12}`), "for the ferry museum"
	b, err := j.LogNew(plan, Result{Good: 10, Reject: 2, Causes: map[string]int{"spots": 2}, Shade: "blue-black", Note: "kettle late"})
	if err != nil {
		t.Fatal(err)
	}
	c, err := j.AddContainer(Container{Substance: "soda", Lot: "K-7", AmountG: 10})
	if err != nil {
		t.Fatal(err)
	}
	got, err := j.Get(b.Number)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := j.Container(c.Number)
	if err != nil {
		t.Fatal(err)
	}
	var listed []Batch
	for b, err := range j.List(Filter{Frozen: true}) {
		if err != nil {
			t.Fatal(err)
		}
		listed = append(listed, b)
	}
	before := fmt.Sprintf("%+v %+v %+v %+v", got, *got.Result, shelf, listed)
	data, err := os.ReadFile(j.path)
	if err != nil {
		t.Fatal(err)
	}
	for i := range data {
		data[i] = 'x'
	}
	if err := os.WriteFile(j.path, data, 0o600); err != nil { // the same file: what is mapped shows it
		t.Fatal(err)
	}
	if after := fmt.Sprintf("%+v %+v %+v %+v", got, *got.Result, shelf, listed); after != before {
		t.Errorf("it was\n%s\nand is\n%s", before, after)
	}
	for i := range listed[0].Sheet { // and may be written to
		listed[0].Sheet[i] = ' '
	}
}

// Ids that come in order, one way or the other, leave full runs behind: half full
// ones would make the index twice as large.
func TestRunsAreFull(t *testing.T) {
	db, err := bolt.Open(filepath.Join(t.TempDir(), "runs"), 0o600, &bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	const runs = 10
	for name, order := range map[string]func(i int) int{
		"rising":  func(i int) int { return i },
		"falling": func(i int) int { return runs*longestRun - i },
	} {
		err := db.Update(func(tx *bolt.Tx) error {
			b, err := tx.CreateBucket([]byte(name))
			if err != nil {
				return err
			}
			for i := range runs * longestRun {
				key := append([]byte("rblack\x00"), make([]byte, idSize)...)
				n := order(i)
				key[len(key)-2], key[len(key)-1] = byte(n>>8), byte(n)
				if err := putIndexed(&shelf{bolt: b}, key); err != nil {
					return err
				}
			}
			n := 0
			_ = b.ForEach(func(_, _ []byte) error { n++; return nil })
			if n > runs+1 {
				t.Errorf("%s: %d runs, want %d", name, n, runs)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}
