package exchange

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"maps"
	"reflect"
	"slices"

	"hepar/journal/internal/record"
	"hepar/recipe"
	"hepar/recipe/fault"
)

const (
	longestLine = 8 << 20 // bytes: a recipe and a sheet of the largest size, written with escapes, fit
	deepest     = 64      // levels of lists and objects in a line: more than any sheet has
)

func lines(r io.Reader) iter.Seq2[*entry, error] {
	texts := recipes{}
	return rows(r, false, longestLine, func(e *entry, line []byte) error {
		if len(bytes.TrimSpace(line)) == 0 {
			return nil
		}
		return e.fromLine(line, texts)
	})
}

// fromLine reads an entry from its events. What the line says beside them must be what they make.
func (e *entry) fromLine(line []byte, texts recipes) error {
	e.texts = map[string][]byte{}
	in := json.NewDecoder(bytes.NewReader(line))
	in.UseNumber()
	if err := plainJSON(in, 0); err != nil {
		return err
	}
	if _, err := in.Token(); err != io.EOF {
		return fault.Usagef("the line holds more than one value")
	}
	var keys map[string]json.RawMessage
	var said struct {
		Events []json.RawMessage `json:"events"`
		Text   string            `json:"recipe_text"`
	}
	if json.Unmarshal(line, &keys) != nil || json.Unmarshal(line, &said) != nil {
		return fault.Usagef("the line is not a batch as an export writes it")
	}
	if len(said.Events) == 0 {
		return fault.Usagef("the line has no events")
	}
	for _, text := range said.Events {
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
	b, ok := made.(*record.Batch)
	if !ok {
		return agrees(keys, made)
	}
	if b.Text = said.Text; b.Text != "" {
		if !e.brings(b.TextSHA, []byte(b.Text)) {
			return fault.Usagef("the text of the recipe is not the one of which recipe_sha256 is the digest")
		}
		if err := texts.check(&b.Plan, []byte(b.Text)); err != nil {
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

// plainJSON reads one value, without a key twice and not too deep.
func plainJSON(in *json.Decoder, depth int) error {
	if depth > deepest {
		return fault.Usagef("the line has lists or objects more than %d levels deep", deepest)
	}
	open, err := in.Token()
	if _, nested := open.(json.Delim); nested {
		keys := map[json.Token]bool{}
		for in.More() {
			if open == json.Delim('{') {
				key, _ := in.Token() // what is wrong with it is wrong with its value as well
				if keys[key] {
					return fault.Usagef("the key %q is there twice", key).Try("leave one of them out")
				}
				keys[key] = true
			}
			if err := plainJSON(in, depth+1); err != nil {
				return err
			}
		}
		_, err = in.Token()
	}
	if err != nil {
		return fault.Usagef("the line is not JSON from byte %d on", in.InputOffset()+1)
	}
	return nil
}

// agrees returns an error if a line says what its events do not, unless a newer build wrote them.
func agrees(keys map[string]json.RawMessage, made record.Thing) error {
	var want map[string]any
	text, err := json.Marshal(made)
	if err == nil {
		err = json.Unmarshal(text, &want)
	}
	if err != nil {
		return err
	}
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		var got any
		value, known := want[key]
		switch failed := json.Unmarshal(keys[key], &got) != nil; {
		case failed:
			return fault.Usagef("%s cannot be read", key)
		case !known && got != nil && len(made.Past().Newer) == 0:
			return fault.Usagef("the key %q is not known", key).Try("leave it out; a note is the place for what has no key")
		case key == "number" && got != value:
			got = bare(fmt.Sprint(got)) // as it is written where two benches gave it out
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

// check returns an error if a text is of a recipe with another digest. One that is no recipe of this build passes.
func (rs recipes) check(p *record.Plan, text []byte) error {
	key := string(p.TextSHA) + p.Digest
	if rs[key] {
		return nil
	}
	r, findings := recipe.Decode("recipe.toml", text)
	if len(findings) == 0 && r != nil && recipe.Digest(r) != p.Digest {
		return fault.Usagef("the text of the recipe of batch %s is not the one of which recipe_digest is the digest", p.Number).Try("leave the batch out: its review was of another recipe")
	}
	if len(rs) > 1000 {
		clear(rs)
	}
	rs[key] = true
	return nil
}
