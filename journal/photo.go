package journal

import (
	"crypto/sha256"
	"io"
	"os"
	"slices"
	"time"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// ReadPhoto looks at the picture at path and returns its digest and size. Taken is
// the time of the file; By and Note are left to the caller.
func ReadPhoto(path string) (Photo, error) {
	p, err := readPhoto(path)
	if err != nil {
		return Photo{}, fault.Failuref("the photo cannot be read").At(path).Because(store.Reason(err)).Try("name the file of one photo that may be read")
	}
	if p.Bytes == 0 {
		return Photo{}, fault.Failuref("the photo is empty").At(path).Try("name the file of one photo")
	}
	return p, nil
}

func readPhoto(path string) (p Photo, err error) {
	if err := store.Regular(path); err != nil { // before open, which would wait for ever on a pipe
		return p, err
	}
	file, err := os.Open(path)
	if err != nil {
		return p, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return p, err
	}
	sum := sha256.New()
	n, err := io.Copy(sum, file)
	return Photo{Path: path, SHA256: sum.Sum(nil), Bytes: n, Taken: StampOf(info.ModTime())}, err
}

// AddPhoto adds a photograph to a batch: its path, digest and size. It reads no
// file; see ReadPhoto. The same picture is not added twice.
func (v Verbs) AddPhoto(ref string, p Photo) (Batch, error) {
	return v.add(ref, record.PhotoAdded, p.By, time.Time{}, func(_ *Tx, b *Batch, e *Event) {
		i := slices.IndexFunc(b.Photos, func(had Photo) bool { return string(had.SHA256) == string(p.SHA256) })
		if i >= 0 {
			must(fault.Usagef("batch %s already has this photo, as %s", b.Number, b.Photos[i].Path).Try("nothing is left to do"))
		}
		p.By = e.By
		e.Photo = &p
	})
}
