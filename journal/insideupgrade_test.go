package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"math/rand/v2"

	bolt "go.etcd.io/bbolt"
)

// FileFormat is the present format.
const FileFormat = fileFormat

// UpgradeWithNoStep is Upgrade by a program that knows no older format.
func UpgradeWithNoStep(j *Journal) (UpgradeReport, error) { return j.upgrade(fileFormat, nil) }

// UpgradeBadly is Upgrade with a step that leaves out a number.
func UpgradeBadly(j *Journal) (UpgradeReport, error) {
	return j.upgrade(fileFormat, map[int]upgradeStep{1: func(tx *bolt.Tx, out *anew) error {
		if err := fromFormat1(tx, out); err != nil {
			return err
		}
		numbers := out.tx.Bucket([]byte(numbersBucket))
		key, _ := numbers.Cursor().First()
		return numbers.Delete(bytes.Clone(key))
	}})
}

// WriteFormat1 writes what is in the journal at from into a new file at to, as the
// program that wrote format 1 did. Times get fractions of a millisecond.
func WriteFormat1(from, to string, chance *rand.Rand) error {
	db, err := bolt.Open(to, 0o600, &bolt.Options{NoSync: true})
	if err != nil {
		return err
	}
	defer db.Close()
	return At(from, Options{}).read(func(in *bolt.Tx) error {
		return db.Update(func(out *bolt.Tx) error {
			r, err := newReader(in)
			if err != nil {
				return err
			}
			return (&f1Writing{in: in, out: out, r: r, chance: chance}).all()
		})
	})
}

type f1Writing struct {
	in, out *bolt.Tx
	r       *reader
	chance  *rand.Rand
}

func (w *f1Writing) all() error {
	for _, name := range bucketNames() {
		if _, err := w.out.CreateBucket([]byte(name)); err != nil {
			return err
		}
	}
	about, err := readAbout(w.in)
	if err != nil {
		return err
	}
	now, err := readHead(w.in)
	if err != nil {
		return err
	}
	head := f1Head{
		Digest: chainStart(about.Journal), LastID: now.LastID, LagMS: now.LagMS, Years: now.Years, Batches: now.Batches,
		Container: now.Container, Containers: now.Containers,
	}
	err = w.r.events.ForEach(func(key, value []byte) error {
		e, err := decodeEvent(seqOf(key), value)
		if err != nil {
			return err
		}
		old := f1Of(w, e)
		if old.Prev = head.Digest; old.Written == nil && w.chance.IntN(4) == 0 {
			later := old.At
			later.Nanos++ // read off the clock a moment later
			old.Written = &later
		}
		record, err := seal(old)
		if err != nil {
			return err
		}
		head.Seq, head.Digest = e.Seq, sha256.Sum256(record)
		return w.put(eventsBucket, key, record)
	})
	if err != nil {
		return err
	}
	for _, step := range []func() error{w.batches, w.containers, w.copies} {
		if err := step(); err != nil {
			return err
		}
	}
	meta := w.out.Bucket([]byte(metaBucket))
	if err := meta.Put([]byte(magicKey), []byte(magic)); err != nil {
		return err
	}
	if err := putRecord(meta, []byte(headKey), head); err != nil {
		return err
	}
	return putRecord(meta, []byte(aboutKey), f1About{Format: 1, Journal: about.Journal, Created: w.stamp(about.Created)})
}

func (w *f1Writing) put(bucket string, key, value []byte) error {
	return w.out.Bucket([]byte(bucket)).Put(bytes.Clone(key), bytes.Clone(value))
}

func (w *f1Writing) batches() error {
	return w.r.batches.ForEach(func(key, _ []byte) error {
		b, err := w.r.batch(id(key))
		if err != nil {
			return err
		}
		if b.Twin {
			return fmt.Errorf("format 1 knows no shared numbers")
		}
		recipe, err := w.r.recipe(b)
		if err != nil {
			return err
		}
		for _, k := range indexKeys(b, recipe.Slug) {
			if err := w.put(indexBucket, k, nil); err != nil {
				return err
			}
		}
		old := f1Batch{
			ID: b.ID, State: b.State, Plan: w.plan(b.Plan), Review: w.review(b.Review), Result: w.result(b.Result), Events: b.Events,
			People: b.People, Dip: w.dip(b.Dip), WithoutReview: b.WithoutReview, SignOff: w.signOff(b.SignOff), AmendedSince: b.AmendedSince,
			Used: likeness[[]f1Used](b.Used),
		}
		for i := range b.Photos {
			old.Photos = append(old.Photos, *w.photo(&b.Photos[i]))
		}
		for i := range b.Waste {
			old.Waste = append(old.Waste, *w.waste(&b.Waste[i]))
		}
		return putRecord(w.out.Bucket([]byte(batchesBucket)), key, old)
	})
}

func (w *f1Writing) containers() error {
	containers, err := bucket(w.in, containersBucket)
	if err != nil {
		return err
	}
	return containers.ForEach(func(key, value []byte) error {
		c, err := decodeContainer(key, value)
		if err != nil {
			return err
		}
		return putRecord(w.out.Bucket([]byte(containersBucket)), key, w.container(c))
	})
}

