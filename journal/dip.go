package journal

import (
	"slices"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// maxLoads is the most loads, uses, photos or wastes of one batch. A choice of
// ours, far above what a workshop writes.
const maxLoads = 1000

// DipLoad is one load as it went through the bath.
type DipLoad struct {
	Number      int // from 1; 0 means the next
	Pieces      int
	Temperature *measure.Celsius // of the bath, as measured
	Time        *measure.Seconds // in the bath
	Note        string
}

// DipRecord is the dipping of a batch.
type DipRecord struct {
	By      string
	Started time.Time // zero means now
	Loads   []DipLoad
	Used    []Use // what was taken from which container. Read by Dip only; a batch has it in Lots
}

// Dip records that a batch is dipped, and books what it used off the shelf, all
// or nothing. The gate is looked at for d.Started: see Ready. It may be called
// again until the batch is logged, which adds loads; it is gated each time.
func (j *Journal) Dip(ref string, d DipRecord, g Gate) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.Dip(ref, d, g); return err })
	return out, err
}

// Dip is Journal.Dip within one transaction.
func (w *Writer) Dip(ref string, d DipRecord, g Gate) (Batch, error) {
	b, err := w.begin(ref)
	if err != nil {
		return w.done(nil, err)
	}
	event, err := w.dipEvent(b, d, g)
	if err != nil {
		return w.done(nil, err)
	}
	if event.Used, err = w.take(d.Used); err == nil {
		if err = w.append(b, event); err == nil {
			err = w.bookOff(b.ID, event.By, event.Used)
		}
	}
	return w.done(b, err)
}

func (w *Writer) dipEvent(b *batchRecord, d DipRecord, g Gate) (*eventRecord, error) {
	if b.State == Logged {
		return nil, fault.Failuref("batch %s is logged and cannot be dipped", b.Plan.Number).
			Try("plan a batch of its own for pieces that are done again")
	}
	if err := usable(b, "dipped", Planned, Reviewed, Dipped); err != nil {
		return nil, err
	}
	started := d.Started
	if started.IsZero() {
		started = w.now
	}
	if err := cleanTime("dip", started); err != nil {
		return nil, err
	}
	if err := w.notAhead("dip", started); err != nil {
		return nil, err
	}
	reason, err := w.gate(b, started, g.WithoutReview)
	if err != nil {
		return nil, err
	}
	by, err := line("name", w.j.person(d.By))
	if err != nil {
		return nil, err
	}
	dip := &dipRecord{By: by, Started: stampOf(started)}
	if dip.Loads, err = cleanLoads(b, d.Loads); err != nil {
		return nil, err
	}
	return &eventRecord{Batch: b.ID, Kind: DippedEvent, At: dip.Started, By: by, Reason: reason, Dip: dip}, nil
}

// cleanLoads checks new loads of a batch and numbers those that have no number.
func cleanLoads(b *batchRecord, loads []DipLoad) ([]loadRecord, error) {
	var had []loadRecord
	if b.Dip != nil {
		had = b.Dip.Loads
	}
	if len(had)+len(loads) > maxLoads {
		return nil, fault.Usagef("there are %d loads", len(had)+len(loads)).Try("keep to %d in a batch", maxLoads)
	}
	made := b.Plan.Pieces + b.Plan.Spares
	all := slices.Clone(had)
	for _, l := range loads {
		if l.Number == 0 {
			for _, h := range all {
				l.Number = max(l.Number, h.Number)
			}
			l.Number++
		}
		if l.Number < 1 || l.Number > maxPieces || slices.ContainsFunc(all, func(h loadRecord) bool { return h.Number == l.Number }) {
			return nil, fault.Usagef("batch %s has two loads of the number %d, or one below 1", b.Plan.Number, l.Number).
				Try("give each load a number of its own, or none")
		}
		if l.Pieces < 1 || l.Pieces > made {
			return nil, fault.Usagef("load %d is of %d pieces and batch %s has %d, spares among them", l.Number, l.Pieces, b.Plan.Number, made).
				Try("count again, or amend the pieces of the batch first")
		}
		r := loadRecord{Number: l.Number, Pieces: l.Pieces}
		if l.Temperature != nil {
			c := float64(*l.Temperature)
			r.Celsius = &c
		}
		if l.Time != nil {
			s := float64(*l.Time)
			r.Seconds = &s
		}
		if err := (&resultRecord{Celsius: r.Celsius, Seconds: r.Seconds}).inRange(); err != nil {
			return nil, err
		}
		var err error
		if r.Note, err = note("note of a load", l.Note); err != nil {
			return nil, err
		}
		all = append(all, r)
	}
	return all[len(had):], nil
}

func (d *dipRecord) public() *DipRecord {
	out := &DipRecord{By: d.By, Started: d.Started.Time()}
	for _, l := range d.Loads {
		load := DipLoad{Number: l.Number, Pieces: l.Pieces, Note: l.Note}
		if l.Celsius != nil {
			c := measure.Celsius(*l.Celsius)
			load.Temperature = &c
		}
		if l.Seconds != nil {
			s := measure.Seconds(*l.Seconds)
			load.Time = &s
		}
		out.Loads = append(out.Loads, load)
	}
	return out
}
