package store

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"fmt"
	"io"
	"iter"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// notHere is the length of a blob whose content did not come with its batch.
const notHere = -1

// PutBlob keeps content under its SHA-256, which it returns. The same content is
// kept once.
func (tx *Tx) PutBlob(content []byte) []byte {
	sum := sha256.Sum256(content)
	if !tx.HasBlob(sum[:]) {
		var packed bytes.Buffer
		w, _ := flate.NewWriter(&packed, flate.BestCompression) // the level is known
		_, _ = w.Write(content)                                 // a buffer takes all
		_ = w.Close()
		tx.put(blobsBucket, sum[:], sealed(BlobFrame, Blob{SHA256: sum[:], Length: len(content), Data: packed.Bytes()}))
	}
	return sum[:]
}

// PutBlobFrame keeps the frame of a blob as it is.
func (tx *Tx) PutBlobFrame(sum, frame []byte) { tx.put(blobsBucket, sum, frame) }

// Lack notes that the content under a SHA-256 did not come with its batch. Content
// that comes later takes the place of the note.
func (tx *Tx) Lack(sum []byte) {
	tx.put(blobsBucket, sum, sealed(BlobFrame, Blob{SHA256: sum, Length: notHere}))
}

// Noted says whether there is content under a SHA-256, or a note that it did not come.
func (tx *Tx) Noted(sum []byte) bool { return tx.kv.Get(blobsBucket, sum) != nil }

// HasBlob says whether there is content under a SHA-256.
func (tx *Tx) HasBlob(sum []byte) bool {
	var b Blob
	return tx.Noted(sum) && (unseal(BlobFrame, tx.kv.Get(blobsBucket, sum), &b) != nil || b.Length != notHere)
}

// Blob returns the content under a SHA-256; nil if that is empty, or if the content did
// not come with its batch or was lost before the journal was salvaged.
func (tx *Tx) Blob(sum []byte) []byte {
	frame := tx.kv.Get(blobsBucket, sum)
	if frame == nil && (len(sum) == 0 || tx.Head.Salvaged) {
		return nil
	} else if frame == nil {
		fault.Check(tangled("the text %.4x is missing", sum))
	}
	var b Blob
	fault.Check(unseal(BlobFrame, frame, &b))
	if !bytes.Equal(b.SHA256, sum) {
		fault.Check(errPlace)
	}
	return fault.Must(b.Content())
}

// Blobs yields the SHA-256 and the frame of all blobs.
func (tx *Tx) Blobs() iter.Seq2[[]byte, []byte] { return tx.kv.Scan(blobsBucket, nil, nil, false) }

// Content returns what the blob holds; nil if it did not come with its batch. It
// looks at the length before it unpacks anything, and returns an error if the
// content is not that of its SHA-256.
func (b Blob) Content() ([]byte, error) {
	if b.Length == notHere && len(b.Data) == 0 {
		return nil, nil
	}
	if b.Length < 0 || b.Length > record.MaxSheet {
		return nil, fmt.Errorf("%w: a text of %d bytes", errFrame, b.Length)
	}
	content, _ := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(b.Data)), int64(b.Length)+1))
	if sum := sha256.Sum256(content); len(content) != b.Length || !bytes.Equal(sum[:], b.SHA256) {
		return nil, fmt.Errorf("%w: a text", errChecksum)
	}
	return content, nil
}
