package journal

import "time"

// The stored shapes of format 1, as they were: see the section on it in FORMAT.md.
// They never change, whatever becomes of those in wire.go. Each has a method that
// gives what the present shapes make of it.

// f1Stamp is a moment: nanoseconds since 1970 in UTC and the offset in minutes.
type f1Stamp struct {
	_      struct{} `cbor:",toarray"`
	Nanos  int64
	Offset int
}

// now gives the moment in whole milliseconds, rounded down as ids do.
func (s f1Stamp) now() stamp { return stampAt(time.Unix(0, s.Nanos).UnixMilli(), s.Offset) }

func (s *f1Stamp) maybe() *stamp {
	if s == nil {
		return nil
	}
	t := s.now()
	return &t
}

type f1Plan struct {
	Number  string  `cbor:"1,keyasint"`
	Created f1Stamp `cbor:"2,keyasint"`
	Recipe  []byte  `cbor:"3,keyasint"`
	Alloy   string  `cbor:"4,keyasint,omitempty"`
	Shape   string  `cbor:"5,keyasint,omitempty"`
	Pieces  int     `cbor:"6,keyasint"`
	Spares  int     `cbor:"7,keyasint,omitempty"`
	Sheet   []byte  `cbor:"8,keyasint,omitempty"`
	By      string  `cbor:"9,keyasint,omitempty"`
	Note    string  `cbor:"10,keyasint,omitempty"`
}

type f1Review struct {
	By     string   `cbor:"1,keyasint,omitempty"`
	At     f1Stamp  `cbor:"2,keyasint"`
	Digest string   `cbor:"3,keyasint,omitempty"`
	Points []string `cbor:"4,keyasint,omitempty"`
}

type f1Result struct {
	Good    int            `cbor:"1,keyasint,omitempty"`
	Rework  int            `cbor:"2,keyasint,omitempty"`
	Reject  int            `cbor:"3,keyasint,omitempty"`
	Causes  map[string]int `cbor:"4,keyasint,omitempty"`
	Celsius *float64       `cbor:"5,keyasint,omitempty"`
	Seconds *float64       `cbor:"6,keyasint,omitempty"`
	Shade   string         `cbor:"7,keyasint,omitempty"`
	Note    string         `cbor:"8,keyasint,omitempty"`
	At      f1Stamp        `cbor:"9,keyasint"`
}

type f1Event struct {
	Seq     uint64    `cbor:"1,keyasint"`
	ID      id        `cbor:"2,keyasint"`
	Batch   id        `cbor:"3,keyasint"` // or container
	Kind    string    `cbor:"4,keyasint"`
	At      f1Stamp   `cbor:"5,keyasint"`
	Written *f1Stamp  `cbor:"6,keyasint,omitempty"` // where it differs from At
	By      string    `cbor:"7,keyasint,omitempty"`
	Prev    [32]byte  `cbor:"8,keyasint"`
	Reason  string    `cbor:"9,keyasint,omitempty"`
	Field   string    `cbor:"10,keyasint,omitempty"`
	Old     string    `cbor:"11,keyasint,omitempty"`
	New     string    `cbor:"12,keyasint,omitempty"`
	Plan    *f1Plan   `cbor:"13,keyasint,omitempty"`
	Review  *f1Review `cbor:"14,keyasint,omitempty"`
	Result  *f1Result `cbor:"15,keyasint,omitempty"`

	Dip       *f1Dip       `cbor:"16,keyasint,omitempty"`
	SignOff   *f1SignOff   `cbor:"17,keyasint,omitempty"`
	Photo     *f1Photo     `cbor:"18,keyasint,omitempty"`
	Waste     *f1Waste     `cbor:"19,keyasint,omitempty"`
	Used      []f1Used     `cbor:"20,keyasint,omitempty"`
	Stock     *f1Container `cbor:"21,keyasint,omitempty"`
	Container *id          `cbor:"22,keyasint,omitempty"`
	For       *id          `cbor:"23,keyasint,omitempty"`

	Whole   *f1Batch   `cbor:"30,keyasint,omitempty"`
	Salvage *f1Salvage `cbor:"31,keyasint,omitempty"`
}

type f1Batch struct {
	ID     id        `cbor:"1,keyasint"`
	State  State     `cbor:"2,keyasint"`
	Plan   f1Plan    `cbor:"3,keyasint"`
	Review *f1Review `cbor:"4,keyasint,omitempty"`
	Result *f1Result `cbor:"5,keyasint,omitempty"`
	Events []uint64  `cbor:"6,keyasint"` // rising
	People []string  `cbor:"7,keyasint,omitempty"`

	Dip           *f1Dip     `cbor:"8,keyasint,omitempty"`
	WithoutReview string     `cbor:"9,keyasint,omitempty"`
	SignOff       *f1SignOff `cbor:"10,keyasint,omitempty"`
	AmendedSince  bool       `cbor:"11,keyasint,omitempty"`
	Photos        []f1Photo  `cbor:"12,keyasint,omitempty"`
	Waste         []f1Waste  `cbor:"13,keyasint,omitempty"`
	Used          []f1Used   `cbor:"14,keyasint,omitempty"`
}

