package journal

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"fmt"
	"io"
)

// putBlob stores content under key as it is.
func putBlob(b *shelf, key, content []byte) error {
	return putRecord(b, key, blobRecord{Length: len(content), Data: content})
}

// packBlob stores content under key, packed where that makes it smaller.
func packBlob(b *shelf, key, content []byte) error {
	blob := blobRecord{Length: len(content), Data: content}
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.BestSpeed)
	if err != nil {
		return err
	}
	if _, err := w.Write(content); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	if packed.Len() < len(content) {
		blob.Packed, blob.Data = true, packed.Bytes()
	}
	return putRecord(b, key, blob)
}

// getBlob reads what putBlob or packBlob stored and makes sure that it has the digest want.
func getBlob(b *shelf, key, want []byte) ([]byte, error) {
	record := b.Get(key)
	if record == nil {
		return nil, fmt.Errorf("%w: a frozen recipe or sheet is missing", errTangled)
	}
	content, lost, err := openBlob(record)
	if err != nil || lost {
		return content, err
	}
	if digest := sha256.Sum256(content); !bytes.Equal(digest[:], want) {
		return nil, fmt.Errorf("%w: a frozen recipe or sheet is not the one that the batch was made from", errTangled)
	}
	return content, nil
}

// openBlob gives what is in a record of frozen content; lost says that it could
// not be salvaged.
func openBlob(record []byte) (content []byte, lost bool, err error) {
	var blob blobRecord
	if err := unseal(record, &blob); err != nil {
		return nil, false, err
	}
	if blob.Lost {
		return blob.Data, true, nil
	}
	content = blob.Data
	if blob.Packed {
		unpacked := flate.NewReader(bytes.NewReader(blob.Data))
		// One byte more than it should be: enough to tell that it is too long.
		if content, err = io.ReadAll(io.LimitReader(unpacked, int64(blob.Length)+1)); err != nil {
			return nil, false, fmt.Errorf("%w: a frozen recipe or sheet cannot be unpacked: %w", errTangled, err)
		}
	}
	if len(content) != blob.Length {
		return nil, false, fmt.Errorf("%w: a frozen recipe or sheet is %d bytes long and should be %d", errTangled, len(content), blob.Length)
	}
	return content, false, nil
}
