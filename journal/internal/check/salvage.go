package check

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// Gap is a row of events that could not be read.
type Gap struct {
	From uint64 `json:"from"`
	To   uint64 `json:"to"`
}

// SalvageReport says what was saved of a damaged journal and what was not.
type SalvageReport struct {
	From       string `json:"from"`
	Into       string `json:"into"`
	Bytes      int64  `json:"bytes"`  // of the damaged file
	ID         string `json:"id"`     // of the journal
	NewID      bool   `json:"new_id"` // the id of the damaged journal could not be read
	Events     int    `json:"events"`
	Batches    int    `json:"batches"`
	Containers int    `json:"containers"`

	LostEvents     uint64    `json:"lost_events"` // as far as can be told
	Gaps           []Gap     `json:"gaps"`        // where they were, at most 200
	MoreGaps       int       `json:"more_gaps"`
	TailLost       bool      `json:"tail_lost"` // events after the last one may be lost as well: it cannot be told
	Damage         []Finding `json:"damage"`    // of the damaged file, at most 200
	MoreDamage     int       `json:"more_damage"`
	Incomplete     []Finding `json:"incomplete"` // batches, containers and texts of which something is lost, at most 200
	MoreIncomplete int       `json:"more_incomplete"`

	Verified Report `json:"verified"` // of the new journal
}

// Whole says whether nothing was lost.
func (r SalvageReport) Whole() bool {
	return r.LostEvents == 0 && !r.TailLost && len(r.Incomplete) == 0
}

// Salvage makes a new journal at into of everything that is whole in a damaged one,
// which it only reads: every event, in its order, and every recipe and sheet; the rest
// follows from them. The new journal says for ever what it lacks. The error is of kind
// Failure if there is something at into, and of kind Damaged if nothing can be read.
func Salvage(f *store.File, into string) (SalvageReport, error) {
	report := SalvageReport{From: f.Path, Into: into, Gaps: []Gap{}, Damage: []Finding{}}
	s := &salvage{next: 1, SalvageReport: report}
	err := fault.Caught(func() {
		taken := fault.Failuref("there is something at %s already", into).Try("name a new file")
		if _, err := os.Lstat(into); err == nil {
			fault.Check(taken)
		}
		s.file = fault.Must(f.Hold(false))
		defer s.file.Close()
		s.Bytes = fault.Must(f.Size())
		s.scan()
		if len(s.events) == 0 && len(s.texts) == 0 {
			fault.Check(fault.Damagedf("nothing of a journal can be read in %s", f.Path).Try("restore the last backup"))
		}
		fault.Check(f.Beside(into, func(made *store.File) {
			made.Called = into
			s.write(made)
			s.Verified = fault.Must(Verify(made))
			s.Verified.Path, s.ID, s.Batches, s.Containers = into, s.Verified.ID, s.Verified.Batches, s.Verified.Containers
			s.Incomplete, s.MoreIncomplete = s.Verified.Missing, s.Verified.MoreMissing
			_, err := store.Give(made.Path, into, 1)
			if errors.Is(err, fs.ErrExist) {
				err = taken
			}
			fault.Check(err)
		}))
	})
	return s.SalvageReport, err
}

// place is where a frame lies: at which byte, and how many bytes of it. The digests
// of an event and of the one before are cut to their first four bytes.
type place struct {
	seq          uint64 // of an event
	at           int64
	size         uint32
	digest, prev uint32
	rank         int8 // among copies: 2 if it is live, on a page to which the header leads, and 1 if the event after names it
}

// salvage is one salvage. It holds places and no content.
type salvage struct {
	SalvageReport
	file *os.File

	about  store.About
	head   store.Head // the newest
	known  bool       // the head is that of the last event
	events []place    // copies of one may lie in several places
	texts  []place
	next   uint64 // the event that is written next, if it was not lost
}

func (s *salvage) hurt(where string, err error) { list(&s.Damage, &s.MoreDamage, where, "%v", err) }

// scan finds every frame in the file and chooses among copies.
func (s *salvage) scan() {
	pages := store.Walk(s.file)
	for _, err := range pages.Faults {
		s.hurt("pages", err)
	}
	for f, err := range store.ScanFrames(s.file, s.Bytes) {
		p := place{at: f.At, size: uint32(len(f.Frame))}
		if pages.Live(f.At) {
			p.rank = 2
		}
		var link store.Link
		var blob store.Blob
		var head store.Head
		var about store.About
		is := func(kind byte, v any) bool { return f.Kind == kind && record.Unmarshal(f.Body, v) == nil }
		switch {
		case err != nil:
			if p.rank > 0 { // what lies on a page that nothing uses may well be half overwritten
				s.hurt(fmt.Sprint("byte ", f.At), err)
			}
		case is(store.EventFrame, &link) && link.Seq > 0 && len(link.Prev) == sha256.Size:
			sum := sha256.Sum256(f.Frame)
			p.seq, p.digest, p.prev = link.Seq, binary.BigEndian.Uint32(sum[:]), binary.BigEndian.Uint32(link.Prev)
			s.events = append(s.events, p)
		case is(store.BlobFrame, &blob) && len(blob.SHA256) == sha256.Size:
			s.texts = append(s.texts, p)
		case is(store.HeadFrame, &head) && !s.known:
			if s.known = p.rank > 0 && head.Tx == pages.Last; s.known || head.Seq >= s.head.Seq {
				s.head = head
			}
		case is(store.AboutFrame, &about) && (p.rank > 0 || s.about.Journal.IsZero()):
			s.about = about
		}
	}
	s.choose()
}

