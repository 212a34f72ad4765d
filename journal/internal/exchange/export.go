package exchange

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"io"
	"iter"
	"slices"
	"strings"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// writer writes values to a file in one format.
type writer[T any] struct {
	buffer *bufio.Writer
	put    func(T) error
	flush  func() error
}

// newWriter begins a file. The heading and the cells are for CSV; JSON Lines have
// the JSON of the value.
func newWriter[T any](w io.Writer, format string, heading []string, cells func(T) []string) (*writer[T], error) {
	out := &writer[T]{buffer: bufio.NewWriterSize(w, 64<<10)}
	switch format {
	case CSV:
		rows := csv.NewWriter(out.buffer)
		rows.UseCRLF = true
		if err := rows.Write(heading); err != nil {
			return nil, writing(err)
		}
		out.put = func(v T) error { return rows.Write(cells(v)) }
		out.flush = func() error { rows.Flush(); return rows.Error() }
	case JSONLines:
		lines := json.NewEncoder(out.buffer)
		lines.SetEscapeHTML(false)
		out.put = func(v T) error { return lines.Encode(v) }
		out.flush = func() error { return nil }
	default:
		return nil, fault.Usagef("there is no export format %q", measure.Clean(format)).Try("write %s or %s", CSV, JSONLines)
	}
	return out, nil
}

func (w *writer[T]) all(values iter.Seq2[T, error]) (n int, err error) {
	for v, err := range values {
		if err != nil {
			return n, err
		}
		if err := w.put(v); err != nil {
			return n, writing(err)
		}
		n++
	}
	if err := w.flush(); err != nil {
		return n, writing(err)
	}
	if err := w.buffer.Flush(); err != nil {
		return n, writing(err)
	}
	return n, nil
}

func writing(err error) error {
	return fault.Failuref("the export could not be written").Because(store.Reason(err)).Try("see that there is room where it is written to")
}

// Export writes batches to w and returns how many. JSON Lines hold the JSON of each,
// with its events whole; CSV has one row each, with the columns of FORMAT.md.
func Export(w io.Writer, format string, batches iter.Seq2[*record.Batch, error]) (int, error) {
	all := columns()
	var heading []string
	for _, c := range all {
		heading = append(heading, c.name)
	}
	out, err := newWriter(w, format, heading, func(b *record.Batch) []string {
		cells := make([]string, len(all))
		for i, c := range all {
			cells[i] = c.get(b)
		}
		return cells
	})
	if err != nil {
		return 0, err
	}
	return out.all(batches)
}

// ExportStock writes containers to w and returns how many, as Export does. In a
// table the amounts stand without their unit, which has a column.
func ExportStock(w io.Writer, format string, containers []record.Container) (int, error) {
	heading := []string{"number", "id", "unit"}
	for _, f := range record.StockFields() {
		heading = append(heading, strings.ReplaceAll(f.Name, "-", "_"))
	}
	out, err := newWriter(w, format, append(heading, "by", "added", "observed_at", "emptied"), func(c record.Container) []string {
		cells := []string{c.Number, c.ID.String(), c.Unit}
		for _, f := range record.StockFields() {
			cells = append(cells, cell(strings.TrimSuffix(f.Get(&c), " "+c.Unit)))
		}
		return append(cells, cell(c.By), stampText(c.Added), stampText(c.ObservedAt), stampText(c.Emptied))
	})
	if err != nil {
		return 0, err
	}
	return out.all(func(yield func(record.Container, error) bool) {
		for c := range slices.Values(containers) {
			if !yield(c, nil) {
				return
			}
		}
	})
}
