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
	deepest     = 64        // objects and lists within one another
	mostValues  = 1_000_000 // keys and values
)

// found is a row of a file: an entry, or what is wrong with it.
type found struct {
	line  int
	entry *entry
	err   error
}

// lines reads JSON Lines.
func lines(r io.Reader) iter.Seq[found] {
	return func(yield func(found) bool) {
		in := bufio.NewScanner(r)
		in.Buffer(make([]byte, 64<<10), longestLine)
		texts := &textCheck{}
		n := 0
		for in.Scan() {
			n++
			line := in.Bytes()
			if n == 1 {
				line = bytes.TrimPrefix(line, []byte("\xef\xbb\xbf")) // of some editors
			}
			if len(bytes.TrimSpace(line)) == 0 {
				continue
			}
			e, err := readLine(line, texts)
			if e != nil {
				e.line = n
			}
			if !yield(found{n, e, err}) {
				return
			}
		}
		switch err := in.Err(); {
		case errors.Is(err, bufio.ErrTooLong):
			yield(found{n + 1, nil, fault.Usagef("the line is longer than %d MiB; nothing after it is read", longestLine>>20).Try("leave it out; no batch is as long")})
		case err != nil:
			yield(found{n + 1, nil, unreadable(err)})
		}
	}
}

func unreadable(err error) error {
	return fault.Failuref("the file cannot be read further").Because(err).Try("see that the disk or the pipe it comes from is sound")
}

// readLine reads a batch or a container. Its events are what counts; what the line
// says beside them must be what they make.
func readLine(line []byte, texts *textCheck) (*entry, error) {
	if err := wellFormed(line); err != nil {
		return nil, err
	}
	var in struct {
		Events []json.RawMessage `json:"events"`
		Text   string            `json:"recipe_text"`
		Sheet  json.RawMessage   `json:"sheet"`
	}
	var keys map[string]json.RawMessage
	if err := errors.Join(json.Unmarshal(line, &in), json.Unmarshal(line, &keys)); err != nil {
		return nil, fault.Usagef("the line is not a batch as an export writes it: %v", err)
	}
	if len(in.Events) == 0 {
		return nil, fault.Usagef("the line has no events")
	}
	e := &entry{texts: map[string][]byte{}}
	for _, text := range in.Events {
		ev, err := record.FromJSON(text)
		if err != nil {
			return nil, fault.Usagef("an event cannot be read: %v", err)
		}
		e.events = append(e.events, ev)
		e.stock = e.stock || ev.Kind == record.StockAdded
	}
	record.Sort(e.events)
	e.id = e.events[0].Of
	if err := fits(e.id, e.stock, e.events); err != nil {
		return nil, err
	}
	if e.stock {
		c := record.ReplayContainer(e.id, e.events)
		return e, agrees(keys, c, len(c.Newer) > 0)
	}
	b := record.Replay(e.id, e.events)
	if b.Text = in.Text; in.Text != "" {
		if sum := sha256.Sum256([]byte(in.Text)); !bytes.Equal(sum[:], b.TextSHA) {
			return nil, fault.Usagef("the text of the recipe is not the one of which recipe_sha256 is the digest")
		}
		if err := texts.recipe(&b.Plan, []byte(in.Text)); err != nil {
			return nil, err
		}
		e.texts[string(b.TextSHA)] = []byte(in.Text)
	}
	if in.Sheet != nil {
		if sum := sha256.Sum256(in.Sheet); !bytes.Equal(sum[:], b.SheetSHA) || len(in.Sheet) > record.MaxSheet {
			return nil, fault.Usagef("the sheet is not the one of which sheet_sha256 is the digest")
		}
		e.texts[string(b.SheetSHA)] = in.Sheet
		delete(keys, "sheet")
	}
	return e, agrees(keys, b, len(b.Newer) > 0)
}

// wellFormed looks at a line before anything of it is held: one object, no key
// twice, not too deep and not too much.
func wellFormed(line []byte) error {
	in := json.NewDecoder(bytes.NewReader(line))
	in.UseNumber()
	type level struct {
		keys map[string]bool // nil for a list
		key  bool            // a key comes next
	}
	var open []level
	for n := 0; ; n++ {
		token, err := in.Token()
		if err == io.EOF && n > 0 && len(open) == 0 {
			return nil
		}
		if err != nil {
			return fault.Usagef("the line is not JSON: %v", err)
		}
		if n > mostValues {
			return fault.Usagef("the line holds more than %d values", mostValues)
		}
		if n > 0 && len(open) == 0 {
			return fault.Usagef("the line holds more than one object")
		}
		top := len(open) - 1
		if text, ok := token.(string); ok && top >= 0 && open[top].key {
			if open[top].keys[text] {
				return fault.Usagef("the key %q is there twice", text).Try("leave one of them out")
			}
			open[top].keys[text], open[top].key = true, false
			continue
		}
		switch token {
		case json.Delim('{'), json.Delim('['):
			if len(open) == deepest {
				return fault.Usagef("the line is more than %d levels deep", deepest)
			}
			if token == json.Delim('{') {
				open = append(open, level{map[string]bool{}, true})
			} else {
				open = append(open, level{})
			}
			continue
		case json.Delim('}'), json.Delim(']'):
			open = open[:top]
		}
		if top = len(open) - 1; top >= 0 && open[top].keys != nil {
			open[top].key = true
		}
	}
}

// agrees returns an error if a line says something else than what its events make.
// Keys that are not known are passed over if a newer build wrote the events.
func agrees(keys map[string]json.RawMessage, made any, newer bool) error {
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
		switch {
		case !known && got == nil, !known && newer, known && reflect.DeepEqual(got, value):
		case !known:
			return fault.Usagef("the key %q is not known", key).Try("leave it out; a note is the place for what has no key")
		case key == "number" && sharedNumber(got, value):
		default:
			return fault.Usagef("%s is not what the events of the line make of it", key).
				Try("take the line as it was exported; to correct a batch, import it and amend it")
		}
	}
	return nil
}

// sharedNumber says whether got is a number with the ending that it has where two
// benches gave it out.
func sharedNumber(got, number any) bool {
	text, _ := got.(string)
	bare, _, ok := splitEnding(text)
	return ok && bare == number
}

// textCheck remembers which recipes were read: many batches share one.
type textCheck struct{ right map[string]bool }

// recipe returns an error if a text is that of another recipe than the digest says.
// A text that is no recipe of this build has no digest to compare.
func (t *textCheck) recipe(p *record.Plan, text []byte) error {
	key := string(p.TextSHA) + p.Digest
	if t.right[key] {
		return nil
	}
	r, findings := recipe.Decode("recipe.toml", text)
	if len(findings) == 0 && r != nil && recipe.Digest(r) != p.Digest {
		return fault.Usagef("the text of the recipe of batch %s is not the one of which recipe_digest is the digest", p.Number).Try("leave the batch out: its review was of another recipe")
	}
	if t.right == nil || len(t.right) > mostWords {
		t.right = map[string]bool{}
	}
	t.right[key] = true
	return nil
}
