package exchange

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Export writes batches to w and returns how many. JSON Lines hold the JSON of each,
// with its events whole; CSV has one row each, with the columns of FORMAT.md.
func Export(w io.Writer, format string, batches iter.Seq2[record.Batch, error]) (int, error) {
	return write(w, format, columns(), batches)
}

// ExportStock writes containers to w and returns how many, as Export does. In a
// table the amounts stand without their unit, which has a column.
func ExportStock(w io.Writer, format string, containers []record.Container) (int, error) {
	columns := plain[record.Container]("number", "id", "substance", "form", "lot", "supplier", "received", "opened", "expires", "unit", "amount", "left",
		"observed", "sds", "sds_revised", "sds_looked_at", "place", "note", "by", "added", "observed_at", "emptied")
	return write(w, format, columns, func(yield func(record.Container, error) bool) {
		for _, c := range containers {
			if !yield(c, nil) {
				return
			}
		}
	})
}

// write writes values as JSON Lines, or as a table with columns under their JSON keys.
func write[T any](w io.Writer, format string, columns []record.FieldOf[T], values iter.Seq2[T, error]) (n int, err error) {
	buffer := bufio.NewWriterSize(w, 64<<10)
	lines, rows := json.NewEncoder(buffer), csv.NewWriter(buffer)
	lines.SetEscapeHTML(false)
	rows.UseCRLF = true
	var failed error
	row := func(cell func(record.FieldOf[T]) string) error {
		var cells []string
		for _, c := range columns {
			cells = append(cells, cell(c))
		}
		return rows.Write(cells)
	}
	put := func(v T) error { return lines.Encode(v) }
	switch format {
	case JSONLines:
	case CSV:
		put = func(v T) error { return row(func(c record.FieldOf[T]) string { return cell(c, &v) }) }
		_ = row(func(c record.FieldOf[T]) string { return c.JSON }) // the error comes again below
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
		return n, fault.Failuref("the export could not be written").Because(store.Reason(err)).Try("see that there is room where it is written to")
	}
	return n, nil
}

// formula is what a spreadsheet takes for the beginning of a formula, and the
// apostrophe itself.
const formula = "=+-@'\t\r\n"

// cell returns what stands in a column: a figure without its unit, a text that begins as
// a formula does with an apostrophe before it.
func cell[T any](c record.FieldOf[T], v *T) string {
	text := c.Get(v)
	switch {
	case c.Unit != "":
		return strings.TrimSuffix(text, " "+c.Unit)
	case text != "" && strings.ContainsRune(formula, rune(text[0])):
		return "'" + text
	}
	return text
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

// columns are the columns of a table of batches, each a field or one like it under its
// JSON key: identity and plan, every field of package record, and at the end what an
// import leaves aside, without Set. Get returns nothing of a result that is missing; Set
// takes what a person writes.
var columns = sync.OnceValue(func() []record.Field {
	fields := record.Fields()
	results := slices.IndexFunc(fields, func(f record.Field) bool { return f.OfResult })
	logged := plain[record.Batch]("logged")
	logged[0].OfResult = true
	all := slices.Concat(plain[record.Batch]("number", "id", "state", "created", "recipe", "recipe_title", "recipe_kind", "recipe_revision", "by"),
		fields[:results], logged, fields[results:])
	for i := range all {
		c := all[i] // as it was
		if c.OfResult {
			all[i].Get = func(b *record.Batch) string {
				if b.Result == nil {
					return ""
				}
				return c.Get(b)
			}
		}
		all[i].Set = func(b *record.Batch, text string) error {
			if c.OfResult && b.Result == nil {
				b.Result = &record.Result{}
			}
			return c.Set(b, text)
		}
	}
	aside := plain[record.Batch]("missing", "people", "review", "without_review", "dip", "lots", "waste", "photos", "signed_off")
	for i := range aside {
		aside[i].Set = nil
	}
	aside[1].Get = func(b *record.Batch) string { return strings.Join(b.People(), "; ") }
	return append(all, aside...)
})

// plain returns the columns of what is no field, by the keys in JSON.
func plain[T any](keys ...string) (all []record.FieldOf[T]) {
	fields := map[string][]int{}
	for _, f := range reflect.VisibleFields(reflect.TypeFor[T]()) {
		key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		fields[key] = f.Index
	}
	cures := map[string]string{"id": "leave the column empty: the row then gets an id of its own",
		"created": "write it as in 2026-03-09T14:30:00+01:00", "logged": "write it as in 2026-03-09T14:30:00+01:00"}
	for _, key := range keys {
		at := func(v *T) any { return reflect.ValueOf(v).Elem().FieldByIndex(fields[key]).Addr().Interface() }
		all = append(all, record.FieldOf[T]{JSON: key,
			Get: func(v *T) string { return textOf(at(v)) },
			Set: func(v *T, text string) (err error) {
				if count, ok := at(v).(*int); ok {
					*count, err = measure.ParseCount(text, 0, record.MaxPieces)
					return err
				}
				data, _ := json.Marshal(text)
				if json.Unmarshal(data, at(v)) != nil {
					err = fault.Usagef("%s cannot be %q", key, measure.Clean(text)).Try("%s", cures[key])
				}
				return err
			},
		})
	}
	return all
}

// textOf returns what JSON has for a value, without its marks; nothing for null.
func textOf(v any) string {
	data, _ := json.Marshal(v)
	var of any
	in := json.NewDecoder(bytes.NewReader(data))
	in.UseNumber()
	_ = in.Decode(&of)
	return flat(of)
}

func flat(v any) string {
	var parts []string
	switch v := v.(type) {
	case nil:
		return ""
	case []any:
		for _, one := range v {
			parts = append(parts, flat(one))
		}
		return strings.Join(parts, "; ")
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(v)) {
			text := flat(v[key])
			switch v[key].(type) {
			case []any, map[string]any:
				text = strings.ReplaceAll("("+text+")", "()", "")
			}
			if text != "" {
				parts = append(parts, key+" "+text)
			}
		}
		return strings.Join(parts, ", ")
	}
	return fmt.Sprint(v)
}

// exported is how a table that an export wrote is read: by the names of its columns.
var exported = form{comma: ',', heading: func(names []string) error {
	for i, name := range names {
		if !slices.ContainsFunc(columns(), func(c record.Field) bool { return c.JSON == name }) {
			return fault.Usagef("column %d is %q, which no export has", i+1, name).
				Try("import a table of another kind with a mapping: 'hepar journal import --template' begins one")
		}
	}
	return needs(names, slices.Concat(names, []string{"created", "recipe", "pieces"}))
}, read: func(cells map[string]string) (map[string]string, string, error) {
	for _, c := range columns() {
		if cells[c.JSON] != "" {
			cells[c.JSON] = uncell(c, cells[c.JSON])
		}
	}
	return cells, "", nil
}}
