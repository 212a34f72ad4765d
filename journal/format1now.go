package journal

// What the present shapes make of those of format 1.

func (p f1Plan) now() planRecord {
	return planRecord{
		Number: p.Number, Created: p.Created.now(), Recipe: p.Recipe, Alloy: p.Alloy, Shape: p.Shape,
		Pieces: p.Pieces, Spares: p.Spares, Sheet: p.Sheet, By: p.By, Note: p.Note,
	}
}

func (r *f1Review) now() *reviewRecord {
	if r == nil {
		return nil
	}
	return &reviewRecord{By: r.By, At: r.At.now(), Digest: r.Digest, Points: r.Points}
}

func (r *f1Result) now() *resultRecord {
	if r == nil {
		return nil
	}
	return &resultRecord{
		Good: r.Good, Rework: r.Rework, Reject: r.Reject, Causes: r.Causes, Celsius: r.Celsius, Seconds: r.Seconds,
		Shade: r.Shade, Note: r.Note, At: r.At.now(),
	}
}

func (d *f1Dip) now() *dipRecord {
	if d == nil {
		return nil
	}
	out := &dipRecord{By: d.By, Started: d.Started.now()}
	for _, l := range d.Loads {
		out.Loads = append(out.Loads, loadRecord(l))
	}
	return out
}

func f1UsedNow(all []f1Used) (out []usedRecord) {
	for _, u := range all {
		out = append(out, usedRecord(u))
	}
	return out
}

func (s *f1SignOff) now() *signOffRecord {
	if s == nil {
		return nil
	}
	return &signOffRecord{By: s.By, At: s.At.now(), Note: s.Note}
}

func (p *f1Photo) now() *photoRecord {
	if p == nil {
		return nil
	}
	return &photoRecord{Path: p.Path, SHA256: p.SHA256, Bytes: p.Bytes, Taken: p.Taken.maybe(), By: p.By, Note: p.Note}
}

func (v *f1Waste) now() *wasteRecord {
	if v == nil {
		return nil
	}
	out := &wasteRecord{Liters: v.Liters, Container: v.Container, Went: v.Went, By: v.By, At: v.At.now()}
	for _, c := range v.Contents {
		out.Contents = append(out.Contents, wastePartRecord(c))
	}
	return out
}

func (c *f1Container) now() *containerRecord {
	if c == nil {
		return nil
	}
	return &containerRecord{
		ID: c.ID, Number: c.Number, Added: c.Added.now(), Substance: c.Substance, Form: c.Form, Lot: c.Lot, Supplier: c.Supplier,
		Received: c.Received, Opened: c.Opened, Expires: c.Expires, Unit: c.Unit, Amount: c.Amount, Left: c.Left,
		Observed: c.Observed, ObservedAt: c.ObservedAt.maybe(), SDS: c.SDS, SDSRevised: c.SDSRevised, SDSLooked: c.SDSLooked,
		Place: c.Place, Note: c.Note, By: c.By, Emptied: c.Emptied.maybe(), Events: c.Events,
	}
}

func (b *f1Batch) now() *batchRecord {
	if b == nil {
		return nil
	}
	out := &batchRecord{
		ID: b.ID, State: b.State, Plan: b.Plan.now(), Review: b.Review.now(), Result: b.Result.now(), Events: b.Events, People: b.People,
		Dip: b.Dip.now(), WithoutReview: b.WithoutReview, SignOff: b.SignOff.now(), AmendedSince: b.AmendedSince, Used: f1UsedNow(b.Used),
	}
	for i := range b.Photos {
		out.Photos = append(out.Photos, *b.Photos[i].now())
	}
	for i := range b.Waste {
		out.Waste = append(out.Waste, *b.Waste[i].now())
	}
	return out
}

func (s *f1Salvage) now() *salvageRecord {
	if s == nil {
		return nil
	}
	return &salvageRecord{
		Gaps: s.Gaps, Events: s.Events, Recipes: s.Recipes, Sheets: s.Sheets, Made: s.Made, Numbers: s.Numbers, Tail: s.Tail, NewID: s.NewID,
	}
}

// now gives the event with the place it had and the link it had.
func (e *f1Event) now() *eventRecord {
	out := &eventRecord{
		Seq: e.Seq, ID: e.ID, Batch: e.Batch, Kind: e.Kind, At: e.At.now(), Written: e.Written.maybe(), By: e.By, Prev: e.Prev,
		Reason: e.Reason, Field: e.Field, Old: e.Old, New: e.New, Review: e.Review.now(), Result: e.Result.now(),
		Dip: e.Dip.now(), SignOff: e.SignOff.now(), Photo: e.Photo.now(), Waste: e.Waste.now(), Used: f1UsedNow(e.Used),
		Stock: e.Stock.now(), Container: e.Container, For: e.For, Whole: e.Whole.now(), Salvage: e.Salvage.now(),
	}
	if out.Written != nil && *out.Written == out.At { // they differed by less than a millisecond
		out.Written = nil
	}
	if e.Plan != nil {
		plan := e.Plan.now()
		out.Plan = &plan
	}
	return out
}
