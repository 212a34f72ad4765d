package journal

import (
	"slices"
	"time"

	"hepar/recipe/fault"
)

// SignOff is the word of a second person that the record of a batch is right.
type SignOff struct {
	By           string
	At           time.Time
	Note         string
	AmendedSince bool // the record was amended after it; it may be signed off again
}

// SignOff records that a second person has looked through the record of a logged
// batch. It refuses whoever logged or amended it, and a batch that is signed off
// and was not amended since.
func (j *Journal) SignOff(ref, by, note string) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.SignOff(ref, by, note); return err })
	return out, err
}

// SignOff is Journal.SignOff within one transaction.
func (w *Writer) SignOff(ref, by, text string) (Batch, error) {
	b, err := w.begin(ref)
	if err != nil {
		return w.done(nil, err)
	}
	event, err := w.signOffEvent(b, by, text)
	if err == nil {
		err = w.append(b, event)
	}
	return w.done(b, err)
}

func (w *Writer) signOffEvent(b *batchRecord, by, text string) (*eventRecord, error) {
	if err := usable(b, "signed off", Logged); err != nil {
		if b.State != Withdrawn {
			return nil, fault.Failuref("batch %s is %s and cannot be signed off", b.Plan.Number, b.State).Try("log it first")
		}
		return nil, err
	}
	if b.SignOff != nil && !b.AmendedSince {
		return nil, fault.Failuref("batch %s is signed off by %s already", b.Plan.Number, b.SignOff.By).
			Try("nothing is left to do; only an amendment makes room for another")
	}
	by, err := line("name", w.j.person(by))
	if err != nil {
		return nil, err
	}
	if by == "" {
		return nil, fault.Usagef("who signs off is not said").At("--by").Try("name the second person")
	}
	if text, err = note("note", text); err != nil {
		return nil, err
	}
	if err := w.second(b, by); err != nil {
		return nil, err
	}
	return &eventRecord{Batch: b.ID, Kind: SignedOffEvent, By: by, SignOff: &signOffRecord{By: by, At: stampOf(w.now), Note: text}}, nil
}

// second makes sure that by is another person than those whose word is signed off.
func (w *Writer) second(b *batchRecord, by string) error {
	for _, seq := range b.Events {
		e, err := w.event(seq)
		if err != nil {
			return err
		}
		if (e.Kind == LoggedEvent || e.Kind == Amended) && foldName(e.By) == foldName(by) {
			return fault.Failuref("batch %s was %s by %s, who cannot sign it off as well", b.Plan.Number, e.Kind, e.By).
				Try("let a second person look through it and sign with a name of their own")
		}
	}
	if !slices.ContainsFunc(b.People, func(name string) bool { return foldName(name) != foldName(by) }) {
		return fault.Failuref("nobody else is named in the record of batch %s, so nobody can be its second person", b.Plan.Number).
			Try("name who did the work with --by when it is logged")
	}
	return nil
}
