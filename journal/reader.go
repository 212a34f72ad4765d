package journal

import (
	"bytes"
	"encoding/binary"
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// reader reads batches within one transaction.
type reader struct {
	tx      *bolt.Tx
	events  *shelf
	batches *shelf
	recipes map[string]*recipeContent // by digest: few recipes, many batches
	begun   map[digestKey]*recipeContent
	fresh   *fresh // see waiting
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
	return &reader{tx: tx, events: events, batches: batches, recipes: map[string]*recipeContent{}, begun: map[digestKey]*recipeContent{}}, nil
}

// batch reads the batch with the id; it is a fault of the file where there is
// none, since ids come from the file itself.
func (r *reader) batch(i id) (*batchRecord, error) {
	var s standing
	if err := r.standing(i, &s); err != nil {
		return nil, err
	}
	b, _, err := r.replay(&s)
	return b, err
}

// standing reads how the batch stands with the id.
func (r *reader) standing(i id, s *standing) error {
	value := r.batches.Get(i[:])
	if value == nil {
		return fmt.Errorf("%w: batch %s is missing", errTangled, i)
	}
	return decodeStanding(i, value, s)
}

// replay makes a batch from its events, and gives those too.
func (r *reader) replay(s *standing) (*batchRecord, []*eventRecord, error) {
	seqs, err := s.seqs()
	if err != nil {
		return nil, nil, err
	}
	events := make([]*eventRecord, len(seqs))
	for i, seq := range seqs {
		if events[i], err = r.event(seq); err != nil {
			return nil, nil, err
		}
	}
	b := &batchRecord{Twin: s.Twin}
	if err := b.replay(events); err != nil {
		return nil, nil, err
	}
	if b.ID != s.ID {
		return nil, nil, notMine(s)
	}
	return b, events, nil
}

func notMine(s *standing) error {
	return fmt.Errorf("%w: the events of batch %s are of another", errTangled, s.ID)
}

// event reads the event with the sequence number.
func (r *reader) event(seq uint64) (*eventRecord, error) {
	record, err := r.eventBytes(seq)
	if err != nil {
		return nil, err
	}
	return decodeEvent(seq, record)
}

func (r *reader) eventBytes(seq uint64) ([]byte, error) {
	var key [8]byte
	binary.BigEndian.PutUint64(key[:], seq)
	record := r.events.Get(key[:])
	if record == nil {
		return nil, fmt.Errorf("%w: event %d is missing", errTangled, seq)
	}
	return record, nil
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
	if recipe.quick(content) {
		r.recipes[string(b.Plan.Recipe)] = &recipe
		return &recipe, nil
	}
	if err := decoder().Unmarshal(content, &recipe); err != nil {
		return nil, fmt.Errorf("%w: the recipe of batch %s: %w", errTangled, b.Plan.Number, err)
	}
	r.recipes[string(b.Plan.Recipe)] = &recipe
	return &recipe, nil
}

// recipeBegun reads the frozen recipe of a batch by the beginning of its digest.
func (r *reader) recipeBegun(s *standing) (*recipeContent, error) {
	if known := r.begun[s.Recipe]; known != nil {
		return known, nil
	}
	recipes, err := bucket(r.tx, recipesBucket)
	if err != nil {
		return nil, err
	}
	key, _ := recipes.Cursor().Seek(s.Recipe[:])
	if !bytes.HasPrefix(key, s.Recipe[:]) {
		return nil, fmt.Errorf("%w: the frozen recipe of batch %s is missing", errTangled, s.ID)
	}
	recipe, err := r.recipe(&batchRecord{Plan: planRecord{Number: s.number(), Recipe: bytes.Clone(key)}})
	if err == nil {
		r.begun[s.Recipe] = recipe
	}
	return recipe, err
}

// detail says how much of a batch is read.
type detail struct {
	events bool
	frozen bool // the text of the recipe, and the sheet
}

// read gives a batch as callers see it.
func (r *reader) read(s *standing, with detail) (Batch, error) {
	b, events, err := r.replay(s)
	if err != nil {
		return Batch{}, err
	}
	out, err := r.public(b, detail{frozen: with.frozen})
	if err == nil && with.events {
		out.Events, err = r.publicEvents(events)
	}
	return out, err
}

func (r *reader) publicEvents(events []*eventRecord) ([]Event, error) {
	out := publicEvents(events, true)
	for i, e := range events {
		if e.Container != nil {
			var err error
			if out[i].Container, err = r.containerName(*e.Container); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// public gives a batch as callers see it.
func (r *reader) public(b *batchRecord, with detail) (Batch, error) {
	recipe, err := r.recipe(b)
	if err != nil {
		return Batch{}, err
	}
	out := Batch{
		ID: b.ID.String(), Number: b.number(), State: b.State, Created: b.Plan.Created.Time(),
		Recipe: RecipeRef{Slug: recipe.Slug, Title: recipe.Title, Kind: recipe.Kind, Revision: recipe.Revision, Digest: recipe.Digest},
		Alloy:  b.Plan.Alloy, Shape: b.Plan.Shape, Pieces: b.Plan.Pieces, Spares: b.Plan.Spares,
		By: b.Plan.By, Note: b.Plan.Note,
	}
	if b.Review != nil {
		out.Review = b.Review.public()
	}
	if b.Result != nil {
		out.Result, out.Logged = b.Result.public(), b.Result.At.Time()
	}
	if err := r.more(b, &out); err != nil {
		return Batch{}, err
	}
	if with.events {
		events, err := r.eventsOf(b)
		if err != nil {
			return Batch{}, err
		}
		if out.Events, err = r.publicEvents(events); err != nil {
			return Batch{}, err
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

// publicEvents gives events as callers see them. Those of a whole batch leave out
// what the batch itself says.
func publicEvents(events []*eventRecord, whole bool) []Event {
	out := make([]Event, len(events))
	logged, reviewed, signed := !whole, !whole, !whole // whether a later one has been seen
	for i := len(events) - 1; i >= 0; i-- {
		e := events[i]
		out[i] = e.public()
		switch {
		case e.Kind == LoggedEvent && e.Result != nil:
			if logged {
				out[i].Result = e.Result.public()
			}
			logged = true
		case e.Kind == ReviewedEvent && e.Review != nil:
			if reviewed {
				out[i].Review = e.Review.public()
			}
			reviewed = true
		case e.Kind == SignedOffEvent && e.SignOff != nil:
			if signed {
				out[i].Note = e.SignOff.Note
			}
			signed = true
		}
	}
	return out
}

func (v *reviewRecord) public() *Acknowledgement {
	return &Acknowledgement{By: v.By, At: v.At.Time(), Digest: v.Digest, Points: v.Points}
}

// eventsOf reads all events of a batch.
func (r *reader) eventsOf(b *batchRecord) ([]*eventRecord, error) {
	all := make([]*eventRecord, len(b.Events))
	for i, seq := range b.Events {
		var err error
		if all[i], err = r.event(seq); err != nil {
			return nil, err
		}
	}
	return all, nil
}
