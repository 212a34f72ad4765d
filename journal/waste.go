package journal

import (
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// The most that a waste record may say. Choices of ours, far above a workshop's.
const (
	leastWasteLiters      = 1e-6
	maxWasteLiters        = 1_000_000.0
	maxMilligramsPerLiter = 2_000_000.0 // above the mass of a litre of any bath
	maxWasteParts         = 100
)

// WastePart is one thing in a waste, as estimated or measured.
type WastePart struct {
	What               string // "silver", "sulfide, counted as sulfur"
	MilligramsPerLiter float64
	Source             string // "estimate, good to a factor of five", the name of a laboratory
}

// Waste is what was poured from a batch into a container for waste. It is a
// record of what was done and no classification of it.
type Waste struct {
	VolumeL   float64
	Container string // the name on the label of the waste container
	Contents  []WastePart
	Went      string // where the container or its content went, where it has gone
	By        string
	At        time.Time // zero means now
}

// WasteEntry is a waste with the batch it comes from.
type WasteEntry struct {
	Batch  string // number
	Recipe string // slug
	Waste  Waste
}

// AddWaste records what a batch left as waste and in which container it is kept.
// A batch may have several: spent bath, rinse, solids. Going wrong in one is
// mended by another record that says so; nothing is overwritten.
func (j *Journal) AddWaste(ref string, v Waste) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.AddWaste(ref, v); return err })
	return out, err
}

// AddWaste is Journal.AddWaste within one transaction.
func (w *Writer) AddWaste(ref string, v Waste) (Batch, error) {
	b, err := w.begin(ref)
	if err != nil {
		return w.done(nil, err)
	}
	event, err := w.wasteEvent(b, v)
	if err == nil {
		err = w.append(b, event)
	}
	return w.done(b, err)
}

func (w *Writer) wasteEvent(b *batchRecord, v Waste) (*eventRecord, error) {
	if err := usable(b, "given a waste", Planned, Reviewed, Dipped, Logged); err != nil {
		return nil, err
	}
	if len(b.Waste) >= maxLoads || len(v.Contents) > maxWasteParts {
		return nil, fault.Usagef("batch %s has %d wastes and this one %d parts", b.Plan.Number, len(b.Waste), len(v.Contents)).
			Try("keep to %d wastes of %d parts", maxLoads, maxWasteParts)
	}
	if err := within("volume of the waste", "L", &v.VolumeL, leastWasteLiters, maxWasteLiters); err != nil {
		return nil, err
	}
	out := &wasteRecord{Liters: v.VolumeL}
	var err error
	if out.Container, err = line("name of the waste container", v.Container); err != nil {
		return nil, err
	}
	if out.Container == "" {
		return nil, fault.Usagef("the container of the waste is not said").Try("give the name on its label")
	}
	if out.Went, err = note("place the waste went to", v.Went); err != nil {
		return nil, err
	}
	if out.By, err = line("name", w.j.person(v.By)); err != nil {
		return nil, err
	}
	for _, p := range v.Contents {
		part := wastePartRecord{MilligramsPerLiter: p.MilligramsPerLiter}
		if part.What, err = line("content of the waste", p.What); err != nil {
			return nil, err
		}
		if part.What == "" {
			return nil, fault.Usagef("a content of the waste has no name").Try("name each, as in silver")
		}
		if err := within("amount of "+part.What, "mg/L", &part.MilligramsPerLiter, 0, maxMilligramsPerLiter); err != nil {
			return nil, err
		}
		if part.Source, err = note("source of a figure", p.Source); err != nil {
			return nil, err
		}
		out.Contents = append(out.Contents, part)
	}
	at := v.At
	if at.IsZero() {
		at = w.now
	}
	if err := cleanTime("waste", at); err != nil {
		return nil, err
	}
	out.At = stampOf(at)
	return &eventRecord{Batch: b.ID, Kind: WasteEvent, At: out.At, By: out.By, Waste: out}, nil
}

// ListWaste gives what went into a waste container (in any case of letters), or
// all waste where container is empty, in the order of the batches.
func (j *Journal) ListWaste(container string) ([]WasteEntry, error) {
	if there, err := j.Exists(); err != nil || !there {
		return nil, err
	}
	f, err := Filter{Waste: container, Reverse: true}.clean()
	if err != nil {
		return nil, err
	}
	var all []WasteEntry
	err = j.pages(f, func(r *reader, b *batchRecord) (keep, more bool, err error) {
		if len(b.Waste) == 0 {
			return false, true, nil
		}
		recipe, err := r.recipe(b)
		if err != nil {
			return false, false, err
		}
		for _, v := range b.Waste {
			if f.Waste == "" || foldName(v.Container) == foldName(f.Waste) {
				all = append(all, WasteEntry{Batch: b.Plan.Number, Recipe: recipe.Slug, Waste: v.public()})
			}
		}
		return false, true, nil
	}, nil)
	return all, err
}

// WasteContainers gives the names of all waste containers, in the order of the
// alphabet and in lower case.
func (j *Journal) WasteContainers() (names []string, err error) {
	if there, err := j.Exists(); err != nil || !there {
		return nil, err
	}
	err = j.read(func(tx *bolt.Tx) error {
		index, err := bucket(tx, indexBucket)
		if err != nil {
			return err
		}
		cursor := index.Cursor()
		for key, _ := cursor.Seek([]byte{byWaste}); len(key) > len(id{})+2 && key[0] == byWaste; {
			name := string(key[1 : len(key)-len(id{})-1])
			names = append(names, name)
			key, _ = cursor.Seek(append(indexPrefix(byWaste, name)[:len(name)+1], 1)) // beyond its zero byte
		}
		return nil
	})
	return slices.Clip(names), err
}

func (v wasteRecord) public() Waste {
	out := Waste{VolumeL: v.Liters, Container: v.Container, Went: v.Went, By: v.By, At: v.At.Time()}
	for _, p := range v.Contents {
		out.Contents = append(out.Contents, WastePart(p))
	}
	return out
}
