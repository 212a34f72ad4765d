package journal

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
)

// LogOptions is what Log and LogNew may be told beyond the result.
type LogOptions struct {
	By            string    // who did it; empty means the person of the options of the journal
	At            time.Time // when the result was had; zero means now
	WithoutReview string    // the reason to go on without a valid review; it is kept in the event
}

// steps says what each kind of event does to a batch, in a word, and from which states.
var steps = map[string]struct {
	word string
	from []State
}{
	record.Reviewed:   {"reviewed", []State{Planned, Reviewed, Dipped}},
	record.Bench:      {"dipped", []State{Planned, Reviewed, Dipped}},
	record.Logged:     {"logged again", []State{Planned, Reviewed, Dipped}},
	record.SignedOff:  {"signed off", []State{Logged}},
	record.Amended:    {"amended", []State{Planned, Reviewed, Dipped, Logged}},
	record.Withdrawn:  {"withdrawn", []State{Planned, Reviewed, Dipped, Logged}},
	record.Used:       {"changed", []State{Planned, Reviewed, Dipped, Logged}},
	record.PhotoAdded: {"given a photo", []State{Planned, Reviewed, Dipped, Logged}},
	record.WasteAdded: {"given waste", []State{Planned, Reviewed, Dipped, Logged}},
}

// add appends an event, which fill completes, to the batch that ref names, if its state allows it.
func (v Verbs) add(ref, kind, by string, at time.Time, fill func(*Tx, *Batch, *Event)) (Batch, error) {
	return change(v, false, func(tx *Tx) Batch {
		b := tx.find(ref)
		step := steps[kind]
		fault.Need(slices.Contains(step.from, b.State), outOfTurn(b, step.word))
		e := tx.event(b.ID, kind, by, at)
		fill(tx, b, e)
		return written[Batch](tx, e)
	})
}

// outOfTurn says why the state of a batch does not allow what is about to happen.
func outOfTurn(b *Batch, word string) error {
	cure := "log it first: hepar log " + b.Number
	switch {
	case string(b.State) == word:
		return fault.Failuref("batch %s is already %s", b.Number, word).Try("there is nothing to do")
	case b.State == Withdrawn:
		cure = "plan a new batch in its place"
	case b.State == Logged:
		cure = "correct it with 'hepar journal amend " + b.Number + "'; plan a batch of its own for pieces that are done again"
	}
	return fault.Failuref("batch %s is %s and cannot be %s", b.Number, b.State, word).Try("%s", cure)
}

// written cleans and appends an event of a batch or a container, and returns it as it stands then.
func written[T any](tx *Tx, e *Event) T {
	fault.Check(e.Clean())
	return *tx.Append(e).(any).(*T)
}

// Create adds a planned batch. A zero Created means now; Number and the digests of p are not read. Sheet is
// the frozen sheet as JSON, or nil. The number counts within the year of Created at the bench.
func (v Verbs) Create(p Plan, sheet []byte) (Batch, error) {
	return change(v, true, func(tx *Tx) Batch {
		at := cmp.Or(p.Created, StampOf(tx.Now)).Time()
		fault.Check(record.Year("batch", at))
		// What could be frozen and not be exported.
		fault.Need(len(p.Text) <= record.MaxText, fault.Usagef("the recipe is %d bytes long", len(p.Text)).
			Try("keep a recipe to %d KiB", record.MaxText>>10))
		fault.Need(utf8.ValidString(p.Text) && !strings.ContainsRune(p.Text, 0),
			fault.Usagef("the text of the recipe is not valid UTF-8, or holds the character zero").Try("write it again as plain text"))
		fault.Need(len(sheet) <= record.MaxSheet, fault.Usagef("the sheet is %d bytes long", len(sheet)).
			Try("keep a sheet to %d MiB", record.MaxSheet>>20))
		fault.Need(len(sheet) == 0 || json.Valid(sheet) && utf8.Valid(sheet),
			fault.Usagef("the sheet is not JSON").Try("save the sheet as hepar prepare --json prints it"))
		e := tx.event(tx.NewBatchID(at), record.Created, p.By, at)
		p.Created, p.By, p.TextSHA, p.SheetSHA = e.At, e.By, nil, nil
		if p.Text != "" {
			p.TextSHA = tx.PutBlob([]byte(p.Text))
		}
		if sheet != nil {
			var plain bytes.Buffer // an export writes it without spaces, and its digest must fit
			fault.Check(json.Compact(&plain, sheet))
			p.SheetSHA = tx.PutBlob(plain.Bytes())
		}
		p.Number, p.Text = tx.NextNumber(strconv.Itoa(at.Year())), ""
		e.Plan = &p
		return written[Batch](tx, e)
	})
}

