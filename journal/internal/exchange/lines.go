package exchange

import (
	"bytes"
	"cmp"
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
	return rows(r, false, longestLine, func(e *entry, line []byte) {
		if len(bytes.TrimSpace(line)) > 0 {
			e.fromLine(line, texts)
		}
	})
}

// fromLine reads an entry from its events. What the line says beside them must be what they make.
func (e *entry) fromLine(line []byte, texts recipes) {
	e.texts = map[string][]byte{}
	in := json.NewDecoder(bytes.NewReader(line))
	in.UseNumber()
	plainJSON(in, 0)
	_, err := in.Token()
	need(err == io.EOF, fault.Usagef("the line holds more than one value"))
	var keys map[string]json.RawMessage
	var said struct {
		Events []json.RawMessage `json:"events"`
		Text   string            `json:"recipe_text"`
	}
	err = cmp.Or(json.Unmarshal(line, &keys), json.Unmarshal(line, &said))
	need(err == nil, fault.Usagef("the line is not a batch as an export writes it"))
	need(len(said.Events) > 0, fault.Usagef("the line has no events"))
	for _, text := range said.Events {
		ev, err := record.FromJSON(text)
		need(err == nil, fault.Usagef("an event cannot be read: %v", err))
		e.events = append(e.events, ev)
		e.stock = e.stock || ev.Kind == record.StockAdded
	}
	record.Sort(e.events)
	e.id = e.events[0].Of
	made := fits(e.id, e.stock, e.events)
	if b, ok := made.(*record.Batch); ok {
		if b.Text = said.Text; b.Text != "" {
			need(e.brings(b.TextSHA, []byte(b.Text)), fault.Usagef("the text of the recipe does not match recipe_sha256"))
			fault.Check(texts.check(&b.Plan, []byte(b.Text)))
		}
		if sheet := keys["sheet"]; sheet != nil {
			need(len(sheet) <= record.MaxSheet && e.brings(b.SheetSHA, sheet),
				fault.Usagef("the sheet does not match sheet_sha256"))
			delete(keys, "sheet")
		}
	}
	agrees(keys, made)
}

// brings notes a text that came with an entry, if it has the digest.
func (e *entry) brings(digest record.Digest, text []byte) bool {
	sum := sha256.Sum256(text)
	e.texts[string(sum[:])] = text
	return bytes.Equal(sum[:], digest)
}

// plainJSON reads one value, without a key twice and not too deep.
func plainJSON(in *json.Decoder, depth int) {
	need(depth <= deepest, fault.Usagef("the line has lists or objects more than %d levels deep", deepest))
	open, err := in.Token()
	if _, nested := open.(json.Delim); nested {
		keys := map[json.Token]bool{}
		for in.More() {
			if open == json.Delim('{') {
				key, _ := in.Token() // what is wrong with it is wrong with its value as well
				need(!keys[key], fault.Usagef("the key %q is there twice", key).Try("leave one of them out"))
				keys[key] = true
			}
			plainJSON(in, depth+1)
		}
		_, err = in.Token()
	}
	need(err == nil, fault.Usagef("the line is not JSON from byte %d on", in.InputOffset()+1))
}

// agrees sees that a line says what its events make, unless a newer build wrote them.
func agrees(keys map[string]json.RawMessage, made record.Thing) {
	var want map[string]any
	fault.Check(json.Unmarshal(fault.Must(json.Marshal(made)), &want))
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		var got any
		err := json.Unmarshal(keys[key], &got)
		need(err == nil, fault.Usagef("%s cannot be read", key))
		value, known := want[key]
		need(known || got == nil || len(made.Past().Newer) > 0, fault.Usagef("the key %q is not known", key).
			Try("leave it out; a note is the place for what has no key"))
		if key == "number" && got != value {
			got = bare(fmt.Sprint(got)) // as it is written where two benches gave it out
		}
		need(!known || reflect.DeepEqual(got, value), fault.Usagef("%s does not agree with the events of the line", key).
			Try("take the line as it was exported; to correct a batch, import it and amend it"))
	}
}

// recipes remembers which recipes were read, by text and digest: many batches share one.
type recipes map[string]bool

// check returns an error if a text is of a recipe with another digest. A text that this build cannot read as a recipe passes.
func (rs recipes) check(p *record.Plan, text []byte) error {
	key := string(p.TextSHA) + p.Digest
	if rs[key] {
		return nil
	}
	r, findings := recipe.Decode("recipe.toml", text)
	if len(findings) == 0 && r != nil && recipe.Digest(r) != p.Digest {
		return fault.Usagef("the text of the recipe of batch %s does not match recipe_digest", p.Number).
			Try("leave the batch out: its review was of another recipe")
	}
	if len(rs) > 1000 {
		clear(rs)
	}
	rs[key] = true
	return nil
}