// copies copies what was stored in format 1 as it is now.
func (w *f1Writing) copies() error {
	for _, name := range []string{numbersBucket, recipesBucket, sheetsBucket} {
		b, err := bucket(w.in, name)
		if err != nil {
			return err
		}
		if err := b.ForEach(func(key, value []byte) error { return w.put(name, key, value) }); err != nil {
			return err
		}
	}
	return nil
}

// stamp gives a time a fraction of a millisecond, the same one each time.
func (w *f1Writing) stamp(s stamp) f1Stamp {
	return f1Stamp{Nanos: s.Nanos + (s.millis()*7919)%999983, Offset: s.Offset}
}

func (w *f1Writing) maybe(s *stamp) *f1Stamp {
	if s == nil {
		return nil
	}
	t := w.stamp(*s)
	return &t
}

// likeness gives a record that has no times in the shape of another with the same keys.
func likeness[T any](v any) (out T) {
	body, err := encoder().Marshal(v)
	if err == nil {
		err = decoder().Unmarshal(body, &out)
	}
	if err != nil {
		panic(err)
	}
	return out
}

func f1Of(w *f1Writing, e *eventRecord) *f1Event {
	old := &f1Event{
		Seq: e.Seq, ID: e.ID, Batch: e.Batch, Kind: e.Kind, At: w.stamp(e.At), Written: w.maybe(e.Written), By: e.By, Reason: e.Reason,
		Field: e.Field, Old: e.Old, New: e.New, Review: w.review(e.Review), Result: w.result(e.Result), Dip: w.dip(e.Dip),
		SignOff: w.signOff(e.SignOff), Photo: w.photo(e.Photo), Waste: w.waste(e.Waste), Used: likeness[[]f1Used](e.Used),
		Stock: w.container(e.Stock), Container: e.Container, For: e.For,
	}
	if e.Plan != nil {
		plan := w.plan(*e.Plan)
		old.Plan = &plan
	}
	return old
}

func (w *f1Writing) plan(p planRecord) f1Plan {
	return f1Plan{
		Number: p.Number, Created: w.stamp(p.Created), Recipe: p.Recipe, Alloy: p.Alloy, Shape: p.Shape, Pieces: p.Pieces,
		Spares: p.Spares, Sheet: p.Sheet, By: p.By, Note: p.Note,
	}
}

func (w *f1Writing) review(r *reviewRecord) *f1Review {
	if r == nil {
		return nil
	}
	return &f1Review{By: r.By, At: w.stamp(r.At), Digest: r.Digest, Points: r.Points}
}

func (w *f1Writing) result(r *resultRecord) *f1Result {
	if r == nil {
		return nil
	}
	return &f1Result{
		Good: r.Good, Rework: r.Rework, Reject: r.Reject, Causes: r.Causes, Celsius: r.Celsius, Seconds: r.Seconds, Shade: r.Shade,
		Note: r.Note, At: w.stamp(r.At),
	}
}

func (w *f1Writing) dip(d *dipRecord) *f1Dip {
	if d == nil {
		return nil
	}
	return &f1Dip{By: d.By, Started: w.stamp(d.Started), Loads: likeness[[]f1Load](d.Loads)}
}

func (w *f1Writing) signOff(s *signOffRecord) *f1SignOff {
	if s == nil {
		return nil
	}
	return &f1SignOff{By: s.By, At: w.stamp(s.At), Note: s.Note}
}

func (w *f1Writing) photo(p *photoRecord) *f1Photo {
	if p == nil {
		return nil
	}
	return &f1Photo{Path: p.Path, SHA256: p.SHA256, Bytes: p.Bytes, Taken: w.maybe(p.Taken), By: p.By, Note: p.Note}
}

func (w *f1Writing) waste(v *wasteRecord) *f1Waste {
	if v == nil {
		return nil
	}
	return &f1Waste{
		Liters: v.Liters, Container: v.Container, Contents: likeness[[]f1WastePart](v.Contents), Went: v.Went, By: v.By, At: w.stamp(v.At),
	}
}

func (w *f1Writing) container(c *containerRecord) *f1Container {
	if c == nil {
		return nil
	}
	timeless := *c
	timeless.Added, timeless.ObservedAt, timeless.Emptied = stamp{}, nil, nil
	old := likeness[*f1Container](&timeless)
	old.Added, old.ObservedAt, old.Emptied = w.stamp(c.Added), w.maybe(c.ObservedAt), w.maybe(c.Emptied)
	return old
}

// Telling gives everything that a journal tells: its events one by one, with all
// that is in them, and its containers.
func Telling(j *Journal) (lines []string, err error) {
	err = j.read(func(tx *bolt.Tx) error {
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		err = r.events.ForEach(func(key, value []byte) error {
			e, err := decodeEvent(seqOf(key), value)
			if err != nil || e.Kind == Upgraded {
				return err
			}
			e.Prev = [32]byte{}
			text, err := json.Marshal(e)
			lines = append(lines, string(text))
			return err
		})
		if err != nil {
			return err
		}
		containers, err := bucket(tx, containersBucket)
		if err != nil {
			return err
		}
		return containers.ForEach(func(key, value []byte) error {
			c, err := decodeContainer(key, value)
			if err == nil {
				lines = append(lines, fmt.Sprintf("%+v", c.public()))
			}
			return err
		})
	})
	return lines, err
}
