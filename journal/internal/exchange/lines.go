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
	in := json.NewDecoder(bytes.NewReader(line))
	in.UseNumber()
	plainJSON(in, 0)
	_, err := in.Token()
	fault.Need(err == io.EOF, fault.Usagef("the line holds more than one value"))
	var keys map[string]json.RawMessage
	var said struct {
		Events []json.RawMessage `json:"events"`
		Text   string            `json:"recipe_text"`
	}
	err = cmp.Or(json.Unmarshal(line, &keys), json.Unmarshal(line, &said))
	fault.Need(err == nil, fault.Usagef("the line is not a batch as an export writes it"))
	fault.Need(len(said.Events) > 0, fault.Usagef("the line has no events"))
	for _, text := range said.Events {
		ev, err := record.FromJSON(text)
		fault.Need(err == nil, fault.Usagef("an event cannot be read: %v", err))
		e.events = append(e.events, ev)
		e.stock = e.stock || ev.Kind == record.StockAdded
	}
	e.id = e.events[0].Of
	made := fits(e.id, e.stock, e.events)
	if b, ok := made.(*record.Batch); ok {
		b.Text, b.Sheet = said.Text, keys["sheet"]
		delete(keys, "sheet")
		e.brings(b, texts)
	}
	agrees(keys, made)
}

// brings notes the recipe and the sheet that came with a batch, if they are those that it was planned with.
func (e *entry) brings(b *record.Batch, known recipes) {
	e.texts = map[string][]byte{}
	note := func(what string, digest record.Digest, text []byte) {
		if sum := sha256.Sum256(text); len(text) > 0 {
			fault.Need(len(text) <= record.MaxSheet && bytes.Equal(sum[:], digest), fault.Usagef("the %s does not match %s_sha256", what, what))
			e.texts[string(digest)] = text
		}
	}
	note("recipe", b.TextSHA, []byte(b.Text))
	note("sheet", b.SheetSHA, b.Sheet)
	if b.Text != "" {
		known.check(&b.Plan)
	}
}

// plainJSON reads one value, without a key twice and not too deep.
func plainJSON(in *json.Decoder, depth int) {
	fault.Need(depth <= deepest, fault.Usagef("the line has lists or objects more than %d levels deep", deepest))
	open, err := in.Token()
	if _, nested := open.(json.Delim); nested {
		keys := map[json.Token]bool{}
		for in.More() {
			if open == json.Delim('{') {
				key, _ := in.Token() // what is wrong with it is wrong with its value as well
				fault.Need(!keys[key], fault.Usagef("the key %q is there twice", key).Try("remove one of them"))
				keys[key] = true
			}
			plainJSON(in, depth+1)
		}
		_, err = in.Token()
	}
	fault.Need(err == nil, fault.Usagef("the line is not JSON from byte %d on", in.InputOffset()+1))
}

// agrees sees that a line says what its events make, unless a newer build wrote them.
func agrees(keys map[string]json.RawMessage, made record.Thing) {
	var want map[string]any
	fault.Check(json.Unmarshal(fault.Must(json.Marshal(made)), &want))
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		var got any
		err := json.Unmarshal(keys[key], &got)
		fault.Need(err == nil, fault.Usagef("%s cannot be read", key))
		value, known := want[key]
		fault.Need(known || got == nil || len(made.Past().Newer) > 0, fault.Usagef("the key %q is not known", key).
			Try("leave it out; put what has no key into a note"))
		if key == "number" && got != value {
			got = bare(fmt.Sprint(got)) // as it is written where two benches gave it out
		}
		fault.Need(!known || reflect.DeepEqual(got, value), fault.Usagef("%s does not agree with the events of the line", key).
			Try("use the line as exported; to correct a batch, import it and amend it"))
	}
}

// recipes remembers which recipes were read, by text and digest: many batches share one.
type recipes map[string]bool

// check stops at a text of a recipe with another digest. One that this build cannot read as a recipe passes.
func (rs recipes) check(p *record.Plan) {
	key := string(p.TextSHA) + p.Digest
	if rs[key] {
		return
	}
	r, findings := recipe.Decode("recipe.toml", []byte(p.Text))
	fault.Need(len(findings) > 0 || r == nil || recipe.Digest(r) == p.Digest,
		fault.Usagef("the text of the recipe of batch %s does not match recipe_digest", p.Number).Try("leave the batch out: its review was of another recipe"))
	if len(rs) > 1000 {
		clear(rs)
	}
	rs[key] = true
}
