package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"iter"

	"github.com/fxamacker/cbor/v2"

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

const (
	errChecksum = damage("the checksum does not fit the bytes")
	errFrame    = damage("the bytes are no frame of a journal")
	errPlace    = damage("the frame belongs to another key")
)

// checksum is CRC-32C, whose table the library makes once, when it is first asked for.
func checksum(data []byte) uint32 { return crc32.Checksum(data, crc32.MakeTable(crc32.Castagnoli)) }

// Seal returns the frame of a body.
func Seal(kind byte, v any) ([]byte, error) {
	body, err := record.Marshal(v)
	if err == nil && len(body) > maxFrame {
		err = fmt.Errorf("a frame of %d bytes is too long", len(body))
	}
	frame := append([]byte(frameMagic), kind)
	frame = append(binary.BigEndian.AppendUint32(frame, uint32(len(body))), body...)
	return binary.BigEndian.AppendUint32(frame, checksum(frame[len(frameMagic):])), err
}

func sealed(kind byte, v any) []byte { return fault.Must(Seal(kind, v)) }

// Found is a frame in the bytes of a file.
type Found struct {
	At          int64 // its first byte
	Kind        byte
	Frame, Body []byte
}

// Unframe returns the frame at the start of data. It returns an error if there is no
// whole one.
func Unframe(data []byte) (f Found, err error) {
	if !bytes.HasPrefix(data, []byte(frameMagic)) || len(data) < frameHead+frameTail {
		return f, errFrame
	}
	length := binary.BigEndian.Uint32(data[len(frameMagic)+1:])
	end := frameHead + int(length)
	if length > maxFrame || end+frameTail > len(data) {
		return f, errFrame
	}
	if checksum(data[len(frameMagic):end]) != binary.BigEndian.Uint32(data[end:]) {
		return f, errChecksum
	}
	return Found{Kind: data[len(frameMagic)], Body: data[frameHead:end], Frame: data[:end+frameTail]}, nil
}

// unseal decodes the frame data, which must be of that kind and nothing else.
func unseal(kind byte, data []byte, v any) error {
	f, err := Unframe(data)
	if err != nil {
		return err
	}
	if f.Kind != kind || len(f.Frame) != len(data) {
		return errFrame
	}
	if err := record.Unmarshal(f.Body, v); err != nil {
		return fmt.Errorf("%w: %w", errFrame, err)
	}
	return nil
}

const (
	scanStep = maxFrame + 1<<20 // how far a scan goes on at a time, in bytes: a frame that begins in it ends in the next
	scanSkip = 4 << 10          // how much it passes over where the disk cannot be read
)

// ScanFrames reads a file of so many bytes from the first to the last and yields
// every frame that is whole, on a page in use or not, good until the next. With an
// error it yields the place of the beginning of one that is not whole.
func ScanFrames(file io.ReaderAt, size int64) iter.Seq2[Found, error] {
	return func(yield func(Found, error) bool) {
		buf := make([]byte, min(2*scanStep, size))
		for at := int64(0); at < size; {
			n, unread := file.ReadAt(buf, at)
			from := 0
			for {
				i := bytes.Index(buf[from:n], []byte(frameMagic))
				if i < 0 || from+i >= scanStep {
					break
				}
				from += i
				f, err := Unframe(buf[from:n])
				f.At = at + int64(from)
				if !yield(f, err) {
					return
				}
				from += max(len(f.Frame), len(frameMagic))
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
	Salvaged bool              `cbor:"7,keyasint,omitempty"` // events may be missing
	Entries  uint64            `cbor:"8,keyasint"`           // in all buckets, so that none can be lost with its page

	// What it put or took out beside the head, as far as it is listed: CRC-32C of each value, by bucket,
	// space and key; 0 if it was taken out. If a disk loses part of a write, an earlier page may lie in the
	// place of a later one, with every checksum right.
	Last map[cbor.ByteString]uint32 `cbor:"6,keyasint,omitempty"`
}

// mostWritten is how many entries of a transaction are listed: more than a change of
// a batch makes, fewer than an import.
const mostWritten = 64
