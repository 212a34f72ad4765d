package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// viewKeys are the keys of a View, eventKeys and reviewKeys those inside.
func viewKeys() []string {
	return []string{
		"number", "id", "state", "created", "recipe", "recipe_title", "recipe_kind", "recipe_revision", "recipe_digest",
		"alloy", "shape", "pieces", "spares", "by", "order", "logged", "good", "rework", "reject", "missing", "causes",
		"temperature_c", "time_s", "shade", "note", "review", "dip", "without_review", "signed_off", "photos", "waste", "lots",
		"events", "recipe_text", "sheet",
	}
}

func eventKeys() []string {
	return []string{"id", "kind", "at", "written", "by", "reason", "field", "old", "new", "container", "batch", "amount", "loads", "uses", "result", "review", "note"}
}

func reviewKeys() []string { return []string{"by", "at", "digest", "points"} }

// viewReader reads the line of a View. Its lists of keys are kept from line to line.
type viewReader struct {
	jsonReader
	view, event, review []string
	guess               [3]int    // where the next key is likely to be found
	where               [3]string // the keys at work, for the message
	deep                int
}

func newViewReader() *viewReader {
	return &viewReader{view: viewKeys(), event: eventKeys(), review: reviewKeys()}
}

// read reads one line. What is wrong with it is an error that names the key.
func (r *viewReader) read(line []byte) (v View, err error) {
	r.text, r.at, r.deep = line, 0, 0
	v.Events = nil
	err = r.fields(0, r.view, func(key int) error { return r.viewField(&v, key) })
	if err == nil {
		r.deep = 0
		err = r.end()
	}
	if err != nil && r.deep > 0 {
		err = fmt.Errorf("%s: %w", strings.Join(r.where[:r.deep], "."), err)
	}
	return v, err
}

// fields reads an object and calls each with the place of every key in keys.
func (r *viewReader) fields(level int, keys []string, each func(key int) error) error {
	var seen uint64
	return r.object(func(key []byte) error {
		i := r.guess[level]
		if i >= len(keys) || string(key) != keys[i] {
			if i = slices.Index(keys, string(key)); i < 0 {
				return unknownKey(string(key), keys)
			}
		}
		r.guess[level] = i + 1
		if seen&(1<<i) != 0 {
			return fmt.Errorf("the key %q stands twice", keys[i])
		}
		seen |= 1 << i
		outer := r.deep
		r.where[outer] = keys[i]
		r.deep = outer + 1
		if err := each(i); err != nil {
			return err
		}
		r.deep = outer
		return nil
	})
}

func unknownKey(key string, keys []string) error {
	text := strict.Excerpt(key)
	if near := fault.Nearest(key, keys); near != "" {
		return fmt.Errorf("there is no key %q; did you mean %s?", text, near)
	}
	return fmt.Errorf("there is no key %q", text)
}

func (r *viewReader) viewField(v *View, key int) (err error) {
	switch r.view[key] {
	case "number":
		v.Number, err = r.str()
	case "id":
		v.ID, err = r.str()
	case "state":
		v.State, err = r.str()
	case "created":
		v.Created, err = r.str()
	case "recipe":
		v.Recipe, err = r.str()
	case "recipe_title":
		v.RecipeTitle, err = r.str()
	case "recipe_kind":
		v.RecipeKind, err = r.str()
	case "recipe_revision":
		v.RecipeRevision, err = r.integer()
	case "recipe_digest":
		v.RecipeDigest, err = r.str()
	case "alloy":
		v.Alloy, err = r.str()
	case "shape":
		v.Shape, err = r.str()
	case "pieces":
		v.Pieces, err = r.integer()
	case "spares":
		v.Spares, err = r.integer()
	case "by":
		v.By, err = r.str()
	case "order":
		v.Order, err = r.str()
	case "logged":
		v.Logged, err = maybe(r, r.str)
	case "good":
		v.Good, err = maybe(r, r.integer)
	case "rework":
		v.Rework, err = maybe(r, r.integer)
	case "reject":
		v.Reject, err = maybe(r, r.integer)
	case "missing":
		v.Missing, err = maybe(r, r.integer)
	case "causes":
		v.Causes, err = r.counts()
	case "temperature_c":
		v.TemperatureC, err = maybe(r, r.float)
	case "time_s":
		v.TimeS, err = maybe(r, r.float)
	case "shade":
		v.Shade, err = maybe(r, r.str)
	case "note":
		v.Note, err = maybe(r, r.str)
	case "review":
		if !r.null() {
			v.Review = &ReviewView{}
			err = r.fields(1, r.review, func(key int) error { return r.reviewField(v.Review, key) })
		}
	case "dip":
		v.Dip, err = record[DipView](r)
	case "without_review":
		v.WithoutReview, err = maybe(r, r.str)
	case "signed_off":
		v.SignedOff, err = record[SignOffView](r)
	case "photos":
		v.Photos, err = records[PhotoView](r)
	case "waste":
		v.Waste, err = records[WasteView](r)
	case "lots":
		v.Lots, err = records[LotView](r)
	case "events":
		v.Events, err = r.events()
	case "recipe_text":
		v.RecipeText, err = r.str()
	case "sheet":
		v.Sheet, err = r.raw()
	}
	return err
}

