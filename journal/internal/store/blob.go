package store

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"fmt"
	"io"

	"hepar/journal/internal/record"
)

// mostBlob is the longest content of a blob: a sheet of the most bytes.
const mostBlob = record.MaxSheet

// PutBlob keeps content under its SHA-256, which it returns. The same content is
// kept once.
func (tx *Tx) PutBlob(content []byte) ([]byte, error) {
	sum := sha256.Sum256(content)
	if tx.HasBlob(sum[:]) && !tx.Lacks(sum[:]) {
		return sum[:], nil
	}
	b := Blob{SHA256: sum[:], Length: len(content), Data: content}
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		return nil, err
	}
	_, _ = w.Write(content)
	if err := w.Close(); err != nil {
		return nil, err
	}
	if packed.Len() < len(content) {
		b.Packed, b.Data = true, packed.Bytes()
	}
	return sum[:], put(tx.kv, blobsBucket, sum[:], BlobFrame, b)
}

// notHere is the length of a blob whose content did not come with its batch.
const notHere = -1

// Lack notes that the content under a SHA-256 did not come with its batch. Content
// that comes later takes the place of the note.
func (tx *Tx) Lack(sum []byte) error {
	return put(tx.kv, blobsBucket, sum, BlobFrame, Blob{SHA256: sum, Length: notHere})
}

// Lacks says whether the content under a SHA-256 did not come with its batch.
func (tx *Tx) Lacks(sum []byte) bool {
	var b Blob
	frame := tx.kv.Get(blobsBucket, sum)
	return frame != nil && unseal(BlobFrame, frame, &b) == nil && b.Length == notHere
}

// Blob returns the content under a SHA-256; nil if it did not come with its batch.
func (tx *Tx) Blob(sum []byte) ([]byte, error) {
	frame := tx.kv.Get(blobsBucket, sum)
	if frame == nil {
		return nil, fmt.Errorf("%w: the text %x is missing", ErrTangled, sum[:min(4, len(sum))])
	}
	var b Blob
	if err := unseal(BlobFrame, frame, &b); err != nil {
		return nil, err
	}
	content, err := b.Content()
	if err == nil && !bytes.Equal(b.SHA256, sum) {
		err = errPlace
	}
	return content, err
}

// HasBlob says whether there is content under a SHA-256, or a note that it did not come.
func (tx *Tx) HasBlob(sum []byte) bool { return tx.kv.Get(blobsBucket, sum) != nil }

// PutBlobFrame keeps the frame of a blob as it is.
func (tx *Tx) PutBlobFrame(sum, frame []byte) error {
	return tx.kv.Put(blobsBucket, sum, bytes.Clone(frame))
}

// Blobs goes over the SHA-256 of all blobs.
func (tx *Tx) Blobs(yield func(sum []byte) bool) {
	for key := range tx.kv.Scan(blobsBucket, nil, nil, false) {
		if !yield(bytes.Clone(key)) {
			return
		}
	}
}

// Content returns what the blob holds. It looks at the length before anything is
// unpacked, and returns an error if the content is not that of its SHA-256. It is
// nil if the content did not come with its batch.
func (b Blob) Content() ([]byte, error) {
	if b.Length == notHere && len(b.Data) == 0 {
		return nil, nil
	}
	if b.Length < 0 || b.Length > mostBlob {
		return nil, fmt.Errorf("%w: a text of %d bytes", errFrame, b.Length)
	}
	content := b.Data
	if b.Packed {
		content = make([]byte, b.Length+1)
		n, err := io.ReadFull(flate.NewReader(bytes.NewReader(b.Data)), content)
		if err != io.ErrUnexpectedEOF && err != io.EOF {
			return nil, fmt.Errorf("%w: a text is longer than it says", errFrame)
		}
		content = content[:n]
	}
	if sum := sha256.Sum256(content); len(content) != b.Length || !bytes.Equal(sum[:], b.SHA256) {
		return nil, fmt.Errorf("%w: a text", errChecksum)
	}
	return bytes.Clone(content), nil
}
