package journal

import (
	"bytes"
	"crypto/sha256"
	"fmt"
)

// foreign is a batch from elsewhere, whole: out of another journal, or made from
// a row of a file. Its events are in the order of their ids.
type foreign struct {
	id     id
	events []*eventRecord // sequence and link to the event before are of no meaning here
	recipe recipeContent
	sheet  []byte
	// recipeLost is what stands for the recipe where it was lost.
	recipeLost []byte
	row        *row // what it was made from; nil for a batch of another journal
	line       int  // of the file; 0 for a batch of another journal
	// near is how many milliseconds its time may be off that of the same row taken
	// over before, where the id follows from a row: see alike.go.
	near uint64
}

// content gives what an event says, without its place in a chain. The number is
// left aside: a row that had none may have been given different ones at two benches.
func (e *eventRecord) content() ([]byte, error) {
	bare := *e
	bare.Seq, bare.Prev = 0, [32]byte{}
	if e.Plan != nil {
		plan := *e.Plan
		plan.Number = ""
		bare.Plan = &plan
	}
	return encoder().Marshal(&bare)
}

// sameContent says whether two events say the same.
func sameContent(a, b *eventRecord) (bool, error) {
	x, err := a.content()
	if err != nil {
		return false, err
	}
	y, err := b.content()
	return bytes.Equal(x, y), err
}

// derivedID gives the id of something that was never given one. The same thing
// always gets the same, so that what is imported twice, or at two benches, is
// known again.
func derivedID(ms uint64, order byte, parts ...string) id {
	i := boundary(ms, 0)
	sum := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(sum, "%d:%s", len(p), p)
	}
	i[6] = order
	copy(i[7:], sum.Sum(nil))
	return i
}

// foreign makes the batch that a clean row tells of.
func (r *row) foreign(digests *recipeDigests) (*foreign, error) {
	f := &foreign{row: r, sheet: r.Sheet, recipe: recipeContent{
		Slug: r.Recipe, Title: r.RecipeTitle, Kind: r.RecipeKind, Revision: r.RecipeRevision, Digest: r.RecipeDigest, Text: r.RecipeText,
	}}
	number, _, _ := splitNumber(r.Number)
	plan := planRecord{
		Number: number, Created: stampOf(r.created), Alloy: r.Alloy, Shape: r.Shape, Pieces: r.Pieces, Spares: r.Spares, By: r.By, Note: r.Order,
	}
	var err error
	if plan.Recipe, err = digests.of(&f.recipe); err != nil {
		return nil, err
	}
	if f.sheet != nil {
		digest := sha256.Sum256(f.sheet)
		plan.Sheet = digest[:]
	}
	var result *resultRecord
	if r.Good != nil {
		result = r.result().record(stampOf(r.logged))
	}
	if f.id = r.id; f.id == (id{}) {
		f.id = derivedID(millisOf(r.created), 0, "batch", r.identity())
	}
	if len(r.events) == 0 {
		f.events = r.invent(f.id, plan, result)
		return f, nil
	}
	now := batchRecord{ID: f.id, State: State(r.State), Plan: plan, Result: result}
	if err = r.addMore(&now); err == nil {
		f.events, err = r.history(&now)
	}
	return f, err
}

// identity is what makes a row without an id the one it is.
func (r *row) identity() string {
	return fmt.Sprintf("%s\x00%s\x00%s\x00%s\x00%d\x00%d\x00%s\x00%s\x00%v", r.Number, r.Created, r.Recipe, r.Alloy, r.Pieces, r.Spares, r.By, r.Order, r.resultText())
}

func (r *row) resultText() string {
	if r.Good == nil {
		return ""
	}
	res := r.result()
	rec := res.record(stamp{})
	return fmt.Sprintf("%d %d %d %s %s %s %q %q", res.Good, res.Rework, res.Reject, causesText(res.Causes),
		floatText(rec.Celsius, celsiusSuffix), floatText(rec.Seconds, secondsSuffix), res.Shade, res.Note)
}

// invent gives a row without events those it must have had. A review is not
// invented: nobody is made to have taken anything on.
func (r *row) invent(batch id, plan planRecord, result *resultRecord) []*eventRecord {
	ms := max(batch.millis(), millisOf(r.created))
	event := func(kind string, at stamp) *eventRecord {
		ms = max(ms, millisOf(at.Time()))
		return &eventRecord{ID: derivedID(ms, 1, kind, batch.String()), Batch: batch, Kind: kind, At: at, By: r.By}
	}
	created := event(Created, plan.Created)
	created.Plan = &plan
	all := []*eventRecord{created}
	after := func(e *eventRecord) {
		e.ID[6] = byte(len(all) + 1) // rises within a millisecond too
		all = append(all, e)
	}
	if r.review != nil && !r.loose {
		e := event(ReviewedEvent, r.review.At)
		e.Review, e.By = r.review, r.review.By
		after(e)
	}
	if result != nil {
		e := event(LoggedEvent, result.At)
		e.Result = result
		if r.WithoutReview != nil {
			e.Reason = *r.WithoutReview
		}
		after(e)
	}
	if State(r.State) == Withdrawn {
		e := event(WithdrawnEvent, all[len(all)-1].At)
		e.Reason = "withdrawn where it comes from"
		after(e)
	}
	return all
}

// recipeDigests remembers the digests of recipes: few recipes, many rows.
type recipeDigests struct {
	last   recipeContent
	digest []byte
	known  map[recipeContent][]byte
}

func (d *recipeDigests) of(c *recipeContent) ([]byte, error) {
	if d.digest != nil && d.last == *c {
		return d.digest, nil
	}
	digest := d.known[*c]
	if digest == nil {
		content, err := encoder().Marshal(*c)
		if err != nil {
			return nil, err
		}
		sum := sha256.Sum256(content)
		digest = sum[:]
		if d.known == nil || len(d.known) >= 64 {
			d.known = map[recipeContent][]byte{}
		}
		d.known[*c] = digest
	}
	d.last, d.digest = *c, digest
	return digest, nil
}
