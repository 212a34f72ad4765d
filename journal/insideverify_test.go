package journal

import (
	"bytes"
	"crypto/sha256"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// rechained changes one event, and then makes all that follows from it anew: the
// digests of the chain and the head. What is left wrong is only what it says.
func rechained(tx *bolt.Tx, seq uint64, fn func(e *eventRecord)) error {
	head, err := readHead(tx)
	if err != nil {
		return err
	}
	b := tx.Bucket([]byte(eventsBucket))
	var prev [32]byte
	for at := seq; at <= head.Seq; at++ {
		e, err := decodeEvent(at, b.Get(seqKey(at)))
		if err != nil {
			return err
		}
		if at == seq {
			fn(e)
		} else {
			e.Prev = prev
		}
		record, err := e.seal()
		if err != nil {
			return err
		}
		if err := b.Put(seqKey(at), record); err != nil {
			return err
		}
		prev = sha256.Sum256(record)
	}
	head.Digest = prev
	return putRecord(tx.Bucket([]byte(metaBucket)), []byte(headKey), head)
}

func headed(fn func(h *headRecord)) func(tx *bolt.Tx) error {
	return func(tx *bolt.Tx) error {
		head, err := readHead(tx)
		if err != nil {
			return err
		}
		fn(&head)
		return putRecord(tx.Bucket([]byte(metaBucket)), []byte(headKey), head)
	}
}

// told gives a journal of 13 events: 1 and 2 make a batch, 3 makes one and 4 reviews
// it; 5 makes a container; 6 takes from it for that batch, as 7 books; 8 and 9 make
// a batch with the clock put back; 10 to 12 come from another bench, 13 answers for them.
func told(t *testing.T) *Journal {
	t.Helper()
	now := time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)
	clock := func() time.Time { now = now.Add(time.Second); return now }
	j := At(filepath.Join(t.TempDir(), "hepar.journal"), Options{Now: clock, By: "Ilka Brandt"})
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, err := j.LogNew(oneOrder(), Result{Good: 12})
	must(err)
	b, err := j.Create(oneOrder())
	must(err)
	_, err = j.Review(b.Number, Acknowledgement{Digest: "sha256:1", Points: []string{"gas"}})
	must(err)
	c, err := j.AddContainer(Container{Substance: "soda", AmountG: 10})
	must(err)
	_, err = j.Use(Use{Container: c.Number, Grams: 1}, b.Number, "")
	must(err)
	now = now.Add(-time.Hour)
	_, err = j.LogNew(oneOrder(), Result{Good: 12})
	must(err)
	now = now.Add(2 * time.Hour)
	other := At(filepath.Join(t.TempDir(), "other.journal"), Options{Now: clock, By: "Tomas Reh"})
	_, err = other.LogNew(oneOrder(), Result{Good: 11, Reject: 1, Causes: map[string]int{"spots": 1}})
	must(err)
	_, err = other.Create(oneOrder())
	must(err)
	_, err = j.Merge(other.Path(), MergeOptions{})
	must(err)
	report, err := j.Verify()
	if err != nil || !report.Sound() || report.Events != 13 {
		t.Fatalf("%+v, %v", report, err)
	}
	return j
}

