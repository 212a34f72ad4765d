package journal

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// longestTableRow is how many bytes a row of a table may have: its notes are
// shorter, and it has no sheet.
const longestTableRow = 1 << 20

// tableReader reads a table row by row. A row that is too long ends the reading,
// for nobody can tell where it was meant to end.
type tableReader struct {
	rows  *csv.Reader
	limit *limitedReader
	after int // line on which the next row begins
}

// limitedReader gives up where one row takes more than it may.
type limitedReader struct {
	from io.Reader
	left int
}

func (l *limitedReader) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, errLongRow
	}
	n, err := l.from.Read(p[:min(len(p), l.left)])
	l.left -= n
	return n, err
}

func newTableReader(r io.Reader, comma rune) *tableReader {
	buffered := bufio.NewReaderSize(r, 64<<10)
	if mark, _ := buffered.Peek(3); len(mark) == 3 && len(trimBOM(mark)) == 0 {
		_, _ = buffered.Discard(3)
	}
	t := &tableReader{limit: &limitedReader{from: buffered}, after: 1}
	t.rows = csv.NewReader(t.limit)
	t.rows.Comma = comma
	t.rows.FieldsPerRecord = -1
	return t
}

// next gives a row and the line it begins on. With end, nothing more can be read.
func (t *tableReader) next() (fields []string, line int, end bool, err error) {
	t.limit.left = longestTableRow
	fields, err = t.rows.Read()
	var parse *csv.ParseError
	switch {
	case err == nil:
		line, _ = t.rows.FieldPos(0)
		last := len(fields) - 1
		t.after, _ = t.rows.FieldPos(last)
		t.after += 1 + strings.Count(fields[last], "\n")
		return fields, line, false, nil
	case err == io.EOF:
		return nil, 0, true, nil
	case errors.As(err, &parse):
		what := "it is not a row of a table: " + parse.Err.Error()
		return nil, parse.StartLine, errors.Is(parse.Err, csv.ErrQuote), fault.Usagef("%s", what).Try("a text with a quotation mark in it stands in quotation marks, and the mark twice")
	case errors.Is(err, errLongRow):
		return nil, t.after, true, fault.Usagef("the row is longer than 1 MiB").Try("look for a quotation mark that is never closed")
	}
	return nil, 0, true, fault.Failuref("the file cannot be read further").Because(reason(err)).Try("see that the disk or the pipe it comes from is sound")
}

// csvRows reads a table as Export writes it, or one that ends at the columns of
// csvHeader. The columns of csvMore are left aside: see csvMore.
func csvRows(r io.Reader) iter.Seq2[int, rowOrError] {
	return func(yield func(int, rowOrError) bool) {
		t := newTableReader(r, ',')
		names, line, _, err := t.next()
		want := csvHeader()
		if trouble := firstRowTrouble(names, want, csvMore()); err == nil && trouble != "" {
			err = fault.Usagef("the first row is not that of an export: %s", trouble).
				Try("import a table of another kind with a mapping: 'hepar journal import --template' begins one")
		}
		if err != nil {
			yield(max(line, 1), rowOrError{err: err})
			return
		}
		digests := &recipeDigests{}
		for {
			fields, line, end, err := t.next()
			if err != nil && !yield(line, rowOrError{err: err}) || end {
				return
			}
			if err != nil {
				continue
			}
			got := guard(func() rowOrError {
				v, err := csvView(fields, len(names))
				if err != nil {
					return rowOrError{err: err}
				}
				got := finish(v, true, digests)
				if got.row != nil {
					got.row.aside = tellsMore(names, fields)
				}
				return got
			})
			if !yield(line, got) {
				return
			}
		}
	}
}

// firstRowTrouble says why a first row is not that of an export: it must have all
// columns that are read, in their order, and beyond them only those that are known.
func firstRowTrouble(names, want, more []string) string {
	for i, name := range want {
		if i >= len(names) {
			return fmt.Sprintf("the column %q is missing", name)
		}
		if names[i] != name {
			return fmt.Sprintf("column %d is %q and should be %q", i+1, strict.Excerpt(names[i]), name)
		}
	}
	for i := len(want); i < len(names); i++ {
		switch {
		case !slices.Contains(more, names[i]):
			return fmt.Sprintf("column %d is %q, which no export has", i+1, strict.Excerpt(names[i]))
		case slices.Contains(names[:i], names[i]):
			return fmt.Sprintf("the column %q is there twice", names[i])
		}
	}
	return ""
}

// tellsMore says whether the columns that are left aside hold anything, beside the
// people, who are named because of what is read as well.
func tellsMore(names, fields []string) bool {
	for i := len(csvHeader()); i < len(names); i++ {
		if f := fields[i]; f != "" && names[i] != "people" && !(names[i] == "photos" && f == "0") {
			return true
		}
	}
	return false
}

// csvView makes a View from the fields of a row as csvRow writes them.
func csvView(fields []string, columns int) (v View, err error) {
	if len(fields) != columns {
		return v, fault.Usagef("the row has %d columns and the first row %d", len(fields), columns).Try("a text with a comma in it stands in quotation marks")
	}
	for i, f := range fields {
		if !utf8.ValidString(f) {
			return v, fault.Usagef("column %d is not valid UTF-8", i+1).Try("save the table as UTF-8")
		}
	}
	v = View{
		Number: fields[0], ID: fields[1], State: fields[2], Created: fields[3], Recipe: uncell(fields[4]), RecipeTitle: uncell(fields[5]),
		Alloy: uncell(fields[7]), Shape: uncell(fields[8]), By: uncell(fields[11]), Order: uncell(fields[12]),
	}
	for _, n := range []struct {
		column int
		to     *int
	}{{6, &v.RecipeRevision}, {9, &v.Pieces}, {10, &v.Spares}} {
		if *n.to, err = wholeCell(csvHeader()[n.column], fields[n.column]); err != nil {
			return v, err
		}
	}
	if strings.Join(fields[13:len(csvHeader())], "") == "" {
		return v, nil
	}
	v.Logged = &fields[13]
	for _, n := range []struct {
		column int
		to     **int
	}{{14, &v.Good}, {15, &v.Rework}, {16, &v.Reject}} {
		x, err := wholeCell(csvHeader()[n.column], fields[n.column])
		if err != nil {
			return v, err
		}
		*n.to = &x
	}
	if v.Causes, err = parseCauses(uncell(fields[18])); err != nil {
		return v, err
	}
	for _, n := range []struct {
		column int
		to     **float64
	}{{19, &v.TemperatureC}, {20, &v.TimeS}} {
		if fields[n.column] == "" {
			continue
		}
		x, err := strconv.ParseFloat(fields[n.column], 64)
		if err != nil {
			return v, fault.Usagef("%s is no number: %q", csvHeader()[n.column], cut(fields[n.column])).Try("write it with a point, as in 71.5")
		}
		*n.to = &x
	}
	shade, note := uncell(fields[21]), uncell(fields[22])
	v.Shade, v.Note = &shade, &note
	return v, nil
}

func wholeCell(what, text string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || n > maxPieces || n < -maxPieces {
		return 0, fault.Usagef("%s is no whole number: %q", what, cut(text)).Try("write it as in 48")
	}
	return n, nil
}

// uncell undoes cell.
func uncell(text string) string { return strings.TrimPrefix(text, "'") }
