package tablet

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	_ "image/png" // a camera may send either
	"io"
	"maps"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
	"hepar/recipe/safety"
)

type state struct {
	run.Step
	Kind   string   `json:"kind,omitempty"` // why the bath does not do: cold, hot or long
	Made   int      `json:"made"`
	Unit   string   `json:"unit"`
	OpenMS int64    `json:"open_ms,omitempty"` // when the load that is in went in
	Causes []string `json:"causes,omitempty"`
	After  []string `json:"after,omitempty"`  // what is left to do at the computer
	Loads  int      `json:"loads,omitempty"`  // that came out, where the result may name one
	Stock  string   `json:"stock,omitempty"`  // what may be taken off the shelf
	Ready  string   `json:"ready,omitempty"`  // why the batch may not be dipped
	Logged string   `json:"logged,omitempty"` // how it turned out
	Waste  string   `json:"waste,omitempty"`  // how much the baths left, as the sheet reckons it, where nobody has written it down
	Drum   string   `json:"drum,omitempty"`   // a name for its container
}

func stateOf(b *bench.Bench) state {
	out := state{Step: b.Next(), Made: b.Batch.Made(), Unit: b.Degree()}
	out.Kind, out.Stand = out.Wrong, append(out.Stand, b.Stays())
	if out.Open != nil {
		out.OpenMS = out.Open.At.UnixMilli()
	}
	if err := b.Batch.Ready(b.Now(), ""); err != nil && b.Batch.State != journal.Logged {
		out.Ready = clean(err.Error())
	}
	if out.Do == run.Result {
		_ = fault.Caught(func() { out.Causes = b.Causes() }) // a result can do without
		out.Loads = len(b.Run.Loads())
		out.After = b.After()
		_, out.Stock = b.Taken()
	}
	if b.Batch.State == journal.Logged {
		if waste := b.Run.Waste(); waste > 0 && len(b.Batch.Waste) == 0 {
			out.Waste, out.Drum = b.Units.Liquid(waste), b.Drum()
		}
		out.Logged = fmt.Sprintf("%d good, %d to rework, %d rejected; correct mistakes at the computer: hepar journal amend %s", b.Batch.Good, b.Batch.Rework, b.Batch.Reject, b.Batch.Number)
	}
	return out
}

type sent struct {
	Entry   run.Entry `json:"entry"`
	By      string    `json:"by"`
	AtMS    int64     `json:"at_ms"`   // when it happened, by the clock of the page
	NowMS   int64     `json:"now_ms"`  // the clock of the page now: two clocks differ
	Degrees string    `json:"degrees"` // a temperature as typed
	Sure    bool      `json:"sure"`    // it was asked whether it is right
}

// entry writes down what happened, once for each key, and answers with the state after it.
func (s *server) entry(w http.ResponseWriter, r *http.Request, b *bench.Bench) any {
	in := read[sent](w, r)
	b.By = s.Full(in.By)
	if in.AtMS > 0 && in.NowMS >= in.AtMS {
		in.Entry.At = s.Now().Add(-time.Duration(min(in.NowMS-in.AtMS, 24*3600*1000)) * time.Millisecond)
	}
	if in.Degrees != "" {
		in.Entry.Temperature = new(fault.Must(b.Temperature(in.Degrees)))
	}
	if doubt := b.Run.Doubt(in.Entry, cmp.Or(in.Entry.At, s.Now())); doubt != "" && !in.Sure {
		return answer(w, http.StatusConflict, map[string]string{"error": doubt})
	}
	fault.Check(b.Write(in.Entry))
	return stateOf(b)
}

type resultIn struct {
	journal.Result
	By    string         `json:"by"`
	Loads map[string]int `json:"loads"` // of which load the pieces with a cause are
	Stock bool           `json:"stock"` // take off the shelf what the run took
}

