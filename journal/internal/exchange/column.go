package exchange

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/oklog/ulid/v2"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// column is a column of a table of batches.
type column struct {
	name string
	unit string                            // of a figure, which stands without it
	get  func(*record.Batch) string        // empty if nothing is known
	set  func(*record.Batch, string) error // from what a person writes; nil: an import leaves it aside
}

// cell returns what stands in the column.
func (c column) cell(b *record.Batch) string {
	if c.unit != "" {
		return strings.TrimSuffix(c.get(b), " "+c.unit)
	}
	return quoted(c.get(b))
}

// text returns what a person would write for a cell that is not empty.
func (c column) text(cell string) string {
	switch {
	case c.unit != "":
		return cell + " " + c.unit
	case len(cell) > 1 && cell[0] == '\'' && strings.ContainsRune(formula, rune(cell[1])):
		return cell[1:]
	}
	return cell
}

// formula is what a spreadsheet takes for the beginning of a formula, and the
// apostrophe itself.
const formula = "=+-@'\t\r\n"

// quoted puts an apostrophe before a text that begins as a formula does.
func quoted(text string) string {
	if text != "" && strings.ContainsRune(formula, rune(text[0])) {
		return "'" + text
	}
	return text
}

// columns are the columns of a table: identity and plan, every field of package
// record under its JSON key, and at the end what an import leaves aside.
var columns = sync.OnceValue(func() []column {
	all := []column{
		{name: "number", get: func(b *record.Batch) string { return b.Number }, set: func(b *record.Batch, text string) error {
			b.Number, _ = splitEnding(text)
			return nil
		}},
		{name: "id", get: func(b *record.Batch) string { return b.ID.String() }, set: func(b *record.Batch, text string) (err error) {
			if b.ID, err = ulid.ParseStrict(text); err != nil {
				err = fault.Usagef("%q is not an id", text).Try("leave the column empty: the row then gets an id of its own")
			}
			return err
		}},
		{name: "state", get: func(b *record.Batch) string { return string(b.State) }, set: func(b *record.Batch, text string) error {
			if b.State = record.State(text); !slices.Contains(record.States(), b.State) {
				return fault.Usagef("there is no state %q", text).Try("write planned, reviewed, dipped, logged or withdrawn")
			}
			return nil
		}},
		stampColumn("created", func(b *record.Batch) *record.Stamp { return &b.Created }),
		textColumn("recipe", func(b *record.Batch) *string { return &b.Slug }),
		textColumn("recipe_title", func(b *record.Batch) *string { return &b.Title }),
		textColumn("recipe_kind", func(b *record.Batch) *string { return &b.Recipe.Kind }),
		{name: "recipe_revision", get: func(b *record.Batch) string { return strconv.Itoa(b.Revision) }, set: func(b *record.Batch, text string) (err error) {
			b.Revision, err = measure.ParseCount(text, 0, record.MaxPieces)
			return err
		}},
		textColumn("by", func(b *record.Batch) *string { return &b.By }),
	}
	var results []column
	for _, f := range record.Fields() {
		if c := fieldColumn(f); f.OfResult {
			results = append(results, c)
		} else {
			all = append(all, c)
		}
	}
	return slices.Concat(all, []column{ofResult(stampColumn("logged", func(b *record.Batch) *record.Stamp { return &b.Result.Logged }))}, results, aside)
})

func textColumn(name string, at func(*record.Batch) *string) column {
	return column{name: name, get: func(b *record.Batch) string { return *at(b) }, set: func(b *record.Batch, text string) (err error) {
		*at(b), err = record.Line(name, text)
		return err
	}}
}

func stampColumn(name string, at func(*record.Batch) *record.Stamp) column {
	return column{name: name, get: func(b *record.Batch) string { return stampText(*at(b)) }, set: func(b *record.Batch, text string) error {
		if err := at(b).UnmarshalJSON([]byte(strconv.Quote(text))); err != nil {
			return fault.Usagef("%s: %v", name, err).Try("write it as in 2026-03-09T14:30:00+01:00")
		}
		return nil
	}}
}

func stampText(s record.Stamp) string {
	if s.IsZero() {
		return ""
	}
	text, _ := s.MarshalJSON() // returns no error
	return strings.Trim(string(text), `"`)
}