// Review records that somebody went through the safety points of a batch, as often as need be until it is
// logged. By and At default to the person of the options and now.
func (v Verbs) Review(ref string, r Review) (Batch, error) {
	return v.add(ref, record.Reviewed, r.By, r.At.Time(), func(tx *Tx, _ *Batch, e *Event) {
		r.By, r.At = e.By, e.At
		second := r.Answers["second"]
		fault.Need(second == "" || record.Fold(second) != record.Fold(r.By), fault.Safetyf("%s cannot be the second person too", r.By).
			Try("name another person, who stays within call: --second NAME"))
		e.Review = &r
		tx.notAhead("review", e.At)
	})
}

// notAhead refuses a time to come, with which a review could be made to last longer.
func (tx *Tx) notAhead(what string, at Stamp) {
	fault.Need(at.Time().Sub(tx.Now) <= record.Slack, fault.Usagef("the time of the %s, %s, is in the future", what, at.Minute()).
		Try("give the right time, or correct the clock"))
}

// Bench writes down one thing that was done at the bench; one that is there already (by its key) changes nothing. A zero
// At means now; an earlier one, of a tablet out of reach, is kept beside the clock, and the gate is looked at for it.
// withoutReview is the reason to go on without a valid review. An entry that cannot follow those before is a Usage error.
func (v Verbs) Bench(ref string, entry run.Entry, withoutReview string) (Batch, error) {
	return change(v, false, func(tx *Tx) Batch {
		b := tx.find(ref)
		if slices.ContainsFunc(b.Bench, func(had run.Entry) bool { return had.Key == entry.Key }) {
			return *b
		}
		return fault.Must(tx.add(b.ID.String(), record.Bench, entry.By, entry.At, func(tx *Tx, b *Batch, e *Event) {
			fault.Check(run.Replay(b.Bench).Check(entry))
			fault.Need(entry.Pieces <= b.Made(),
				fault.Usagef("load %d has %d pieces and batch %s has only %d, spares included", entry.Load, entry.Pieces, b.Number, b.Made()).Try("count again"))
			tx.notAhead("entry", e.At)
			if entry.Do != run.Judged { // pieces are judged afterwards, away from the bath
				tx.gate(b, e, e.By, withoutReview)
			}
			e.Bench = &entry
		}))
	})
}

// gate refuses work on a batch without a valid review or a reason. A reason is kept once.
func (tx *Tx) gate(b *Batch, e *Event, by, reason string) {
	if e.Reason = strings.TrimSpace(reason); e.Reason != "" {
		if e.Reason == b.WithoutReview {
			e.Reason = ""
		}
		return
	}
	fault.Need(b.Latest().ID.Timestamp().Sub(tx.Now) <= record.Slack, fault.Safetyf("the clock says %s, which is before the last entry of batch %s", StampOf(tx.Now).Minute(), b.Number).
		Try("correct the clock: a review is valid for one day only"))
	fault.Check(b.Ready(e.At.Time(), by))
	people := b.Review.People()
	fault.Need(e.Kind != record.Bench || e.By != "" || len(people) == 0,
		fault.Safetyf("batch %s was reviewed by %s, and no person is named for this", b.Number, strings.Join(people, " and ")).Try("say who is at the bath: --by NAME"))
}

// Log adds the result of a batch, once; Amend corrects it. The counts may not exceed pieces and spares, nor the causes
// what is not good. A batch that was not dipped must have had a valid review at o.At, or there must be a reason.
func (v Verbs) Log(ref string, r Result, o LogOptions) (Batch, error) {
	return v.add(ref, record.Logged, o.By, o.At, func(tx *Tx, b *Batch, e *Event) {
		r.Logged = e.At
		e.Result = &r
		err := fault.Caught(func() { tx.gate(b, e, "", o.WithoutReview) }) // whoever counts need not have been at the bath
		if b.Dip != nil {
			return
		}
		if refusal, ok := errors.AsType[*fault.Error](err); ok {
			err = refusal.Try("if it is not run yet: hepar review %s; if it was run on the day of its review, add --at TIME; if it was run without one, add --without-review REASON", b.Number)
		}
		fault.Check(err)
	})
}

// LogNew adds a result without a saved sheet: a new batch, planned and logged in one, at p.Created by p.By
// unless o says otherwise. The reason why it was done without a review is required.
func (v Verbs) LogNew(p Plan, r Result, o LogOptions) (Batch, error) {
	return change(v, true, func(tx *Tx) Batch {
		fault.Need(strings.TrimSpace(o.WithoutReview) != "", fault.Safetyf("a batch without a sheet has no safety review").
			Try("give the reason: --without-review \"written down from the old book\""))
		b := fault.Must(tx.Create(p, nil))
		if o.By = cmp.Or(o.By, b.By); o.At.IsZero() {
			o.At = b.Created.Time()
		}
		return fault.Must(tx.Log(b.ID.String(), r, o))
	})
}

