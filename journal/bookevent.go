package journal

import (
	"fmt"
	"slices"
)

// applyMore is the part of apply that is about what happens around a result.
func (b *batchRecord) applyMore(e *eventRecord) error {
	switch e.Kind {
	case DippedEvent:
		if e.Dip == nil {
			return fmt.Errorf("%w: event %d has no dip", errTangled, e.Seq)
		}
		dip := *e.Dip
		if b.Dip != nil { // more loads of the same batch
			dip = *b.Dip
			dip.Loads = slices.Concat(b.Dip.Loads, e.Dip.Loads)
		}
		b.State, b.Dip = b.State.reach(Dipped), &dip
		b.Used = slices.Concat(b.Used, e.Used)
		if e.Reason != "" {
			b.WithoutReview = e.Reason
		}
	case UsedEvent:
		b.Used = slices.Concat(b.Used, e.Used)
	case SignedOffEvent:
		if e.SignOff == nil {
			return fmt.Errorf("%w: event %d has no sign-off", errTangled, e.Seq)
		}
		b.SignOff, b.AmendedSince = e.SignOff, false
	case PhotoEvent:
		if e.Photo == nil {
			return fmt.Errorf("%w: event %d has no photo", errTangled, e.Seq)
		}
		b.Photos = append(slices.Clip(b.Photos), *e.Photo)
	case WasteEvent:
		if e.Waste == nil {
			return fmt.Errorf("%w: event %d has no waste", errTangled, e.Seq)
		}
		b.Waste = append(slices.Clip(b.Waste), *e.Waste)
	default:
		return fmt.Errorf("%w: event %d is of the unknown kind %q", errTangled, e.Seq, e.Kind)
	}
	return nil
}

// amend applies an amendment: of a field, or of what a container that was used is
// said to have held.
func (b *batchRecord) amend(e *eventRecord) error {
	b.AmendedSince = b.AmendedSince || b.SignOff != nil
	if e.Container == nil {
		return b.setField(e.Field, e.New)
	}
	b.Used = slices.Clone(b.Used)
	for i := range b.Used {
		if b.Used[i].Container != *e.Container {
			continue
		}
		switch e.Field {
		case fieldLot:
			b.Used[i].Lot = e.New
		case fieldSubstance:
			b.Used[i].Substance = e.New
		default:
			return fmt.Errorf("the field %q is unknown", e.Field)
		}
	}
	return nil
}

// moreKeys gives the index keys for what happens around a result.
func (b *batchRecord) moreKeys(add func(tag byte, value string)) {
	for _, u := range b.Used {
		if u.Lot != "" {
			add(byLot, foldName(u.Lot))
		}
	}
	for _, v := range b.Waste {
		add(byWaste, foldName(v.Container))
	}
}

// more fills in what happened around a result.
func (r *reader) more(b *batchRecord, out *Batch) error {
	out.WithoutReview = b.WithoutReview
	if b.Dip != nil {
		out.Dip = b.Dip.public()
	}
	if s := b.SignOff; s != nil {
		out.SignedOff = &SignOff{By: s.By, At: s.At.Time(), Note: s.Note, AmendedSince: b.AmendedSince}
	}
	for _, p := range b.Photos {
		out.Photos = append(out.Photos, p.public())
	}
	for _, v := range b.Waste {
		out.Waste = append(out.Waste, v.public())
	}
	for _, u := range b.Used {
		use, err := r.use(u)
		if err != nil {
			return err
		}
		out.Lots = append(out.Lots, use)
	}
	return nil
}
