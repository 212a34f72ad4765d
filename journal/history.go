package journal

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"slices"

	"hepar/recipe/fault"
)

// history makes the events of a row whole again: it goes back from the batch as
// it stands, taking off one event after the other, and makes sure that going
// forward again leads back to it.
func (r *row) history(end *batchRecord) ([]*eventRecord, error) {
	now := *end
	all := make([]*eventRecord, len(r.Events))
	simple, results := true, 0
	for i := len(r.Events) - 1; i >= 0; i-- {
		v, at := &r.Events[i], r.events[i]
		e := &eventRecord{ID: at.id, Batch: end.ID, Kind: v.Kind, At: stampOf(at.at), By: v.By, Reason: v.Reason, Field: v.Field, Old: v.Old, New: v.New}
		if written := stampOf(at.written); written != e.At {
			e.Written = &written
		}
		all[i] = e
		switch e.Kind {
		case LoggedEvent:
			if results++; results > 1 {
				simple = false
			}
		case Created, ReviewedEvent:
		default:
			simple = false
		}
		if err := r.takeOff(&now, end, e, i); err != nil {
			return nil, err
		}
	}
	if all[0].Kind != Created || now.Result != nil {
		return nil, fault.Usagef("its events do not lead to the batch: the first should be created, and a result needs one that is logged").
			Try("take the line as it was exported")
	}
	return all, r.leadsBack(all, end, simple)
}

func (r *row) odd(i int, format string, args ...any) error {
	return fault.Usagef("event %d does not lead to the batch: %s", i+1, fmt.Sprintf(format, args...)).Try("take the line as it was exported")
}

// takeOff undoes the event at place i, and puts into it what it must have held.
func (r *row) takeOff(now, end *batchRecord, e *eventRecord, i int) error {
	switch e.Kind {
	case Created:
		if i > 0 {
			return r.odd(i, "only the first is created")
		}
		plan := now.Plan
		e.Plan = &plan
	case ReviewedEvent:
		if now.Review != nil {
			e.Review, now.Review = now.Review, nil
		} else if r.events[i].review != nil {
			e.Review = r.events[i].review
		} else if e.Review = (&reviewRecord{By: e.By, At: e.At}); r.Review == nil {
			return r.odd(i, "it was reviewed and there is no review")
		}
	case LoggedEvent:
		if now.Result == nil && r.events[i].result != nil { // a later one took its place
			e.Result = r.events[i].result
			return nil
		}
		if now.Result == nil {
			return r.odd(i, "it was logged and there is no result")
		}
		result := *now.Result
		result.At = e.At
		e.Result, now.Result = &result, nil
	case Amended:
		return r.takeOffAmendment(now, end, e, i)
	case WithdrawnEvent:
	default:
		return r.takeOffMore(now, e, i)
	}
	return nil
}

func (r *row) takeOffAmendment(now, end *batchRecord, e *eventRecord, i int) error {
	if name := r.Events[i].Container; name != "" {
		for _, l := range r.Lots {
			if l.Container == name {
				c, err := parseID("the id of a container", l.ContainerID)
				if err != nil {
					return err
				}
				e.Container = &c
			}
		}
		if e.Container == nil {
			return r.odd(i, "nothing was taken from container %s", cut(name))
		}
		back := &eventRecord{Field: e.Field, New: e.Old, Container: e.Container}
		if err := now.amend(back); err != nil {
			return r.odd(i, "%v", err)
		}
		return nil
	}
	if resultField(e.Field) && now.Result == nil && end.Result != nil {
		return nil // of a result that a later one took the place of
	}
	// Where two benches amended the same, the one that is later in the order of the
	// events is what the batch says: going forward again tells whether all is right.
	is, err := now.field(e.Field)
	if err != nil || is != e.New {
		doubt := r.odd(i, "it made the %s %q, which was %q afterwards", cut(e.Field), cut(e.New), cut(is))
		if err != nil {
			return doubt
		}
		if r.doubt == nil {
			r.doubt = doubt
		}
	}
	if err := now.setField(e.Field, e.Old); err != nil {
		return r.odd(i, "%s cannot have been %q", cut(e.Field), cut(e.Old))
	}
	if was, _ := now.field(e.Field); was != e.Old {
		return r.odd(i, "%s cannot have been %q", cut(e.Field), cut(e.Old))
	}
	return nil
}

