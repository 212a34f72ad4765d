package journal

import (
	"errors"
	"iter"

	"hepar/recipe/fault"
)

// The ways in which batches come from elsewhere.
const (
	howImported = "imported"
	howMerged   = "merged"
)

// What is taken over in one transaction of the journal itself; more is done
// beside it.
const (
	fewBatches = 500
	fewBytes   = 4 << 20
	// In the copy beside, so many in one transaction: the more, the fewer pages are
	// written twice; the fewer, the less memory.
	perTransaction = 4000
)

// takeover takes batches from elsewhere into a journal, all or nothing.
type takeover struct {
	j      *Journal
	how    string
	by     string
	source string
	from   id
	dry    bool
	// digest gives what the source is known by, when all of it has been read.
	digest func() [32]byte
	// each is told what became of a batch.
	each func(f *foreign, became fate, c *Conflict)
	// accept says at the end whether to keep what was done.
	accept func() error

	events  uint64 // taken over
	derived derivedIDs
}

// weight is about how many bytes a batch takes in memory.
func (f *foreign) weight() int {
	n := 1024 + len(f.sheet) + len(f.recipe.Text)
	for _, e := range f.events {
		n += 256 + len(e.Reason) + len(e.Old) + len(e.New)
	}
	return n
}

// run takes over all that the source gives.
func (t *takeover) run(source iter.Seq2[*foreign, error]) error {
	next, stop := iter.Pull2(source)
	defer stop()
	var few []*foreign
	bytes := 0
	for len(few) < fewBatches && bytes < fewBytes {
		f, err, more := next()
		if err != nil {
			return err
		}
		if !more {
			return t.few(few)
		}
		few, bytes = append(few, f), bytes+f.weight()
	}
	return t.many(func(yield func(*foreign, error) bool) {
		for _, f := range few {
			if !yield(f, nil) {
				return
			}
		}
		few = nil
		for {
			f, err, more := next()
			if !more || !yield(f, err) {
				return
			}
		}
	})
}

// few takes over a few batches in one transaction.
func (t *takeover) few(all []*foreign) error {
	there, err := t.j.Exists()
	if err != nil {
		return err
	}
	work := func(w *Writer) error {
		t.begin(w)
		for _, f := range all {
			if err := t.bring(w, f); err != nil {
				return err
			}
		}
		if err := t.end(w); err != nil {
			return err
		}
		if t.dry {
			return errDry
		}
		return nil
	}
	switch {
	case !there && (t.dry || len(all) == 0): // a trial makes no journal
		return t.many(func(yield func(*foreign, error) bool) {
			for _, f := range all {
				if !yield(f, nil) {
					return
				}
			}
		})
	case there:
		err = t.j.change(work)
	default:
		err = t.j.Update(work)
	}
	if errors.Is(err, errDry) {
		return nil
	}
	return err
}

// errDry ends the transaction of a trial.
var errDry = &fault.Error{Kind: fault.Failure, What: "this was a trial"}

// many takes over any number of batches, on a copy beside the journal.
func (t *takeover) many(source iter.Seq2[*foreign, error]) (err error) {
	a, err := t.j.openAside()
	if err != nil {
		return err
	}
	defer a.drop()
	next, stop := iter.Pull2(source)
	defer stop()
	for more := true; more; {
		err := a.update(func(w *Writer) error {
			t.begin(w)
			w.bulk = newBulkWriter()
			bytes := 0
			for range perTransaction {
				var f *foreign
				var err error
				if f, err, more = next(); err != nil {
					return err
				}
				if !more {
					return t.end(w)
				}
				if err := t.bring(w, f); err != nil {
					return err
				}
				if bytes += f.weight(); bytes >= 2*fewBytes {
					return nil
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	if t.dry {
		return nil
	}
	return a.put()
}

func (t *takeover) begin(w *Writer) {
	w.now = t.j.now()
	w.derived = &t.derived
}

func (t *takeover) bring(w *Writer, f *foreign) error {
	before := w.head.Seq
	became, conflict, err := w.bring(f)
	if err != nil {
		return err
	}
	t.events += w.head.Seq - before
	t.each(f, became, conflict)
	return nil
}

// end says in the chain where the events before come from.
func (t *takeover) end(w *Writer) error {
	if err := t.accept(); err != nil || t.events == 0 {
		return err
	}
	by, err := line("name", t.j.person(t.by))
	if err != nil {
		return err
	}
	source, err := line("name of the source", t.source)
	if err != nil {
		return err
	}
	e := &eventRecord{
		ID: idAfter(w.head.LastID, w.now), Kind: TakenOver, At: stampOf(w.now), By: by,
		Taken: &takenRecord{How: t.how, Events: t.events, Journal: t.from, Digest: t.digest(), Source: source},
	}
	w.chain(e)
	return w.keep(e)
}
