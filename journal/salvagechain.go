package journal

import (
	"crypto/sha256"
	"slices"
)

// copyOf is one sound copy of an event in the damaged file.
type copyOf struct {
	seq    uint64
	live   bool
	digest [32]byte
	where  []byte // place
	prev   [32]byte
}

func readCopy(key, value []byte) copyOf {
	c := copyOf{seq: ^seqOf(key[:8]), live: key[8] == 0, where: value[:placeSize]}
	copy(c.digest[:], key[9:])
	copy(c.prev[:], value[placeSize:])
	return c
}

// choose finds, from the last event to the first, the copy of each that belongs
// to the chain. There may be several: a write that never ended leaves events that
// were never part of the journal, under numbers that were given out again.
func (s *salvage) choose() error {
	var want *[32]byte // digest of the event that the one chosen last followed
	if s.head != nil && (s.headLive || s.head.Seq >= s.top) {
		s.top, want = s.head.Seq, &s.head.Digest
	}
	next := s.top + 1 // the event chosen last
	var group []copyOf
	pick := func() error {
		if len(group) == 0 {
			return nil
		}
		seq := group[0].seq
		if seq+1 != next {
			want = nil
		}
		chosen, err := s.pick(group, want)
		s.report.SetAside += len(group)
		next, want = seq, nil
		group = group[:0]
		if err != nil || chosen == nil {
			return err
		}
		s.report.SetAside--
		prev := chosen.prev // the group is used again
		want = &prev
		return s.stage.put(stagePicked, seqKey(^seq), chosen.where)
	}
	err := s.stage.each(stageEvents, nil, func(key, value []byte) error {
		c := readCopy(key, value)
		if c.seq > s.top {
			s.report.SetAside++
			return nil
		}
		if len(group) > 0 && group[0].seq != c.seq {
			if err := pick(); err != nil {
				return err
			}
		}
		if len(group) > 0 && group[len(group)-1].digest == c.digest {
			return nil // the same event: once in the tree and once in a page that was left
		}
		if slices.ContainsFunc(group, func(o copyOf) bool { return o.digest == c.digest }) {
			return nil
		}
		group = append(group, c)
		return nil
	})
	if err != nil {
		return err
	}
	return pick()
}

// pick chooses among copies of one event, those in the tree first.
func (s *salvage) pick(group []copyOf, want *[32]byte) (*copyOf, error) {
	if want != nil {
		for i := range group {
			if group[i].digest == *want {
				return &group[i], nil
			}
		}
	}
	if group[0].live {
		return &group[0], nil
	}
	if want != nil {
		return nil, nil // not the event that the next one followed
	}
	for i := range group {
		for _, rank := range []byte{0, 1} {
			before := append(append(seqKey(^(group[i].seq-1)), rank), group[i].prev[:]...)
			if s.stage.get(stageEvents, before) != nil {
				return &group[i], nil
			}
		}
	}
	return &group[0], nil
}

// begin lays out the new journal.
func (s *salvage) begin() error {
	for _, name := range bucketNames() {
		if _, err := s.out.tx.CreateBucket([]byte(name)); err != nil {
			return err
		}
	}
	now := s.journal.now()
	if s.about == nil {
		s.about = &aboutRecord{Journal: idAt(now), Created: stampOf(now)}
		s.report.NewID = true
	}
	s.about.Format = fileFormat
	s.report.ID = s.about.Journal.String()
	s.digest, s.new.Digest = chainStart(s.about.Journal), chainStart(s.about.Journal)
	s.new.Years, s.frozen = map[int]int{}, map[string]string{}
	if h := s.head; h != nil {
		for year, n := range h.Years {
			s.new.Years[year] = n
		}
		s.new.LastID, s.new.LagMS, s.new.Container = h.LastID, h.LagMS, h.Container
	}
	if err := s.out.put(metaBucket, []byte(magicKey), []byte(magic)); err != nil {
		return err
	}
	return s.out.record(metaBucket, []byte(aboutKey), s.about)
}

// events writes the chosen events into the new journal, and where some are missing.
func (s *salvage) events() error {
	err := s.stage.eachBack(stagePicked, func(key, where []byte) error {
		seq := ^seqOf(key)
		record, err := s.fetch(where)
		if err != nil {
			return err
		}
		e, err := decodeEvent(seq, record)
		if err != nil { // it was sound a moment ago
			s.report.damage(eventRange(seq, seq), err.Error())
			return nil
		}
		if err := s.keep(e, record); err != nil {
			return err
		}
		s.report.Events++
		return s.members(e)
	})
	if err != nil {
		return err
	}
	s.report.TailLost = !s.headLive
	s.new.Seq, s.new.Digest = s.saved, s.digest
	if s.top > s.saved {
		// What the first event of ours follows is not there.
		s.report.gap(s.saved+1, s.top)
		s.new.Seq = s.top
		if s.head != nil && s.head.Seq == s.top {
			s.new.Digest = s.head.Digest
		}
	}
	return s.evidence()
}

// keep writes one event, and the gap before it where there is one.
func (s *salvage) keep(e *eventRecord, record []byte) error {
	if e.Seq != s.saved+1 || e.Prev != s.digest {
		g := gapRecord{From: s.saved + 1, To: e.Seq - 1, Before: s.digest, After: e.Prev}
		var known gapRecord
		_ = unseal(s.stage.get(stageGaps, seqKey(e.Seq)), &known)
		switch {
		case s.added: // it was reported when the events were read
		case known == g:
			s.report.KnownGaps++
		default:
			s.report.gap(g.From, g.To)
		}
		if err := s.out.record(gapsBucket, seqKey(e.Seq), g); err != nil {
			return err
		}
	}
	s.saved, s.digest = e.Seq, sha256.Sum256(record)
	if e.ID.compare(s.new.LastID) > 0 {
		s.new.LastID = e.ID
	}
	return s.out.put(eventsBucket, seqKey(e.Seq), record)
}

