package journal

import (
	"bytes"
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// reader reads batches within one transaction.
type reader struct {
	tx      *bolt.Tx
	events  *shelf
	batches *shelf
	recipes map[string]*recipeContent // by digest: few recipes, many batches
}

func newReader(tx *bolt.Tx) (*reader, error) {
	events, err := bucket(tx, eventsBucket)
	if err != nil {
		return nil, err
	}
	batches, err := bucket(tx, batchesBucket)
	if err != nil {
		return nil, err
	}
	return &reader{tx: tx, events: events, batches: batches, recipes: map[string]*recipeContent{}}, nil
}

// batch reads the record of the batch with the id; it is a fault of the file
// where there is none, since ids come from the file itself.
func (r *reader) batch(i id) (*batchRecord, error) {
	value := r.batches.Get(i[:])
	if value == nil {
		return nil, fmt.Errorf("%w: batch %s is missing", errTangled, i)
	}
	return decodeBatch(i, value)
}

func decodeBatch(i id, value []byte) (*batchRecord, error) {
	var b batchRecord
	if err := unseal(value, &b); err != nil {
		return nil, fmt.Errorf("batch %s: %w", i, err)
	}
	if b.ID != i {
		return nil, fmt.Errorf("%w: batch %s stands in the place of %s", errTangled, b.ID, i)
	}
	return &b, nil
}

// event reads the event with the sequence number.
func (r *reader) event(seq uint64) (*eventRecord, error) {
	value := r.events.Get(seqKey(seq))
	if value == nil {
		return nil, fmt.Errorf("%w: event %d is missing", errTangled, seq)
	}
	return decodeEvent(seq, value)
}

func decodeEvent(seq uint64, value []byte) (*eventRecord, error) {
	var e eventRecord
	if err := unseal(value, &e); err != nil {
		return nil, fmt.Errorf("event %d: %w", seq, err)
	}
	if e.Seq != seq {
		return nil, fmt.Errorf("%w: event %d stands in the place of %d", errTangled, e.Seq, seq)
	}
	return &e, nil
}

// recipe reads the frozen recipe of a batch.
func (r *reader) recipe(b *batchRecord) (*recipeContent, error) {
	if known := r.recipes[string(b.Plan.Recipe)]; known != nil {
		return known, nil
	}
	recipes, err := bucket(r.tx, recipesBucket)
	if err != nil {
		return nil, err
	}
	content, err := getBlob(recipes, b.Plan.Recipe, b.Plan.Recipe)
	if err != nil {
		return nil, fmt.Errorf("batch %s: %w", b.Plan.Number, err)
	}
	var recipe recipeContent
	if err := decoder().Unmarshal(content, &recipe); err != nil {
		return nil, fmt.Errorf("%w: the recipe of batch %s: %w", errTangled, b.Plan.Number, err)
	}
	r.recipes[string(b.Plan.Recipe)] = &recipe
	return &recipe, nil
}

// detail says how much of a batch is read.
type detail struct {
	events bool
	frozen bool // the text of the recipe, and the sheet
}

// public gives a batch as callers see it.
func (r *reader) public(b *batchRecord, with detail) (Batch, error) {
	recipe, err := r.recipe(b)
	if err != nil {
		return Batch{}, err
	}
	out := Batch{
		ID: b.ID.String(), Number: b.Plan.Number, State: b.State, Created: b.Plan.Created.Time(),
		Recipe: RecipeRef{Slug: recipe.Slug, Title: recipe.Title, Kind: recipe.Kind, Revision: recipe.Revision, Digest: recipe.Digest},
		Alloy:  b.Plan.Alloy, Shape: b.Plan.Shape, Pieces: b.Plan.Pieces, Spares: b.Plan.Spares,
		By: b.Plan.By, Note: b.Plan.Note,
	}
	if b.Review != nil {
		out.Review = &Acknowledgement{By: b.Review.By, At: b.Review.At.Time(), Digest: b.Review.Digest, Points: b.Review.Points}
	}
	if b.Result != nil {
		out.Result, out.Logged = b.Result.public(), b.Result.At.Time()
	}
	if err := r.more(b, &out); err != nil {
		return Batch{}, err
	}
	if with.events {
		out.Events = make([]Event, 0, len(b.Events))
		for _, seq := range b.Events {
			e, err := r.event(seq)
			if err != nil {
				return Batch{}, err
			}
			shown := e.public()
			if e.Container != nil {
				c, err := r.containerByID(*e.Container)
				if err != nil {
					return Batch{}, err
				}
				shown.Container = c.Number
			}
			out.Events = append(out.Events, shown)
		}
	}
	if with.frozen {
		out.Recipe.Text = recipe.Text
		if out.Sheet, err = r.sheet(b); err != nil {
			return Batch{}, err
		}
	}
	return out, nil
}

// sheet reads the frozen sheet; nil where the batch has none.
func (r *reader) sheet(b *batchRecord) ([]byte, error) {
	if b.Plan.Sheet == nil {
		return nil, nil
	}
	sheets, err := bucket(r.tx, sheetsBucket)
	if err != nil {
		return nil, err
	}
	content, err := getBlob(sheets, b.ID[:], b.Plan.Sheet)
	if err != nil {
		return nil, fmt.Errorf("batch %s: %w", b.Plan.Number, err)
	}
	if len(content) == 0 { // lost
		return nil, nil
	}
	return bytes.Clone(content), nil
}