func fieldColumn(f record.Field) column {
	c := column{name: f.JSON, unit: f.Unit, get: f.Get, set: func(b *record.Batch, text string) error {
		fixed, err := f.Parse(text)
		if err != nil {
			return err
		}
		return f.Set(b, fixed)
	}}
	if f.OfResult {
		return ofResult(c)
	}
	return c
}

// ofResult makes the column one of the result, which need not be there.
func ofResult(c column) column {
	get, set := c.get, c.set
	c.get = func(b *record.Batch) string {
		if b.Result == nil {
			return ""
		}
		return get(b)
	}
	c.set = func(b *record.Batch, text string) error {
		if b.Result == nil {
			b.Result = &record.Result{}
		}
		return set(b, text)
	}
	return c
}

// aside are the columns that an import leaves aside.
var aside = []column{
	{name: "missing", get: func(b *record.Batch) string {
		if b.Result == nil {
			return ""
		}
		return strconv.Itoa(b.Missing())
	}},
	{name: "people", get: func(b *record.Batch) string { return strings.Join(b.People(), "; ") }},
	{name: "review", get: func(b *record.Batch) string {
		if b.Review == nil {
			return ""
		}
		return parts(stampText(b.Review.At), b.Review.By)
	}},
	{name: "without_review", get: func(b *record.Batch) string { return b.WithoutReview }},
	{name: "dip", get: func(b *record.Batch) string {
		if b.Dip == nil {
			return ""
		}
		return list(b.Dip.Loads, func(l record.Load) string {
			return parts(fmt.Sprintf("load %d", l.Number), fmt.Sprintf("%d pieces", l.Pieces), figure(l.Temperature, "C"), figure(l.Time, "s"), l.Note)
		})
	}},
	{name: "lots", get: func(b *record.Batch) string {
		return list(b.Uses, func(u record.Use) string { return parts(u.Number, u.Substance, u.Lot, u.Text()) })
	}},
	{name: "waste", get: func(b *record.Batch) string {
		return list(b.Waste, func(w record.WasteEntry) string {
			all := []string{w.Container, figure(&w.Liters, "L")}
			for _, p := range w.Contents {
				all = append(all, p.What+" "+figure(&p.MilligramsPerLiter, "mg/L"))
			}
			return parts(append(all, w.Went)...)
		})
	}},
	{name: "photos", get: func(b *record.Batch) string {
		return list(b.Photos, func(p record.PhotoRef) string { return p.Path })
	}},
	{name: "signed_off", get: func(b *record.Batch) string {
		if b.SignOff == nil {
			return ""
		}
		return parts(stampText(b.SignOff.At), b.SignOff.By, b.SignOff.Note)
	}},
}

func list[T any](all []T, text func(T) string) string {
	var texts []string
	for _, one := range all {
		texts = append(texts, text(one))
	}
	return strings.Join(texts, "; ")
}

func parts(texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(s string) bool { return s == "" }), ", ")
}

func figure[T ~float64](x *T, unit string) string {
	if x == nil {
		return ""
	}
	return record.AmountText(float64(*x), unit)
}

// headings reads a table with the columns of an export, in any order.
func headings(names []string) (reader, error) {
	const cure = "import a table of another kind with a mapping: 'hepar journal import --template' begins one"
	at := map[string]int{}
	for i, name := range names {
		if !slices.ContainsFunc(columns(), func(c column) bool { return c.name == name }) {
			return nil, fault.Usagef("column %d is %q, which no export has", i+1, name).Try(cure)
		}
		if _, twice := at[name]; twice {
			return nil, fault.Usagef("the column %q is there twice", name).Try(cure)
		}
		at[name] = i
	}
	for _, name := range []string{"created", "recipe", "pieces"} {
		if _, there := at[name]; !there {
			return nil, fault.Usagef("the column %q is missing", name).Try(cure)
		}
	}
	return func(cells []string) (*row, error) {
		if len(cells) != len(names) {
			return nil, fault.Usagef("the row has %d columns and the first row %d", len(cells), len(names)).Try("a text with a comma in it stands in quotation marks")
		}
		texts := map[string]string{}
		for _, c := range columns() {
			if i, there := at[c.name]; there && cells[i] != "" {
				texts[c.name] = c.text(cells[i])
			}
		}
		return readRow(texts)
	}, nil
}
