package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"sync"

	"hepar/journal/internal/record"
)

// A frame is how everything lies in the file: magic, kind, length of the body
// (big endian), body (CBOR), CRC-32C of kind, length and body. The body names its
// own key, so that no frame fits in the place of another, and a scan for the magic
// finds every frame that is whole.
const (
	frameMagic = "\x89hpr"
	frameHead  = len(frameMagic) + 1 + 4
	frameTail  = 4
)

// Kinds of frame.
const (
	AboutFrame byte = 'A' // about the journal: once
	HeadFrame  byte = 'H' // the last event: changes with each
	EventFrame byte = 'E'
	listFrame  byte = 'L' // events of a batch or a container
	BlobFrame  byte = 'B' // a recipe or a sheet
)

// maxFrame is the longest body of a frame: a sheet of the most bytes, with room. A
// longer length is damage.
const maxFrame = 8 << 20

var (
	errChecksum = errors.New("the checksum does not fit the bytes")
	errFrame    = errors.New("the bytes are no frame of a journal")
	errPlace    = errors.New("the frame belongs to another key")
)

var castagnoli = sync.OnceValue(func() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) })

// Seal returns the frame of a body.
func Seal(kind byte, v any) ([]byte, error) {
	body, err := record.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("encode frame: %w", err)
	}
	frame := make([]byte, 0, frameHead+len(body)+frameTail)
	frame = append(append(frame, frameMagic...), kind)
	frame = binary.BigEndian.AppendUint32(frame, uint32(len(body)))
	frame = append(frame, body...)
	return binary.BigEndian.AppendUint32(frame, crc32.Checksum(frame[len(frameMagic):], castagnoli())), nil
}

// Unframe returns kind and body of the frame at the start of data, and how long it
// is. It returns an error if there is no whole frame.
func Unframe(data []byte) (kind byte, body []byte, size int, err error) {
	if len(data) < frameHead+frameTail || !bytes.HasPrefix(data, []byte(frameMagic)) {
		return 0, nil, 0, errFrame
	}
	length := binary.BigEndian.Uint32(data[len(frameMagic)+1:])
	size = frameHead + int(length) + frameTail
	if length > maxFrame || size > len(data) {
		return 0, nil, 0, errFrame
	}
	if crc32.Checksum(data[len(frameMagic):size-frameTail], castagnoli()) != binary.BigEndian.Uint32(data[size-frameTail:]) {
		return 0, nil, 0, errChecksum
	}
	return data[len(frameMagic)], data[frameHead : size-frameTail], size, nil
}

// unseal decodes the frame data, which must be of that kind and nothing else.
func unseal(kind byte, data []byte, v any) error {
	got, body, size, err := Unframe(data)
	switch {
	case err != nil:
		return err
	case got != kind || size != len(data):
		return errFrame
	}
	if err := record.Unmarshal(body, v); err != nil {
		return fmt.Errorf("%w: %w", errFrame, err)
	}
	return nil
}

// Link is the body of the frame of an event: its place in the chain, the SHA-256
// of the frame before, and the event as it is stored.
type Link struct {
	_    struct{} `cbor:",toarray"`
	Seq  uint64
	Prev []byte
	Body []byte
}

// list is the body of the frame of a batch or a container: its events.
type list struct {
	_    struct{} `cbor:",toarray"`
	ID   record.ID
	Seqs []uint64
}

// Blob is the body of the frame of a recipe or a sheet.
type Blob struct {
	_      struct{} `cbor:",toarray"`
	SHA256 []byte   // of the content
	Length int      // of the content
	Packed bool     // deflated (RFC 1951)
	Data   []byte
}

// About is written once, when the file is made.
type About struct {
	Magic   string       `cbor:"1,keyasint"`
	Format  int          `cbor:"2,keyasint"`
	Journal record.ID    `cbor:"3,keyasint"`
	Made    record.Stamp `cbor:"4,keyasint"`
}

// Head changes with every event.
type Head struct {
	Seq     uint64            `cbor:"1,keyasint"`           // of the last event; the number of events
	Digest  []byte            `cbor:"2,keyasint"`           // SHA-256 of the frame of the last event
	LastID  record.ID         `cbor:"3,keyasint"`           // the newest id drawn from the clock
	Numbers map[string]uint64 `cbor:"4,keyasint,omitempty"` // the highest number given out, by year or S
	Tx      uint64            `cbor:"5,keyasint"`           // the transaction of the store that wrote this head: every one does
	Last    []Written         `cbor:"6,keyasint,omitempty"` // what it wrote beside the head, as far as it is listed
}

// Written is one entry that the last transaction put or took out. If a disk loses a
// part of a write, an earlier page may lie in the place of a later one, with every
// checksum right; it does not hold what was written last.
type Written struct {
	_      struct{} `cbor:",toarray"`
	Bucket string
	Key    []byte
	Gone   bool
	CRC    uint32 // CRC-32C of the value
}

// mostWritten is how many entries of a transaction are listed: more than a change of
// a batch makes, fewer than an import.
const mostWritten = 64

// recorder is a transaction that notes what is written.
type recorder struct {
	Bucketed
	wrote map[string]Written
}

func (r *recorder) note(w Written) {
	name := w.Bucket + "\x00" + string(w.Key)
	if _, there := r.wrote[name]; there || len(r.wrote) < mostWritten {
		r.wrote[name] = w
	}
}

func (r *recorder) Put(bucket string, key, value []byte) error {
	r.note(Written{Bucket: bucket, Key: bytes.Clone(key), CRC: crc32.Checksum(value, castagnoli())})
	return r.Bucketed.Put(bucket, key, value)
}

func (r *recorder) Delete(bucket string, key []byte) error {
	r.note(Written{Bucket: bucket, Key: bytes.Clone(key), Gone: true})
	return r.Bucketed.Delete(bucket, key)
}
