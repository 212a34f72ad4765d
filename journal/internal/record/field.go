package record

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Result is how a batch turned out, counted in pieces. A new field is a line here: see Field.
type Result struct {
	Good        int              `cbor:"1,keyasint" json:"good" is:"good pieces" as:"46" in:"0 10000000"`
	Rework      int              `cbor:"2,keyasint,omitempty" json:"rework" is:"pieces to rework" as:"1" in:"0 10000000"`
	Reject      int              `cbor:"3,keyasint,omitempty" json:"reject" is:"rejected pieces" as:"1" in:"0 10000000"`
	Causes      map[string]int   `cbor:"4,keyasint,omitempty" json:"causes" as:"spots=2, too-light=1"` // of rework and reject, by name
	Temperature *measure.Celsius `cbor:"5,keyasint,omitempty" json:"temperature_c" is:"bath temperature" as:"74 C" unit:"C" in:"-50 1000"`
	Time        *measure.Seconds `cbor:"6,keyasint,omitempty" json:"time_s" is:"dip time" as:"11 s" unit:"s" in:"0.1 31622400"`
	Shade       string           `cbor:"7,keyasint,omitempty" json:"shade" as:"blue-black"`
	Note        string           `cbor:"8,keyasint,omitempty" json:"note" long:"note" as:"anything worth knowing next time"`
	Logged      Stamp            `cbor:"9,keyasint" json:"logged" is:"result"` // when the result was had
}

// Counted returns the number of pieces counted.
func (r *Result) Counted() int { return r.Good + r.Rework + r.Reject }

// Field is what the tags of a stored struct say of one of its fields. What has Help, a person may say about a
// batch or a container and correct later. It is text in one fixed form ("48", "71.5 C", "patchy=2, too-light=1"),
// so that replaying an old correction never depends on how people write quantities. The tags: "is" makes Label, "as"
// Help, "unit" Unit, "in" Low and High, "why" NeedsReason; "long" see Event.
type Field struct {
	Name        string  // of flags, amendments, mapped columns: "temperature"
	JSON        string  // key in JSON and heading in CSV, with the unit: "temperature_c"
	CBOR        int     // key of the stored form
	Unit        string  // as printed: "C"; empty for counts and text
	Label       string  // what it is, for people: "bath temperature"
	Help        string  // how to write it: "74 C"
	OfResult    bool    // of the result; otherwise of the plan
	Required    bool    // it has to be said
	Text        bool    // free text, searched by --text
	NeedsReason bool    // of a container: a change is a correction and not the course of things
	Low, High   float64 // limits of a number, both allowed; both 0 for text

	long string // "note" or "path" for a text that may be longer than a line
	at   reflect.StructField
	of   reflect.Type // the struct
}

// The most of any count, and of causes of one result. Choices of ours, far above what a workshop writes.
const (
	MaxPieces = 10_000_000
	maxCauses = 50
)

var described sync.Map // what the tags of each stored struct say

// fieldsOf returns what the tags of a stored struct say: see Event.
func fieldsOf(of reflect.Type) (all []Field) {
	if had, ok := described.Load(of); ok {
		return had.([]Field)
	}
	for i := range of.NumField() {
		at := of.Field(i)
		key, how, _ := strings.Cut(at.Tag.Get("cbor"), ",")
		if key == "-" {
			continue
		}
		f := Field{Unit: at.Tag.Get("unit"), Help: at.Tag.Get("as"), OfResult: of == reflect.TypeFor[Result](), long: at.Tag.Get("long"), at: at, of: of}
		f.CBOR, _ = strconv.Atoi(key)
		f.JSON, _, _ = strings.Cut(at.Tag.Get("json"), ",")
		f.Name = strings.ReplaceAll(strings.TrimSuffix(f.JSON, "_"+strings.ReplaceAll(strings.ToLower(f.Unit), "%", "percent")), "_", "-")
		f.Label = cmp.Or(at.Tag.Get("is"), strings.ReplaceAll(f.JSON, "_", " "))
		f.Required = key != "" && !strings.Contains(how, "omit")
		f.Text = at.Type.Kind() == reflect.String && (f.OfResult || f.long == "note")
		_, f.NeedsReason = at.Tag.Lookup("why")
		_, _ = fmt.Sscan(at.Tag.Get("in"), &f.Low, &f.High)
		all = append(all, f)
	}
	described.Store(of, all)
	return all
}

// The fields that people may correct of a batch and of a container, in the order in which they are printed, and all
// of plan, recipe and result. Do not change them.
var (
	Fields      = sync.OnceValue(func() []Field { return helped(Stored()) })
	StockFields = sync.OnceValue(func() []Field { return helped(fieldsOf(reflect.TypeFor[ContainerPlan]())) })
	Stored      = sync.OnceValue(func() []Field {
		return slices.Concat(fieldsOf(reflect.TypeFor[Plan]()), fieldsOf(reflect.TypeFor[Recipe]()), fieldsOf(reflect.TypeFor[Result]()))
	})
)

func helped(fields []Field) []Field {
	return slices.DeleteFunc(slices.Clone(fields), func(f Field) bool { return f.Help == "" })
}

