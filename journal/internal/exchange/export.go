package exchange

import (
	"bufio"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/oklog/ulid/v2"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Export writes batches to w and returns how many. JSON Lines hold the JSON of each,
// with its events whole; CSV has one row each, with the columns of FORMAT.md.
func Export(w io.Writer, format string, batches iter.Seq2[record.Batch, error]) (int, error) {
	var heading []string
	for _, c := range columns() {
		heading = append(heading, c.JSON)
	}
	return write(w, format, heading, batches, func(b record.Batch) (cells []string) {
		for _, c := range columns() {
			cells = append(cells, cell(c, &b))
		}
		return cells
	})
}

// ExportStock writes containers to w and returns how many, as Export does. In a
// table the amounts stand without their unit, which has a column.
func ExportStock(w io.Writer, format string, containers []record.Container) (int, error) {
	heading := []string{"number", "id", "unit"}
	for _, f := range record.StockFields() {
		heading = append(heading, strings.ReplaceAll(f.Name, "-", "_"))
	}
	heading = append(heading, "by", "added", "observed_at", "emptied")
	all := func(yield func(record.Container, error) bool) {
		for _, c := range containers {
			if !yield(c, nil) {
				return
			}
		}
	}
	return write(w, format, heading, all, func(c record.Container) []string {
		cells := []string{c.Number, c.ID.String(), c.Unit}
		for _, f := range record.StockFields() {
			cells = append(cells, quoted(strings.TrimSuffix(f.Get(&c), " "+c.Unit)))
		}
		return append(cells, quoted(c.By), stampText(c.Added), stampText(c.ObservedAt), stampText(c.Emptied))
	})
}

// write writes values as JSON Lines, or as a table with a heading and their cells.
func write[T any](w io.Writer, format string, heading []string, values iter.Seq2[T, error], cells func(T) []string) (n int, err error) {
	buffer := bufio.NewWriterSize(w, 64<<10)
	lines, rows := json.NewEncoder(buffer), csv.NewWriter(buffer)
	lines.SetEscapeHTML(false)
	rows.UseCRLF = true
	put := func(v T) error { return lines.Encode(v) }
	switch format {
	case JSONLines:
	case CSV:
		put = func(v T) error { return rows.Write(cells(v)) }
		_ = rows.Write(heading) // the error comes again below
	default:
		return 0, fault.Usagef("there is no export format %q", measure.Clean(format)).Try("write %s or %s", CSV, JSONLines)
	}
	for v, err := range values {
		if err != nil {
			return n, err
		}
		if err := put(v); err != nil {
			return n, writing(err)
		}
		n++
	}
	rows.Flush()
	if err := cmp.Or(rows.Error(), buffer.Flush()); err != nil {
		return n, writing(err)
	}
	return n, nil
}

func writing(err error) error {
	return fault.Failuref("the export could not be written").Because(store.Reason(err)).Try("see that there is room where it is written to")
}

// A column of a table of batches is a field of package record, or one like it, under its
// JSON key. An import leaves aside those without Set.

// says returns what a batch says in a column; empty if nothing is known.
func says(c record.Field, b *record.Batch) string {
	if c.OfResult && b.Result == nil {
		return ""
	}
	return c.Get(b)
}

// cell returns what stands in the column: a figure without its unit.
func cell(c record.Field, b *record.Batch) string {
	if c.Unit != "" {
		return strings.TrimSuffix(says(c, b), " "+c.Unit)
	}
	return quoted(says(c, b))
}

// uncell returns what a person would write for a cell that is not empty.
func uncell(c record.Field, cell string) string {
	switch {
	case c.Unit != "":
		return cell + " " + c.Unit
	case len(cell) > 1 && cell[0] == '\'' && strings.ContainsRune(formula, rune(cell[1])):
		return cell[1:]
	}
	return cell
}

// read makes the batch say what a person writes in a column.
func read(c record.Field, b *record.Batch, text string) (err error) {
	if c.OfResult && b.Result == nil {
		b.Result = &record.Result{}
	}
	if c.Parse != nil {
		if text, err = c.Parse(text); err != nil {
			return err
		}
	}
	return c.Set(b, text)
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
// record, and at the end what an import leaves aside.
var columns = sync.OnceValue(func() []record.Field {
	all := []record.Field{
		{JSON: "number", Get: func(b *record.Batch) string { return b.Number }, Set: func(b *record.Batch, text string) error {
			b.Number, _ = splitEnding(text)
			return nil
		}},
		{JSON: "id", Get: func(b *record.Batch) string { return b.ID.String() }, Set: func(b *record.Batch, text string) (err error) {
			if b.ID, err = ulid.ParseStrict(text); err != nil {
				err = fault.Usagef("%q is not an id", text).Try("leave the column empty: the row then gets an id of its own")
			}
			return err
		}},
		{JSON: "state", Get: func(b *record.Batch) string { return string(b.State) }, Set: func(b *record.Batch, text string) error {
			if b.State = record.State(text); !slices.Contains(record.States(), b.State) {
				return fault.Usagef("there is no state %q", text).Try("write planned, reviewed, dipped, logged or withdrawn")
			}
			return nil
		}},
		stampColumn("created", func(b *record.Batch) *record.Stamp { return &b.Created }),
		textColumn("recipe", func(b *record.Batch) *string { return &b.Slug }),
		textColumn("recipe_title", func(b *record.Batch) *string { return &b.Title }),
		textColumn("recipe_kind", func(b *record.Batch) *string { return &b.Recipe.Kind }),
		{JSON: "recipe_revision", Get: func(b *record.Batch) string { return strconv.Itoa(b.Revision) }, Set: func(b *record.Batch, text string) (err error) {
			b.Revision, err = measure.ParseCount(text, 0, record.MaxPieces)
			return err
		}},
		textColumn("by", func(b *record.Batch) *string { return &b.By }),
	}
	fields := record.Fields()
	results := slices.IndexFunc(fields, func(f record.Field) bool { return f.OfResult })
	logged := stampColumn("logged", func(b *record.Batch) *record.Stamp { return &b.Result.Logged })
	logged.OfResult = true
	return slices.Concat(all, fields[:results], []record.Field{logged}, fields[results:], aside)
})

func textColumn(name string, at func(*record.Batch) *string) record.Field {
	return record.Field{
		JSON:  name,
		Parse: func(text string) (string, error) { return record.Line(name, text) },
		Get:   func(b *record.Batch) string { return *at(b) },
		Set:   func(b *record.Batch, text string) error { *at(b) = text; return nil },
	}
}

func stampColumn(name string, at func(*record.Batch) *record.Stamp) record.Field {
	return record.Field{JSON: name, Get: func(b *record.Batch) string { return stampText(*at(b)) }, Set: func(b *record.Batch, text string) error {
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

var aside = []record.Field{
	{JSON: "missing", OfResult: true, Get: func(b *record.Batch) string { return strconv.Itoa(b.Missing()) }},
	{JSON: "people", Get: func(b *record.Batch) string { return strings.Join(b.People(), "; ") }},
	{JSON: "review", Get: func(b *record.Batch) string {
		if b.Review == nil {
			return ""
		}
		return parts(stampText(b.Review.At), b.Review.By)
	}},
	{JSON: "without_review", Get: func(b *record.Batch) string { return b.WithoutReview }},
	{JSON: "dip", Get: func(b *record.Batch) string {
		if b.Dip == nil {
			return ""
		}
		return list(b.Dip.Loads, func(l record.Load) string {
			return parts(fmt.Sprintf("load %d", l.Number), fmt.Sprintf("%d pieces", l.Pieces), figure(l.Temperature, "C"), figure(l.Time, "s"), l.Note)
		})
	}},
	{JSON: "lots", Get: func(b *record.Batch) string {
		return list(b.Uses, func(u record.Use) string { return parts(u.Number, u.Substance, u.Lot, u.Text()) })
	}},
	{JSON: "waste", Get: func(b *record.Batch) string {
		return list(b.Waste, func(w record.WasteEntry) string {
			all := []string{w.Container, figure(&w.Liters, "L")}
			for _, p := range w.Contents {
				all = append(all, p.What+" "+figure(&p.MilligramsPerLiter, "mg/L"))
			}
			return parts(append(all, w.Went)...)
		})
	}},
	{JSON: "photos", Get: func(b *record.Batch) string {
		return list(b.Photos, func(p record.PhotoRef) string { return p.Path })
	}},
	{JSON: "signed_off", Get: func(b *record.Batch) string {
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

func headings(names []string) (reader, error) {
	const cure = "import a table of another kind with a mapping: 'hepar journal import --template' begins one"
	at := map[string]int{}
	for i, name := range names {
		if !slices.ContainsFunc(columns(), func(c record.Field) bool { return c.JSON == name }) {
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
			if i, there := at[c.JSON]; there && cells[i] != "" {
				texts[c.JSON] = uncell(c, cells[i])
			}
		}
		return readRow(texts)
	}, nil
}