// members notes to which batches and containers an event belongs, and of which it
// speaks.
func (s *salvage) members(e *eventRecord) error {
	if ofNone(e.Kind) {
		return nil
	}
	kind := byte('b')
	if ofStock(e.Kind) {
		kind = 'c'
	}
	of := append([]byte{kind}, e.Batch[:]...)
	if err := s.stage.put(stageOf, append(of, seqKey(e.Seq)...), []byte{}); err != nil {
		return err
	}
	speaks := [][]byte{of}
	if e.For != nil {
		speaks = append(speaks, append([]byte{'b'}, e.For[:]...))
	}
	if e.Container != nil {
		speaks = append(speaks, append([]byte{'c'}, e.Container[:]...))
	}
	for _, u := range e.Used {
		speaks = append(speaks, append([]byte{'c'}, u.Container[:]...))
	}
	for _, key := range speaks {
		if err := s.stage.put(stageIDs, key, []byte{}); err != nil {
			return err
		}
	}
	return nil
}

// evidence notes the batches and containers of which a record is left.
func (s *salvage) evidence() error {
	for _, from := range []struct {
		stage string
		kind  byte
	}{{stageBatches, 'b'}, {stageContainers, 'c'}} {
		err := s.stage.each(from.stage, nil, func(key, value []byte) error {
			if !s.belongs(from.kind, key) {
				return nil
			}
			if from.stage == stageBatches {
				if err := s.usedBy(id(key[:16]), value); err != nil {
					return err
				}
			}
			return s.stage.put(stageIDs, append([]byte{from.kind}, key[:16]...), []byte{})
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// belongs says whether a record of a batch or container is of the journal, and not
// of a write that never ended, whose numbers of events went to others. Key is that
// of the stage.
func (s *salvage) belongs(kind byte, key []byte) bool {
	last := seqKey(^seqOf(key[16:24]))
	if s.headLive && seqOf(last) > s.head.Seq {
		return false
	}
	mine := s.stage.get(stageOf, slices.Concat([]byte{kind}, key[:16], last)) != nil
	return mine || s.stage.get(stagePicked, key[16:24]) == nil
}

// usedBy notes the containers of which the record of a batch speaks.
func (s *salvage) usedBy(i id, where []byte) error {
	record, err := s.fetch(where)
	if err != nil {
		return err
	}
	b, err := decodeBatch(i, record)
	if err != nil {
		return nil
	}
	for _, u := range b.Used {
		if err := s.stage.put(stageIDs, append([]byte{'c'}, u.Container[:]...), []byte{}); err != nil {
			return err
		}
	}
	return nil
}

// add appends an event of ours to the new journal.
func (s *salvage) add(e *eventRecord) error {
	now := s.journal.now()
	e.Seq, e.ID, e.Prev, e.At = s.new.Seq+1, idAfter(s.new.LastID, now), s.new.Digest, stampOf(now)
	record, err := e.seal()
	if err != nil {
		return err
	}
	s.added = true
	if err := s.keep(e, record); err != nil {
		return err
	}
	s.new.Seq, s.new.Digest = e.Seq, s.digest
	return nil
}

// close ends the new journal: an event that holds the digest of all gaps, where
// anything is lost, and the head.
func (s *salvage) close() error {
	r := s.report
	err := s.stage.each(stageNumbers, nil, func(key, number []byte) error {
		i := key[:16]
		for _, kind := range []byte{'b', 'c'} {
			if s.stage.get(stageIDs, append([]byte{kind}, i...)) != nil {
				return nil
			}
		}
		if key[16] == 1 && (s.whole || s.stage.get(stageNumbers, append(slices.Clone(i), 0)) != nil) {
			return nil // of a write that never ended, or seen already
		}
		lost(&r.LostNumbers, &r.LostNumberCount, string(number))
		s.reserve(string(number))
		return nil
	})
	if err != nil {
		return err
	}
	if !r.Whole() || s.added {
		if err := s.closing(); err != nil {
			return err
		}
	}
	if err := s.out.record(metaBucket, []byte(headKey), s.new); err != nil {
		return err
	}
	return s.out.close()
}

func (s *salvage) closing() error {
	r := s.report
	e := &eventRecord{Kind: JournalSalvaged, Reason: "saved what could be read of a damaged file"}
	// The gap before this event itself must be among those that it holds.
	e.Salvage = &salvageRecord{Events: r.LostEvents, Recipes: r.LostRecipeCount, Sheets: r.LostSheetCount, Made: s.made,
		Numbers: r.LostNumberCount, Tail: r.TailLost, NewID: r.NewID}
	if s.new.Seq != s.saved || s.new.Digest != s.digest {
		g := gapRecord{From: s.saved + 1, To: s.new.Seq, Before: s.digest, After: s.new.Digest}
		if err := s.out.record(gapsBucket, seqKey(s.new.Seq+1), g); err != nil {
			return err
		}
	}
	sum := sha256.New()
	err := s.out.each(gapsBucket, nil, func(key, value []byte) error { sum.Write(key); sum.Write(value); return nil })
	if err != nil {
		return err
	}
	copy(e.Salvage.Gaps[:], sum.Sum(nil))
	return s.add(e)
}