// choose decides which events are written: what live pages hold; of the rest, the
// copies that the event after them names as the one before. A write that was never
// finished left events that did not happen.
func (s *salvage) choose() {
	slices.SortStableFunc(s.events, func(a, b place) int { return cmp.Compare(b.seq, a.seq) })
	var next, last place // the event after; of the last, what the head names
	if len(s.head.Digest) == sha256.Size {
		last = place{seq: s.head.Seq + 1, prev: binary.BigEndian.Uint32(s.head.Digest)}
	}
	kept := s.events[:0]
	for _, p := range s.events {
		if p.seq != last.seq {
			next = last
		}
		follows := p.seq+1 == next.seq
		if follows && p.digest == next.prev {
			p.rank++
		}
		switch {
		case p.rank == 0 && (follows || s.known && p.seq > s.head.Seq): // it never happened
			continue
		case p.seq != last.seq || len(kept) == 0:
			kept = append(kept, p)
		case p.rank > last.rank:
			kept[len(kept)-1] = p
		}
		last = kept[len(kept)-1]
	}
	slices.Reverse(kept)
	s.events = kept
}

// write writes what was found: the texts, the events in their order, and then every batch and
// container replayed from them, which makes the lists, the index and the numbers.
func (s *salvage) write(made *store.File) {
	s.NewID, s.TailLost = s.about.Journal.IsZero(), !s.known
	fault.Check(made.Lay(s.about.Journal, store.Head{Numbers: s.head.Numbers, Salvaged: true}))
	store.InParts(made, slices.All(s.texts), func(tx *store.Tx, _ int, p place) (weight int) {
		var b store.Blob
		frame, err := s.read(p, &b)
		if tx.HasBlob(b.SHA256) { // a copy
			return 0
		} else if err == nil {
			_, err = b.Content()
		}
		if err != nil {
			s.hurt(fmt.Sprint("byte ", p.at), err)
			return 0
		}
		tx.PutBlobFrame(b.SHA256, frame)
		return len(frame)
	})
	lists := map[record.ID][]uint64{} // the events of each, by their new places
	store.InParts(made, slices.All(s.events), func(tx *store.Tx, _ int, p place) (weight int) {
		var link store.Link
		var e *record.Event
		frame, err := s.read(p, &link)
		if err == nil {
			e, err = record.Decode(link.Body)
		}
		if err != nil {
			s.hurt(fmt.Sprint("event ", p.seq), err)
			return 0
		}
		s.gap(p.seq)
		s.Events++
		tx.Chain(e, link.Body)
		if !e.Of.IsZero() {
			lists[e.Of] = append(lists[e.Of], e.Seq)
		}
		return len(frame)
	})
	s.gap(s.head.Seq + 1)
	ids := slices.SortedFunc(maps.Keys(lists), func(a, b record.ID) int { return cmp.Compare(lists[a][0], lists[b][0]) })
	store.InParts(made, slices.All(ids), func(tx *store.Tx, _ int, id record.ID) (weight int) {
		var events []*record.Event
		for _, seq := range lists[id] {
			events = append(events, tx.Event(seq))
		}
		tx.Enlist(events)
		return len(events) << 10
	})
	name, _ := record.Clean("name of the file", "path", filepath.Base(s.From)) // empty if it cannot be kept
	fault.Check(made.Update(func(tx *store.Tx) error {
		tx.Append(&record.Event{ID: tx.NewID(), Kind: record.Salvaged, At: record.StampOf(tx.Now), Source: &record.Source{
			How: "salvaged", File: name, Journal: s.about.Journal, SHA256: tx.Head.Digest, Events: uint64(s.Events), Lost: s.LostEvents, Tail: s.TailLost,
		}})
		return nil
	}))
}

func (s *salvage) read(p place, v any) (frame []byte, err error) {
	frame = make([]byte, p.size)
	if _, err := s.file.ReadAt(frame, p.at); err != nil {
		return nil, err
	}
	f, err := store.Unframe(frame)
	return frame, cmp.Or(err, record.Unmarshal(f.Body, v))
}

// gap counts the events that were lost before an event that is there.
func (s *salvage) gap(to uint64) {
	if s.next < to {
		s.LostEvents += to - s.next
		if len(s.Gaps) < mostListed {
			s.Gaps = append(s.Gaps, Gap{s.next, to - 1})
		} else {
			s.MoreGaps++
		}
	}
	s.next = to + 1
}
