package journal

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"unicode/utf8"
)

// MarshalJSON writes the View as the standard library would, without escapes for
// HTML. It is written by hand because a list and an export write it for every row.
func (v View) MarshalJSON() ([]byte, error) { return v.AppendJSON(make([]byte, 0, 1536)) }

// AppendJSON puts the View as JSON behind what is in b.
func (v View) AppendJSON(b []byte) ([]byte, error) {
	w := jsonWriter{b: append(b, '{')}
	w.text("number", v.Number)
	w.text("id", v.ID)
	w.text("state", v.State)
	w.text("created", v.Created)
	w.text("recipe", v.Recipe)
	w.text("recipe_title", v.RecipeTitle)
	w.text("recipe_kind", v.RecipeKind)
	w.whole("recipe_revision", &v.RecipeRevision)
	w.text("recipe_digest", v.RecipeDigest)
	w.text("alloy", v.Alloy)
	w.text("shape", v.Shape)
	w.whole("pieces", &v.Pieces)
	w.whole("spares", &v.Spares)
	w.text("by", v.By)
	w.text("order", v.Order)
	w.maybe("logged", v.Logged)
	w.whole("good", v.Good)
	w.whole("rework", v.Rework)
	w.whole("reject", v.Reject)
	w.whole("missing", v.Missing)
	w.counts("causes", v.Causes)
	w.float("temperature_c", v.TemperatureC)
	w.float("time_s", v.TimeS)
	w.maybe("shade", v.Shade)
	w.maybe("note", v.Note)
	w.review(v.Review)
	w.other("dip", v.Dip, v.Dip == nil, "null")
	w.maybe("without_review", v.WithoutReview)
	w.other("signed_off", v.SignedOff, v.SignedOff == nil, "null")
	w.other("photos", v.Photos, v.Photos != nil && len(v.Photos) == 0, "[]")
	w.other("waste", v.Waste, v.Waste != nil && len(v.Waste) == 0, "[]")
	w.other("lots", v.Lots, v.Lots != nil && len(v.Lots) == 0, "[]")
	w.events(v.Events)
	if v.RecipeText != "" {
		w.text("recipe_text", v.RecipeText)
	}
	if len(v.Sheet) > 0 {
		w.other("sheet", v.Sheet, false, "")
	}
	return append(w.b, '}'), w.err
}

// jsonWriter writes the fields of an object.
type jsonWriter struct {
	b   []byte
	err error
}

func (w *jsonWriter) key(name string) {
	if last := w.b[len(w.b)-1]; last != '{' && last != '[' {
		w.b = append(w.b, ',')
	}
	w.b = append(w.b, '"')
	w.b = append(w.b, name...)
	w.b = append(w.b, '"', ':')
}

func (w *jsonWriter) null() { w.b = append(w.b, "null"...) }

func (w *jsonWriter) text(name, text string) {
	w.key(name)
	w.b = appendJSONText(w.b, text)
}

// some writes a text unless it is empty.
func (w *jsonWriter) some(name, text string) {
	if text != "" {
		w.text(name, text)
	}
}

func (w *jsonWriter) maybe(name string, text *string) {
	w.key(name)
	if text == nil {
		w.null()
		return
	}
	w.b = appendJSONText(w.b, *text)
}

func (w *jsonWriter) whole(name string, n *int) {
	w.key(name)
	if n == nil {
		w.null()
		return
	}
	w.b = strconv.AppendInt(w.b, int64(*n), 10)
}

func (w *jsonWriter) float(name string, x *float64) {
	if x == nil || math.Abs(*x) >= 1e21 || *x != 0 && math.Abs(*x) < 1e-6 || math.IsNaN(*x) {
		w.other(name, x, x == nil, "null")
		return
	}
	w.key(name)
	w.b = strconv.AppendFloat(w.b, *x, 'f', -1, 64)
}

