package exchange

import (
	"bufio"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"io"
	"iter"
	"strings"

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