// Amend corrects one field of a batch (see Fields) and keeps the value before and the reason, which is
// required. Value is as people write it: "71 C", "patchy=2"; the empty text clears a field that may be empty.
func (v Verbs) Amend(ref, field, value, reason, by string) (Batch, error) {
	return v.add(ref, record.Amended, by, time.Time{}, func(_ *Tx, b *Batch, e *Event) {
		f, ok := Named(Fields(), field)
		fault.Need(ok, fault.Usagef("a batch has no field %q to amend", measure.Clean(field)).
			Try("name one of %s", strings.Join(Names(Fields()), ", ")))
		fault.Need(!f.OfResult || b.Result != nil, fault.Failuref("batch %s has no result yet, so its %s cannot be amended", b.Number, f.Label).
			Try("log the batch first"))
		correct(e, b, f, "batch "+b.Number, value)
		because(e, reason)
	})
}

// correct fills in an event that changes a field of a batch or a container to what a person wrote.
func correct(e *Event, of record.Thing, f Field, named, value string) {
	fixed, err := f.Parse(value)
	fault.Check(err)
	e.Field, e.Old, e.New = f.Name, f.Get(of), fixed
	fault.Check(f.Set(of, fixed))
	fault.Need(e.Old != e.New, fault.Usagef("%s already has %q as its %s", named, fixed, f.Label).Try("there is nothing to do"))
}

// because sets the reason of an event that must have one.
func because(e *Event, reason string) {
	e.Reason = strings.TrimSpace(reason)
	fault.Need(e.Reason != "", fault.Usagef("--reason is required").Try("give the reason: --reason \"counted again under the lamp\" or \"order cancelled\""))
}

// Withdraw marks a batch as one that does not count, for a reason, which is required. Nothing is deleted.
func (v Verbs) Withdraw(ref, reason, by string) (Batch, error) {
	return v.add(ref, record.Withdrawn, by, time.Time{}, func(_ *Tx, _ *Batch, e *Event) { because(e, reason) })
}

// SignOff records that a second person has looked through the record of a logged batch. It refuses whoever
// logged or amended it, and a batch that is signed off and was not amended since.
func (v Verbs) SignOff(ref, by, note string) (Batch, error) {
	return v.add(ref, record.SignedOff, by, time.Time{}, func(_ *Tx, b *Batch, e *Event) {
		e.Note = note
		did, others := "", false
		for _, had := range b.Events {
			same := record.Fold(had.By) == record.Fold(e.By)
			if same && (had.Kind == record.Logged || had.Kind == record.Amended) {
				did = had.Kind
			}
			others = others || had.By != "" && !same
		}
		if b.SignOff != nil {
			fault.Need(b.SignOff.AmendedSince, fault.Failuref("batch %s is already signed off by %s", b.Number, b.SignOff.By).
				Try("there is nothing to do; it can be signed off again only after an amendment"))
		}
		fault.Need(record.Fold(e.By) != "", fault.Usagef("--by is required").Try("name the second person"))
		fault.Need(did == "", fault.Failuref("batch %s was %s by %s, who cannot sign it off as well", b.Number, did, e.By).
			Try("let a second person check it and sign with --by NAME"))
		fault.Need(others, fault.Failuref("the record of batch %s names no other person, so it cannot have a second person", b.Number).
			Try("add --by NAME when you log the batch"))
	})
}

// ReadPhoto returns digest, size and time of the picture at path. By and Note are left to the caller.
func ReadPhoto(path string) (Photo, error) {
	sum, n := sha256.New(), int64(0)
	info, err := os.Stat(path)
	if err == nil {
		err = store.Regular(path) // before open, which would wait for ever on a pipe
	}
	if err == nil {
		var file *os.File
		if file, err = os.Open(path); err == nil {
			defer file.Close()
			n, err = io.Copy(sum, file)
		}
	}
	if err != nil {
		return Photo{}, fault.Failuref("the photo cannot be read").At(path).Because(store.Reason(err)).
			Try("name a photo that you may read")
	}
	if n == 0 {
		return Photo{}, fault.Failuref("the photo is empty").At(path).Try("name the file of one photo")
	}
	return Photo{Path: path, SHA256: sum.Sum(nil), Bytes: n, Taken: StampOf(info.ModTime())}, nil
}

// AddPhoto adds a photograph to a batch: see ReadPhoto. The same picture is not added twice.
func (v Verbs) AddPhoto(ref string, p Photo) (Batch, error) {
	return v.add(ref, record.PhotoAdded, p.By, time.Time{}, func(_ *Tx, b *Batch, e *Event) {
		for _, had := range b.Photos {
			fault.Need(!bytes.Equal(had.SHA256, p.SHA256), fault.Usagef("batch %s already has this photo, as %s", b.Number, had.Path).
				Try("there is nothing to do"))
		}
		p.By = e.By
		e.Photo = &p
	})
}

// AddWaste records what a batch left as waste, and in which container. A zero At means now. See Waste.Instead.
func (v Verbs) AddWaste(ref string, w Waste) (Batch, error) {
	return v.add(ref, record.WasteAdded, w.By, w.At.Time(), func(_ *Tx, _ *Batch, e *Event) {
		w.By, w.At = e.By, e.At
		e.Waste = &w
	})
}
