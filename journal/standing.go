package journal

import (
	"encoding/binary"
	"fmt"
	"maps"
	"math"
	"slices"
	"time"
)

// standing is what lists, sums and the index need of a batch: what it is found and
// sorted by, its figures, and where its events are. All else is read from the
// events. It is stored as CBOR written and read by hand, because a sum over twenty
// years reads a million of them; it points into the file and is good until the
// transaction ends.
type standing struct {
	ID          id
	State       State
	Year, Count int // the short number
	Recipe      digestKey
	Alloy       []byte
	Pieces      int
	Spares      int
	Created     stamp
	Logged      stamp // where there is a result
	HasResult   bool
	Good        int
	Rework      int
	Reject      int
	Celsius     float64 // NaN where it was not measured
	Seconds     float64
	causes      []byte // CBOR map of names to pieces
	events      []byte // varints: the first sequence number, then the steps
	Twin        bool
	HasSheet    bool
	Sheet       digestKey
}

// The keys of a stored state.
const (
	keyState = iota + 1
	keyNumber
	keyRecipe
	keyAlloy
	keyPieces
	keySpares
	keyEarlier // ms by which it was created before the time in its id
	keyZone    // offset in minutes of the time created
	keyGood
	keyRework
	keyReject
	keyCauses
	keyCelsius
	keySeconds
	keyAfter      // ms from created to the result; also says that there is one
	keyLoggedZone // offset of the time of the result where it is another
	keyEvents
	keyTwin
	keySheet // the first bytes of the digest of the frozen sheet
)

// sealStanding gives the record of a batch, under its id.
func (b *batchRecord) sealStanding() []byte {
	body := make([]byte, 1, 160)
	n := byte(0)
	key := func(k byte) { body = append(body, k); n++ } // a small number is its own CBOR
	whole := func(k byte, v int) {
		if v != 0 {
			key(k)
			body = appendInt(body, int64(v))
		}
	}
	key(keyState)
	body = appendInt(body, int64(slices.Index(States(), b.State)))
	key(keyNumber)
	body = append(body, 0x82)
	body = appendInt(appendInt(body, int64(yearOf(b.Plan.Number))), int64(numberOf(b.Plan.Number)))
	key(keyRecipe)
	body = append(appendHead(body, 2, uint64(len(digestKey{}))), beginning(b.Plan.Recipe)...)
	if b.Plan.Alloy != "" {
		key(keyAlloy)
		body = appendText(body, b.Plan.Alloy)
	}
	whole(keyPieces, b.Plan.Pieces)
	whole(keySpares, b.Plan.Spares)
	created := b.Plan.Created
	whole(keyEarlier, int(int64(b.ID.millis())-created.millis()))
	whole(keyZone, created.Offset)
	if r := b.Result; r != nil {
		whole(keyGood, r.Good)
		whole(keyRework, r.Rework)
		whole(keyReject, r.Reject)
		if len(r.Causes) > 0 {
			key(keyCauses)
			body = appendCauses(body, r.Causes)
		}
		if r.Celsius != nil {
			key(keyCelsius)
			body = appendFigure(body, *r.Celsius)
		}
		if r.Seconds != nil {
			key(keySeconds)
			body = appendFigure(body, *r.Seconds)
		}
		key(keyAfter)
		body = appendInt(body, r.At.millis()-created.millis())
		whole(keyLoggedZone, r.At.Offset-created.Offset)
	}
	key(keyEvents)
	var steps []byte
	before := uint64(0)
	for _, seq := range b.Events {
		steps = binary.AppendVarint(steps, int64(seq-before))
		before = seq
	}
	body = appendHead(body, 2, uint64(len(steps)))
	body = append(body, steps...)
	if b.Twin {
		key(keyTwin)
		body = append(body, 0xf5)
	}
	if b.Plan.Sheet != nil {
		key(keySheet)
		body = append(appendHead(body, 2, uint64(len(digestKey{}))), beginning(b.Plan.Sheet)...)
	}
	body[0] = 0xa0 + n // fewer than 24 keys
	return sealUnder(b.ID[:], body)
}

// digestKey is the beginning of the digest of a frozen recipe or sheet: enough to
// find it.
type digestKey [8]byte

func beginning(digest []byte) []byte {
	var key digestKey
	copy(key[:], digest)
	return key[:]
}

func (s stamp) millis() int64 { return s.Nanos / int64(time.Millisecond) }

// appendHead writes the head of a CBOR item.
func appendHead(b []byte, major byte, n uint64) []byte {
	major <<= 5
	switch {
	case n < 24:
		return append(b, major|byte(n))
	case n <= math.MaxUint8:
		return append(b, major|24, byte(n))
	case n <= math.MaxUint16:
		return binary.BigEndian.AppendUint16(append(b, major|25), uint16(n))
	case n <= math.MaxUint32:
		return binary.BigEndian.AppendUint32(append(b, major|26), uint32(n))
	}
	return binary.BigEndian.AppendUint64(append(b, major|27), n)
}

