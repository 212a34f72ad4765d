package journal

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"strings"
	"time"

	"hepar/recipe/fault"
)

// maxPath is how many bytes a path or a place may have. A choice of ours.
const maxPath = 1024

// Photo is a picture of a batch. The journal keeps where it is and what it was,
// not the picture.
type Photo struct {
	Path   string
	SHA256 string // of the file, 64 hexadecimal digits
	Bytes  int64  // size of the file
	Taken  time.Time
	By     string
	Note   string
}

// ReadPhoto looks at the picture at path and gives its digest and size. Taken is
// the time of the file, By and Note are left to the caller.
func ReadPhoto(path string) (Photo, error) {
	info, err := os.Stat(path) // before open, which would wait for ever on a pipe
	if err == nil && !info.Mode().IsRegular() {
		return Photo{}, fault.Failuref("the photo is not a file").At(path).Try("name the file of one photo")
	}
	var file *os.File
	if err == nil {
		file, err = os.Open(path)
	}
	if err != nil {
		return Photo{}, fault.Failuref("the photo cannot be read").At(path).Because(reason(err)).Try("see that the path is right and the file may be read")
	}
	defer file.Close()
	sum := sha256.New()
	n, err := io.Copy(sum, file)
	if err != nil {
		return Photo{}, fault.Failuref("the photo cannot be read").At(path).Because(reason(err)).Try("copy it to a sound disk")
	}
	if n == 0 {
		return Photo{}, fault.Failuref("the photo is empty").At(path).Try("name the file of one photo")
	}
	return Photo{Path: path, SHA256: hex.EncodeToString(sum.Sum(nil)), Bytes: n, Taken: info.ModTime()}, nil
}

// AddPhoto adds a picture to a batch: its path, digest and size. It reads no
// file; see ReadPhoto. The same picture is not added twice.
func (j *Journal) AddPhoto(ref string, p Photo) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.AddPhoto(ref, p); return err })
	return out, err
}

// AddPhoto is Journal.AddPhoto within one transaction.
func (w *Writer) AddPhoto(ref string, p Photo) (Batch, error) {
	b, err := w.begin(ref)
	if err != nil {
		return w.done(nil, err)
	}
	event, err := w.photoEvent(b, p)
	if err == nil {
		err = w.append(b, event)
	}
	return w.done(b, err)
}

func (w *Writer) photoEvent(b *batchRecord, p Photo) (*eventRecord, error) {
	if err := usable(b, "given a photo", Planned, Reviewed, Dipped, Logged); err != nil {
		return nil, err
	}
	if len(b.Photos) >= maxLoads {
		return nil, fault.Usagef("batch %s has %d photos", b.Plan.Number, len(b.Photos)).Try("keep to %d", maxLoads)
	}
	out := &photoRecord{Bytes: p.Bytes}
	var err error
	if out.Path, err = pathLine("path of the photo", p.Path); err != nil {
		return nil, err
	}
	digest, err := hex.DecodeString(strings.TrimPrefix(p.SHA256, "sha256:"))
	switch {
	case out.Path == "":
		return nil, fault.Usagef("the photo has no path").Try("name the file")
	case err != nil || len(digest) != sha256.Size:
		return nil, fault.Usagef("the digest of the photo is not a SHA-256").Try("give its 64 hexadecimal digits")
	case p.Bytes < 1:
		return nil, fault.Usagef("the photo is %d bytes long", p.Bytes).Try("name the file of a photo")
	}
	for _, had := range b.Photos {
		if string(had.SHA256) == string(digest) {
			return nil, fault.Usagef("batch %s has this photo already, as %s", b.Plan.Number, had.Path).Try("nothing is left to do")
		}
	}
	out.SHA256 = digest
	if !p.Taken.IsZero() {
		if err := cleanTime("photo", p.Taken); err != nil {
			return nil, err
		}
		taken := stampOf(p.Taken)
		out.Taken = &taken
	}
	if out.By, err = line("name", w.j.person(p.By)); err != nil {
		return nil, err
	}
	if out.Note, err = note("note of the photo", p.Note); err != nil {
		return nil, err
	}
	return &eventRecord{Batch: b.ID, Kind: PhotoEvent, By: out.By, Photo: out}, nil
}

// pathLine cleans a path or a place, which may be longer than other lines.
func pathLine(what, text string) (string, error) {
	text = strings.TrimSpace(text)
	if len(text) > maxPath {
		return "", fault.Usagef("the %s is %d bytes long", what, len(text)).Try("keep it to %d bytes", maxPath)
	}
	return text, printable(what, text, "")
}

func (p photoRecord) public() Photo {
	out := Photo{Path: p.Path, SHA256: hex.EncodeToString(p.SHA256), Bytes: p.Bytes, By: p.By, Note: p.Note}
	if p.Taken != nil {
		out.Taken = p.Taken.Time()
	}
	return out
}