func (r *viewReader) reviewField(v *ReviewView, key int) (err error) {
	switch r.review[key] {
	case "by":
		v.By, err = r.str()
	case "at":
		v.At, err = r.str()
	case "digest":
		v.Digest, err = r.str()
	case "points":
		err = r.list(func() error {
			point, err := r.str()
			if v.Points = append(v.Points, point); len(v.Points) > maxPoints {
				return fmt.Errorf("there are more than %d", maxPoints)
			}
			return err
		})
	}
	return err
}

func (r *viewReader) events() (all []EventView, err error) {
	if r.null() {
		return nil, nil
	}
	err = r.list(func() error {
		if len(all) == maxEvents {
			return fmt.Errorf("there are more than %d", maxEvents)
		}
		all = append(all, EventView{})
		e := &all[len(all)-1]
		return r.fields(2, r.event, func(key int) error { return r.eventField(e, key) })
	})
	return all, err
}

func (r *viewReader) eventField(v *EventView, key int) (err error) {
	switch r.event[key] {
	case "loads":
		v.Loads, err = r.integer()
		return err
	case "uses":
		v.Uses, err = r.integer()
		return err
	case "result":
		v.Result, err = record[ResultView](r)
		return err
	case "review":
		v.Review, err = record[ReviewView](r)
		return err
	case "note":
		v.Note, err = r.str()
		return err
	}
	to := [...]*string{&v.ID, &v.Kind, &v.At, &v.Written, &v.By, &v.Reason, &v.Field, &v.Old, &v.New, &v.Container, &v.Batch, &v.Amount}
	*to[key], err = r.str()
	return err
}

// record reads what few batches have, and leaves the work to the standard
// library; a key that stands twice there is found by reading the value first.
func record[T any](r *viewReader) (*T, error) {
	text, err := r.strictRaw()
	if err != nil || string(text) == "null" {
		return nil, err
	}
	v := new(T)
	return v, unmarshal(text, v)
}

func records[T any](r *viewReader) (all []T, err error) {
	if r.null() {
		return nil, nil
	}
	err = r.list(func() error {
		if len(all) == maxLoads {
			return fmt.Errorf("there are more than %d", maxLoads)
		}
		v, err := record[T](r)
		if err == nil && v == nil {
			err = errors.New("it is null")
		}
		if err == nil {
			all = append(all, *v)
		}
		return err
	})
	return all, err
}

func unmarshal(text []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return fmt.Errorf("%s", strings.TrimPrefix(err.Error(), "json: "))
	}
	return nil
}

// mostOfRecord is how long such a value may be: far above what a workshop writes.
const mostOfRecord = 1 << 20

// strictRaw gives the bytes of a value in which no key stands twice.
func (r *viewReader) strictRaw() ([]byte, error) {
	r.peek()
	start := r.at
	if err := r.once(0); err != nil {
		return nil, err
	}
	if r.at-start > mostOfRecord {
		return nil, fmt.Errorf("it is longer than %d bytes", mostOfRecord)
	}
	return r.text[start:r.at], nil
}

func (r *viewReader) once(depth int) error {
	if depth > deepestJSON {
		return errJSONDeep
	}
	switch r.peek() {
	case '{':
		seen := map[string]bool{}
		return r.object(func(key []byte) error {
			if seen[string(key)] {
				return fmt.Errorf("the key %q stands twice", strict.Excerpt(string(key)))
			}
			if seen[string(key)] = true; len(seen) > maxCauses {
				return fmt.Errorf("there are more than %d keys", maxCauses)
			}
			return r.once(depth + 1)
		})
	case '[':
		return r.list(func() error { return r.once(depth + 1) })
	}
	return r.pass(depth)
}

// counts reads causes with their pieces.
func (r *viewReader) counts() (map[string]int, error) {
	if r.null() {
		return nil, nil
	}
	counts := map[string]int{}
	err := r.object(func(key []byte) error {
		name := string(key)
		if _, twice := counts[name]; twice {
			return fmt.Errorf("the cause %q stands twice", strict.Excerpt(name))
		}
		if len(counts) == maxCauses {
			return fmt.Errorf("there are more than %d", maxCauses)
		}
		var err error
		counts[name], err = r.integer()
		return err
	})
	return counts, err
}

// maybe reads a value that may be null.
func maybe[T any](r *viewReader, read func() (T, error)) (*T, error) {
	if r.null() {
		return nil, nil
	}
	v, err := read()
	return &v, err
}