func appendInt(b []byte, n int64) []byte {
	if n < 0 {
		return appendHead(b, 1, uint64(-(n + 1)))
	}
	return appendHead(b, 0, uint64(n))
}

func appendText(b []byte, text string) []byte {
	return append(appendHead(b, 3, uint64(len(text))), text...)
}

func appendCauses(b []byte, causes map[string]int) []byte {
	b = appendHead(b, 5, uint64(len(causes)))
	for _, name := range slices.Sorted(maps.Keys(causes)) {
		b = appendInt(appendText(b, name), int64(causes[name]))
	}
	return b
}

// appendFigure writes a figure in hundredths where that says it exactly, which is
// shorter than a float for what people measure.
func appendFigure(b []byte, x float64) []byte {
	if h := math.Round(x * 100); math.Abs(h) < 1e9 && h/100 == x && !(h == 0 && math.Signbit(x)) {
		return appendInt(b, int64(h))
	}
	return binary.BigEndian.AppendUint64(append(b, 0xfb), math.Float64bits(x))
}

// decodeStanding reads the record of the batch with the id into s.
func decodeStanding(i id, record []byte, s *standing) error {
	body, err := unsealUnder(i[:], record)
	if err != nil {
		return fmt.Errorf("batch %s: %w", i, err)
	}
	r := cborReader{b: body}
	*s = standing{ID: i, Celsius: math.NaN(), Seconds: math.NaN(), State: Planned}
	earlier, after, zone := int64(0), int64(0), 0
	major, n := r.head()
	r.bad = r.bad || major != 5
	for ; n > 0 && !r.bad; n-- {
		switch k := r.integer(); k {
		case keyState:
			s.State = r.state()
		case keyNumber:
			if major, n := r.head(); major != 4 || n != 2 {
				r.bad = true
			}
			s.Year, s.Count = int(r.integer()), int(r.integer())
		case keyRecipe:
			s.Recipe = r.digestKey()
		case keySheet:
			s.Sheet, s.HasSheet = r.digestKey(), true
		case keyAlloy:
			s.Alloy = r.bytes(3)
		case keyPieces:
			s.Pieces = int(r.integer())
		case keySpares:
			s.Spares = int(r.integer())
		case keyEarlier:
			earlier = r.integer()
		case keyZone:
			s.Created.Offset = int(r.integer())
		case keyGood:
			s.Good = int(r.integer())
		case keyRework:
			s.Rework = int(r.integer())
		case keyReject:
			s.Reject = int(r.integer())
		case keyCauses:
			s.causes = r.causes(nil)
		case keyCelsius:
			s.Celsius = r.figure()
		case keySeconds:
			s.Seconds = r.figure()
		case keyAfter:
			after, s.HasResult = r.integer(), true
		case keyLoggedZone:
			zone = int(r.integer())
		case keyEvents:
			s.events = r.bytes(2)
		case keyTwin:
			s.Twin = r.flag()
		default:
			r.bad = true
		}
	}
	if r.bad || len(r.b) > 0 {
		return fmt.Errorf("batch %s: %w", i, errOdd)
	}
	created := int64(i.millis()) - earlier
	s.Created = stampAt(created, s.Created.Offset)
	if s.HasResult {
		s.Logged = stampAt(created+after, s.Created.Offset+zone)
	}
	return nil
}

// decodeBatch gives what the record of a batch alone tells of it, which is all
// there is where its events are lost: its figures, without the words, and of the
// digests of its recipe and its sheet only the beginning.
func decodeBatch(i id, record []byte) (*batchRecord, error) {
	var s standing
	if err := decodeStanding(i, record, &s); err != nil {
		return nil, err
	}
	b := &batchRecord{ID: i, State: s.State, Twin: s.Twin, Plan: planRecord{
		Number: s.number(), Created: s.Created, Recipe: s.Recipe[:], Alloy: string(s.Alloy), Pieces: s.Pieces, Spares: s.Spares,
	}}
	if s.HasResult {
		r := &resultRecord{Good: s.Good, Rework: s.Rework, Reject: s.Reject, At: s.Logged}
		s.eachCause(func(name []byte, pieces int) {
			if r.Causes == nil {
				r.Causes = map[string]int{}
			}
			r.Causes[string(name)] = pieces
		})
		if !math.IsNaN(s.Celsius) {
			r.Celsius = &s.Celsius
		}
		if !math.IsNaN(s.Seconds) {
			r.Seconds = &s.Seconds
		}
		b.Result = r
	}
	if s.HasSheet {
		b.Plan.Sheet = s.Sheet[:]
	}
	var err error
	b.Events, err = s.seqs()
	return b, err
}