// What somebody who knows the format could change so that checksums and chain fit
// again, and what a fault of the program could: each check is the only one to see it.
func TestVerifySeesWhatChecksumsDoNot(t *testing.T) {
	for name, c := range map[string]struct {
		fn   func(tx *bolt.Tx) error
		want string
	}{
		"an id below the one before": {func(tx *bolt.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			e, err := r.event(1)
			if err != nil {
				return err
			}
			return rechained(tx, 4, func(f *eventRecord) {
				f.ID = e.ID
				f.ID[15]++
			})
		}, "its id does not follow the id before\nbatch 2026-002: its events are out of order"},
		"an event that answers for more than there are": {func(tx *bolt.Tx) error {
			return rechained(tx, 13, func(e *eventRecord) { e.Taken.Events = 13 })
		}, "answers for more events than there are"},
		"a use that is booked for no batch": {func(tx *bolt.Tx) error {
			return rechained(tx, 7, func(e *eventRecord) { e.For = nil })
		}, "batches used them 1 times and 0 are booked"},
		"more left of a container than there was": {func(tx *bolt.Tx) error {
			if err := rechained(tx, 7, func(e *eventRecord) { e.New = "20 g" }); err != nil {
				return err
			}
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			containers := tx.Bucket([]byte(containersBucket))
			key, _ := containers.Cursor().First()
			var again containerRecord
			for _, seq := range []uint64{5, 7} {
				e, err := r.event(seq)
				if err == nil {
					err = again.apply(e)
				}
				if err != nil {
					return err
				}
			}
			return putRecord(containers, bytes.Clone(key), again)
		}, "it has 20 \"g\" left of 10"},
		"an event that nobody lists": {func(tx *bolt.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			reviewed, err := r.event(4)
			if err != nil {
				return err
			}
			b, err := r.batch(reviewed.Batch)
			if err != nil {
				return err
			}
			again := batchRecord{Twin: b.Twin}
			for _, seq := range b.Events {
				if e, err := r.event(seq); err != nil {
					return err
				} else if seq != 4 {
					if err := again.apply(e); err != nil {
						return err
					}
				}
			}
			return r.batches.Put(again.ID[:], again.sealStanding())
		}, "there are 13 and the batches and containers list 12"},
		"a batch that lists the event of another": {func(tx *bolt.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			made, err := r.event(1)
			if err != nil {
				return err
			}
			b, err := r.batch(made.Batch)
			if err != nil {
				return err
			}
			b.Events = []uint64{1, 2, 4}
			return r.batches.Put(b.ID[:], b.sealStanding())
		}, "event 4 belongs to another batch"},
		"the lag of the clock": {headed(func(h *headRecord) { h.LagMS = 0 }), "the time in its id does not fit"},
		"the last number":      {headed(func(h *headRecord) { h.Years[2026] = 1 }), "beyond the last that was given out"},
		"the last container":   {headed(func(h *headRecord) { h.Container = 0 }), "beyond the last that was given out"},
		"the containers":       {headed(func(h *headRecord) { h.Containers = 2 }), "there are 1 and the head says 2"},
		"the batches":          {headed(func(h *headRecord) { h.Batches++ }), "the head says 6"},
		"a number that is marked as shared": {func(tx *bolt.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			key, _ := r.batches.Cursor().First()
			b, err := r.batch(id(key))
			if err != nil {
				return err
			}
			b.Twin = !b.Twin
			return r.batches.Put(bytes.Clone(key), b.sealStanding())
		}, "its number is shared and not marked so"},
		"a run out of order": {func(tx *bolt.Tx) error {
			index := tx.Bucket([]byte(indexBucket))
			c := index.Cursor()
			for key, value := c.First(); key != nil; key, value = c.Next() {
				if len(value) >= 2*idSize {
					rest := bytes.Clone(value)
					copy(rest, value[idSize:2*idSize])
					copy(rest[idSize:], value[:idSize])
					return index.Put(bytes.Clone(key), rest)
				}
			}
			t.Fatal("there is no run of three")
			return nil
		}, "are out of order"},
		"a fresh entry that stands already": {func(tx *bolt.Tx) error {
			key, _ := tx.Bucket([]byte(indexBucket)).Cursor().First()
			f := &fresh{}
			f.change(bytes.Clone(key), true)
			return tx.Bucket([]byte(metaBucket)).Put([]byte(freshKey), f.seal())
		}, "does not fit the rest"},
	} {
		t.Run(name, func(t *testing.T) {
			j := told(t)
			if err := Tamper(j.path, c.fn); err != nil {
				t.Fatal(err)
			}
			report, err := j.Verify()
			var found []string
			for _, f := range report.Findings {
				found = append(found, f.Where+": "+f.What)
			}
			if err != nil || len(found) == 0 || !strings.Contains(strings.Join(found, "\n"), c.want) {
				t.Errorf("%v, verify found\n%s\nwant %q", err, strings.Join(found, "\n"), c.want)
			}
		})
	}
}

// A header that counts a change that the head does not know: the page of the head
// is of before. Nothing is read or written then.
func TestHeadOfAnotherChange(t *testing.T) {
	j := told(t)
	db, err := bolt.Open(j.path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Update(func(*bolt.Tx) error { return nil }); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	report, err := j.Verify()
	if err != nil || !slices.ContainsFunc(report.Findings, func(f Finding) bool { return strings.Contains(f.What, "did not reach the disk whole") }) {
		t.Errorf("verify: %v, %v", report.Findings, err)
	}
	for call, err := range map[string]error{
		"read":    func() error { _, err := j.Count(Filter{}); return err }(),
		"write":   func() error { _, err := j.Create(oneOrder()); return err }(),
		"backup":  func() error { _, err := j.Backup("", BackupOptions{}); return err }(),
		"compact": func() error { _, err := j.Compact(); return err }(),
	} {
		if fault.KindOf(err) != fault.Damaged || !strings.Contains(err.Error(), "did not reach the disk whole") {
			t.Errorf("%s: %v", call, err)
		}
	}
	// Every record is there: salvage brings it back.
	into := filepath.Join(t.TempDir(), "saved")
	saved, err := j.Salvage(into)
	if err != nil || saved.LostEvents != 0 || saved.IncompleteCount != 0 || saved.Events != 13 {
		t.Errorf("salvage: %+v, %v", saved, err)
	}
}
