package journal_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"hepar/journal"
)

// changes are kinds of change, each in one transaction, on a batch made before.
func changes(j *journal.Journal, number string) []func() error {
	return []func() error{
		func() error { _, err := j.Create(order(12)); return err },
		func() error {
			_, err := j.Review(number, journal.Acknowledgement{Points: []string{"gas"}, Digest: order(1).Recipe.Digest})
			return err
		},
		func() error {
			_, err := j.LogWith(number, journal.Result{Good: 10, Reject: 2, Causes: map[string]int{"patchy": 1}}, journal.LogOptions{WithoutReview: "a test"})
			return err
		},
		func() error {
			_, err := j.Amend(number, "alloy", "fine-999", "read the stamp again", "Tomas Reh")
			return err
		},
		func() error { _, err := j.Withdraw(number, "order cancelled", ""); return err },
		func() error {
			_, err := j.AddContainer(journal.Container{Substance: "liver of sulfur", Lot: "K-9", AmountG: 50})
			return err
		},
		func() error {
			_, err := j.Use(journal.Use{Container: "S-001", Grams: 0.5}, number, "Tomas Reh")
			return err
		},
	}
}

// A disk that acknowledges a write and does not do it leaves pages of before in
// the place of those of the last change, under a header that says it was made.
// Such a page is sound in itself. Each page of a change in turn, all of them, and
// some by chance were not written: verify tells, a list is right or an error, and
// salvage gives back what reached the disk.
func TestLostWrites(t *testing.T) {
	dir := t.TempDir()
	source := journal.At(filepath.Join(dir, "source.journal"), journal.Options{By: "Ilka Brandt"})
	for range 8 {
		history(t, source)
	}
	stocked(t, source)
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	chance := rand.New(rand.NewPCG(seed, 0))
	path, into := filepath.Join(dir, "hepar.journal"), filepath.Join(dir, "salvaged.journal")
	count := map[string]int{}
	page, total := os.Getpagesize(), 0
	for n := range max(7, *damages/40) {
		b, err := source.Create(order(12))
		if err != nil {
			t.Fatal(err)
		}
		before, err := os.ReadFile(source.Path())
		if err != nil {
			t.Fatal(err)
		}
		kinds := changes(source, b.Number)
		if err := kinds[n%len(kinds)](); err != nil {
			t.Fatal(err)
		}
		d := toDamage(t, source)
		before = append(before, make([]byte, max(0, len(d.data)-len(before)))...)
		var written []int
		for p := 2; p < d.used/page; p++ {
			if !bytes.Equal(before[p*page:(p+1)*page], d.data[p*page:(p+1)*page]) {
				written = append(written, p)
			}
		}
		lost := [][]int{written}
		for _, p := range written {
			lost = append(lost, []int{p})
		}
		for range 3 {
			some := slices.DeleteFunc(slices.Clone(written), func(int) bool { return chance.IntN(2) == 0 })
			if len(some) > 0 {
				lost = append(lost, some)
			}
		}
		for _, pages := range lost {
			total++
			hurt := bytes.Clone(d.data)
			for _, p := range pages {
				copy(hurt[p*page:(p+1)*page], before[p*page:(p+1)*page])
			}
			what := fmt.Sprintf("change of kind %d, of whose pages %v those %v were not written", n%len(kinds), written, pages)
			d.check(t, what, path, into, hurt, count)
			if report, err := journal.At(path, journal.Options{}).Verify(); err != nil || report.Sound() {
				t.Errorf("%s: verify finds nothing, %v", what, err)
			}
			if t.Failed() {
				t.FailNow()
			}
		}
	}
	if count["misread"] > 0 {
		t.Errorf("%d lists were wrong and no error", count["misread"])
	}
	t.Logf("%d changes of which some did not reach the disk: %d found; salvage gave back %d records of intact pages and lost %d of %d on others",
		total, count["found"], count["records kept"], count["records lost"], count["records hurt"])
}