func (s *server) result(w http.ResponseWriter, r *http.Request, b *bench.Bench) any {
	in := read[resultIn](w, r)
	maps.DeleteFunc(in.Causes, func(_ string, n int) bool { return n == 0 })
	b.By, in.Logged = s.Full(in.By), ""
	b.Take(bench.Log(s.Journal, b.Batch.Number, in.Result, in.Loads, journal.LogOptions{By: b.By, At: s.Now()}))
	if taken, _ := b.Taken(); in.Stock {
		fault.Check(b.Book(taken))
	}
	return stateOf(b)
}

// waste writes down what the baths left and where it is kept.
func (s *server) waste(w http.ResponseWriter, r *http.Request, b *bench.Bench) any {
	in := read[struct{ Container, Volume, By string }](w, r)
	s.Waste(b.Batch.Number, journal.Waste{Container: in.Container, Liters: fault.Must(measure.ParseVolume(in.Volume)), By: s.Full(in.By)})
	fault.Check(b.Reload())
	return stateOf(b)
}

func (s *server) reviewPage(w http.ResponseWriter, _ *http.Request, b *bench.Bench) any {
	review := fault.Must(safety.Assess(s.Subject(b.Batch)))
	return s.show(w, "review", map[string]any{"B": b, "R": review, "Captures": safety.Captures()})
}

// confirmed is what the checklist sends.
type confirmed struct {
	By      string            `json:"by"`
	Yes     []string          `json:"yes"`     // codes that were ticked
	Answers map[string]string `json:"answers"` // what was typed, by what is asked
}

// review takes the checklist: every line ticked or measured, or it is refused.
func (s *server) review(w http.ResponseWriter, r *http.Request, b *bench.Bench) any {
	in, sub := read[confirmed](w, r), s.Subject(b.Batch)
	review, wrong := safety.Checklist(&sub, in.Answers, in.Yes, s.Now(), s.Full)
	by := s.Full(in.By)
	kept, err := bench.Reviewed(by, s.Now(), sub, review)
	if err != nil {
		wrong = append(wrong, safety.WrongOf("by", err))
	}
	if len(wrong) > 0 {
		return answer(w, http.StatusForbidden, map[string]any{"list": wrong})
	}
	fault.Must(s.Journal.Review(b.Batch.Number, kept))
	return map[string]string{"go": "/batch/" + b.Batch.Number, "note": strings.Join(sub.Remarks(by, s.Now()), ". ")}
}

// mostPixels is the largest picture that is decoded: a camera of 40 megapixels. What says
// that it is larger is refused before it is unpacked.
const mostPixels = 40_000_000

// photo takes a picture of the batch. It is decoded and written anew as JPEG, without what
// the camera put beside it, under its digest.
func (s *server) photo(w http.ResponseWriter, r *http.Request, b *bench.Bench) any {
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostPhoto))
	if err != nil {
		return fault.Usagef("the photo is too large").Try("send one of at most 16 MiB")
	}
	size, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || size.Width < 1 || size.Height < 1 || size.Width*size.Height > mostPixels {
		return fault.Usagef("that is not a photo that hepar can keep").Try("send a JPEG or PNG of at most 40 megapixels")
	}
	picture, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return fault.Usagef("the photo cannot be read").Try("take it again")
	}
	var out bytes.Buffer
	fault.Check(jpeg.Encode(&out, picture, &jpeg.Options{Quality: 85}))
	path := filepath.Join(s.Photos, fmt.Sprintf("%x.jpg", sha256.Sum256(out.Bytes())))
	if err := keep(path, out.Bytes()); err != nil {
		return fault.Failuref("the photo cannot be kept").Because(err).Try("check that there is room beside the journal")
	}
	photo := fault.Must(journal.ReadPhoto(path))
	photo.By = s.Full(r.URL.Query().Get("by"))
	fault.Must(s.Journal.AddPhoto(b.Batch.Number, photo))
	return map[string]string{"kept": filepath.Base(path)}
}

// keep writes a file whole or not at all.
func keep(path string, data []byte) error {
	made := os.MkdirAll(filepath.Dir(path), 0o700)
	f, err := os.CreateTemp(filepath.Dir(path), ".photo-*")
	if err != nil {
		return cmp.Or(made, err)
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
