package journal

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	bolt "go.etcd.io/bbolt"
	"pgregory.net/rapid"
)

// What is fresh of the index and what is in the runs are together what was put in
// and not taken out, wherever it is, and what is fresh is read as it was written.
func TestFresh(t *testing.T) {
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		db, err := bolt.Open(filepath.Join(dir, fmt.Sprint(n)), 0o600, &bolt.Options{NoSync: true})
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		values := []string{"ra", "ra b", "rb", "pa"}
		model := map[string][]id{}
		err = db.Update(func(tx *bolt.Tx) error {
			bucket, err := tx.CreateBucket([]byte(indexBucket))
			if err != nil {
				return err
			}
			index := &shelf{bolt: bucket}
			f := &fresh{}
			for range rapid.IntRange(1, 150).Draw(t, "steps") {
				v := rapid.SampledFrom(values).Draw(t, "value")
				i := boundary(uint64(rapid.IntRange(0, 60).Draw(t, "id")), 7)
				at, there := slices.BinarySearchFunc(model[v], i, id.compare)
				key := slices.Concat([]byte(v), []byte{0}, i[:])
				if there {
					model[v] = slices.Delete(model[v], at, at+1)
				} else {
					model[v] = slices.Insert(model[v], at, i)
				}
				f.change(key, !there)
				if rapid.IntRange(0, 30).Draw(t, "fold") == 0 {
					if err := f.fold(index); err != nil {
						return err
					}
				}
				again := &fresh{}
				if err := again.unseal(f.seal()); err != nil || !bytes.Equal(again.seal(), f.seal()) {
					t.Fatalf("%v: wrote %v and read %v", err, f.of, again.of)
				}
			}
			r := &reader{tx: tx, fresh: f}
			for _, v := range values {
				for _, down := range []bool{false, true} {
					from := boundary(uint64(rapid.IntRange(0, 61).Draw(t, "from")), byte(rapid.IntRange(6, 8).Draw(t, "rest")))
					var want, got []id
					for _, i := range model[v] {
						if c := i.compare(from); c == 0 || down == (c < 0) {
							want = append(want, i)
						}
					}
					if down {
						slices.Reverse(want)
					}
					c, err := r.newIndexCursor(index, append([]byte(v), 0))
					if err != nil {
						return err
					}
					i, ok, err := c.seek(from, down)
					for ; ok && err == nil; i, ok, err = c.step(down) {
						got = append(got, i)
					}
					if err != nil || !slices.Equal(got, want) {
						t.Fatalf("%q from %s, down %v: got %v, %v, want %v", v, from, down, got, err, want)
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	})
}

// Lists, sums and names are the same with the index fresh and folded, and a damaged
// fresh part is found.
func TestFreshInFile(t *testing.T) {
	j := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{By: "Ilka Brandt"})
	for n := range 3 {
		b, err := j.LogNew(Batch{Recipe: RecipeRef{Slug: fmt.Sprintf("recipe-%d", n%2), Kind: "dip"}, Alloy: "fine-999", Pieces: 9, By: fmt.Sprintf("Person %d", n)}, Result{Good: 9})
		if err != nil {
			t.Fatal(err)
		}
		if n == 1 {
			if _, err := j.AddWaste(b.Number, Waste{VolumeL: 2, Container: "Drum 1"}); err != nil {
				t.Fatal(err)
			}
		}
	}
	look := func() string {
		var all bytes.Buffer
		for b, err := range j.List(Filter{Recipe: "recipe-0"}) {
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintln(&all, b.Number)
		}
		groups, err1 := j.Sum(Filter{}, ByPerson)
		waste, err2 := j.ListWaste("")
		names, err3 := j.WasteContainers()
		if err1 != nil || err2 != nil || err3 != nil || len(groups) != 4 || len(waste) != 1 || len(names) != 1 {
			t.Fatal(groups, err1, waste, err2, names, err3)
		}
		fmt.Fprintln(&all, groups, waste, names)
		return all.String()
	}
	waits := func() (n int) {
		if err := j.read(func(tx *bolt.Tx) error { f, err := readFresh(tx); n = len(f.of); return err }); err != nil {
			t.Fatal(err)
		}
		return n
	}
	before := look()
	if waits() != 3 {
		t.Fatalf("%d batches are fresh, want all three", waits())
	}
	if err := Tamper(j.Path(), func(*bolt.Tx) error { return nil }); err != nil {
		t.Fatal(err)
	}
	if after := look(); waits() != 0 || after != before {
		t.Errorf("fresh\n%s\nfolded\n%s", before, after)
	}
	if report, err := j.Verify(); err != nil || !report.Sound() {
		t.Errorf("%v, %+v", err, report)
	}
	for name, record := range map[string][]byte{"cut": {1, 2, 3}, "odd": withChecksum([]byte{recordVersion, 0x81, 0x80})} {
		if err := Tamper(j.Path(), func(tx *bolt.Tx) error { return tx.Bucket([]byte(metaBucket)).Put([]byte(freshKey), record) }); err != nil {
			t.Fatal(err)
		}
		if report, err := j.Verify(); err != nil || report.Sound() {
			t.Errorf("%s: verify did not see it: %v", name, err)
		}
		if err := Tamper(j.Path(), func(*bolt.Tx) error { return nil }); err == nil {
			t.Errorf("%s: it was folded", name)
		}
		db, err := bolt.Open(j.Path(), 0o600, nil)
		if err != nil {
			t.Fatal(err)
		}
		if err := db.Update(func(tx *bolt.Tx) error { return tx.Bucket([]byte(metaBucket)).Delete([]byte(freshKey)) }); err != nil {
			t.Fatal(err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
