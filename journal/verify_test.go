package journal_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"path/filepath"
	"slices"
	"testing"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/journal/journaltest"
)

// forge changes a journal as somebody could who knows its format: every checksum,
// every key of the index and the head fit again, as far as they are those of one entry.
func forge(t testing.TB, path string, fn func(tx *bolt.Tx) error) {
	t.Helper()
	db := must[*bolt.DB](t)(bolt.Open(path, 0o600, nil))
	defer db.Close()
	if err := db.Update(func(tx *bolt.Tx) error {
		if err := fn(tx); err != nil {
			return err
		}
		index, sums := tx.Bucket([]byte("index")), map[string][]byte{}
		_ = index.ForEach(func(k, _ []byte) error {
			sums[string(k)] = binary.BigEndian.AppendUint32(nil, crc32.Checksum(k, crc32.MakeTable(crc32.Castagnoli)))
			return nil
		})
		for k, sum := range sums {
			if err := index.Put([]byte(k), sum); err != nil {
				return err
			}
		}
		meta := tx.Bucket([]byte("meta"))
		var head store.Head
		frame, err := store.Unframe(meta.Get([]byte("head")))
		if err != nil {
			return err
		}
		if err := record.Unmarshal(frame.Body, &head); err != nil {
			return err
		}
		head.Tx, head.Last, head.Entries = uint64(tx.ID()), nil, 0
		_ = tx.ForEach(func(_ []byte, b *bolt.Bucket) error {
			return b.ForEach(func(_, _ []byte) error { head.Entries++; return nil })
		})
		return meta.Put([]byte("head"), must[[]byte](t)(store.Seal(store.HeadFrame, head)))
	}); err != nil {
		t.Fatal(err)
	}
}

// reword changes an event in its place, under a checksum that fits.
func reword(t testing.TB, tx *bolt.Tx, seq uint64, fn func(e *record.Event)) error {
	events, key := tx.Bucket([]byte("events")), binary.BigEndian.AppendUint64(nil, seq)
	link := must[store.Link](t)(store.LinkOf(seq, events.Get(key)))
	e := must[*record.Event](t)(record.Decode(link.Body))
	fn(e)
	link.Body = must[[]byte](t)(record.Encode(e))
	return events.Put(key, must[[]byte](t)(store.Seal(store.EventFrame, link)))
}

