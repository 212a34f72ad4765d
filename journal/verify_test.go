package journal_test

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/recipe/fault"
)

// tampered gives a journal with a history, changed by fn behind its back.
func tampered(t *testing.T, fn func(tx *bolt.Tx) error) *journal.Journal {
	t.Helper()
	j := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka Brandt"})
	history(t, j)
	if report, err := j.Verify(); err != nil || !report.Sound() {
		t.Fatalf("before: %v, %+v", err, report)
	}
	if err := journal.Tamper(j.Path(), fn); err != nil {
		t.Fatal(err)
	}
	return j
}

// history fills a journal with one batch in each state and an amendment.
func history(t testing.TB, j *journal.Journal) (numbers []string) {
	t.Helper()
	must := func(b journal.Batch, err error) journal.Batch {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	for range 4 {
		numbers = append(numbers, must(j.Create(order(48))).Number)
	}
	must(j.Review(numbers[1], journal.Acknowledgement{Points: []string{"gas"}}))
	must(j.LogWith(numbers[2], journal.Result{Good: 40, Rework: 5, Reject: 3, Causes: map[string]int{"patchy": 4}},
		journal.LogOptions{By: "Tomas Reh", WithoutReview: "found after the fact"}))
	must(j.Amend(numbers[2], "good", "41", "one was under the cloth", ""))
	must(j.Withdraw(numbers[3], "order cancelled", ""))
	numbers = append(numbers, must(j.LogNew(order(12), journal.Result{Good: 12})).Number)
	return numbers
}

func first(b *bolt.Bucket) (key, value []byte) {
	key, value = b.Cursor().First()
	return bytes.Clone(key), bytes.Clone(value)
}

// What the store's own check cannot see (it has no checksums) is found by ours.
func TestVerifyFindsTampering(t *testing.T) {
	for name, c := range map[string]struct {
		fn   func(tx *bolt.Tx) error
		want string
	}{
		"a flipped bit in an event": {func(tx *bolt.Tx) error {
			k, v := first(tx.Bucket([]byte("events")))
			v[len(v)/2] ^= 1
			return tx.Bucket([]byte("events")).Put(k, v)
		}, "checksum"},
		"a flipped bit in a batch": {func(tx *bolt.Tx) error {
			k, v := first(tx.Bucket([]byte("batches")))
			v[len(v)/2] ^= 0x10
			return tx.Bucket([]byte("batches")).Put(k, v)
		}, "checksum"},
		"a flipped bit in a sheet": {func(tx *bolt.Tx) error {
			k, v := first(tx.Bucket([]byte("sheets")))
			v[len(v)/2] ^= 0x10
			return tx.Bucket([]byte("sheets")).Put(k, v)
		}, "checksum"},
		"an event rewritten with a right checksum": {func(tx *bolt.Tx) error {
			return journal.Reword(tx, 7, "it was never said")
		}, "does not follow"},
		"the last event rewritten": {func(tx *bolt.Tx) error {
			return journal.Reword(tx, 10, "it was never said")
		}, "last event was changed"},
		"an event dropped": {func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("events")).Delete([]byte{0, 0, 0, 0, 0, 0, 0, 5})
		}, "missing"},
		"the last event dropped": {func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("events")).Delete([]byte{0, 0, 0, 0, 0, 0, 0, 10})
		}, "its head says"},
		"a batch dropped": {func(tx *bolt.Tx) error {
			k, _ := first(tx.Bucket([]byte("batches")))
			return tx.Bucket([]byte("batches")).Delete(k)
		}, "head says"},
		"two batches swapped": {func(tx *bolt.Tx) error {
			b := tx.Bucket([]byte("batches"))
			c := b.Cursor()
			k1, v1 := c.First()
			k1, v1 = bytes.Clone(k1), bytes.Clone(v1)
			k2, v2 := c.Next()
			k2, v2 = bytes.Clone(k2), bytes.Clone(v2)
			if err := b.Put(k1, v2); err != nil {
				return err
			}
			return b.Put(k2, v1)
		}, "the checksum does not fit"}, // it covers the key
		"a batch that its events do not lead to": {func(tx *bolt.Tx) error {
			return journal.Restate(tx)
		}, "do not lead to it"},
		"an index entry lost": {func(tx *bolt.Tx) error {
			k, _ := first(tx.Bucket([]byte("index")))
			return tx.Bucket([]byte("index")).Delete(k)
		}, "missing from the index"},
		"an index entry too many": {func(tx *bolt.Tx) error {
			k, _ := first(tx.Bucket([]byte("index")))
			return tx.Bucket([]byte("index")).Put(append([]byte("cghost\x00"), k[len(k)-16:]...), nil)
		}, "which is not so"},
		"an index entry that leads nowhere": {func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("index")).Put([]byte("cghost\x000123456789abcdef"), nil)
		}, "is missing"},
		"a number lost": {func(tx *bolt.Tx) error {
			k, _ := first(tx.Bucket([]byte("numbers")))
			return tx.Bucket([]byte("numbers")).Delete(k)
		}, "does not lead to it"},
		"a number too many": {func(tx *bolt.Tx) error {
			_, v := first(tx.Bucket([]byte("numbers")))
			return tx.Bucket([]byte("numbers")).Put([]byte("2019-001"), v)
		}, "beyond the last"},
		"a recipe lost": {func(tx *bolt.Tx) error {
			k, _ := first(tx.Bucket([]byte("recipes")))
			return tx.Bucket([]byte("recipes")).Delete(k)
		}, "frozen recipe"},
		"a recipe exchanged": {func(tx *bolt.Tx) error {
			k, _ := first(tx.Bucket([]byte("recipes")))
			_, v := first(tx.Bucket([]byte("sheets")))
			return tx.Bucket([]byte("recipes")).Put(k, v)
		}, "not the one"},
		"a sheet too many": {func(tx *bolt.Tx) error {
			_, v := first(tx.Bucket([]byte("sheets")))
			return tx.Bucket([]byte("sheets")).Put([]byte("0123456789abcdef"), v)
		}, "frozen sheets"},
		"a bucket lost": {func(tx *bolt.Tx) error { return tx.DeleteBucket([]byte("index")) }, "bucket is missing"},
		"the head lost": {func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("meta")).Delete([]byte("head"))
		}, "cut short"},
	} {
		t.Run(name, func(t *testing.T) {
			report, err := tampered(t, c.fn).Verify()
			if err != nil {
				t.Fatal(err)
			}
			text := ""
			for _, f := range report.Findings {
				text += f.Where + ": " + f.What + "\n"
			}
			if !strings.Contains(text, c.want) {
				t.Errorf("verify found\n%swant %q", text, c.want)
			}
		})
	}
}

// A damaged record is an error of the right kind where it is read, not a wrong batch.
func TestDamagedRecordIsNotRead(t *testing.T) {
	j := tampered(t, func(tx *bolt.Tx) error {
		b := tx.Bucket([]byte("batches"))
		k, v := first(b)
		v[len(v)/2] ^= 1
		return b.Put(k, v)
	})
	number := fmt.Sprintf("%04d-001", time.Now().Year())
	for name, err := range map[string]error{
		"get":   func() error { _, err := j.Get(number); return err }(),
		"list":  func() error { _, err := j.Export(&bytes.Buffer{}, journal.CSV, journal.Filter{}); return err }(),
		"amend": func() error { _, err := j.Amend(number, "pieces", "3", "why", ""); return err }(),
	} {
		if fault.KindOf(err) != fault.Damaged {
			t.Errorf("%s: got %v, want it called damaged", name, err)
		}
	}
}

// content reads everything there is to read.
func content(j *journal.Journal) (all []journal.Batch, err error) {
	for b, err := range j.List(journal.Filter{Frozen: true}) {
		if err != nil {
			return nil, err
		}
		all = append(all, b)
	}
	return all, nil
}