func (w *jsonWriter) counts(name string, counts map[string]int) {
	w.key(name)
	if counts == nil {
		w.null()
		return
	}
	w.countsOf(counts)
}

func appendWhole(b []byte, n int) []byte { return strconv.AppendInt(b, int64(n), 10) }

func jsonRaw(b []byte) json.RawMessage { return b }

func (w *jsonWriter) texts(all []string) {
	for i, text := range all {
		if i > 0 {
			w.b = append(w.b, ',')
		}
		w.b = appendJSONText(w.b, text)
	}
}

// other leaves what few batches have to the library; usual is written where it is
// as most are.
func (w *jsonWriter) other(name string, v any, isUsual bool, usual string) {
	w.key(name)
	if isUsual {
		w.b = append(w.b, usual...)
		return
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		w.err = err
		return
	}
	w.b = append(w.b, bytes.TrimSuffix(out.Bytes(), []byte("\n"))...)
}

func (w *jsonWriter) review(v *ReviewView) {
	w.key("review")
	if v == nil {
		w.null()
		return
	}
	w.b = append(w.b, '{')
	w.text("by", v.By)
	w.text("at", v.At)
	w.text("digest", v.Digest)
	w.key("points")
	if v.Points == nil {
		w.null()
	} else {
		w.b = append(w.b, '[')
		w.texts(v.Points)
		w.b = append(w.b, ']')
	}
	w.b = append(w.b, '}')
}

func (w *jsonWriter) events(all []EventView) {
	w.key("events")
	if all == nil {
		w.null()
		return
	}
	w.b = append(w.b, '[')
	for i := range all {
		v := &all[i]
		if i > 0 {
			w.b = append(w.b, ',')
		}
		w.b = append(w.b, '{')
		w.text("id", v.ID)
		w.text("kind", v.Kind)
		w.text("at", v.At)
		w.text("written", v.Written)
		w.text("by", v.By)
		w.some("reason", v.Reason)
		w.some("field", v.Field)
		w.some("old", v.Old)
		w.some("new", v.New)
		w.some("container", v.Container)
		w.some("batch", v.Batch)
		w.some("amount", v.Amount)
		if v.Loads != 0 {
			w.whole("loads", &v.Loads)
		}
		if v.Uses != 0 {
			w.whole("uses", &v.Uses)
		}
		if v.Result != nil {
			w.other("result", v.Result, false, "")
		}
		if v.Review != nil {
			w.other("review", v.Review, false, "")
		}
		w.some("note", v.Note)
		w.b = append(w.b, '}')
	}
	w.b = append(w.b, ']')
}

// appendJSONText writes a text as the library does without escapes for HTML.
func appendJSONText(b []byte, text string) []byte {
	b = append(b, '"')
	start := 0
	for i := 0; i < len(text); {
		c := text[i]
		if c >= ' ' && c != '"' && c != '\\' && c < utf8.RuneSelf && c != 0x7f {
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		plain := c >= utf8.RuneSelf && r != '\u2028' && r != '\u2029' && (r != utf8.RuneError || size > 1) || c == 0x7f
		if plain {
			i += size
			continue
		}
		b = append(b, text[start:i]...)
		switch {
		case c == '"' || c == '\\':
			b = append(b, '\\', c)
		case c == '\n':
			b = append(b, `\n`...)
		case c == '\r':
			b = append(b, `\r`...)
		case c == '\t':
			b = append(b, `\t`...)
		case c == '\b':
			b = append(b, `\b`...)
		case c == '\f':
			b = append(b, `\f`...)
		case c < ' ':
			const hex = "0123456789abcdef"
			b = append(b, `\u00`...)
			b = append(b, hex[c>>4], hex[c&15])
		case r == utf8.RuneError:
			b = append(b, `\ufffd`...)
		default:
			b = append(b, `\u202`...)
			b = append(b, "0123456789abcdef"[r&15])
		}
		i += size
		start = i
	}
	return append(append(b, text[start:]...), '"')
}
