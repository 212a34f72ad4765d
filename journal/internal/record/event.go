// Package record says what can happen in the journal, and that a batch or a container is the sum of its events.
//
// Begin with Event, the one struct that is stored (CBOR) and exported (JSON), and with ReplayAs, which adds events up.
// Fields is what a person may say about a batch and correct later: flags, amendments, CSV columns, imports and sums
// follow it. Check tells whether this program would have written an event. Ready is the gate before a batch is dipped.
package record

import (
	"slices"
	"strings"

	"hepar/recipe/measure"
	"hepar/recipe/run"
)

// Kinds of event. A kind is never used again for anything else.
const (
	Created    = "created"   // a batch is planned
	Reviewed   = "reviewed"  // its safety review is acknowledged
	Bench      = "bench"     // one thing was done at the bench
	Logged     = "logged"    // its result is known
	Amended    = "amended"   // one field is corrected
	Withdrawn  = "withdrawn" // it does not count
	Used       = "used"      // something was taken from a container, outside a dip
	SignedOff  = "signed-off"
	PhotoAdded = "photo-added"
	WasteAdded = "waste-added"

	StockAdded   = "stock-added" // these four are of a container
	StockChanged = "stock-changed"
	StockUsed    = "stock-used"
	StockEmptied = "stock-emptied"

	TakenOver = "taken-over" // of the journal: the events before it came from elsewhere
	Salvaged  = "salvaged"   // of the journal: it was made from a damaged one
)

// Event is one change: of a batch, of a container, or of the journal as a whole. It is both the stored form
// (CBOR keys, never used twice) and the exported form (JSON keys). Check reads the tags of this struct and
// of those below it: a text or a time must be there unless its CBOR is omitted; "is" is what messages call
// it; "long" is "note" or "path" for a text that may be longer than a line. For the others see Field.
type Event struct {
	ID      ID     `cbor:"1,keyasint" json:"id"`
	Of      ID     `cbor:"2,keyasint,omitzero" json:"of,omitzero"` // the batch or container; zero if it is of the journal
	Kind    string `cbor:"3,keyasint" json:"kind" is:"kind of the event"`
	At      Stamp  `cbor:"4,keyasint" json:"at" is:"entry"`                        // when it happened
	Written Stamp  `cbor:"5,keyasint,omitzero" json:"written,omitzero" is:"entry"` // the clock when it was written, where that is another time
	By      string `cbor:"6,keyasint,omitempty" json:"by" is:"name"`

	Reason string `cbor:"7,keyasint,omitempty" json:"reason,omitempty" long:"note"` // of an amendment, a withdrawal, or work without a valid review
	Field  string `cbor:"8,keyasint,omitempty" json:"field,omitempty"`              // of an amendment or a change of stock
	Old    string `cbor:"9,keyasint,omitempty" json:"old,omitempty" is:"value before" long:"note"`
	New    string `cbor:"10,keyasint,omitempty" json:"new,omitempty" is:"value" long:"note"`

	Plan      *Plan             `cbor:"11,keyasint,omitempty" json:"plan,omitempty"`
	Review    *Review           `cbor:"12,keyasint,omitempty" json:"review,omitempty"`
	Result    *Result           `cbor:"13,keyasint,omitempty" json:"result,omitempty"`
	Note      string            `cbor:"15,keyasint,omitempty" json:"note,omitempty" long:"note"` // of a sign-off
	Photo     *PhotoRef         `cbor:"16,keyasint,omitempty" json:"photo,omitempty"`
	Waste     *WasteEntry       `cbor:"17,keyasint,omitempty" json:"waste,omitempty"`
	Uses      []Use             `cbor:"18,keyasint,omitempty" json:"uses,omitempty"`      // what was taken from containers
	Container *ContainerPlan    `cbor:"19,keyasint,omitempty" json:"container,omitempty"` // as it was added
	For       ID                `cbor:"20,keyasint,omitzero" json:"for,omitzero"`         // of stock used: the batch; of an amendment: the container it comes from
	Source    *Source           `cbor:"21,keyasint,omitempty" json:"source,omitempty"`    // of taken-over and salvaged
	Bench     *run.Entry        `cbor:"22,keyasint,omitempty" json:"bench,omitempty"`
	Unknown   map[string]string `cbor:"-" json:"unknown,omitempty"` // by CBOR key: parts with something that this build does not know
	Raw       []byte            `cbor:"-" json:"raw,omitempty"`     // the stored form of an event with Unknown, so that nothing is lost

	Seq uint64 `cbor:"-" json:"-"` // its place in the chain, from 1
}

