package journal

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"sync"

	"github.com/fxamacker/cbor/v2"
)

// recordVersion is the first byte of every record. A newer program that needs
// other keys in a record writes a higher one.
const recordVersion = 1

// checksumSize is the length in bytes of the CRC-32C at the end of a record.
const checksumSize = 4

var (
	errChecksum = errors.New("the checksum does not fit the bytes")
	errShort    = errors.New("the record is cut short")
	errNewer    = errors.New("the record was written by a newer version")
)

var castagnoli = sync.OnceValue(func() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) })

// encoder writes RFC 8949 core deterministic CBOR: the same value gives the
// same bytes, which the digests and the check by replay rest on.
var encoder = sync.OnceValue(func() cbor.EncMode {
	mode, err := cbor.CoreDetEncOptions().EncMode()
	if err != nil {
		panic(err) // the options are fixed: cannot happen
	}
	return mode
})

// decoder refuses what encoder would never have written.
var decoder = sync.OnceValue(func() cbor.DecMode {
	mode, err := cbor.DecOptions{
		DupMapKey:         cbor.DupMapKeyEnforcedAPF,
		IndefLength:       cbor.IndefLengthForbidden,
		TagsMd:            cbor.TagsForbidden,
		ExtraReturnErrors: cbor.ExtraDecErrorUnknownField,
		MaxNestedLevels:   8,
	}.DecMode()
	if err != nil {
		panic(err) // the options are fixed: cannot happen
	}
	return mode
})

// seal gives the record of v: version, CBOR, CRC-32C of both (big endian).
func seal(v any) ([]byte, error) {
	if byHand, ok := v.(interface{ appendRecord(b []byte) []byte }); ok {
		return withChecksum(byHand.appendRecord(append(make([]byte, 0, 160), recordVersion))), nil
	}
	body, err := encoder().Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("encode record: %w", err)
	}
	record := make([]byte, 1, 1+len(body)+checksumSize)
	record[0] = recordVersion
	record = append(record, body...)
	return withChecksum(record), nil
}

// unseal checks a record and decodes it into v. Nothing of v points into
// record afterwards.
func unseal(record []byte, v any) error {
	if err := checkPlain(record); err != nil {
		return err
	}
	body := record[1 : len(record)-checksumSize]
	if byHand, ok := v.(interface{ quick(body []byte) bool }); ok && byHand.quick(body) {
		return nil
	}
	if err := decoder().Unmarshal(body, v); err != nil {
		return fmt.Errorf("decode record: %w", err)
	}
	return nil
}

// checkPlain checks a record that is sealed without its key.
func checkPlain(record []byte) error {
	end := len(record) - checksumSize
	if end < 2 {
		return errShort
	}
	if crc32.Checksum(record[:end], castagnoli()) != binary.BigEndian.Uint32(record[end:]) {
		return errChecksum
	}
	if record[0] != recordVersion {
		return fmt.Errorf("%w (%d)", errNewer, record[0])
	}
	return nil
}

// sealUnder gives the record of a body that is stored under key: version, body,
// CRC-32C of key, version and body. It does not fit under another key.
func sealUnder(key, body []byte) []byte {
	record := make([]byte, 1, 1+len(body)+checksumSize)
	record[0] = recordVersion
	record = append(record, body...)
	return binary.BigEndian.AppendUint32(record, checksumUnder(key, record))
}

func checksumUnder(key, record []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli()), castagnoli(), record)
}

// unsealUnder checks a record that is stored under key and gives its body, which
// lies in the record.
func unsealUnder(key, record []byte) ([]byte, error) {
	end := len(record) - checksumSize
	if end < 2 {
		return nil, errShort
	}
	if checksumUnder(key, record[:end]) != binary.BigEndian.Uint32(record[end:]) {
		return nil, errChecksum
	}
	if record[0] != recordVersion {
		return nil, fmt.Errorf("%w (%d)", errNewer, record[0])
	}
	return record[1:end], nil
}

// withChecksum adds the CRC-32C to a version and a body.
func withChecksum(record []byte) []byte {
	return binary.BigEndian.AppendUint32(record, crc32.Checksum(record, castagnoli()))
}