type f1Dip struct {
	By      string   `cbor:"1,keyasint,omitempty"`
	Started f1Stamp  `cbor:"2,keyasint"`
	Loads   []f1Load `cbor:"3,keyasint,omitempty"`
}

type f1Load struct {
	Number  int      `cbor:"1,keyasint"`
	Pieces  int      `cbor:"2,keyasint"`
	Celsius *float64 `cbor:"3,keyasint,omitempty"`
	Seconds *float64 `cbor:"4,keyasint,omitempty"`
	Note    string   `cbor:"5,keyasint,omitempty"`
}

type f1Used struct {
	Container id      `cbor:"1,keyasint"`
	Substance string  `cbor:"2,keyasint,omitempty"`
	Lot       string  `cbor:"3,keyasint,omitempty"`
	Amount    float64 `cbor:"4,keyasint"`
	Unit      string  `cbor:"5,keyasint"`
}

type f1SignOff struct {
	By   string  `cbor:"1,keyasint"`
	At   f1Stamp `cbor:"2,keyasint"`
	Note string  `cbor:"3,keyasint,omitempty"`
}

type f1Photo struct {
	Path   string   `cbor:"1,keyasint"`
	SHA256 []byte   `cbor:"2,keyasint"`
	Bytes  int64    `cbor:"3,keyasint"`
	Taken  *f1Stamp `cbor:"4,keyasint,omitempty"`
	By     string   `cbor:"5,keyasint,omitempty"`
	Note   string   `cbor:"6,keyasint,omitempty"`
}

type f1Waste struct {
	Liters    float64       `cbor:"1,keyasint"`
	Container string        `cbor:"2,keyasint"`
	Contents  []f1WastePart `cbor:"3,keyasint,omitempty"`
	Went      string        `cbor:"4,keyasint,omitempty"`
	By        string        `cbor:"5,keyasint,omitempty"`
	At        f1Stamp       `cbor:"6,keyasint"`
}

type f1WastePart struct {
	What               string  `cbor:"1,keyasint"`
	MilligramsPerLiter float64 `cbor:"2,keyasint"`
	Source             string  `cbor:"3,keyasint,omitempty"`
}

type f1Container struct {
	ID         id       `cbor:"1,keyasint"`
	Number     string   `cbor:"2,keyasint"`
	Added      f1Stamp  `cbor:"3,keyasint"`
	Substance  string   `cbor:"4,keyasint"`
	Form       string   `cbor:"5,keyasint,omitempty"`
	Lot        string   `cbor:"6,keyasint,omitempty"`
	Supplier   string   `cbor:"7,keyasint,omitempty"`
	Received   Date     `cbor:"8,keyasint,omitempty"`
	Opened     Date     `cbor:"9,keyasint,omitempty"`
	Expires    Date     `cbor:"10,keyasint,omitempty"`
	Unit       string   `cbor:"11,keyasint"`
	Amount     float64  `cbor:"12,keyasint"`
	Left       float64  `cbor:"13,keyasint,omitempty"`
	Observed   string   `cbor:"14,keyasint,omitempty"`
	ObservedAt *f1Stamp `cbor:"15,keyasint,omitempty"`
	SDS        string   `cbor:"16,keyasint,omitempty"`
	SDSRevised Date     `cbor:"17,keyasint,omitempty"`
	SDSLooked  Date     `cbor:"18,keyasint,omitempty"`
	Place      string   `cbor:"19,keyasint,omitempty"`
	Note       string   `cbor:"20,keyasint,omitempty"`
	By         string   `cbor:"21,keyasint,omitempty"`
	Emptied    *f1Stamp `cbor:"22,keyasint,omitempty"`
	Events     []uint64 `cbor:"23,keyasint,omitempty"`
}

type f1Salvage struct {
	Gaps    [32]byte `cbor:"1,keyasint"`
	Events  uint64   `cbor:"2,keyasint,omitempty"`
	Recipes int      `cbor:"3,keyasint,omitempty"`
	Sheets  int      `cbor:"4,keyasint,omitempty"`
	Made    int      `cbor:"5,keyasint,omitempty"`
	Numbers int      `cbor:"6,keyasint,omitempty"`
	Tail    bool     `cbor:"7,keyasint,omitempty"`
	NewID   bool     `cbor:"8,keyasint,omitempty"`
}

type f1Gap struct {
	From   uint64   `cbor:"1,keyasint"`
	To     uint64   `cbor:"2,keyasint"`
	Before [32]byte `cbor:"3,keyasint"`
	After  [32]byte `cbor:"4,keyasint"`
}

type f1About struct {
	Format  int     `cbor:"1,keyasint"`
	Journal id      `cbor:"2,keyasint"`
	Created f1Stamp `cbor:"3,keyasint"`
}

type f1Head struct {
	Seq        uint64      `cbor:"1,keyasint"`
	Digest     [32]byte    `cbor:"2,keyasint"`
	LastID     id          `cbor:"3,keyasint"`
	LagMS      uint64      `cbor:"4,keyasint"`
	Years      map[int]int `cbor:"5,keyasint"`
	Batches    uint64      `cbor:"6,keyasint"`
	Container  int         `cbor:"7,keyasint,omitempty"`
	Containers uint64      `cbor:"8,keyasint,omitempty"`
}
