package journal

import (
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
	v.By = w.j.person(v.By)
	if v.At.IsZero() {
		v.At = w.now
	}
	out, err := v.clean()
	if err != nil {
		return nil, err
	}
	return &eventRecord{Batch: b.ID, Kind: WasteEvent, At: out.At, By: out.By, Waste: &out}, nil
}

// clean checks a waste in itself.
func (v Waste) clean() (out wasteRecord, err error) {
	if err := within("volume of the waste", "L", &v.VolumeL, leastWasteLiters, maxWasteLiters); err != nil {
		return out, err
	}
	out.Liters = v.VolumeL
	if out.Container, err = line("name of the waste container", v.Container); err != nil {
		return out, err
	}
	if out.Container == "" {
		return out, fault.Usagef("the container of the waste is not said").Try("give the name on its label")
	}
	if out.Went, err = note("place the waste went to", v.Went); err != nil {
		return out, err
	}
	if out.By, err = line("name", v.By); err != nil {
		return out, err
	}
	for _, p := range v.Contents {
		part := wastePartRecord{MilligramsPerLiter: p.MilligramsPerLiter}
		if part.What, err = line("content of the waste", p.What); err != nil {
			return out, err
		}
		if part.What == "" {
			return out, fault.Usagef("a content of the waste has no name").Try("name each, as in silver")
		}
		if err := within("amount of "+part.What, "mg/L", &part.MilligramsPerLiter, 0, maxMilligramsPerLiter); err != nil {
			return out, err
		}
		if part.Source, err = note("source of a figure", p.Source); err != nil {
			return out, err
		}
		out.Contents = append(out.Contents, part)
	}
	out.At = stampOf(v.At)
	return out, cleanTime("waste", v.At)
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
	prefix := []byte{byWaste}
	if f.Waste != "" {
		prefix = indexPrefix(byWaste, foldName(f.Waste))
	}
	err = j.read(func(tx *bolt.Tx) error {
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		ids, err := r.indexedUnder(prefix)
		if err != nil {
			return err
		}
		for _, i := range ids {
			b, err := r.batch(i)
			if err != nil {
				return err
			}
			recipe, err := r.recipe(b)
			if err != nil {
				return err
			}
			for _, v := range b.Waste {
				if f.Waste == "" || foldName(v.Container) == foldName(f.Waste) {
					all = append(all, WasteEntry{Batch: b.number(), Recipe: recipe.Slug, Waste: v.public()})
				}
			}
		}
		return nil
	})
	return all, err
}

// WasteContainers gives the names of all waste containers, in the order of the
// alphabet and in lower case.
func (j *Journal) WasteContainers() (names []string, err error) {
	if there, err := j.Exists(); err != nil || !there {
		return nil, err
	}
	err = j.read(func(tx *bolt.Tx) error {
		r, err := newReader(tx)
		if err == nil {
			names, err = r.valuesOf(byWaste)
		}
		return err
	})
	return names, err
}

func (v wasteRecord) public() Waste {
	out := Waste{VolumeL: v.Liters, Container: v.Container, Went: v.Went, By: v.By, At: v.At.Time()}
	for _, p := range v.Contents {
		out.Contents = append(out.Contents, WastePart(p))
	}
	return out
}
