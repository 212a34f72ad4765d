package check

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// chunk is how many events are written in one transaction, and chunkBytes how many
// bytes of texts: both bound the memory.
const (
	chunk      = 2000
	chunkBytes = 4 << 20
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
// which it only reads. Every event whose bytes are intact is saved, in its order,
// and so is every recipe and sheet; the rest of the journal follows from them. The
// new journal says for ever what it lacks.
//
// It returns an error of kind Failure if there is something at into, and of kind
// Damaged if nothing can be read.
func Salvage(f *store.File, into string, watch func(events int)) (SalvageReport, error) {
	report := SalvageReport{From: f.Path, Into: into, Gaps: []Gap{}, Damage: []Finding{}, Incomplete: []Finding{}}
	taken := fault.Failuref("there is something at %s already", into).Try("name a new file")
	if _, err := os.Lstat(into); err == nil {
		return report, taken
	}
	file, err := f.Hold(false)
	if err != nil {
		return report, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return report, f.Explain(err)
	}
	report.Bytes = info.Size()
	s := &salvage{file: file, SalvageReport: &report, watch: watch, events: map[uint64]place{}, twice: map[uint64][]place{}, blobs: map[[32]byte]place{}}
	s.scan()
	if len(s.order) == 0 && len(s.blobs) == 0 {
		return report, fault.Damagedf("nothing of a journal can be read in %s", f.Path).Try("restore the last backup")
	}
	made, err := store.Beside(into, nil)
	if err != nil {
		return report, err
	}
	defer made.Drop()
	made.Salvage, made.Called, made.Now = true, into, f.Now
	if err := s.write(made); err != nil {
		return report, store.NoRoom(into, err)
	}
	if report.Verified, err = Verify(made, nil); err != nil {
		return report, err
	}
	report.Verified.Path = into
	report.Events, report.Batches, report.Containers = len(s.order), report.Verified.Batches, report.Verified.Containers
	report.ID = report.Verified.ID
	for _, m := range report.Verified.Missing {
		list(&report.Incomplete, &report.MoreIncomplete, m.Where, "%s", m.What)
	}
	report.MoreIncomplete += report.Verified.MoreMissing
	if err := made.Sync(); err != nil {
		return report, store.NoRoom(into, err)
	}
	if err := store.Place(made.Path, into); errors.Is(err, fs.ErrExist) {
		return report, taken
	} else if err != nil {
		return report, store.NoRoom(into, err)
	}
	return report, nil
}

// place is where a frame lies, and the beginnings of its digest and of the digest
// of the frame before.
type place struct {
	at     int64
	digest uint32
	prev   uint32
	live   bool
}

// salvage is one salvage. It holds places and no content.
type salvage struct {
	*SalvageReport
	file  *os.File
	watch func(int)

	about  store.About
	head   store.Head         // the newest
	known  bool               // the head is that of the last event
	events map[uint64]place   // by their place in the chain
	twice  map[uint64][]place // those of which there are different copies
	blobs  map[[32]byte]place // by their SHA-256
	order  []uint64           // the events that are written
	at     []int64            // where each of them lies
	group  map[record.ID]int  // the batches and containers, in the order of their first event
	of     []int              // of each event in order: its group; below zero if it is of the journal
}

// scan finds every frame in the file and chooses among copies.
func (s *salvage) scan() {
	hurt := func(where string, err error) { list(&s.Damage, &s.MoreDamage, where, "%v", err) }
	live, last := store.Live(s.file, s.Bytes, func(err error) { hurt("pages", err) })
	bad := func(at int64, err error) {
		if live(at) { // what lies on a page that nothing uses may well be half overwritten
			hurt("byte "+strconv.FormatInt(at, 10), err)
		}
	}
	store.ScanFrames(s.file, s.Bytes, bad, func(at int64, frame []byte) bool {
		kind, body, _, err := store.Unframe(frame)
		if err != nil {
			return true
		}
		p := place{at: at, live: live(at)}
		switch kind {
		case store.EventFrame:
			var link store.Link
			if record.Unmarshal(body, &link) == nil && link.Seq > 0 && len(link.Prev) == sha256.Size {
				sum := sha256.Sum256(frame)
				p.digest, p.prev = binary.BigEndian.Uint32(sum[:]), binary.BigEndian.Uint32(link.Prev)
				s.found(link.Seq, p)
			}
		case store.BlobFrame:
			var b store.Blob
			if record.Unmarshal(body, &b) == nil && len(b.SHA256) == sha256.Size {
				if had, there := s.blobs[[32]byte(b.SHA256)]; !there || p.live && !had.live {
					s.blobs[[32]byte(b.SHA256)] = p
				}
			}
		case store.HeadFrame:
			var h store.Head
			if record.Unmarshal(body, &h) != nil || s.known {
				break
			}
			s.known = p.live && h.Tx == last
			if s.known || h.Seq >= s.head.Seq {
				s.head = h
			}
		case store.AboutFrame:
			var a store.About
			if record.Unmarshal(body, &a) == nil && (p.live || s.about.Journal.IsZero()) {
				s.about = a
			}
		}
		return true
	})
	s.choose()
}

// found notes a copy of an event.
func (s *salvage) found(seq uint64, p place) {
	had, there := s.events[seq]
	switch {
	case !there:
		s.events[seq] = p
	case had.digest == p.digest:
		if p.live {
			s.events[seq] = p
		}
	default: // a write that was never finished left an event that did not happen
		if s.twice[seq] == nil {
			s.twice[seq] = []place{had}
		}
		s.twice[seq] = append(s.twice[seq], p)
	}
}

// choose decides which events are written: what live pages hold; of the rest, the
// copies that the event after them names as the one before.
func (s *salvage) choose() {
	seqs := slices.Sorted(maps.Keys(s.events))
	if s.known {
		seqs = slices.DeleteFunc(seqs, func(seq uint64) bool { return seq > s.head.Seq && !s.events[seq].live })
	}
	var next place // the event after; of the last, what the head names
	follows := uint64(0)
	if len(s.head.Digest) == sha256.Size {
		next, follows = place{prev: binary.BigEndian.Uint32(s.head.Digest), live: s.known}, s.head.Seq
	}
	for i := len(seqs) - 1; i >= 0; i-- {
		seq := seqs[i]
		copies := s.twice[seq]
		if copies == nil {
			copies = []place{s.events[seq]}
		}
		named := seq == follows
		rank := func(p place) int {
			switch {
			case p.live:
				return 2
			case named && p.digest == next.prev:
				return 1
			}
			return 0
		}
		best := slices.MaxFunc(copies, func(a, b place) int { return cmp.Compare(rank(a), rank(b)) })
		if named && rank(best) == 0 { // it never happened
			continue
		}
		next, follows = best, seq-1
		s.order, s.at = append(s.order, seq), append(s.at, best.at)
	}
	slices.Reverse(s.order)
	slices.Reverse(s.at)
	s.events, s.twice = nil, nil
}

// write makes the new journal.
func (s *salvage) write(made *store.File) error {
	s.NewID = s.about.Journal.IsZero()
	if err := made.Lay(store.About{Journal: s.about.Journal}); err != nil {
		return err
	}
	return made.Many(func(update updater) error {
		err := update(func(tx *store.Tx) error {
			for of, n := range s.head.Numbers {
				tx.Skip(of, n)
			}
			return tx.MarkSalvaged()
		})
		for _, step := range []func(updater) error{s.writeTexts, s.writeEvents, s.writeLists, s.close} {
			if err == nil {
				err = step(update)
			}
		}
		return err
	})
}

// updater runs one transaction of the new journal.
type updater = func(func(*store.Tx) error) error

// close writes the event that says what was saved and what was not.
func (s *salvage) close(update updater) error {
	s.count()
	return update(func(tx *store.Tx) error {
		_, digest := tx.Head()
		_, err := tx.Append(&record.Event{ID: tx.NewID(), Kind: record.Salvaged, At: record.StampOf(tx.Now), Source: &record.Source{
			How: "salvaged", File: nameOf(s.From), Journal: s.about.Journal, SHA256: digest, Events: uint64(len(s.order)), Lost: s.LostEvents, Tail: s.TailLost,
		}})
		return err
	})
}

// nameOf returns the name of a file if it can be kept in an event.
func nameOf(path string) string {
	name, err := record.PathLine("name of the file", filepath.Base(path))
	if err != nil {
		return ""
	}
	return name
}

// writeTexts writes the recipes and sheets.
func (s *salvage) writeTexts(update updater) error {
	places := slices.SortedFunc(maps.Values(s.blobs), func(a, b place) int { return cmp.Compare(a.at, b.at) })
	s.blobs = nil
	for len(places) > 0 {
		err := update(func(tx *store.Tx) error {
			for size := 0; len(places) > 0 && size < chunkBytes; places = places[1:] {
				var b store.Blob
				frame, err := s.read(places[0].at, &b)
				if err == nil {
					_, err = b.Content()
				}
				if err != nil {
					list(&s.Damage, &s.MoreDamage, "byte "+strconv.FormatInt(places[0].at, 10), "%v", err)
					continue
				}
				size += len(frame)
				if err := tx.PutBlobFrame(b.SHA256, frame); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// read reads the frame at a place.
func (s *salvage) read(at int64, v any) (frame []byte, err error) {
	part := make([]byte, 1<<10) // most frames are shorter
	n, _ := s.file.ReadAt(part, at)
	if frame, err = store.FrameAt(s.file, at, part[:n]); err != nil {
		return nil, err
	}
	_, body, _, err := store.Unframe(frame)
	if err != nil {
		return nil, err
	}
	return frame, record.Unmarshal(body, v)
}

// writeEvents writes the events in their order, and notes to what they belong.
func (s *salvage) writeEvents(update updater) error {
	s.group, s.of = map[record.ID]int{}, make([]int, 0, len(s.order))
	seqs := s.order
	s.order = s.order[:0]
	for i := 0; i < len(seqs); {
		err := update(func(tx *store.Tx) error {
			for end := min(i+chunk, len(seqs)); i < end; i++ {
				seq := seqs[i]
				var link store.Link
				_, err := s.read(s.at[i], &link)
				var e *record.Event
				if err == nil {
					e, err = record.Decode(link.Body)
				}
				if err != nil {
					list(&s.Damage, &s.MoreDamage, "event "+strconv.FormatUint(seq, 10), "%v", err)
					continue
				}
				if err := tx.Chain(e, link.Body); err != nil {
					return err
				}
				s.order = append(s.order, seq)
				s.note(e)
			}
			if s.watch != nil {
				s.watch(len(s.order))
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func (s *salvage) note(e *record.Event) {
	n, there := -1, true
	if !e.Of.IsZero() {
		if n, there = s.group[e.Of]; !there {
			n = len(s.group)
			s.group[e.Of] = n
		}
	}
	s.of = append(s.of, n)
}

// writeLists replays every batch and container from its events, which makes the
// lists, the index and the numbers.
func (s *salvage) writeLists(update updater) error {
	// The events of each group, in their order: counted, then put in their places.
	first := make([]int, len(s.group)+1)
	for _, n := range s.of {
		if n >= 0 {
			first[n+1]++
		}
	}
	for n := 1; n < len(first); n++ {
		first[n] += first[n-1]
	}
	seqs := make([]uint64, first[len(first)-1])
	next := slices.Clone(first)
	for i, n := range s.of {
		if n >= 0 {
			seqs[next[n]] = uint64(i + 1)
			next[n]++
		}
	}
	s.of, s.group = nil, nil
	for n := 0; n+1 < len(first); {
		err := update(func(tx *store.Tx) error {
			for done := 0; done < chunk && n+1 < len(first); n++ {
				var events []*record.Event
				for _, seq := range seqs[first[n]:first[n+1]] {
					e, err := tx.Event(seq)
					if err != nil {
						return err
					}
					events = append(events, e)
				}
				done += len(events)
				if _, err := tx.Enlist(events); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// count counts what is lost.
func (s *salvage) count() {
	s.TailLost = !s.known
	last := s.head.Seq
	if n := len(s.order); n > 0 {
		last = max(last, s.order[n-1])
	}
	gap := func(from, to uint64) {
		if from > to {
			return
		}
		s.LostEvents += to - from + 1
		if len(s.Gaps) < mostListed {
			s.Gaps = append(s.Gaps, Gap{from, to})
		} else {
			s.MoreGaps++
		}
	}
	next := uint64(1)
	for _, seq := range s.order {
		gap(next, seq-1)
		next = seq + 1
	}
	gap(next, last)
}

// HasFrames says whether there is anything of a journal in a file of so many bytes.
func HasFrames(file *os.File, size int64) (has bool) {
	store.ScanFrames(file, size, func(int64, error) {}, func(int64, []byte) bool { has = true; return false })
	return has
}
