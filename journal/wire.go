package journal

import (
	"time"
)

// The stored shapes. Each key number is used once and for ever; FORMAT.md lists
// them. What is not in a record is zero, so a new key needs no new version as
// long as an old program may refuse the record.

// stamp is a moment: nanoseconds since 1970 in UTC, whole milliseconds, and the
// minutes by which the bench's clock was ahead of UTC when it was written.
type stamp struct {
	_      struct{} `cbor:",toarray"`
	Nanos  int64
	Offset int
}

func stampOf(t time.Time) stamp {
	_, seconds := t.Zone()
	return stampAt(t.UnixMilli(), seconds/60)
}

func stampAt(millis int64, offset int) stamp {
	return stamp{Nanos: millis * int64(time.Millisecond), Offset: offset}
}

// Time gives the moment in the offset in which it was written.
func (s stamp) Time() time.Time {
	return time.Unix(0, s.Nanos).In(time.FixedZone("", s.Offset*60))
}

// planRecord, reviewRecord and resultRecord are parts of an event. Where their
// time and person are those of the event they are not stored again: see lean.go.
type planRecord struct {
	Number  string `cbor:"1,keyasint,omitempty"`
	Created stamp  `cbor:"2,keyasint,omitzero"`
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
	At     stamp    `cbor:"2,keyasint,omitzero"`
	Digest string   `cbor:"3,keyasint,omitempty"`
	Points []string `cbor:"4,keyasint,omitempty"`
	Packed []byte   `cbor:"5,keyasint,omitempty"` // the digest where it is a SHA-256
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
	At      stamp          `cbor:"9,keyasint,omitzero"`
}

// eventRecord is an event. Its place in the chain is its key and not stored
// again; the comments say what else is left out where it follows from the rest.
type eventRecord struct {
	Seq     uint64        `cbor:"-"`
	ID      id            `cbor:"1,keyasint"`
	Batch   id            `cbor:"2,keyasint,omitzero"` // left out where it is the id
	Kind    string        `cbor:"-"`
	Code    int           `cbor:"3,keyasint"`           // stored only: number of the kind
	Zone    int           `cbor:"4,keyasint,omitempty"` // stored only: offset of Written in minutes
	At      stamp         `cbor:"5,keyasint,omitzero"`  // left out where it is Written
	Written *stamp        `cbor:"6,keyasint,omitempty"` // the clock, where it differs from At; left out where it is the time in the id
	By      string        `cbor:"7,keyasint,omitempty"`
	Prev    [32]byte      `cbor:"8,keyasint"` // SHA-256 of the record of the event before
	Reason  string        `cbor:"9,keyasint,omitempty"`
	Field   string        `cbor:"10,keyasint,omitempty"`
	Old     string        `cbor:"11,keyasint,omitempty"`
	New     string        `cbor:"12,keyasint,omitempty"`
	Plan    *planRecord   `cbor:"13,keyasint,omitempty"`
	Review  *reviewRecord `cbor:"14,keyasint,omitempty"`
	Result  *resultRecord `cbor:"15,keyasint,omitempty"`

	// See bookwire.go. Of an event of a container, key 2 is the id of the container.
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

	Taken   *takenRecord   `cbor:"32,keyasint,omitempty"` // of taken over: it belongs to no batch
	Upgrade *upgradeRecord `cbor:"33,keyasint,omitempty"` // of upgraded: likewise
}

// batchRecord is a batch as its events make it. What is stored of it is its state:
// see state.go.
type batchRecord struct {
	ID     id            `cbor:"1,keyasint"`
	State  State         `cbor:"2,keyasint"`
	Plan   planRecord    `cbor:"3,keyasint"`
	Review *reviewRecord `cbor:"4,keyasint,omitempty"`
	Result *resultRecord `cbor:"5,keyasint,omitempty"`
	Events []uint64      `cbor:"6,keyasint"` // sequence numbers, in the order of the ids of the events
	People []string      `cbor:"7,keyasint,omitempty"`

	Dip           *dipRecord     `cbor:"8,keyasint,omitempty"`
	WithoutReview string         `cbor:"9,keyasint,omitempty"`
	SignOff       *signOffRecord `cbor:"10,keyasint,omitempty"`
	AmendedSince  bool           `cbor:"11,keyasint,omitempty"` // since it was signed off
	Photos        []photoRecord  `cbor:"12,keyasint,omitempty"`
	Waste         []wasteRecord  `cbor:"13,keyasint,omitempty"`
	Used          []usedRecord   `cbor:"14,keyasint,omitempty"`

	Twin bool `cbor:"30,keyasint,omitempty"` // another bench gave its number to another batch
}

// takenRecord tells that the events before it came from elsewhere.
type takenRecord struct {
	How     string   `cbor:"1,keyasint"`           // imported, merged
	Events  uint64   `cbor:"2,keyasint"`           // how many, just before this one
	Journal id       `cbor:"3,keyasint,omitzero"`  // from which journal
	Digest  [32]byte `cbor:"4,keyasint"`           // of the last event of that journal, or of the file
	Source  string   `cbor:"5,keyasint,omitempty"` // what the file was called
}

// upgradeRecord tells what the journal was before an upgrade.
type upgradeRecord struct {
	From   int      `cbor:"1,keyasint"`           // its format
	Last   uint64   `cbor:"2,keyasint"`           // its last event
	Digest [32]byte `cbor:"3,keyasint"`           // of the record of that event as it was
	Gaps   []byte   `cbor:"4,keyasint,omitempty"` // SHA-256 of all keys and records of the gaps, as they are now written
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
	Moment     uint64 `cbor:"9,keyasint,omitempty"` // number of the store's transaction that wrote it; 0 where it is not known
}
