package journal_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/recipe/fault"
)

// damaged is a sound journal and what is known of it before it is hurt.
type damaged struct {
	data    []byte // of the file
	used    int    // of them, in use
	page    int    // size of a page
	records []journal.StoredRecord
	text    string // as it is exported
	batches []journal.Batch
	shelf   []journal.Container
	events  int
}

func toDamage(t testing.TB, j *journal.Journal) *damaged {
	t.Helper()
	d := &damaged{page: os.Getpagesize(), text: everything(t, j), events: verified(t, j).Events}
	var err error
	if d.batches, err = content(j); err != nil {
		t.Fatal(err)
	}
	if d.shelf, err = j.ListContainers(journal.ContainerFilter{Empty: true}); err != nil {
		t.Fatal(err)
	}
	if d.data, err = os.ReadFile(j.Path()); err != nil {
		t.Fatal(err)
	}
	used, err := journal.InUse(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	d.used = int(used)
	if d.records, err = journal.StoredRecords(j.Path()); err != nil {
		t.Fatal(err)
	}
	return d
}

// intact says whether all pages of a record are what they were.
func (d *damaged) intact(hurt []byte, r journal.StoredRecord) bool {
	for _, p := range r.Pages {
		from, to := p*d.page, (p+1)*d.page
		if to > len(hurt) || !bytes.Equal(hurt[from:to], d.data[from:to]) {
			return false
		}
	}
	return true
}

// hurt gives the file with one more damage: cut at each page in turn, each page
// zeroed in turn, then chance.
func (d *damaged) hurt(n int, chance *rand.Rand) ([]byte, string) {
	out, pages := bytes.Clone(d.data), d.used/d.page
	switch {
	case n < pages:
		return out[:n*d.page], fmt.Sprintf("cut at page %d", n)
	case n < 2*pages:
		clear(out[(n-pages)*d.page : (n-pages+1)*d.page])
		return out, fmt.Sprintf("page %d zeroed", n-pages)
	}
	at := chance.IntN(d.used)
	switch chance.IntN(10) {
	case 0: // the head of a page, which the store trusts most
		at = at / d.page * d.page
		at += chance.IntN(16)
		fallthrough
	case 1, 2, 3, 4, 5:
		bit := byte(1) << chance.IntN(8)
		out[at] ^= bit
		return out, fmt.Sprintf("bit %#x flipped at %d (page %d)", bit, at, at/d.page)
	case 6:
		value := byte(chance.Uint32())
		out[at] = value
		return out, fmt.Sprintf("byte %d (page %d) set to %#x", at, at/d.page, value)
	case 7: // a write that did not reach the disk: part of a page is of before
		to := min(d.used, at+chance.IntN(512))
		clear(out[at:to])
		return out, fmt.Sprintf("bytes %d to %d zeroed", at, to)
	case 8: // a page written in the wrong place
		a, b := chance.IntN(pages), chance.IntN(pages)
		copy(out[a*d.page:(a+1)*d.page], d.data[b*d.page:(b+1)*d.page])
		return out, fmt.Sprintf("page %d written over page %d", b, a)
	}
	// A handful of pages at once.
	text := "pages zeroed:"
	for range 2 + chance.IntN(4) {
		p := chance.IntN(pages)
		clear(out[p*d.page : (p+1)*d.page])
		text += fmt.Sprint(" ", p)
	}
	return out, text
}

// Damage of any kind never ends in a panic or a wrong answer; what verify calls
// sound is whole; and salvage gives back every record whose pages are intact, in
// a sound journal that says what is missing. The long test sets -damages 10000.
func TestDamage(t *testing.T) {
	source := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka Brandt"})
	for range 12 {
		history(t, source)
	}
	book(t, source)
	stocked(t, source)
	d := toDamage(t, source)
	seed := rand.Uint64()
	t.Logf("seed %d; %d pages, %d records, %d events", seed, d.used/d.page, len(d.records), d.events)
	chance := rand.New(rand.NewPCG(seed, 0))
	dir := t.TempDir()
	path, into := filepath.Join(dir, "hepar.journal"), filepath.Join(dir, "salvaged.journal")
	count := map[string]int{}
	total := 2*d.used/d.page + *damages
	for n := range total {
		hurt, what := d.hurt(n, chance)
		j := d.check(t, what, path, into, hurt, count)
		if n%20 == 0 { // changes end as well, and say so where they cannot be made
			for call, err := range everyCall(j) {
				if err != nil && fault.CureOf(err) == "" {
					t.Errorf("%s: %s: %v, and no word of what to do", what, call, err)
				}
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	if count["found"] == 0 || count["records lost"] == 0 {
		t.Error("no damage was found, or nothing was lost: the test proves nothing")
	}
	t.Logf("%d damages: %d found (the others changed nothing in use); salvage gave back %d records of intact pages and lost %d of %d on others; %d salvages lost nothing, %d found nothing at all; %d times a list was wrong that verify found to be so",
		total, count["found"], count["records kept"], count["records lost"], count["records hurt"], count["whole"], count["nothing"], count["misread"])
}

// check holds what is said of the damaged file, and salvaged from it, against what
// went in.
func (d *damaged) check(t *testing.T, what, path, into string, hurt []byte, count map[string]int) *journal.Journal {
	t.Helper()
	_ = os.Remove(path) // a file written over is flushed by some file systems: slow
	if err := os.WriteFile(path, hurt, 0o600); err != nil {
		t.Fatal(err)
	}
	j := journal.At(path, journal.Options{Wait: -1})
	report, err := j.Verify()
	all, err2 := content(j)
	shelf, err3 := j.ListContainers(journal.ContainerFilter{Empty: true})
	right := reflect.DeepEqual(all, d.batches) && reflect.DeepEqual(shelf, d.shelf)
	switch {
	case err == nil && report.Sound():
		if err2 != nil || err3 != nil || !right {
			t.Errorf("%s: called sound, but reading gives %v, %v, %d batches and %d containers", what, err2, err3, len(all), len(shelf))
		}
	default:
		count["found"]++
		if err2 == nil && err3 == nil && !right {
			// A page of before in the place of one that is in use: only verify sees that.
			count["misread"]++
			t.Logf("%s: read without an error, but wrongly", what)
		}
	}
	d.salvage(t, what, path, into, hurt, count)
	return j
}

// salvage salvages the file and holds what came out against what went in.
func (d *damaged) salvage(t *testing.T, what, path, into string, hurt []byte, count map[string]int) {
	t.Helper()
	_ = os.Remove(into)
	report, err := journal.At(path, journal.Options{Wait: -1}).Salvage(into)
	if err != nil {
		intact := 0
		for _, r := range d.records {
			// A number alone names a batch of which nothing is left.
			if r.Bucket != "index" && r.Bucket != "numbers" && d.intact(hurt, r) {
				intact++
			}
		}
		if intact > 0 || fault.KindOf(err) != fault.Damaged {
			t.Errorf("%s: salvage: %v, with %d records intact", what, err, intact)
		}
		count["nothing"]++
		return
	}
	if !report.Verified.Sound() {
		t.Errorf("%s: the salvaged journal is not sound", what)
	}
	out := journal.At(into, journal.Options{})
	text := everything(t, out)
	if report.Whole() {
		count["whole"]++
		if text != d.text {
			t.Errorf("%s: salvage says that nothing was lost, and something was", what)
		}
	} else if len(report.Verified.Missing) == 0 {
		t.Errorf("%s: something was lost (%+v) and the salvaged journal does not say so", what, report)
	}
	if got := report.Events + int(report.LostEvents); got != d.events && !report.TailLost {
		t.Errorf("%s: %d events saved and %d lost of %d", what, report.Events, report.LostEvents, d.events)
	}
	db, err := bolt.Open(into, 0o600, &bolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	err = db.View(func(tx *bolt.Tx) error {
		for _, r := range d.records {
			missing := journal.Unsaved(tx, r)
			if r.Bucket == "numbers" && slices.Contains(report.LostNumbers, string(r.Key)) {
				missing = "" // nothing else of the batch is left, and the report says so
			}
			switch {
			case r.Bucket == "index":
			case d.intact(hurt, r):
				count["records kept"]++
				if missing != "" {
					t.Errorf("%s: the record %x of %s is lost though its pages %v are intact: %s", what, r.Key, r.Bucket, r.Pages, missing)
				}
			default:
				count["records hurt"]++
				if missing != "" {
					count["records lost"]++
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// stocked adds containers, what was used of them, and all else that a batch may have.
func stocked(t testing.TB, j *journal.Journal) {
	t.Helper()
	for k := range 6 {
		c, err := j.AddContainer(journal.Container{Substance: "liver of sulfur", Lot: fmt.Sprintf("K-%d", k), AmountG: 100})
		if err != nil {
			t.Fatal(err)
		}
		b, err := j.Create(order(20 + k))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := j.Use(journal.Use{Container: c.Number, Grams: 2.5}, b.Number, "Tomas Reh"); err != nil {
			t.Fatal(err)
		}
		if _, err := j.ChangeContainer(c.Number, "place", "shelf 2", "moved", "Tomas Reh"); err != nil {
			t.Fatal(err)
		}
		if _, err := j.AddWaste(b.Number, journal.Waste{VolumeL: 1.5, Container: "W-3"}); err != nil {
			t.Fatal(err)
		}
	}
}