// takeOffMore is the part of takeOff that is about what happens around a result.
func (r *row) takeOffMore(now *batchRecord, e *eventRecord, i int) error {
	v := &r.Events[i]
	uses := func() error {
		from := len(now.Used) - v.Uses
		if v.Uses < 0 || from < 0 {
			return r.odd(i, "it used %d containers and there are %d in all", v.Uses, len(now.Used))
		}
		if v.Uses > 0 {
			e.Used, now.Used = slices.Clone(now.Used[from:]), now.Used[:from]
		}
		return nil
	}
	switch e.Kind {
	case DippedEvent:
		if now.Dip == nil || v.Loads < 0 || v.Loads > len(now.Dip.Loads) {
			return r.odd(i, "it dipped %d loads, which are not there", v.Loads)
		}
		from := len(now.Dip.Loads) - v.Loads
		e.Dip = &dipRecord{By: e.By, Started: e.At, Loads: slices.Clone(now.Dip.Loads[from:])}
		rest := *now.Dip
		rest.Loads = rest.Loads[:from]
		now.Dip = &rest
		return uses()
	case UsedEvent:
		return uses()
	case SignedOffEvent:
		if now.SignOff != nil {
			e.SignOff, now.SignOff = now.SignOff, nil
		} else if e.SignOff = (&signOffRecord{By: e.By, At: e.At, Note: r.events[i].note}); r.SignedOff == nil {
			return r.odd(i, "it was signed off and there is no sign-off")
		}
	case PhotoEvent:
		n := len(now.Photos) - 1
		if n < 0 {
			return r.odd(i, "it added a photo that is not there")
		}
		e.Photo, now.Photos = &now.Photos[n], now.Photos[:n]
	case WasteEvent:
		n := len(now.Waste) - 1
		if n < 0 {
			return r.odd(i, "it added a waste that is not there")
		}
		e.Waste, now.Waste = &now.Waste[n], now.Waste[:n]
	default:
		return r.odd(i, "its kind %q is unknown", cut(e.Kind))
	}
	return nil
}

// leadsBack makes sure that the events give the batch at the end.
func (r *row) leadsBack(events []*eventRecord, end *batchRecord, simple bool) error {
	var b batchRecord
	for _, e := range events {
		if err := b.apply(e); err != nil {
			return fault.Usagef("its events do not lead to the batch").Try("take the line as it was exported")
		}
	}
	what := ""
	switch {
	case b.Plan.Created != events[0].At:
		what = "created"
	case b.State != end.State:
		what = "state"
	case (b.Result == nil) != (end.Result == nil) || b.Result != nil && b.Result.At != end.Result.At:
		what = "logged"
	case (b.Review == nil) != (end.Review == nil):
		what = "review"
	case !simple:
		mine, whole := b, *end
		mine.Events, mine.People, whole.Events, whole.People = nil, nil, nil, nil
		x, err1 := encoder().Marshal(&mine)
		y, err2 := encoder().Marshal(&whole)
		if err1 != nil || err2 != nil || !bytes.Equal(x, y) {
			what = "they give something else"
		}
	}
	if what != "" && r.doubt != nil {
		return r.doubt
	}
	if what != "" {
		return fault.Usagef("its events do not lead to the batch: %s", what).Try("take the line as it was exported")
	}
	if r.benches() {
		return nil
	}
	return b.fits()
}

// benches says whether the events may be those of two benches, which together may
// have made what one bench would have refused: counts that do not fit one another.
func (r *row) benches() bool {
	changes := 0
	for i := range r.Events {
		if kind := r.Events[i].Kind; kind == Amended || kind == LoggedEvent {
			changes++
		}
	}
	return changes > 1
}

