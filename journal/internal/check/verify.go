package check

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// mostListed is how many entries a list of a report has; the rest are only counted.
const mostListed = 200

// Finding is one thing that is wrong with a journal, or lost of it.
type Finding struct {
	Where string `json:"where"` // the pages, an event, a batch
	What  string `json:"what"`
}

// Content says what a journal holds.
type Content struct {
	ID      string `json:"id"` // of the journal
	Events  int    `json:"events"`
	Batches int    `json:"batches"`
	Head    string `json:"head"` // SHA-256 of the last event: whoever noted it can tell later that nothing before it was changed
}

// Report is what Verify found.
type Report struct {
	Path   string `json:"path"`
	Format int    `json:"format"`
	Content
	Bytes      int64     `json:"bytes"` // size of the file
	Containers int       `json:"containers"`
	Findings   []Finding `json:"findings"`
	More       int       `json:"more"` // findings beyond those listed

	Missing     []Finding `json:"missing"` // what was lost before the journal was salvaged: no fault of this file
	MoreMissing int       `json:"more_missing"`
	Newer       []Finding `json:"newer"` // what a newer hepar wrote and this one does not understand
	MoreNewer   int       `json:"more_newer"`
}

// Sound says that nothing is wrong.
func (r Report) Sound() bool { return len(r.Findings) == 0 }

// Err returns nil for a sound journal, and else a fault of kind Damaged.
func (r Report) Err() error {
	if r.Sound() {
		return nil
	}
	f := r.Findings[0]
	return fault.Damagedf("the journal %s is damaged: %s: %s (%s)", r.Path, f.Where, f.What, measure.Counted(len(r.Findings)+r.More, "finding", "findings")).
		Try("write nothing more to it: copy the file, then restore the last backup or run 'hepar journal salvage'")
}

func (r *Report) add(where, format string, args ...any) {
	list(&r.Findings, &r.More, where, format, args...)
}

func (r *Report) missing(where, format string, args ...any) {
	list(&r.Missing, &r.MoreMissing, where, format, args...)
}

func (r *Report) newer(where, format string, args ...any) {
	list(&r.Newer, &r.MoreNewer, where, format, args...)
}

// list adds an entry to a list that has an end. What comes from a file is cleaned.
func list(to *[]Finding, more *int, where, format string, args ...any) {
	if len(*to) == mostListed {
		*more++
		return
	}
	*to = append(*to, Finding{Where: measure.Clean(where), What: measure.Clean(fmt.Sprintf(format, args...))})
}

// Verify reads the whole journal and returns what is wrong with it in the report. An
// error means that it could not look: there is no file, or somebody holds it. Writers
// wait meanwhile.
func Verify(f *store.File) (report Report, err error) {
	report = Report{Path: f.Path, Findings: []Finding{}, Missing: []Finding{}, Newer: []Finding{}}
	if report.Bytes, err = f.Size(); err != nil {
		return report, err
	}
	err = f.Doubted().View(func(tx *store.Tx) error {
		(&verifier{Tx: tx, Report: &report, booked: map[booking]float64{}}).run()
		return nil
	})
	if fault.KindOf(err) == fault.Damaged { // what stopped the reading is a finding like the others
		report.add("file", "%v", cmp.Or(errors.Unwrap(err), err)) // without the sentence that names the file
		err = nil
	}
	return report, err
}

// verifier checks the content of a journal.
type verifier struct {
	*store.Tx
	*Report
	listed []bool              // by sequence number: the event stands in a list
	broken bool                // a list could not be read: what follows from it is not known
	keys   int                 // that should be in the index
	lacks  bool                // the index lacks one of them
	booked map[booking]float64 // what batches took, less what was booked off
}

// booking is what a batch took from a container in one unit.
type booking struct {
	container, batch record.ID
	unit             string
}

func (v *verifier) run() {
	head := v.Tx.Head
	v.Format, v.ID = v.About.Format, v.About.Journal.String()
	v.Events, v.Report.Head = int(head.Seq), hex.EncodeToString(head.Digest)
	if head.Seq > uint64(v.Bytes) {
		v.add("head", "it counts %d events", head.Seq)
		return
	}
	v.listed = make([]bool, head.Seq+1)
	v.hurt("index", func() {
		for id := range v.Everything() {
			v.hurt("list "+id.String(), func() { v.replay(id) })
		}
	})
	v.chain()
	v.index()
	for b, left := range v.booked {
		if record.Tidy(left) != 0 && !v.broken && v.Has(b.container) {
			v.wrong("jar "+b.container.String(), "the amounts taken from it do not match the batches that took them")
		}
	}
	for sum := range v.Blobs() {
		if err := fault.Caught(func() { v.Blob(sum) }); err != nil {
			v.add(fmt.Sprintf("text %.4x", sum), "%v", err)
		}
	}
}

// hurt reads lists, and notes if they cannot be read.
func (v *verifier) hurt(where string, read func()) {
	if err := fault.Caught(read); err != nil {
		v.add(where, "%v", err)
		v.broken = true
	}
}