// OfStock says whether the event is of a container, as far as its kind tells.
func (e *Event) OfStock() bool { return e.Container != nil || strings.HasPrefix(e.Kind, "stock-") }

// Texts returns the digests of the texts that the event names: recipe and sheet.
func (e *Event) Texts() (sums []Digest) {
	if e.Plan != nil {
		sums = []Digest{e.Plan.TextSHA, e.Plan.SheetSHA}
	}
	return slices.DeleteFunc(sums, func(d Digest) bool { return len(d) == 0 })
}

// whole says whether the event has the part that its kind is about.
func (e *Event) whole() bool {
	return (e.Kind != Created || e.Plan != nil) && (e.Kind != Reviewed || e.Review != nil) && (e.Kind != Bench || e.Bench != nil) &&
		(e.Kind != Logged || e.Result != nil) && (e.Kind != PhotoAdded || e.Photo != nil) && (e.Kind != WasteAdded || e.Waste != nil) &&
		(e.Kind != StockAdded || e.Container != nil)
}

// Recipe is the recipe of a batch as it was when the batch was planned.
type Recipe struct {
	Slug     string `cbor:"20,keyasint" json:"recipe"`
	Title    string `cbor:"21,keyasint,omitempty" json:"recipe_title"`
	Kind     string `cbor:"22,keyasint,omitempty" json:"recipe_kind"`
	Revision int    `cbor:"23,keyasint,omitempty" json:"recipe_revision" in:"0 10000000"`
	Digest   string `cbor:"24,keyasint,omitempty" json:"recipe_digest"`           // "sha256:..." of what it says
	TextSHA  Digest `cbor:"25,keyasint,omitempty" json:"recipe_sha256,omitempty"` // of its text, which is a blob
	Text     string `cbor:"-" json:"recipe_text,omitempty"`                       // where it was read
}

// Plan is a batch as planned.
type Plan struct {
	Number   string `cbor:"1,keyasint" json:"number"` // "2026-014"
	Created  Stamp  `cbor:"2,keyasint" json:"created" is:"batch"`
	Recipe          // its keys stand among those of the plan
	Alloy    string `cbor:"3,keyasint,omitempty" json:"alloy" is:"metal" as:"sterling-925"`
	Shape    string `cbor:"4,keyasint,omitempty" json:"shape" as:"disc"`
	Pieces   int    `cbor:"5,keyasint" json:"pieces" as:"48" in:"1 10000000"` // wanted, without spares
	Spares   int    `cbor:"6,keyasint,omitempty" json:"spares" as:"2" in:"0 10000000"`
	By       string `cbor:"7,keyasint,omitempty" json:"by" is:"name"`
	Order    string `cbor:"8,keyasint,omitempty" json:"order" long:"note" as:"Saltholm Rowing Club"` // customer, order: free text
	SheetSHA Digest `cbor:"9,keyasint,omitempty" json:"sheet_sha256,omitempty"`                      // of the frozen sheet, which is a blob
}

// Made returns the number of pieces that are started: pieces and spares.
func (p Plan) Made() int { return p.Pieces + p.Spares }

// Review is a safety review that somebody went through.
type Review struct {
	By     string   `cbor:"1,keyasint,omitempty" json:"by" is:"name of the reviewer"`
	At     Stamp    `cbor:"2,keyasint" json:"at" is:"review"`
	Digest string   `cbor:"3,keyasint,omitempty" json:"digest"`                              // of the recipe reviewed
	Points []string `cbor:"4,keyasint,omitempty" json:"points" is:"code of a point"`         // codes of what was shown and confirmed
	Stops  []string `cbor:"5,keyasint,omitempty" json:"stops,omitempty" is:"code of a stop"` // what forbids the work: no review to go on with

	// What was measured or named, by the code of the point: ph, capture, meter, second. What
	// the review was reckoned with: room, alloy. Nothing about the health of a person.
	Answers map[string]string `cbor:"6,keyasint,omitempty" json:"answers,omitempty"`
	Inputs  map[string]string `cbor:"7,keyasint,omitempty" json:"inputs,omitempty"`
}

// Dip is the loads that went through the bath, as the entries of the bench make them.
type Dip struct {
	By      string `cbor:"1,keyasint,omitempty" json:"by" is:"name"`
	Started Stamp  `cbor:"2,keyasint" json:"started" is:"dip"`
	Loads   []Load `cbor:"3,keyasint,omitempty" json:"loads"`
}