// addMore puts into b what the row tells of the review and of what happened around
// the result.
func (r *row) addMore(b *batchRecord) (err error) {
	b.Review = r.review
	if r.WithoutReview != nil {
		b.WithoutReview = *r.WithoutReview
	}
	if v := r.Dip; v != nil {
		if b.Dip, err = v.record(b); err != nil {
			return err
		}
	}
	if v := r.SignedOff; v != nil {
		s := &signOffRecord{}
		if s.By, err = line("by of the sign-off", v.By); err != nil {
			return err
		}
		if s.Note, err = note("note of the sign-off", v.Note); err != nil {
			return err
		}
		if s.At, err = parseStamp("time of the sign-off", v.At); err != nil {
			return err
		}
		b.SignOff, b.AmendedSince = s, v.AmendedSince
	}
	for _, v := range r.Photos {
		p, err := v.record()
		if err != nil {
			return err
		}
		b.Photos = append(b.Photos, p)
	}
	for _, v := range r.Waste {
		w, err := v.record()
		if err != nil {
			return err
		}
		b.Waste = append(b.Waste, w)
	}
	for _, v := range r.Lots {
		u, err := v.record()
		if err != nil {
			return err
		}
		b.Used = append(b.Used, u)
	}
	return nil
}

func parseStamp(what, text string) (stamp, error) {
	t, err := parseTime(what, text)
	return stampOf(t), err
}

func (v *DipView) record(b *batchRecord) (*dipRecord, error) {
	out := &dipRecord{}
	var err error
	if out.By, err = line("by of the dip", v.By); err != nil {
		return nil, err
	}
	if out.Started, err = parseStamp("time of the dip", v.Started); err != nil {
		return nil, err
	}
	for _, l := range v.Loads {
		// One by one: two benches may have dipped loads of the same number, and the
		// pieces may have been amended since.
		load := DipLoad{Number: l.Number, Pieces: l.Pieces, Temperature: celsiusOf(l.TemperatureC), Time: secondsOf(l.TimeS), Note: l.Note}
		if l.Number < 1 {
			return nil, fault.Usagef("a load has the number %d", l.Number).Try("take the line as it was exported")
		}
		clean, err := cleanLoads(&batchRecord{Plan: planRecord{Number: b.Plan.Number, Pieces: maxPieces}}, []DipLoad{load})
		if err != nil {
			return nil, err
		}
		out.Loads = append(out.Loads, clean...)
	}
	if len(out.Loads) > maxLoads {
		return nil, fault.Usagef("there are %d loads", len(out.Loads)).Try("keep to %d in a batch", maxLoads)
	}
	return out, err
}

func (v *PhotoView) record() (p photoRecord, err error) {
	p.Bytes = v.Bytes
	if p.Path, err = pathLine("path of a photo", v.Path); err != nil {
		return p, err
	}
	if p.By, err = line("by of a photo", v.By); err != nil {
		return p, err
	}
	if p.Note, err = note("note of a photo", v.Note); err != nil {
		return p, err
	}
	if p.SHA256, err = hex.DecodeString(v.SHA256); err != nil || len(p.SHA256) != 32 {
		return p, fault.Usagef("the digest of a photo is not a SHA-256").Try("take the line as it was exported")
	}
	if v.Taken != nil {
		taken, err := parseStamp("time of a photo", *v.Taken)
		if err != nil {
			return p, err
		}
		p.Taken = &taken
	}
	return p, nil
}

func (v *WasteView) record() (wasteRecord, error) {
	at, err := parseTime("time of a waste", v.At)
	if err != nil {
		return wasteRecord{}, err
	}
	w := Waste{VolumeL: v.VolumeL, Container: v.Container, Went: v.Went, By: v.By, At: at}
	for _, p := range v.Contents {
		w.Contents = append(w.Contents, WastePart(p))
	}
	return w.clean()
}

func (v *LotView) record() (u usedRecord, err error) {
	if u.Container, err = parseID("the id of a container", v.ContainerID); err != nil {
		return u, err
	}
	if u.Substance, err = line("substance of a lot", v.Substance); err != nil {
		return u, err
	}
	if u.Lot, err = line("lot", v.Lot); err != nil {
		return u, err
	}
	switch {
	case v.Grams != nil && v.ML == nil:
		u.Amount, u.Unit = *v.Grams, unitGrams
	case v.ML != nil && v.Grams == nil:
		u.Amount, u.Unit = *v.ML, unitML
	default:
		return u, fault.Usagef("a lot has no amount, or two").Try("give it in grams or in ml")
	}
	return u, within("amount of a lot", u.Unit, &u.Amount, 1e-6, mostInContainer)
}
