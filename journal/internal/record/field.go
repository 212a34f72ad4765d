package record

import (
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Result is how a batch turned out, counted in pieces. A new field is a line here and an entry in Fields.
type Result struct {
	Good        int              `cbor:"1,keyasint,omitempty" json:"good"`
	Rework      int              `cbor:"2,keyasint,omitempty" json:"rework"`
	Reject      int              `cbor:"3,keyasint,omitempty" json:"reject"`
	Causes      map[string]int   `cbor:"4,keyasint,omitempty" json:"causes"`        // of rework and reject, by name
	Temperature *measure.Celsius `cbor:"5,keyasint,omitempty" json:"temperature_c"` // of the bath
	Time        *measure.Seconds `cbor:"6,keyasint,omitempty" json:"time_s"`        // of a piece in the bath
	Shade       string           `cbor:"7,keyasint,omitempty" json:"shade"`
	Note        string           `cbor:"8,keyasint,omitempty" json:"note" long:"note"`
	Logged      Stamp            `cbor:"9,keyasint" json:"logged" is:"result"` // when the result was had
}

// Counted returns the number of pieces counted.
func (r *Result) Counted() int { return r.Good + r.Rework + r.Reject }

// Words returns ResultGood, or ResultRework and ResultReject.
func (r *Result) Words() []string {
	var words []string
	if r.Rework > 0 {
		words = append(words, ResultRework)
	}
	if r.Reject > 0 {
		words = append(words, ResultReject)
	}
	if words == nil {
		words = []string{ResultGood}
	}
	return words
}

// FieldOf is one thing that a person may say about a batch or a container and correct
// later. Its value is text in one fixed form ("48", "71.5 C", "patchy=2, too-light=1"),
// so that replaying an old correction never depends on how people write quantities.
type FieldOf[T any] struct {
	Name        string  // of flags, amendments, mapped columns: "temperature"
	JSON        string  // key in JSON and heading in CSV, with the unit: "temperature_c"
	CBOR        int     // key of the stored form; 0 for a field of the plan
	Unit        string  // as printed: "C"; empty for counts and text
	Label       string  // what it is, for people: "bath temperature"
	Help        string  // how to write it: "74 C"
	OfResult    bool    // of the result; otherwise of the plan
	Required    bool    // it has to be said
	Text        bool    // free text, searched by --text
	NeedsReason bool    // of a container: a change is a correction and not the course of things
	Low, High   float64 // limits of a number, both allowed; both 0 for text

	Parse  func(text string) (string, error)    // what a person wrote, in the fixed form
	Get    func(*T) string                      // the fixed form; empty if it is not known
	Set    func(of *T, fixed string) error      // from the fixed form; of a batch also from what a person wrote
	Figure func(*T) (value float64, known bool) // for means; nil where a mean says nothing
}

// The fields of a batch and of a container.
type (
	Field      = FieldOf[Batch]
	StockField = FieldOf[Container]
)

func named[T any](fields []FieldOf[T], name string) (f FieldOf[T], ok bool) {
	i := slices.IndexFunc(fields, func(f FieldOf[T]) bool { return f.Name == name })
	if i < 0 {
		return f, false
	}
	return fields[i], true
}

// The limits of what people may write. Choices of ours, far above what a workshop writes.
const (
	MaxPieces = 10_000_000
	maxCauses = 50
)

// Fields returns the table of all fields, in the order in which they are printed. Do not change it.
func Fields() []Field { return fields }

// FieldNamed returns the field of that name.
func FieldNamed(name string) (Field, bool) { return named(fields, name) }

// FieldNames returns the names of all fields.
func FieldNames() []string { return names(fields) }

func names[T any](fields []FieldOf[T]) (all []string) {
	for _, f := range fields {
		all = append(all, f.Name)
	}
	return all
}

var fields = []Field{
	textField(Line, Field{Name: "alloy", JSON: "alloy", Label: "metal", Help: "sterling-925"}, func(b *Batch) *string { return &b.Alloy }),
	textField(Line, Field{Name: "shape", JSON: "shape", Label: "shape", Help: "disc"}, func(b *Batch) *string { return &b.Shape }),
	countField(Field{Name: "pieces", JSON: "pieces", Label: "pieces", Help: "48", Low: 1}, func(b *Batch) *int { return &b.Pieces }),
	countField(Field{Name: "spares", JSON: "spares", Label: "spares", Help: "2"}, func(b *Batch) *int { return &b.Spares }),
	textField(Note, Field{Name: "order", JSON: "order", Label: "order", Help: "Saltholm Rowing Club", Text: true}, func(b *Batch) *string { return &b.Order }),

	countField(Field{Name: "good", JSON: "good", CBOR: 1, Label: "good pieces", Help: "46", OfResult: true, Required: true}, func(b *Batch) *int { return &b.Result.Good }),
	countField(Field{Name: "rework", JSON: "rework", CBOR: 2, Label: "pieces to rework", Help: "1", OfResult: true}, func(b *Batch) *int { return &b.Result.Rework }),
	countField(Field{Name: "reject", JSON: "reject", CBOR: 3, Label: "rejected pieces", Help: "1", OfResult: true}, func(b *Batch) *int { return &b.Result.Reject }),
	field(Field{Name: "causes", JSON: "causes", CBOR: 4, Label: "causes", Help: "spots=2, too-light=1", OfResult: true},
		parseCauses, CausesText, func(b *Batch) *map[string]int { return &b.Causes }),
	figureField(Field{Name: "temperature", JSON: "temperature_c", CBOR: 5, Unit: "C", Label: "bath temperature", Help: "74 C", OfResult: true, Low: -50, High: 1000},
		measure.ParseTemperature, func(b *Batch) **measure.Celsius { return &b.Temperature }, func(l Load) *measure.Celsius { return l.Temperature }),
	figureField(Field{Name: "time", JSON: "time_s", CBOR: 6, Unit: "s", Label: "dip time", Help: "11 s", OfResult: true, Low: 0.1, High: 366 * 24 * 3600},
		measure.ParseDuration, func(b *Batch) **measure.Seconds { return &b.Result.Time }, func(l Load) *measure.Seconds { return l.Time }),
	textField(Line, Field{Name: "shade", JSON: "shade", CBOR: 7, Label: "shade", Help: "blue-black", OfResult: true, Text: true}, func(b *Batch) *string { return &b.Shade }),
	textField(Note, Field{Name: "note", JSON: "note", CBOR: 8, Label: "note", Help: "anything worth knowing next time", OfResult: true, Text: true}, func(b *Batch) *string { return &b.Result.Note }),
}

// planned is how many fields are of the plan: they come first.
var planned = slices.IndexFunc(fields, func(f Field) bool { return f.OfResult })

// field completes a field: parse reads its value, from the fixed form as well, or stops; text writes that form.
func field[T, V any](f FieldOf[T], parse func(string) V, text func(V) string, at func(*T) *V) FieldOf[T] {
	f.Parse = func(said string) (fixed string, err error) {
		err = fault.Caught(func() { fixed = text(parse(strings.TrimSpace(said))) })
		return fixed, atField(f.Name, err)
	}
	f.Get = func(of *T) string { return text(*at(of)) }
	f.Set = func(of *T, fixed string) error {
		return atField(f.Name, fault.Caught(func() { *at(of) = parse(strings.TrimSpace(fixed)) }))
	}
	return f
}

func countField(f Field, at func(*Batch) *int) Field {
	f.High = MaxPieces
	return field(f, func(text string) int { return fault.Must(measure.ParseCount(text, int(f.Low), MaxPieces)) }, strconv.Itoa, at)
}

func textField[T any, S ~string](clean func(what, text string) (string, error), f FieldOf[T], at func(*T) *S) FieldOf[T] {
	return field(f, func(text string) S {
		if text == "" && f.Required {
			fault.Check(fault.Usagef("the %s is empty", f.Label).Try("name it"))
		}
		return S(fault.Must(clean(f.Label, text)))
	}, func(text S) string { return string(text) }, at)
}

func figureField[T ~float64](f Field, parse func(string) (T, error), at func(*Batch) **T, of func(Load) *T) Field {
	f = field(f, func(text string) *T {
		if text == "" {
			return nil
		}
		fixed, err := strconv.ParseFloat(strings.TrimSuffix(text, " "+f.Unit), 64)
		x := T(fixed)
		if err != nil || text != AmountText(fixed, f.Unit) { // as people write it
			x = fault.Must(parse(text))
		}
		fault.Check(Within(f.Label, f.Unit, float64(x), f.Low, f.High))
		return &x
	}, func(x *T) string {
		if x == nil {
			return ""
		}
		return AmountText(float64(*x), f.Unit)
	}, at)
	f.Figure = func(b *Batch) (float64, bool) {
		if b.Result == nil {
			return 0, false
		}
		if given := *at(b); given != nil {
			return float64(*given), true
		}
		sum, n := 0.0, 0 // the result says nothing: the mean of the loads
		if b.Dip != nil {
			for _, l := range b.Dip.Loads {
				if x := of(l); x != nil {
					sum, n = sum+float64(*x), n+1
				}
			}
		}
		return sum / float64(max(n, 1)), n > 0
	}
	return f
}

// AmountText writes a figure with its unit in its fixed form: "12.5 g".
func AmountText(x float64, unit string) string {
	return strconv.FormatFloat(x, 'f', -1, 64) + " " + unit
}

// atField names the field in a fault that names no place yet.
func atField(name string, err error) error {
	var known *fault.Error
	if errors.As(err, &known) && known.Where == "" {
		return known.At(name)
	}
	return err
}

// CausesText writes causes as "patchy=2, too-light=1", in the order of their names.
func CausesText(causes map[string]int) string {
	var parts []string
	for _, name := range slices.Sorted(maps.Keys(causes)) {
		parts = append(parts, name+"="+strconv.Itoa(causes[name]))
	}
	return strings.Join(parts, ", ")
}

// parseCauses reads what CausesText writes; the empty text is no causes.
func parseCauses(text string) map[string]int {
	causes := map[string]int{}
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		name, number, found := strings.Cut(part, "=")
		n, err := measure.ParseCount(strings.TrimSpace(number), 1, MaxPieces)
		if !found || err != nil {
			fault.Check(fault.Usagef("%q is not a cause with its count", measure.Clean(part)).Try("write spots=2, too-light=1"))
		}
		causes[fault.Must(CauseName(name))] += n
	}
	if len(causes) == 0 {
		return nil
	}
	return causes
}