// Load is one load as it went through the bath.
type Load struct {
	Number      int              `cbor:"1,keyasint" json:"number"` // from 1
	Pieces      int              `cbor:"2,keyasint" json:"pieces"`
	Temperature *measure.Celsius `cbor:"3,keyasint,omitempty" json:"temperature_c"` // of the bath, as measured
	Time        *measure.Seconds `cbor:"4,keyasint,omitempty" json:"time_s"`        // in the bath
	Note        string           `cbor:"5,keyasint,omitempty" json:"note,omitempty" is:"note of a load" long:"note"`

	Causes map[string]int `cbor:"6,keyasint,omitempty" json:"causes,omitempty"` // of its pieces that are not good, where that was said
}

// SignOff is the word of a second person that the record of a batch is right.
type SignOff struct {
	By           string `json:"by"`
	At           Stamp  `json:"at"`
	Note         string `json:"note,omitempty"`
	AmendedSince bool   `json:"amended_since"` // the record was amended later: it may be signed off again
}

// PhotoRef is a photograph of a batch: where it lies and what it was, not the picture.
type PhotoRef struct {
	Path   string `cbor:"1,keyasint" json:"path" is:"path of the photo" long:"path"`
	SHA256 Digest `cbor:"2,keyasint" json:"sha256"`
	Bytes  int64  `cbor:"3,keyasint" json:"bytes"`
	Taken  Stamp  `cbor:"4,keyasint,omitzero" json:"taken,omitzero" is:"photo"`
	By     string `cbor:"5,keyasint,omitempty" json:"by" is:"name"`
	Note   string `cbor:"6,keyasint,omitempty" json:"note,omitempty" is:"note of the photo" long:"note"`
}

// WasteEntry is what was poured into a waste container: what was done, and no classification of it.
type WasteEntry struct {
	Liters    measure.Liters `cbor:"1,keyasint" json:"volume_l"`
	Container string         `cbor:"2,keyasint" json:"container" is:"name of the waste container"` // the name on its label
	Contents  []WastePart    `cbor:"3,keyasint,omitempty" json:"contents"`
	Went      string         `cbor:"4,keyasint,omitempty" json:"went,omitempty" is:"place the waste went to" long:"note"`
	By        string         `cbor:"5,keyasint,omitempty" json:"by" is:"name"`
	At        Stamp          `cbor:"6,keyasint" json:"at" is:"waste"`
	Instead   bool           `cbor:"7,keyasint,omitempty" json:"instead,omitempty"` // of what the batch had in this container; no volume takes it out
}

// WastePart is one thing in a waste, as estimated or measured.
type WastePart struct {
	What               string  `cbor:"1,keyasint" json:"what" is:"part of the waste"`
	MilligramsPerLiter float64 `cbor:"2,keyasint" json:"mg_per_l"`
	Source             string  `cbor:"3,keyasint,omitempty" json:"source" is:"source of a figure" long:"note"` // "estimate, good to a factor of five", a laboratory
}

// Use is an amount taken from a container. Amount is grams or millilitres: see Unit.
type Use struct {
	Container ID      `cbor:"1,keyasint" json:"container_id"`
	Number    string  `cbor:"2,keyasint,omitempty" json:"container"` // "S-012"
	Substance string  `cbor:"3,keyasint,omitempty" json:"substance"`
	Lot       string  `cbor:"4,keyasint,omitempty" json:"lot"`
	Amount    float64 `cbor:"5,keyasint" json:"amount"`
	Unit      string  `cbor:"6,keyasint" json:"unit"` // UnitGrams or UnitML
}

// Source says where the events before came from.
type Source struct {
	How     string `cbor:"1,keyasint" json:"how" is:"way it came"`                                       // "imported", "merged", "salvaged"
	File    string `cbor:"2,keyasint,omitempty" json:"file,omitempty" is:"name of the file" long:"path"` // what it was called
	Journal ID     `cbor:"3,keyasint,omitzero" json:"journal,omitzero"`                                  // of which journal
	SHA256  Digest `cbor:"4,keyasint,omitempty" json:"sha256,omitempty"`                                 // of its last event, or of the file
	Events  uint64 `cbor:"5,keyasint" json:"events"`                                                     // how many events came
	Lost    uint64 `cbor:"6,keyasint,omitempty" json:"lost,omitempty"`                                   // how many could not be read
	Tail    bool   `cbor:"7,keyasint,omitempty" json:"tail,omitempty"`                                   // whether later ones are lost cannot be told
}

// The units of amounts in a container.
const (
	UnitGrams = "g"
	UnitML    = "mL"
)
