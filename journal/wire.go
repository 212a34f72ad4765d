package journal

import (
	"time"
)

// The stored shapes. Each key number is used once and for ever; FORMAT.md lists
// them. What is not in a record is zero, so a new key needs no new version as
// long as an old program may refuse the record.

// stamp is a moment: nanoseconds since 1970 in UTC, and the minutes by which
// the bench's clock was ahead of UTC when it was written.
type stamp struct {
	_      struct{} `cbor:",toarray"`
	Nanos  int64
	Offset int
}

func stampOf(t time.Time) stamp {
	_, seconds := t.Zone()
	return stamp{Nanos: t.UnixNano(), Offset: seconds / 60}
}

// Time gives the moment in the offset in which it was written.
func (s stamp) Time() time.Time {
	return time.Unix(0, s.Nanos).In(time.FixedZone("", s.Offset*60))
}

type planRecord struct {
	Number  string `cbor:"1,keyasint"`
	Created stamp  `cbor:"2,keyasint"`
	Recipe  []byte `cbor:"3,keyasint"` // SHA-256 of the frozen recipe, its key in the bucket of recipes
	Alloy   string `cbor:"4,keyasint,omitempty"`
	Shape   string `cbor:"5,keyasint,omitempty"`
	Pieces  int    `cbor:"6,keyasint"`
	Spares  int    `cbor:"7,keyasint,omitempty"`
	Sheet   []byte `cbor:"8,keyasint,omitempty"` // SHA-256 of the frozen sheet
	By      string `cbor:"9,keyasint,omitempty"`
	Note    string `cbor:"10,keyasint,omitempty"`
}

type reviewRecord struct {
	By     string   `cbor:"1,keyasint,omitempty"`
	At     stamp    `cbor:"2,keyasint"`
	Digest string   `cbor:"3,keyasint,omitempty"`
	Points []string `cbor:"4,keyasint,omitempty"`
}

type resultRecord struct {
	Good    int            `cbor:"1,keyasint,omitempty"`
	Rework  int            `cbor:"2,keyasint,omitempty"`
	Reject  int            `cbor:"3,keyasint,omitempty"`
	Causes  map[string]int `cbor:"4,keyasint,omitempty"`
	Celsius *float64       `cbor:"5,keyasint,omitempty"`
	Seconds *float64       `cbor:"6,keyasint,omitempty"`
	Shade   string         `cbor:"7,keyasint,omitempty"`
	Note    string         `cbor:"8,keyasint,omitempty"`
	At      stamp          `cbor:"9,keyasint"`
}

type eventRecord struct {
	Seq     uint64        `cbor:"1,keyasint"`
	ID      id            `cbor:"2,keyasint"`
	Batch   id            `cbor:"3,keyasint"`
	Kind    string        `cbor:"4,keyasint"`
	At      stamp         `cbor:"5,keyasint"`
	Written *stamp        `cbor:"6,keyasint,omitempty"` // the clock, where it differs from At
	By      string        `cbor:"7,keyasint,omitempty"`
	Prev    [32]byte      `cbor:"8,keyasint"` // SHA-256 of the record of the event before
	Reason  string        `cbor:"9,keyasint,omitempty"`
	Field   string        `cbor:"10,keyasint,omitempty"`
	Old     string        `cbor:"11,keyasint,omitempty"`
	New     string        `cbor:"12,keyasint,omitempty"`
	Plan    *planRecord   `cbor:"13,keyasint,omitempty"`
	Review  *reviewRecord `cbor:"14,keyasint,omitempty"`
	Result  *resultRecord `cbor:"15,keyasint,omitempty"`

	// See bookwire.go. Of an event of a container, key 3 is the id of the container.
	Dip       *dipRecord       `cbor:"16,keyasint,omitempty"`
	SignOff   *signOffRecord   `cbor:"17,keyasint,omitempty"`
	Photo     *photoRecord     `cbor:"18,keyasint,omitempty"`
	Waste     *wasteRecord     `cbor:"19,keyasint,omitempty"`
	Used      []usedRecord     `cbor:"20,keyasint,omitempty"`
	Stock     *containerRecord `cbor:"21,keyasint,omitempty"`
	Container *id              `cbor:"22,keyasint,omitempty"` // of an amendment of a batch that comes from a container
	For       *id              `cbor:"23,keyasint,omitempty"` // of the use of a container: the batch

	// See lossy.go.
	Whole   *batchRecord   `cbor:"30,keyasint,omitempty"` // the batch as it stood, without its events
	Salvage *salvageRecord `cbor:"31,keyasint,omitempty"`
}

type batchRecord struct {
	ID     id            `cbor:"1,keyasint"`
	State  State         `cbor:"2,keyasint"`
	Plan   planRecord    `cbor:"3,keyasint"`
	Review *reviewRecord `cbor:"4,keyasint,omitempty"`
	Result *resultRecord `cbor:"5,keyasint,omitempty"`
	Events []uint64      `cbor:"6,keyasint"` // sequence numbers, rising
	People []string      `cbor:"7,keyasint,omitempty"`

	Dip           *dipRecord     `cbor:"8,keyasint,omitempty"`
	WithoutReview string         `cbor:"9,keyasint,omitempty"`
	SignOff       *signOffRecord `cbor:"10,keyasint,omitempty"`
	AmendedSince  bool           `cbor:"11,keyasint,omitempty"` // since it was signed off
	Photos        []photoRecord  `cbor:"12,keyasint,omitempty"`
	Waste         []wasteRecord  `cbor:"13,keyasint,omitempty"`
	Used          []usedRecord   `cbor:"14,keyasint,omitempty"`
}

// recipeContent is the frozen recipe. Its SHA-256 (of the CBOR) is its key.
type recipeContent struct {
	Slug     string `cbor:"1,keyasint"`
	Title    string `cbor:"2,keyasint,omitempty"`
	Kind     string `cbor:"3,keyasint,omitempty"`
	Revision int    `cbor:"4,keyasint,omitempty"`
	Digest   string `cbor:"5,keyasint,omitempty"`
	Text     string `cbor:"6,keyasint,omitempty"`
}

// blobRecord holds a frozen recipe or sheet, packed where that is smaller.
type blobRecord struct {
	Length int    `cbor:"1,keyasint"` // in bytes, unpacked
	Packed bool   `cbor:"2,keyasint,omitempty"`
	Data   []byte `cbor:"3,keyasint"`
	Lost   bool   `cbor:"4,keyasint,omitempty"` // it could not be salvaged; data has what is known of a recipe, and nothing of a sheet
}

// aboutRecord is written once, when the file is made.
type aboutRecord struct {
	Format  int   `cbor:"1,keyasint"`
	Journal id    `cbor:"2,keyasint"`
	Created stamp `cbor:"3,keyasint"`
}

// headRecord changes with every event.
type headRecord struct {
	Seq     uint64      `cbor:"1,keyasint"` // of the last event; the number of events
	Digest  [32]byte    `cbor:"2,keyasint"` // of the record of the last event
	LastID  id          `cbor:"3,keyasint"` // the newest id drawn from the clock
	LagMS   uint64      `cbor:"4,keyasint"` // the most by which the time in an id is ahead of its batch's time
	Years   map[int]int `cbor:"5,keyasint"` // last number given out, by year
	Batches uint64      `cbor:"6,keyasint"`

	Container  int    `cbor:"7,keyasint,omitempty"` // last number given out to a container
	Containers uint64 `cbor:"8,keyasint,omitempty"`
}