// TestVerifyFindsForgery changes one thing in a journal at a time, with every
// checksum right.
func TestVerifyFindsForgery(t *testing.T) {
	first := func(tx *bolt.Tx, bucket string) (k, v []byte) { return tx.Bucket([]byte(bucket)).Cursor().First() }
	for name, c := range map[string]struct {
		forge func(t testing.TB, tx *bolt.Tx) error
		want  string
	}{
		"an event reworded": {func(t testing.TB, tx *bolt.Tx) error {
			return reword(t, tx, 4, func(e *record.Event) { e.By = "Somebody Else" })
		}, "event 5 does not follow"},
		"the last event reworded": {func(t testing.TB, tx *bolt.Tx) error {
			last, _ := tx.Bucket([]byte("events")).Cursor().Last()
			return reword(t, tx, binary.BigEndian.Uint64(last), func(e *record.Event) { e.By = "Somebody Else" })
		}, "the head does not name the last event"},
		"an event with a control character": {func(t testing.TB, tx *bolt.Tx) error {
			return reword(t, tx, 4, func(e *record.Event) { e.By = "Ilse\x1b[2J" })
		}, "control character"},
		"more taken than booked off": {func(t testing.TB, tx *bolt.Tx) error {
			return reword(t, tx, 6, func(e *record.Event) { e.Uses[0].Amount = 9 })
		}, "do not match the batches"},
		"an event gone": {func(_ testing.TB, tx *bolt.Tx) error {
			return tx.Bucket([]byte("events")).Delete([]byte{0, 0, 0, 0, 0, 0, 0, 5})
		}, "event 5 is missing"},
		"an event behind the last": {func(_ testing.TB, tx *bolt.Tx) error {
			_, frame := first(tx, "events")
			return tx.Bucket([]byte("events")).Put([]byte{0, 0, 0, 0, 0, 0, 0, 99}, bytes.Clone(frame))
		}, "and the head counts"},
		"an event in no list": {func(t testing.TB, tx *bolt.Tx) error {
			id, _ := first(tx, "lists")
			list := must[[]byte](t)(store.Seal('L', []any{record.ID(id), []uint64{}}))
			return tx.Bucket([]byte("lists")).Put(bytes.Clone(id), list)
		}, "missing in the lists"},
		"a key of the index gone": {func(_ testing.TB, tx *bolt.Tx) error {
			k, _ := tx.Bucket([]byte("index")).Cursor().Seek([]byte("l"))
			return tx.Bucket([]byte("index")).Delete(bytes.Clone(k))
		}, "not those that follow"},
		"a key of the index made up": {func(_ testing.TB, tx *bolt.Tx) error {
			id, _ := first(tx, "lists")
			return tx.Bucket([]byte("index")).Put(append([]byte("lno such lot\x00"), id...), nil)
		}, "not those that follow"},
		"a text gone": {func(_ testing.TB, tx *bolt.Tx) error {
			k, _ := first(tx, "blobs")
			return tx.Bucket([]byte("blobs")).Delete(bytes.Clone(k))
		}, "is missing"},
		"a text in the place of another": {func(_ testing.TB, tx *bolt.Tx) error {
			c := tx.Bucket([]byte("blobs")).Cursor()
			k, _ := c.First()
			_, other := c.Next()
			return tx.Bucket([]byte("blobs")).Put(bytes.Clone(k), bytes.Clone(other))
		}, "belongs to another key"},
		"a batch gone": {func(_ testing.TB, tx *bolt.Tx) error {
			k, _ := first(tx, "lists")
			return tx.Bucket([]byte("lists")).Delete(bytes.Clone(k))
		}, "missing in the lists"},
	} {
		t.Run(name, func(t *testing.T) {
			j := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilse Tamm"})
			busyBook(t, j, 2)
			forge(t, j.Path(), func(*bolt.Tx) error { return nil })
			verified(t, j) // the forging itself leaves no trace
			forge(t, j.Path(), func(tx *bolt.Tx) error { return c.forge(t, tx) })
			report := must[journal.Report](t)(j.Verify())
			if !slices.ContainsFunc(report.Findings, func(f journal.Finding) bool { return bytes.Contains([]byte(f.Where+": "+f.What), []byte(c.want)) }) {
				t.Errorf("it found %v, want %q", report.Findings, c.want)
			}
			for _, f := range report.Findings {
				if bytes.ContainsRune([]byte(f.What), 0x1b) {
					t.Errorf("%q is not clean", f.What)
				}
			}
		})
	}
}

// TestVerifyListsWhatIsNewer reads an event of a kind that only a newer hepar knows:
// no finding, and kept byte by byte when the journal is compacted.
func TestVerifyListsWhatIsNewer(t *testing.T) {
	j := journaltest.New(t)
	busyBook(t, j, 1)
	b := must[journal.Batch](t)(j.Get("1"))
	body := must[[]byte](t)(record.Marshal(map[int]any{1: record.ID{1, 2, 3}, 2: b.ID, 3: "polished", 4: b.Created, 77: "to a mirror"}))
	tamper(t, j.Path(), func(tx *store.Tx) error {
		tx.Append(must[*record.Event](t)(record.Decode(body)))
		return nil
	})
	report := verified(t, j)
	if len(report.Newer) != 2 {
		t.Errorf("newer: %v", report.Newer)
	}
	must[journal.CompactReport](t)(j.Compact())
	saved := filepath.Join(t.TempDir(), "saved.journal")
	must[journal.SalvageReport](t)(j.Salvage(saved))
	for _, path := range []string{j.Path(), saved} {
		if !bytes.Equal(bodyOf(t, framesOf(t, path)[uint64(report.Events)]), body) {
			t.Errorf("%s: the event was changed", filepath.Base(path))
		}
	}
}

// TestLongWorkTellsHowFarItIs tells the watcher how many events were written and read.
func TestLongWorkTellsHowFarItIs(t *testing.T) {
	told := 0
	j := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilse Tamm", Watch: func(events int) { told = events }})
	if err := j.Update(func(tx *journal.Tx) error {
		for range 1200 {
			if _, err := tx.Create(tokens(), nil); err != nil {
				return err
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	verified(t, j)
	if told != 2000 { // of 2400
		t.Errorf("told %d", told)
	}
}