// Named returns the field of that name.
func Named(fields []Field, name string) (f Field, ok bool) {
	i := slices.Index(Names(fields), name)
	if i < 0 {
		return f, false
	}
	return fields[i], true
}

// Names returns the names of fields.
func Names(fields []Field) (names []string) {
	for _, f := range fields {
		names = append(names, f.Name)
	}
	return names
}

// Parse returns the fixed form of what a person wrote.
func (f *Field) Parse(said string) (fixed string, err error) {
	v := reflect.New(f.at.Type).Elem()
	if v.CanFloat() { // an amount
		of := *f
		_, of.Unit, _ = amount(said)
		f = &of
	}
	err = f.read(v, said)
	return f.text(v), err
}

// Get returns the fixed form of what a batch or a container says; empty if it is not known.
func (f *Field) Get(of Thing) string {
	f, v := f.in(reflect.ValueOf(of).Elem())
	return f.text(v)
}

// Set makes a batch or a container say what a person wrote, or its fixed form.
func (f *Field) Set(of Thing, said string) error {
	f, v := f.in(reflect.ValueOf(of).Elem())
	return f.read(v, said)
}

// Figure returns a figure of the result, for means; if the result does not say it, the mean of the loads.
func (f *Field) Figure(b *Batch) (x float64, known bool) {
	if b.Result == nil || f.Unit == "" {
		return 0, false
	}
	if _, v := f.in(reflect.ValueOf(b.Result).Elem()); !v.IsNil() {
		return v.Elem().Float(), true
	}
	n := 0
	for _, l := range b.Dip.loads() {
		if _, v := f.in(reflect.ValueOf(l)); v.IsValid() && !v.IsNil() {
			x, n = x+v.Elem().Float(), n+1
		}
	}
	return x / float64(max(n, 1)), n > 0
}

// in returns the value in a struct. An amount has the unit that stands beside it.
func (f *Field) in(part reflect.Value) (*Field, reflect.Value) {
	if f.at.Type.Kind() == reflect.Float64 && f.Help != "" {
		amount := *f
		amount.Unit = part.FieldByName("Unit").String()
		f = &amount
	}
	if f.of == part.Type() { // a quick way to the same
		return f, part.Field(f.at.Index[0])
	}
	return f, part.FieldByName(f.at.Name)
}

// text returns the fixed form of a value.
func (f *Field) text(v reflect.Value) string {
	switch x := reflect.Indirect(v); {
	case x.CanFloat():
		return AmountText(x.Float(), f.Unit)
	case x.CanInt():
		return strconv.FormatInt(x.Int(), 10)
	case x.Kind() == reflect.Map:
		return CausesText(x.Interface().(map[string]int))
	case x.Kind() == reflect.String:
		return x.String()
	}
	return "" // a figure that is not known
}

// read sets a value to what a person wrote, or to its fixed form.
func (f *Field) read(v reflect.Value, said string) error {
	text := strings.TrimSpace(said)
	err := fault.Caught(func() {
		switch at := v.Addr().Interface().(type) {
		case *int:
			*at = fault.Must(measure.ParseCount(text, int(f.Low), int(f.High)))
		case *map[string]int:
			*at = parseCauses(text)
		case *Stamp:
			t, err := time.Parse(time.RFC3339Nano, text)
			if *at = StampOf(t); err != nil || !at.Time().Equal(t) {
				fault.Check(fault.Usagef("%s cannot be %q", f.JSON, measure.Clean(text)).Try("write it as in 2026-03-09T14:30:00+01:00"))
			}
		case *Date:
			*at = fault.Must(ParseDate(text))
		case **measure.Celsius:
			*at = given(text, measure.ParseTemperature)
		case **measure.Seconds:
			*at = given(text, measure.ParseDuration)
		case *float64:
			x, unit := fault.Must2(amount(text))
			fault.Need(unit == f.Unit, fault.Usagef("the %s cannot be %q", f.Label, measure.Clean(text)).Try("give it in %s, as the jar is counted", f.Unit))
			*at = x
		default:
			if text == "" && f.Required {
				fault.Check(fault.Usagef("the %s is empty", f.Label).Try("name it"))
			}
			v.SetString(fault.Must(Clean(f.Label, f.long, text)))
		}
		if x := reflect.Indirect(v); x.CanFloat() {
			fault.Check(Within(f.Label, f.Unit, x.Float(), f.Low, f.High))
		}
	})
	if known, ok := errors.AsType[*fault.Error](err); ok && known.Where == "" && f.Help != "" {
		return known.At(f.Name)
	}
	return err
}

// given reads a figure; nil if there is none.
func given[T any](text string, parse func(string) (T, error)) *T {
	if text == "" {
		return nil
	}
	x := fault.Must(parse(text))
	return &x
}

// amount reads what is in a container, in g or mL.
func amount(text string) (x float64, unit string, err error) {
	mass, err := measure.ParseMass(text)
	if volume, failed := measure.ParseVolume(text); err != nil && failed == nil {
		return Tidy(volume.Milliliters()), UnitML, nil
	}
	return Tidy(float64(mass)), UnitGrams, err
}

// AmountText writes a figure with its unit in its fixed form: "12.5 g".
func AmountText(x float64, unit string) string {
	return strconv.FormatFloat(x, 'f', -1, 64) + " " + unit
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
