package check

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
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
func Salvage(f *store.File, into string, watch func(events int)) (SalvageReport, error) {
	report := SalvageReport{From: f.Path, Into: into, Gaps: []Gap{}, Damage: []Finding{}}
	taken := fault.Failuref("there is something at %s already", into).Try("name a new file")
	if _, err := os.Lstat(into); err == nil {
		return report, taken
	}
	file, err := f.Hold(false)
	if err != nil {
		return report, err
	}
	defer file.Close()
	if report.Bytes, err = file.Seek(0, io.SeekEnd); err != nil {
		return report, f.Explain(err)
	}
	s := &salvage{SalvageReport: &report, file: file, watch: watch, blobs: map[[32]byte]place{}, next: 1}
	s.scan()
	if len(s.events) == 0 && len(s.blobs) == 0 {
		return report, fault.Damagedf("nothing of a journal can be read in %s", f.Path).Try("restore the last backup")
	}
	if s.made, err = f.Beside(into, nil); err != nil {
		return report, err
	}
	defer s.made.Drop()
	s.made.Called = into
	if err := s.write(); err != nil {
		return report, store.NoRoom(into, err)
	}
	verified, err := Verify(s.made, nil)
	if err != nil {
		return report, err
	}
	verified.Path = into
	report.Verified, report.ID, report.Batches, report.Containers = verified, verified.ID, verified.Batches, verified.Containers
	report.Incomplete, report.MoreIncomplete = verified.Missing, verified.MoreMissing
	if err = store.Place(s.made.Path, into); errors.Is(err, fs.ErrExist) {
		err = taken
	}
	return report, store.NoRoom(into, err)
}

// place is where a frame lies: at which byte, and how many bytes of it. The digests
// of an event and of the one before are cut to their first four bytes.
type place struct {
	seq          uint64 // of an event
	at           int64
	size         uint32
	digest, prev uint32
	live         bool // on a page to which the header leads
	named        bool // the event after names it as the one before
}

// salvage is one salvage. It holds places and no content.
type salvage struct {
	*SalvageReport
	file  *os.File
	made  *store.File
	watch func(int)

	about  store.About
	head   store.Head         // the newest
	known  bool               // the head is that of the last event
	events []place            // copies of one event may lie in several places
	blobs  map[[32]byte]place // by their SHA-256
	next   uint64             // the event that is written next, if it was not lost
}

func (s *salvage) hurt(where string, err error) { list(&s.Damage, &s.MoreDamage, where, "%v", err) }

// decoded returns the body of a frame; nil if it is not of that kind.
func decoded[T any](body []byte) *T {
	var v T
	if record.Unmarshal(body, &v) != nil {
		return nil
	}
	return &v
}

// scan finds every frame in the file and chooses among copies.
func (s *salvage) scan() {
	pages := store.Walk(s.file)
	for _, err := range pages.Faults {
		s.hurt("pages", err)
	}
	bad := func(at int64, err error) {
		if pages.Live(at) { // what lies on a page that nothing uses may well be half overwritten
			s.hurt(fmt.Sprint("byte ", at), err)
		}
	}
	store.ScanFrames(s.file, s.Bytes, bad, func(at int64, frame []byte) bool {
		kind, body, size, _ := store.Unframe(frame)
		p := place{at: at, size: uint32(size), live: pages.Live(at)}
		switch kind {
		case store.EventFrame:
			if link := decoded[store.Link](body); link != nil && link.Seq > 0 && len(link.Prev) == sha256.Size {
				sum := sha256.Sum256(frame)
				p.seq, p.digest, p.prev = link.Seq, binary.BigEndian.Uint32(sum[:]), binary.BigEndian.Uint32(link.Prev)
				s.events = append(s.events, p)
			}
		case store.BlobFrame:
			if b := decoded[store.Blob](body); b != nil && len(b.SHA256) == sha256.Size {
				if had, there := s.blobs[[32]byte(b.SHA256)]; !there || p.live && !had.live {
					s.blobs[[32]byte(b.SHA256)] = p
				}
			}
		case store.HeadFrame:
			if h := decoded[store.Head](body); h != nil && !s.known {
				s.known = p.live && h.Tx == pages.Last
				if s.known || h.Seq >= s.head.Seq {
					s.head = *h
				}
			}
		case store.AboutFrame:
			if a := decoded[store.About](body); a != nil && (p.live || s.about.Journal.IsZero()) {
				s.about = *a
			}
		}
		return true
	})
	s.choose()
}

