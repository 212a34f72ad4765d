package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"iter"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// A frame is how everything but keys lies in the file: magic, kind, length of the
// body (big endian), body (CBOR), CRC-32C of kind, length and body. The body names
// its own key, so that no frame fits in the place of another, and a scan for the
// magic finds every frame that is whole.
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

// maxFrame is the longest body of a frame in bytes: a sheet of the most bytes, with
// room. A longer length is damage.
const maxFrame = 8 << 20

var (
	errChecksum = errors.New("the checksum does not fit the bytes")
	errFrame    = errors.New("the bytes are no frame of a journal")
	errPlace    = errors.New("the frame belongs to another key")
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func checksum(data []byte) uint32 { return crc32.Checksum(data, castagnoli) }

// Seal returns the frame of a body.
func Seal(kind byte, v any) ([]byte, error) {
	body, err := record.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("encode frame: %w", err)
	}
	if len(body) > maxFrame {
		return nil, fmt.Errorf("a frame of %d bytes is too long", len(body))
	}
	frame := make([]byte, 0, frameHead+len(body)+frameTail)
	frame = append(append(frame, frameMagic...), kind)
	frame = binary.BigEndian.AppendUint32(frame, uint32(len(body)))
	frame = append(frame, body...)
	return binary.BigEndian.AppendUint32(frame, checksum(frame[len(frameMagic):])), nil
}

// Unframe returns kind and body of the frame at the start of data, and its length
// in bytes. It returns an error if there is no whole frame.
func Unframe(data []byte) (kind byte, body []byte, size int, err error) {
	if !bytes.HasPrefix(data, []byte(frameMagic)) || len(data) < frameHead+frameTail {
		return 0, nil, 0, errFrame
	}
	length := binary.BigEndian.Uint32(data[len(frameMagic)+1:])
	size = frameHead + int(length) + frameTail
	if length > maxFrame || size > len(data) {
		return 0, nil, 0, errFrame
	}
	if checksum(data[len(frameMagic):size-frameTail]) != binary.BigEndian.Uint32(data[size-frameTail:]) {
		return 0, nil, 0, errChecksum
	}
	return data[len(frameMagic)], data[frameHead : size-frameTail], size, nil
}

func sealed(kind byte, v any) []byte {
	frame, err := Seal(kind, v)
	fault.Check(err)
	return frame
}

// unseal decodes the frame data, which must be of that kind and nothing else.
func unseal(kind byte, data []byte, v any) error {
	got, body, size, err := Unframe(data)
	if err != nil {
		return err
	}
	if got != kind || size != len(data) {
		return errFrame
	}
	if err := record.Unmarshal(body, v); err != nil {
		return fmt.Errorf("%w: %w", errFrame, err)
	}
	return nil
}

const (
	scanStep = maxFrame + 1<<20 // how far a scan goes on at a time, in bytes: a frame that begins in it ends in the next
	scanSkip = 4 << 10          // how much it passes over where the disk cannot be read
)

// Found is a frame that a scan has found, good until the next.
type Found struct {
	At          int64 // its first byte
	Kind        byte
	Frame, Body []byte
}

// ScanFrames reads a file of so many bytes from the first to the last and yields
// every frame that is whole, on a page in use or not. With an error it yields the
// place of the beginning of a frame that is not whole.
func ScanFrames(file io.ReaderAt, size int64) iter.Seq2[Found, error] {
	return func(yield func(Found, error) bool) {
		buf := make([]byte, min(2*scanStep, size))
		for at := int64(0); at < size; {
			n, unread := file.ReadAt(buf, at)
			from := 0
			for i := 0; ; from += i {
				if i = bytes.Index(buf[from:n], []byte(frameMagic)); i < 0 || from+i >= scanStep {
					break
				}
				from += i
				f := Found{At: at + int64(from)}
				var err error
				if f.Kind, f.Body, i, err = Unframe(buf[from:n]); err != nil {
					i = len(frameMagic)
				}
				f.Frame = buf[from : from+i]
				if !yield(f, err) {
					return
				}
			}
			if unread == nil || unread == io.EOF || n >= scanStep {
				at += int64(max(from, scanStep))
			} else if at += int64(n); yield(Found{At: at}, unread) {
				at += scanSkip
			} else {
				return
			}
		}
	}
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
	Length int      // of the content in bytes; notHere if it did not come with its batch
	Data   []byte   // the content, deflated (RFC 1951)
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
	Seq      uint64            `cbor:"1,keyasint"`           // of the last event; the number of events
	Digest   []byte            `cbor:"2,keyasint"`           // SHA-256 of the frame of the last event
	LastID   record.ID         `cbor:"3,keyasint"`           // the newest id drawn from the clock
	Numbers  map[string]uint64 `cbor:"4,keyasint,omitempty"` // the highest number given out, by year or S
	Tx       uint64            `cbor:"5,keyasint"`           // the transaction of the store that wrote this head: every one does
	Last     []Written         `cbor:"6,keyasint,omitempty"` // what it wrote beside the head, as far as it is listed
	Salvaged bool              `cbor:"7,keyasint,omitempty"` // events may be missing
}

// Written is one entry that the last transaction put or took out. If a disk loses part of
// a write, an earlier page may lie in the place of a later one, with every checksum right.
type Written struct {
	_      struct{} `cbor:",toarray"`
	Bucket string
	Key    []byte
	CRC    uint32 // CRC-32C of the value; 0 if it was taken out
}

// mostWritten is how many entries of a transaction are listed: more than a change of
// a batch makes, fewer than an import.
const mostWritten = 64