// wrong adds a finding or, in a journal from which events were lost, something missing.
func (v *verifier) wrong(where, format string, args ...any) {
	if v.Tx.Head.Salvaged {
		v.missing(where, format, args...)
	} else {
		v.add(where, format, args...)
	}
}

// chain checks that every event is there, whole, and names the one before.
func (v *verifier) chain() {
	next, digest := uint64(1), v.About.ChainStart()
	missing := func(to uint64) {
		for ; next < to; next++ {
			v.add("chain", "event %d is missing", next)
			digest = nil
		}
	}
	for seq, frame := range v.Frames() {
		if seq < next || seq > v.Tx.Head.Seq {
			v.add("chain", "there is an event %d, and the head counts %d", seq, v.Tx.Head.Seq)
			continue
		}
		missing(seq)
		next++
		link, err := store.LinkOf(seq, frame)
		if err == nil && !v.listed[seq] {
			err = fault.Caught(func() { v.unlisted(v.Event(seq)) })
		}
		if err != nil {
			v.add("chain", "%v", err)
			digest = nil
			continue
		}
		if digest != nil && !bytes.Equal(link.Prev, digest) {
			v.add("chain", "event %d does not follow from the event before", seq)
		}
		sum := sha256.Sum256(frame)
		digest = sum[:]
	}
	missing(v.Tx.Head.Seq + 1)
	if digest != nil && !bytes.Equal(digest, v.Tx.Head.Digest) {
		v.add("chain", "the head does not name the last event")
	}
}

// unlisted looks at an event that stands in no list: one of the journal.
func (v *verifier) unlisted(e *record.Event) {
	where := fmt.Sprint("event ", e.Seq)
	switch {
	case !e.Of.IsZero():
		if !v.broken {
			v.add(where, "it is missing in the lists of the batches and jars")
		}
	case e.Kind != record.TakenOver && e.Kind != record.Salvaged:
		v.newer(where, "an event of the kind %q", e.Kind)
	default:
		v.checked(where, []*record.Event{e}, nil)
		if e.Source != nil && e.Source.Lost > 0 {
			v.missing(where, "%d events could not be salvaged", e.Source.Lost)
		}
		if e.Source != nil && e.Source.Tail {
			v.missing(where, "later events may have been lost as well")
		}
	}
}

// replay replays a batch or container, which must be as this program would have made it.
func (v *verifier) replay(id record.ID) {
	events := v.EventsOf(id)
	for _, e := range events { // of which each stands in one list
		if e.Seq >= uint64(len(v.listed)) || v.listed[e.Seq] {
			fault.Check(fmt.Errorf("event %d is in two lists, or comes after the last event", e.Seq))
		}
		v.listed[e.Seq] = true
	}
	r := store.Replay(id, events)
	where, past := "batch "+id.String(), r.Past()
	_, stock := r.(*record.Container)
	if stock {
		where = "container " + id.String()
		v.Containers++
	} else {
		v.Batches++
	}
	v.checked(where, events, past.Newer)
	if err := r.Fits(); err != nil && (len(past.Newer) == 0 || len(past.Faults) > 0) {
		v.wrong(where, "%v", err)
	}
	if series, n := store.Series(r.Short()); n > v.Tx.Head.Numbers[series] {
		v.add(where, "its number %s may be given out again", r.Short())
	}
	for _, k := range r.Keys() {
		v.keys++
		v.lacks = v.lacks || !v.HasKey(k, id)
	}
	for _, e := range events {
		for _, u := range e.Uses {
			if !stock {
				v.booked[booking{u.Container, id, u.Unit}] += u.Amount
			} else if e.Kind == record.StockUsed && !e.For.IsZero() {
				v.booked[booking{id, e.For, u.Unit}] -= u.Amount
			}
		}
		for _, sum := range e.Texts() {
			if !v.Noted(sum) {
				v.wrong(where, "the text %.4x of its recipe or sheet is missing", sum)
			}
		}
	}
}

// checked checks events one by one. A newer hepar may have had other limits.
func (v *verifier) checked(where string, events []*record.Event, newer []string) {
	for i, e := range events {
		if err := e.Check(); err != nil && len(newer) == 0 {
			v.add(where, "event %d: %v", e.Seq, err)
		} else if err != nil {
			v.newer(where, "event %d: %v", e.Seq, err)
		}
		if i > 0 && events[i-1].ID == e.ID {
			v.add(where, "two events have the id %s", e.ID)
		}
	}
	for _, what := range newer {
		v.newer(where, "%s", what)
	}
}

func (v *verifier) index() {
	keys := 0
	err := fault.Caught(func() {
		for range v.Keys() {
			keys++
		}
	})
	if err != nil {
		v.add("index", "%v", err)
	} else if (v.lacks || keys != v.keys) && !v.broken {
		v.add("index", "its keys are not those that follow from the batches and jars")
	}
}
