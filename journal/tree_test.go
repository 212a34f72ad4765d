package journal_test

import (
	"encoding/binary"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// branches finds the entries of the branch pages of a file: where in the file
// the number of the page is that each leads to.
func branches(data []byte) (places []int) {
	size, order := os.Getpagesize(), binary.NativeEndian
	for page := 2; page < len(data)/size; page++ {
		at := page * size
		if order.Uint64(data[at:]) != uint64(page) || order.Uint16(data[at+8:]) != 1 {
			continue
		}
		for i := range int(order.Uint16(data[at+10:])) {
			places = append(places, at+16+i*16+8)
		}
	}
	return places
}

// A branch page that leads to itself, to a page above it, or to any other page
// would send the store down without end, and its stack with it, which nothing
// can recover from. Every call must end, and with the right answer or an error
// that names the damage.
func TestPagesThatLeadAstray(t *testing.T) {
	source := large(t, 1500)
	data, err := os.ReadFile(source.Path())
	if err != nil {
		t.Fatal(err)
	}
	whole, err := content(source)
	if err != nil {
		t.Fatal(err)
	}
	used, err := journal.InUse(source.Path())
	if err != nil {
		t.Fatal(err)
	}
	data = data[:used]
	places := branches(data)
	if len(places) < 50 {
		t.Fatalf("only %d entries of branches: the test needs a larger journal", len(places))
	}
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	chance := rand.New(rand.NewPCG(seed, 0))
	stopped, pages := 0, len(data)/os.Getpagesize()
	path := filepath.Join(t.TempDir(), "hepar.journal")
	try := func(at int, to uint64) {
		before := binary.NativeEndian.Uint64(data[at:])
		binary.NativeEndian.PutUint64(data[at:], to)
		defer binary.NativeEndian.PutUint64(data[at:], before)
		_ = os.Remove(path)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		j := journal.At(path, journal.Options{})
		all, err := content(j)
		if err == nil && !reflect.DeepEqual(all, whole) {
			t.Errorf("place %d leads to page %d: a wrong list of %d batches", at, to, len(all))
		}
		if err != nil {
			stopped++
		}
		if report, err2 := j.Verify(); err2 != nil || err != nil && report.Sound() {
			t.Errorf("place %d leads to page %d: list gave %v, verify %v, %v", at, to, err, report.Sound(), err2)
		}
		calls := everyCall(j)
		calls["list"] = err
		for call, err := range calls {
			if err != nil && (fault.CureOf(err) == "" || fault.KindOf(err) == fault.Busy) {
				t.Errorf("place %d leads to page %d: %s: %v", at, to, call, err)
			}
		}
	}
	for range max(5, *damages/30) {
		at := places[chance.IntN(len(places))]
		try(at, uint64(at/os.Getpagesize())) // to itself
		// To another branch: one above it, beside it, or of a version before.
		try(at, uint64(places[chance.IntN(len(places))]/os.Getpagesize()))
		try(at, uint64(chance.IntN(pages+2)))
	}
	if stopped == 0 {
		t.Error("no list was stopped: the test proves nothing")
	}
	t.Logf("%d entries of branches sent astray; %d lists stopped", len(places), stopped)
}

// Our reader of pages and the store's give the same entries for the same moves,
// in a transaction that reads and in one that writes and has written.
func TestReadersAgree(t *testing.T) {
	j := large(t, 400)
	rapid.Check(t, func(t *rapid.T) {
		write := rapid.Bool().Draw(t, "write")
		name := rapid.SampledFrom([]string{"meta", "events", "batches", "recipes", "numbers", "index", "sheets"}).Draw(t, "bucket")
		moves := rapid.SliceOfN(rapid.IntRange(0, 6), 1, 60).Draw(t, "moves")
		keys := rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 0, 20), 1, 10).Draw(t, "keys")
		err := journal.Compare(j, write, name, func(ours, stores journal.Walker, store *bolt.Bucket, put func(key []byte), drop func(key []byte)) {
			at := 0
			key := func() []byte { at++; return keys[at%len(keys)] }
			var k1, v1, k2, v2 []byte
			for n, move := range append([]int{0}, moves...) {
				switch move {
				case 0:
					k1, v1 = ours.First()
					k2, v2 = stores.First()
				case 1:
					k1, v1 = ours.Last()
					k2, v2 = stores.Last()
				case 2:
					k1, v1 = ours.Next()
					k2, v2 = stores.Next()
				case 3:
					if k1 == nil {
						continue // the store goes back to the first entry here
					}
					k1, v1 = ours.Prev()
					k2, v2 = stores.Prev()
				case 4:
					want := key()
					k1, v1 = ours.Seek(want)
					k2, v2 = stores.Seek(want)
				case 5, 6: // a change, after which a cursor must be set anew
					if !write {
						continue
					}
					change := key()
					if move == 6 && k1 != nil {
						drop(append([]byte{}, k1...))
					} else if len(change) > 0 {
						put(change)
					}
					k1, v1 = ours.First()
					k2, v2 = stores.First()
				}
				if !reflect.DeepEqual(k1, k2) || !reflect.DeepEqual(v1, v2) {
					t.Fatalf("move %d (%d): ours gives %x, the store's %x", n, move, k1, k2)
				}
			}
		})
		if err != nil {
			t.Fatal(err)
		}
	})
	journaltest.Sound(t, j)
}
