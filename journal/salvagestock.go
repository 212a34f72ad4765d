package journal

import (
	"crypto/sha256"
	"time"
)

// containers makes every container anew, as batches does.
func (s *salvage) containers() error {
	for _, unknown := range []bool{false, true} {
		err := s.stage.each(stageIDs, []byte{'c'}, func(key, _ []byte) error { return s.container(id(key[1:]), unknown) })
		if err != nil {
			return err
		}
	}
	return nil
}

func (s *salvage) container(i id, second bool) error {
	events, err := s.own('c', i)
	if err != nil {
		return err
	}
	record, err := s.newest(stageContainers, 'c', i)
	if err != nil {
		return err
	}
	stored, _ := decodeContainer(i[:], record) // nil where there is none
	c, reason := rebuildContainer(i, events, stored)
	if guessed := c.Number == ""; guessed != second {
		return nil
	}
	if second {
		s.guessContainer(c)
	}
	if s.out.get(numbersBucket, []byte(c.Number)) != nil {
		reason = "its number " + c.Number + " is that of another container"
		c.Number = s.nextContainer()
	}
	if reason != "" {
		s.report.incomplete("container "+c.Number, reason)
		whole := *c
		whole.Events = nil
		e := &eventRecord{Batch: i, Kind: StockSalvaged, Reason: reason, Stock: &whole}
		if err := s.add(e); err != nil {
			return err
		}
		s.made++
		c.Events = append(c.Events, e.Seq)
	} else if stored == nil && s.report.GapCount > 0 {
		s.report.incomplete("container "+c.Number, "its record is lost: whether lost events were of this container cannot be told")
	}
	s.reserve(c.Number)
	s.new.Containers++
	s.report.Containers++
	if err := s.out.put(numbersBucket, []byte(c.Number), i[:]); err != nil {
		return err
	}
	return s.out.record(containersBucket, i[:], c)
}

// rebuildContainer is rebuildBatch for a container.
func rebuildContainer(i id, events []*eventRecord, stored *containerRecord) (*containerRecord, string) {
	again, whole := &containerRecord{}, len(events) > 0
	from := 0
	for k, e := range events {
		if e.Kind == StockSalvaged {
			from = k
		}
	}
	seqs := make([]uint64, len(events))
	for k, e := range events {
		seqs[k] = e.Seq
		if k < from {
			again.Events = append(again.Events, e.Seq)
		} else if whole {
			whole = again.apply(e) == nil
		}
	}
	var missing []uint64
	if stored != nil {
		missing = missingFrom(stored.Events, events)
	}
	if whole && len(missing) == 0 {
		return again, ""
	}
	c := &containerRecord{ID: i}
	after := uint64(0)
	if stored != nil {
		*c = *stored
		after = stored.Events[len(stored.Events)-1]
	}
	for _, e := range events {
		trial := *c
		if e.Seq > after && e.Kind != StockAdded && trial.apply(e) == nil {
			*c = trial
		}
	}
	c.Events = seqs
	return c, lossText(missing, stored != nil)
}

// guessContainer gives a container of which no event that adds it is left what
// must be there.
func (s *salvage) guessContainer(c *containerRecord) {
	c.Added = stampOf(time.UnixMilli(int64(c.ID.millis())).UTC())
	for _, rank := range []byte{0, 1} {
		if number, ok := parseContainerNumber(string(s.stage.get(stageNumbers, append(c.ID[:], rank)))); ok && c.Number == "" {
			c.Number = number
		}
	}
	if c.Number == "" {
		c.Number = s.nextContainer()
	}
	if c.Substance == "" {
		c.Substance = lostSlug
	}
	if c.Unit == "" {
		c.Unit = unitGrams
	}
	c.Amount = max(c.Amount, c.Left)
}

func (s *salvage) nextContainer() string {
	for {
		s.new.Container++
		if number := containerNumber(s.new.Container); s.out.get(numbersBucket, []byte(number)) == nil {
			return number
		}
	}
}

func sumOf(content []byte) []byte {
	sum := sha256.Sum256(content)
	return sum[:]
}
