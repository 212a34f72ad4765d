package journal

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

var errEnough = errors.New("that is enough")

// lostSlug stands for a recipe of which nothing is left.
const lostSlug = "lost"

// batches makes every batch anew: first those whose number is known, so that the
// others get numbers that are free.
func (s *salvage) batches() error {
	for _, unknown := range []bool{false, true} {
		err := s.stage.each(stageIDs, []byte{'b'}, func(key, _ []byte) error { return s.batch(id(key[1:]), unknown) })
		if err == nil && !unknown {
			err = s.orphans()
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// orphans notes the batches of which only a sheet is left: one that no other batch
// claims. Its key has no checksum, but its digest is in the plan of its batch.
func (s *salvage) orphans() error {
	return s.stage.each(stageSheets, nil, func(key, value []byte) error {
		digest, i := key[:len(key)-len(id{})], key[len(key)-len(id{}):]
		if s.whole && value[placeSize] != 0 {
			return nil // of a write that never ended
		}
		if s.stage.get(stageClaimed, key) != nil || s.out.get(batchesBucket, i) != nil {
			return nil
		}
		if err := s.stage.put(stageOrphans, i, digest); err != nil {
			return err
		}
		return s.stage.put(stageIDs, append([]byte{'b'}, i...), []byte{})
	})
}

// own reads the events of a batch or container, in order.
func (s *salvage) own(kind byte, i id) (events []*eventRecord, err error) {
	prefix := append([]byte{kind}, i[:]...)
	err = s.stage.each(stageOf, prefix, func(key, _ []byte) error {
		seq := key[len(prefix):]
		where := s.stage.get(stagePicked, seqKey(^seqOf(seq)))
		if where == nil {
			return nil
		}
		record, err := s.fetch(where)
		if err != nil {
			return err
		}
		e, err := decodeEvent(seqOf(seq), record)
		if err == nil {
			events = append(events, e)
		}
		return nil
	})
	return events, err
}

// newest reads the newest record of a batch or container that belongs here.
func (s *salvage) newest(stage string, kind byte, i id) (record []byte, err error) {
	err = s.stage.each(stage, i[:], func(key, where []byte) error {
		if record != nil || !s.belongs(kind, key) {
			return nil
		}
		record, err = s.fetch(where)
		return err
	})
	return record, err
}

// missingFrom gives what is in all, and is not the sequence number of an event.
func missingFrom(all []uint64, events []*eventRecord) (missing []uint64) {
	for _, seq := range all {
		if !slices.ContainsFunc(events, func(e *eventRecord) bool { return e.Seq == seq }) {
			missing = append(missing, seq)
		}
	}
	return missing
}

// lossText says which events of a batch or container are lost.
func lossText(missing []uint64, known bool) string {
	switch {
	case !known:
		return "it is only known from what is left of it, and events of it are lost"
	case len(missing) == 1:
		return fmt.Sprintf("event %d of it is lost", missing[0])
	case len(missing) > 20:
		return fmt.Sprintf("%d events of it are lost, from %d to %d", len(missing), missing[0], missing[len(missing)-1])
	}
	text := make([]string, len(missing))
	for i, seq := range missing {
		text[i] = fmt.Sprint(seq)
	}
	return "events " + strings.Join(text, ", ") + " of it are lost"
}

// batch makes one batch anew. Those with a number are made in the first round,
// those without in the second.
func (s *salvage) batch(i id, second bool) error {
	events, err := s.own('b', i)
	if err != nil {
		return err
	}
	record, err := s.newest(stageBatches, 'b', i)
	if err != nil {
		return err
	}
	stored, _ := decodeBatch(i, record) // nil where there is none
	b, reason := rebuildBatch(i, events, stored)
	if guessed := b.Plan.Number == ""; guessed != second {
		return nil
	}
	if second {
		if err := s.guess(b); err != nil {
			return err
		}
	}
	if second && s.out.get(numbersBucket, []byte(b.Plan.Number)) != nil {
		reason = fmt.Sprintf("its number %s is that of another batch", b.Plan.Number)
		b.Plan.Number = s.nextFree(b.Plan.Created.Time().Year())
	}
	where := "batch " + b.Plan.Number
	if err := s.findFrozen(b); err != nil {
		return err
	}
	if reason != "" {
		s.report.incomplete(where, reason)
		whole := *b
		whole.Events = nil
		e := &eventRecord{Batch: i, Kind: Salvaged, Reason: reason, Whole: &whole}
		if err := s.add(e); err != nil {
			return err
		}
		s.made++
		b.Events = append(b.Events, e.Seq)
	} else if stored == nil && s.report.GapCount > 0 {
		s.report.incomplete(where, "its record is lost: whether lost events were of this batch cannot be told")
	}
	return s.putBatch(b)
}

// rebuildBatch makes a batch from its events and the newest record of it that
// there is. The reason is empty where the events alone lead there.
func rebuildBatch(i id, events []*eventRecord, stored *batchRecord) (*batchRecord, string) {
	slices.SortStableFunc(events, func(a, b *eventRecord) int { return a.ID.compare(b.ID) })
	again, whole := replayed(i, events)
	var missing []uint64
	if stored != nil {
		missing = missingFrom(stored.Events, events)
	}
	if whole && len(missing) == 0 {
		return again, ""
	}
	b := &batchRecord{State: Planned}
	after := uint64(0)
	apply := func(e *eventRecord) {
		if trial := *b; trial.apply(e) == nil {
			*b = trial
		}
	}
	seqs := make([]uint64, len(events))
	for k, e := range events {
		if seqs[k] = e.Seq; e.Kind != Created && e.Kind != Salvaged {
			b.ID = i
		}
		apply(e)
	}
	if b.ID = i; stored != nil {
		// Its figures are known from its own record, up to there.
		after = slices.Max(stored.Events)
		b.figures(stored)
	}
	for _, e := range events {
		if e.Seq > after && stored != nil && e.Kind != Created {
			apply(e)
		}
	}
	b.Events, b.Twin = seqs, false
	return b, lossText(missing, stored != nil)
}

// figures takes over from the record of b all that it tells: figures, and no words.
func (b *batchRecord) figures(stored *batchRecord) {
	plan := stored.Plan
	b.State = stored.State
	b.Plan.Number, b.Plan.Created, b.Plan.Alloy, b.Plan.Pieces, b.Plan.Spares = plan.Number, plan.Created, plan.Alloy, plan.Pieces, plan.Spares
	if b.Plan.Recipe == nil { // the event with the plan is lost
		b.Plan.Recipe, b.Plan.Sheet = plan.Recipe, plan.Sheet
	}
	r := stored.Result
	if r == nil {
		b.Result = nil
		return
	}
	result := resultRecord{}
	if b.Result != nil {
		result = *b.Result
	}
	result.Good, result.Rework, result.Reject, result.Causes = r.Good, r.Rework, r.Reject, r.Causes
	result.Celsius, result.Seconds, result.At = r.Celsius, r.Seconds, r.At
	b.Result = &result
}

// replayed applies events to an empty batch; ok says that they lead somewhere.
func replayed(i id, events []*eventRecord) (b *batchRecord, ok bool) {
	b = &batchRecord{}
	from := 0
	for k, e := range events {
		if e.Kind == Salvaged {
			from = k
		}
	}
	for k, e := range events {
		if k < from {
			b.Events = append(b.Events, e.Seq)
		} else if b.apply(e) != nil {
			return b, false
		}
	}
	return b, len(events) > 0 && b.ID == i
}

// guess gives a batch whose plan is lost what is known of it.
func (s *salvage) guess(b *batchRecord) error {
	b.Plan.Created = stampOf(time.UnixMilli(int64(b.ID.millis())).UTC())
	for _, rank := range []byte{0, 1} {
		if number, _, ok := splitNumber(string(s.stage.get(stageNumbers, append(b.ID[:], rank)))); ok && b.Plan.Number == "" {
			b.Plan.Number = number
		}
	}
	if b.Plan.Number == "" {
		b.Plan.Number = s.nextFree(b.Plan.Created.Time().Year())
	}
	b.Plan.Sheet = s.stage.get(stageOrphans, b.ID[:]) // nil where there is none
	content, err := encoder().Marshal(recipeContent{Slug: s.slug(b.ID), Title: "not known: the plan of the batch is lost"})
	if err != nil {
		return err
	}
	digest, err := s.placeholder(content)
	b.Plan.Recipe = digest
	return err
}

// slug gives the name of the recipe of a batch as the index has it.
func (s *salvage) slug(i id) string {
	for _, rank := range []byte{0, 1} {
		if slug := s.stage.get(stageSlugs, append(i[:], rank)); len(slug) > 0 {
			if clean, err := line("name of the recipe", string(slug)); err == nil && clean != "" {
				return clean
			}
		}
	}
	return lostSlug
}

// nextFree gives a number that no batch has.
func (s *salvage) nextFree(year int) string {
	for {
		s.new.Years[year]++
		number := fmt.Sprintf("%04d-%03d", year, s.new.Years[year])
		if s.out.get(numbersBucket, []byte(number)) == nil {
			return number
		}
	}
}

// reserve keeps a number from being given out again.
func (s *salvage) reserve(number string) {
	if strings.HasPrefix(number, "S-") {
		s.new.Container = max(s.new.Container, containerCount(number))
		return
	}
	var year int
	if _, err := fmt.Sscanf(number, "%d", &year); err == nil {
		s.new.Years[year] = max(s.new.Years[year], numberOf(number))
	}
}

// putBatch writes a batch with its number, its index entries, and what was frozen.
func (s *salvage) putBatch(b *batchRecord) error {
	slug, err := s.recipe(b)
	if err != nil {
		return err
	}
	if b.Plan.Sheet != nil {
		if err := s.sheet(b); err != nil {
			return err
		}
	}
	if created, ms := millisOf(b.Plan.Created.Time()), b.ID.millis(); ms > created {
		s.new.LagMS = max(s.new.LagMS, ms-created)
	}
	s.reserve(b.Plan.Number)
	s.new.Batches++
	s.report.Batches++
	if err := s.number(b); err != nil {
		return err
	}
	for _, key := range indexKeys(b, slug) {
		if err := s.out.indexed(key); err != nil {
			return err
		}
	}
	return s.out.put(batchesBucket, b.ID[:], b.sealStanding())
}

// number lets a batch have its number, with others that have it too.
func (s *salvage) number(b *batchRecord) error {
	value := s.out.get(numbersBucket, []byte(b.Plan.Number))
	if b.Twin = value != nil; b.Twin {
		others, err := bearers(b.Plan.Number, value)
		if err != nil {
			return err
		}
		for _, i := range others {
			other, err := decodeBatch(i, s.out.get(batchesBucket, i[:]))
			if err != nil {
				return err
			}
			other.Twin = true
			if err := s.out.put(batchesBucket, i[:], other.sealStanding()); err != nil {
				return err
			}
		}
		others = append(others, b.ID)
		slices.SortFunc(others, id.compare)
		value = nil
		for _, i := range others {
			value = append(value, i[:]...)
		}
		return s.out.put(numbersBucket, []byte(b.Plan.Number), value)
	}
	return s.out.put(numbersBucket, []byte(b.Plan.Number), b.ID[:])
}
