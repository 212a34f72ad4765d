package tablet

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	_ "image/png" // a camera may send either
	"io"
	"net/http"
	"os"
	"path/filepath"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/fault"
)

// mostPixels is the largest picture that is decoded: a camera of 40 megapixels. What says
// that it is larger is refused before it is unpacked.
const mostPixels = 40_000_000

// photo takes a picture of the batch. It is decoded and written anew as JPEG, without what
// the camera put beside it, under its digest.
func (s *server) photo(w http.ResponseWriter, r *http.Request, b *bench.Bench) any {
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostPhoto))
	if err != nil {
		return fault.Usagef("the picture is too large").Try("send one of 16 MiB at the most")
	}
	size, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || size.Width < 1 || size.Height < 1 || size.Width*size.Height > mostPixels {
		return fault.Usagef("that is not a picture hepar can keep").Try("send a JPEG or PNG of 40 megapixels at the most")
	}
	picture, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return fault.Usagef("the picture cannot be read").Try("take it again")
	}
	var out bytes.Buffer
	fault.Check(jpeg.Encode(&out, picture, &jpeg.Options{Quality: 85}))
	path := filepath.Join(s.Photos, fmt.Sprintf("%x.jpg", sha256.Sum256(out.Bytes())))
	if err := keep(path, out.Bytes()); err != nil {
		return fault.Failuref("the picture cannot be kept").Because(err).Try("see that there is room beside the journal")
	}
	photo := fault.Must(journal.ReadPhoto(path))
	photo.By = r.URL.Query().Get("by")
	fault.Must(s.Journal.AddPhoto(b.Batch.Number, photo))
	return map[string]string{"kept": filepath.Base(path)}
}

// keep writes a file whole or not at all.
func keep(path string, data []byte) error {
	if _, err := os.Stat(path); err == nil {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".photo-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
