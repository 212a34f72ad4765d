package exchange

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"io"
	"iter"
	"maps"
	"reflect"
	"slices"

	"hepar/journal/internal/record"
	"hepar/recipe"
	"hepar/recipe/fault"
)

// The most that a line of JSON may hold: a recipe and a sheet of the largest size,
// written with escapes, fit.
const (
	longestLine = 8 << 20
	deepest     = 64 // objects and lists within one another
)

func lines(r io.Reader) iter.Seq2[*entry, error] {
	return func(yield func(*entry, error) bool) {
		in := bufio.NewScanner(r)
		in.Buffer(make([]byte, 64<<10), longestLine)
		texts := recipes{}
		n := 1
		for ; in.Scan(); n++ {
			line := in.Bytes()
			if n == 1 {
				line = bytes.TrimPrefix(line, []byte("\xef\xbb\xbf")) // of some editors
			}
			e := &entry{line: n, texts: map[string][]byte{}}
			if len(bytes.TrimSpace(line)) > 0 && !yield(e, e.read(line, texts)) {
				return
			}
		}
		switch err := in.Err(); {
		case errors.Is(err, bufio.ErrTooLong):
			yield(&entry{line: n}, fault.Usagef("the line is longer than %d MiB; nothing after it is read", longestLine>>20).Try("leave it out; no batch is as long"))
		case err != nil:
			yield(&entry{line: n}, unreadable(err))
		}
	}
}

func unreadable(err error) error {
	return fault.Failuref("the file cannot be read further").Because(err).Try("see that the disk or the pipe it comes from is sound")
}

// read reads a batch or a container from a line. Its events are what counts; what the line
// says beside them must be what they make.
func (e *entry) read(line []byte, texts recipes) error {
	in := json.NewDecoder(bytes.NewReader(line))
	in.UseNumber()
	if err := wellFormed(in, deepest); err != nil {
		return err
	}
	if _, err := in.Token(); err != io.EOF {
		return fault.Usagef("the line holds more than one object")
	}
	var keys map[string]json.RawMessage
	var events []json.RawMessage
	var text string
	err := json.Unmarshal(line, &keys)
	for key, to := range map[string]any{"events": &events, "recipe_text": &text} {
		if value := keys[key]; value != nil && err == nil {
			err = json.Unmarshal(value, to)
		}
	}
	if err != nil {
		return fault.Usagef("the line is not a batch as an export writes it: %v", err)
	}
	if len(events) == 0 {
		return fault.Usagef("the line has no events")
	}
	for _, text := range events {
		ev, err := record.FromJSON(text)
		if err != nil {
			return fault.Usagef("an event cannot be read: %v", err)
		}
		e.events = append(e.events, ev)
		e.stock = e.stock || ev.Kind == record.StockAdded
	}
	record.Sort(e.events)
	e.id = e.events[0].Of
	made, err := fits(e.id, e.stock, e.events)
	if err != nil {
		return err
	}
	if e.stock {
		return agrees(keys, made)
	}
	b := made.(*record.Batch)
	if b.Text = text; text != "" {
		if !e.brings(b.TextSHA, []byte(text)) {
			return fault.Usagef("the text of the recipe is not the one of which recipe_sha256 is the digest")
		}
		if err := texts.check(&b.Plan, []byte(text)); err != nil {
			return err
		}
	}
	if sheet := keys["sheet"]; sheet != nil {
		if len(sheet) > record.MaxSheet || !e.brings(b.SheetSHA, sheet) {
			return fault.Usagef("the sheet is not the one of which sheet_sha256 is the digest")
		}
		delete(keys, "sheet")
	}
	return agrees(keys, b)
}

// brings notes a text that came with an entry, if it has the digest.
func (e *entry) brings(digest record.Digest, text []byte) bool {
	sum := sha256.Sum256(text)
	e.texts[string(sum[:])] = text
	return bytes.Equal(sum[:], digest)
}

// wellFormed looks at a value before anything of it is held: no key twice, and not
// too deep. How much it holds is bounded by the length of the line.
func wellFormed(in *json.Decoder, levels int) error {
	notJSON := func(err error) error { return fault.Usagef("the line is not JSON: %v", err) }
	if levels == 0 {
		return fault.Usagef("the line is more than %d levels deep", deepest)
	}
	token, err := in.Token()
	if err != nil {
		return notJSON(err)
	}
	open, nested := token.(json.Delim)
	if !nested {
		return nil
	}
	keys := map[string]bool{}
	for in.More() {
		if open == '{' {
			token, err := in.Token()
			if err != nil {
				return notJSON(err)
			}
			key, _ := token.(string)
			if keys[key] {
				return fault.Usagef("the key %q is there twice", key).Try("leave one of them out")
			}
			keys[key] = true
		}
		if err := wellFormed(in, levels-1); err != nil {
			return err
		}
	}
	if _, err := in.Token(); err != nil {
		return notJSON(err)
	}
	return nil
}

// agrees returns an error if a line says something else than what its events make.
// Keys that are not known are passed over if a newer build wrote the events.
func agrees(keys map[string]json.RawMessage, made record.Thing) error {
	text, err := json.Marshal(made)
	if err != nil {
		return err
	}
	var want map[string]any
	if err := json.Unmarshal(text, &want); err != nil {
		return err
	}
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		var got any
		if err := json.Unmarshal(keys[key], &got); err != nil {
			return fault.Usagef("%s cannot be read: %v", key, err)
		}
		value, known := want[key]
		if !known && got != nil && len(made.Past().Newer) == 0 {
			return fault.Usagef("the key %q is not known", key).Try("leave it out; a note is the place for what has no key")
		}
		if text, _ := got.(string); key == "number" && got != value {
			got, _ = splitEnding(text) // as it is written where two benches gave it out
		}
		if known && !reflect.DeepEqual(got, value) {
			return fault.Usagef("%s is not what the events of the line make of it", key).
				Try("take the line as it was exported; to correct a batch, import it and amend it")
		}
	}
	return nil
}

// recipes remembers which recipes were read, by text and digest: many batches share one.
type recipes map[string]bool

// check returns an error if a text is that of another recipe than the digest says.
// A text that is no recipe of this build has no digest to compare.
func (rs recipes) check(p *record.Plan, text []byte) error {
	key := string(p.TextSHA) + p.Digest
	if rs[key] {
		return nil
	}
	r, findings := recipe.Decode("recipe.toml", text)
	if len(findings) == 0 && r != nil && recipe.Digest(r) != p.Digest {
		return fault.Usagef("the text of the recipe of batch %s is not the one of which recipe_digest is the digest", p.Number).Try("leave the batch out: its review was of another recipe")
	}
	if len(rs) > mostWords {
		clear(rs)
	}
	rs[key] = true
	return nil
}
