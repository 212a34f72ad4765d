package exchange

import (
	"bufio"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// columnsAndFields are the columns of a table of batches that an import reads, by their keys in JSON, and the fields.
var columnsAndFields = sync.OnceValues(func() (all []string, fields map[string]record.Field) {
	all = []string{"number", "id", "state", "created", "recipe", "recipe_title", "recipe_kind", "recipe_revision", "by"}
	fields = map[string]record.Field{}
	for _, f := range record.Stored() {
		if fields[f.JSON] = f; f.Help != "" {
			all = append(all, f.JSON)
		}
	}
	return slices.Insert(all, slices.Index(all, "good"), "logged"), fields
})

func columns() []string { all, _ := columnsAndFields(); return all }

func fieldOf(key string) (f record.Field, ok bool) {
	_, fields := columnsAndFields()
	f, ok = fields[key]
	return f, ok
}

// aside are the columns behind them, which an import leaves aside.
var aside = []string{"missing", "people", "review", "without_review", "dip", "lots", "waste", "photos", "signed_off"}

// stockColumns are the columns of a table of containers.
var stockColumns = []string{"number", "id", "substance", "form", "lot", "supplier", "received", "opened", "expires", "unit", "amount", "left",
	"observed", "sds", "sds_revised", "sds_looked_at", "place", "note", "by", "added", "observed_at", "emptied"}

// Export writes batches or containers to w and returns how many: as JSON Lines, with their events whole, or as CSV with
// one row each and the columns of FORMAT.md.
func Export[T any](w io.Writer, format string, values iter.Seq2[T, error]) (n int, err error) {
	columns := slices.Concat(columns(), aside)
	if _, stock := any(new(T)).(*record.Container); stock {
		columns = stockColumns
	}
	buffer := bufio.NewWriterSize(w, 64<<10)
	lines, rows := json.NewEncoder(buffer), csv.NewWriter(buffer)
	lines.SetEscapeHTML(false)
	rows.UseCRLF = true
	var failed error
	put := func(v T) error { return lines.Encode(v) }
	switch format {
	case JSONLines:
	case CSV:
		put = func(v T) error {
			row := row(any(&v).(record.Thing))
			var cells []string
			for _, key := range columns {
				cells = append(cells, cell(row[key]))
			}
			return rows.Write(cells)
		}
		_ = rows.Write(columns) // the error comes again below
	default:
		return 0, fault.Usagef("there is no export format %q", measure.Clean(format)).Try("write %s or %s", CSV, JSONLines)
	}
	for v, err := range values {
		if err != nil {
			return n, err
		}
		if failed = put(v); failed != nil {
			break
		}
		n++
	}
	rows.Flush()
	if err := cmp.Or(failed, rows.Error(), buffer.Flush()); err != nil {
		return n, fault.Failuref("the export could not be written").Because(store.Reason(err)).Try("check that the disk has room")
	}
	return n, nil
}

// formula is what a spreadsheet takes for the beginning of a formula, and the apostrophe that is put before it.
const formula = "=+-@'\t\r\n"

func cell(text string) string {
	if _, err := strconv.ParseFloat(text, 64); err != nil && text != "" && strings.ContainsRune(formula, rune(text[0])) {
		return "'" + text
	}
	return text
}

// uncell returns what a person would write for a cell.
func uncell(key, cell string) string {
	if len(cell) > 1 && cell[0] == '\'' && strings.ContainsRune(formula, rune(cell[1])) {
		return cell[1:]
	}
	if f, _ := fieldOf(key); f.Unit != "" && cell != "" {
		return cell + " " + f.Unit
	}
	return cell
}

// row returns what columns say of a batch or a container: what its JSON says, without marks.
func row(of record.Thing) map[string]string {
	row := map[string]string{}
	if b, ok := of.(*record.Batch); ok {
		row["people"] = strings.Join(b.People(), "; ")
		bare := *b
		bare.History = record.History{}
		of = &bare
	}
	data, _ := json.Marshal(of)
	var all map[string]any
	_ = json.Unmarshal(data, &all)
	for key, value := range all {
		row[key] = flat(value)
	}
	if b, ok := of.(*record.Batch); ok && b.Result != nil {
		row["causes"] = record.CausesText(b.Causes)
	}
	return row
}

func flat(v any) string {
	var parts []string
	switch v := v.(type) {
	case nil:
		return ""
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case []any:
		for _, one := range v {
			parts = append(parts, flat(one))
		}
		return strings.Join(parts, "; ")
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(v)) {
			text := flat(v[key])
			switch x := v[key].(type) {
			case []any, map[string]any:
				text = strings.ReplaceAll("("+text+")", "()", "")
			case float64:
				if len(text) > 8 { // worked out, not read off anything
					text = measure.Figures(x, 3)
				}
			}
			if text != "" {
				parts = append(parts, key+" "+text)
			}
		}
		return strings.Join(parts, ", ")
	}
	return fmt.Sprint(v)
}

// set makes a batch say what a person wrote in a column of a row.
func set(b *record.Batch, key, text string) {
	switch f, ok := fieldOf(key); {
	case ok:
		if f.OfResult && b.Result == nil {
			b.Result = &record.Result{}
		}
		fault.Check(f.Set(b, text))
	case key == "id":
		fault.Need(b.ID.UnmarshalText([]byte(text)) == nil, fault.Usagef("%s cannot be %q", key, measure.Clean(text)).
			Try("leave the column empty: the row then gets an id of its own"))
	default:
		b.State = record.State(text)
	}
}