// choose decides which events are written: what live pages hold; of the rest, the
// copies that the event after them names as the one before. A write that was never
// finished left events that did not happen.
func (s *salvage) choose() {
	slices.SortStableFunc(s.events, func(a, b place) int { return cmp.Compare(b.seq, a.seq) })
	var next place // the event after; of the last, what the head names
	if len(s.head.Digest) == sha256.Size {
		next = place{seq: s.head.Seq + 1, prev: binary.BigEndian.Uint32(s.head.Digest)}
	}
	kept := s.events[:0]
	for _, p := range s.events {
		var best *place // of the copies before this one
		if n := len(kept); n > 0 && kept[n-1].seq == p.seq {
			best = &kept[n-1]
		} else if n > 0 {
			next = kept[n-1]
		}
		follows := p.seq+1 == next.seq
		p.named = follows && p.digest == next.prev
		switch {
		case !p.live && !p.named && (follows || s.known && p.seq > s.head.Seq): // it never happened
		case best == nil:
			kept = append(kept, p)
		case p.live && !best.live || p.named && !best.named && !best.live:
			*best = p
		}
	}
	slices.Reverse(kept)
	s.events = kept
}

func (s *salvage) write() error {
	s.NewID, s.TailLost = s.about.Journal.IsZero(), !s.known
	if err := s.made.Lay(s.about.Journal); err != nil {
		return err
	}
	if err := s.made.Update(func(tx *store.Tx) error {
		tx.Skip(s.head.Numbers)
		tx.MarkSalvaged()
		return nil
	}); err != nil {
		return err
	}
	texts := slices.SortedFunc(maps.Values(s.blobs), func(a, b place) int { return cmp.Compare(a.at, b.at) })
	if err := store.InParts(s.made, slices.All(texts), s.writeText); err != nil {
		return err
	}
	if err := s.writeEvents(); err != nil {
		return err
	}
	name, _ := record.PathLine("name of the file", filepath.Base(s.From)) // empty if it cannot be kept
	return s.made.Update(func(tx *store.Tx) error {
		_, digest := tx.Head()
		_, err := tx.Append(&record.Event{ID: tx.NewID(), Kind: record.Salvaged, At: record.StampOf(tx.Now), Source: &record.Source{
			How: "salvaged", File: name, Journal: s.about.Journal, SHA256: digest, Events: uint64(s.Events), Lost: s.LostEvents, Tail: s.TailLost,
		}})
		return err
	})
}

func (s *salvage) read(p place, v any) (frame []byte, err error) {
	frame = make([]byte, p.size)
	if _, err := s.file.ReadAt(frame, p.at); err != nil {
		return nil, err
	}
	_, body, _, err := store.Unframe(frame)
	return frame, cmp.Or(err, record.Unmarshal(body, v))
}

func (s *salvage) writeText(tx *store.Tx, _ int, p place) (weight int) {
	var b store.Blob
	frame, err := s.read(p, &b)
	if err == nil {
		_, err = b.Content()
	}
	if err != nil {
		s.hurt(fmt.Sprint("byte ", p.at), err)
		return 0
	}
	tx.PutBlobFrame(b.SHA256, frame)
	return len(frame)
}

// writeEvents writes the events in their order. Then it replays every batch and
// container from them, which makes the lists, the index and the numbers.
func (s *salvage) writeEvents() error {
	lists := map[record.ID][]uint64{} // the events of each, by their new places
	if err := store.InParts(s.made, slices.All(s.events), func(tx *store.Tx, _ int, p place) (weight int) {
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
		if s.Events++; s.watch != nil && s.Events%watchEvery == 0 {
			s.watch(s.Events)
		}
		tx.Chain(e, link.Body)
		if !e.Of.IsZero() {
			lists[e.Of] = append(lists[e.Of], e.Seq)
		}
		return len(frame)
	}); err != nil {
		return err
	}
	s.gap(s.head.Seq + 1)
	ids := slices.SortedFunc(maps.Keys(lists), func(a, b record.ID) int { return cmp.Compare(lists[a][0], lists[b][0]) })
	return store.InParts(s.made, slices.All(ids), func(tx *store.Tx, _ int, id record.ID) (weight int) {
		var events []*record.Event
		for _, seq := range lists[id] {
			events = append(events, tx.Event(seq))
		}
		_, err := tx.Enlist(events)
		fault.Check(err)
		return len(events) << 10
	})
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

// HasFrames says whether there is anything of a journal in a file of so many bytes.
func HasFrames(file *os.File, size int64) (has bool) {
	store.ScanFrames(file, size, func(int64, error) {}, func(int64, []byte) bool { has = true; return false })
	return has
}
