package journal

// The stored shapes of the dip, the second person, photos, waste and stock. See
// wire.go: each key number is used once and for ever.

type dipRecord struct {
	By      string       `cbor:"1,keyasint,omitempty"`
	Started stamp        `cbor:"2,keyasint"`
	Loads   []loadRecord `cbor:"3,keyasint,omitempty"`
}

type loadRecord struct {
	Number  int      `cbor:"1,keyasint"`
	Pieces  int      `cbor:"2,keyasint"`
	Celsius *float64 `cbor:"3,keyasint,omitempty"`
	Seconds *float64 `cbor:"4,keyasint,omitempty"`
	Note    string   `cbor:"5,keyasint,omitempty"`
}

// usedRecord is what a batch took from a container. Substance and lot are those
// of the container; they are amended along with it.
type usedRecord struct {
	Container id      `cbor:"1,keyasint"`
	Substance string  `cbor:"2,keyasint,omitempty"`
	Lot       string  `cbor:"3,keyasint,omitempty"`
	Amount    float64 `cbor:"4,keyasint"`
	Unit      string  `cbor:"5,keyasint"` // unitGrams or unitML
}

type signOffRecord struct {
	By   string `cbor:"1,keyasint"`
	At   stamp  `cbor:"2,keyasint"`
	Note string `cbor:"3,keyasint,omitempty"`
}

type photoRecord struct {
	Path   string `cbor:"1,keyasint"`
	SHA256 []byte `cbor:"2,keyasint"`
	Bytes  int64  `cbor:"3,keyasint"`
	Taken  *stamp `cbor:"4,keyasint,omitempty"`
	By     string `cbor:"5,keyasint,omitempty"`
	Note   string `cbor:"6,keyasint,omitempty"`
}

type wasteRecord struct {
	Liters    float64           `cbor:"1,keyasint"`
	Container string            `cbor:"2,keyasint"`
	Contents  []wastePartRecord `cbor:"3,keyasint,omitempty"`
	Went      string            `cbor:"4,keyasint,omitempty"`
	By        string            `cbor:"5,keyasint,omitempty"`
	At        stamp             `cbor:"6,keyasint"`
}

type wastePartRecord struct {
	What               string  `cbor:"1,keyasint"`
	MilligramsPerLiter float64 `cbor:"2,keyasint"`
	Source             string  `cbor:"3,keyasint,omitempty"`
}

// containerRecord is a container as it stands after its events; in the event that
// adds it, as it was added, without events.
type containerRecord struct {
	ID         id       `cbor:"1,keyasint"`
	Number     string   `cbor:"2,keyasint"`
	Added      stamp    `cbor:"3,keyasint"`
	Substance  string   `cbor:"4,keyasint"`
	Form       string   `cbor:"5,keyasint,omitempty"`
	Lot        string   `cbor:"6,keyasint,omitempty"`
	Supplier   string   `cbor:"7,keyasint,omitempty"`
	Received   Date     `cbor:"8,keyasint,omitempty"`
	Opened     Date     `cbor:"9,keyasint,omitempty"`
	Expires    Date     `cbor:"10,keyasint,omitempty"`
	Unit       string   `cbor:"11,keyasint"` // of the two amounts: unitGrams or unitML
	Amount     float64  `cbor:"12,keyasint"` // as received
	Left       float64  `cbor:"13,keyasint,omitempty"`
	Observed   string   `cbor:"14,keyasint,omitempty"`
	ObservedAt *stamp   `cbor:"15,keyasint,omitempty"`
	SDS        string   `cbor:"16,keyasint,omitempty"`
	SDSRevised Date     `cbor:"17,keyasint,omitempty"`
	SDSLooked  Date     `cbor:"18,keyasint,omitempty"`
	Place      string   `cbor:"19,keyasint,omitempty"`
	Note       string   `cbor:"20,keyasint,omitempty"`
	By         string   `cbor:"21,keyasint,omitempty"`
	Emptied    *stamp   `cbor:"22,keyasint,omitempty"`
	Events     []uint64 `cbor:"23,keyasint,omitempty"` // sequence numbers, rising
}
