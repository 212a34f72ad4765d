package journal

import (
	"crypto/sha256"
	"io"
	"os"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// ReadPhoto looks at the picture at path and returns its digest and size. Taken is
// the time of the file; By and Note are left to the caller.
func ReadPhoto(path string) (Photo, error) {
	if err := store.Regular(path); err != nil { // before open, which would wait for ever on a pipe
		return Photo{}, fault.Failuref("the photo cannot be read").At(path).Because(store.Reason(err)).Try("name the file of one photo")
	}
	file, err := os.Open(path)
	if err != nil {
		return Photo{}, fault.Failuref("the photo cannot be read").At(path).Because(store.Reason(err)).Try("see that the path is right and the file may be read")
	}
	defer file.Close()
	sum := sha256.New()
	n, err := io.Copy(sum, file)
	if err != nil {
		return Photo{}, fault.Failuref("the photo cannot be read").At(path).Because(store.Reason(err)).Try("copy it to a sound disk")
	}
	if n == 0 {
		return Photo{}, fault.Failuref("the photo is empty").At(path).Try("name the file of one photo")
	}
	info, err := file.Stat()
	if err != nil {
		return Photo{}, fault.Failuref("the photo cannot be read").At(path).Because(err).Try("copy it to a sound disk")
	}
	return Photo{Path: path, SHA256: sum.Sum(nil), Bytes: n, Taken: StampOf(info.ModTime())}, nil
}

// AddPhoto adds a photograph to a batch: its path, digest and size. It reads no
// file; see ReadPhoto. The same picture is not added twice.
func (j *Journal) AddPhoto(ref string, p Photo) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.AddPhoto(ref, p) })
}

// AddPhoto is Journal.AddPhoto within one transaction.
func (tx *Tx) AddPhoto(ref string, p Photo) (Batch, error) {
	b, err := tx.begin(ref, "given a photo", Planned, Reviewed, Dipped, Logged)
	if err != nil {
		return Batch{}, err
	}
	for _, had := range b.Photos {
		if string(had.SHA256) == string(p.SHA256) {
			return Batch{}, fault.Usagef("batch %s already has this photo, as %s", b.Number, had.Path).Try("nothing is left to do")
		}
	}
	e, err := tx.event(b.ID, record.PhotoAdded, p.By, tx.Now)
	if err != nil {
		return Batch{}, err
	}
	if p.Path, err = record.PathLine("path of the photo", p.Path); err != nil {
		return Batch{}, err
	}
	if p.Note, err = record.Note("note of the photo", p.Note); err != nil {
		return Batch{}, err
	}
	p.By = e.By
	e.Photo = &p
	return tx.batch(e)
}
