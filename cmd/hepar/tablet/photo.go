package tablet

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/jpeg"
	_ "image/png" // a camera may send either
	"io"
	"net/http"
	"os"
	"path/filepath"

	"hepar/journal"
	"hepar/recipe/fault"
)

// mostPixels is the largest picture that is decoded: a camera of 40 megapixels. What says
// that it is larger is refused before it is unpacked.
const mostPixels = 40_000_000

// photo takes a picture of the batch. It is decoded and written anew as JPEG, without what
// the camera put beside it, under its digest.
func (s *server) photo(w http.ResponseWriter, r *http.Request) {
	b, ok := s.open(w, r, r.URL.Query().Get("by"))
	if !ok {
		return
	}
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostPhoto))
	if err != nil {
		answer(w, http.StatusRequestEntityTooLarge, map[string]string{"error": "the picture is too large", "do": "send one of 16 MiB at the most"})
		return
	}
	size, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || size.Width < 1 || size.Height < 1 || size.Width*size.Height > mostPixels {
		fail(w, fault.Usagef("that is no picture that can be kept").Try("send a JPEG or PNG of 40 megapixels at the most"))
		return
	}
	picture, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		fail(w, fault.Usagef("the picture cannot be read").Try("take it again"))
		return
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, picture, &jpeg.Options{Quality: 85}); err != nil {
		fail(w, err)
		return
	}
	sum := sha256.Sum256(out.Bytes())
	path := filepath.Join(s.Photos, hex.EncodeToString(sum[:])+".jpg")
	if err := keep(path, out.Bytes()); err != nil {
		fail(w, fault.Failuref("the picture cannot be kept").Because(err).Try("see that there is room beside the journal"))
		return
	}
	photo, err := journal.ReadPhoto(path)
	if err == nil {
		photo.By = b.By
		_, err = s.Journal.AddPhoto(b.Batch.Number, photo)
	}
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, http.StatusOK, map[string]string{"kept": filepath.Base(path)})
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
	if _, err = f.Write(data); err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
