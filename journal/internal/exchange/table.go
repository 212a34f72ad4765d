package exchange

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"iter"
	"strings"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// longestRow is how many bytes a row of a table may have.
const longestRow = 1 << 20

var errLongRow = errors.New("the row is too long")

// table reads a table row by row. A row that is too long ends it: nobody can tell
// where it was meant to end.
type table struct {
	rows *csv.Reader
	from *bufio.Reader
	left int
	line int  // on which the row begins
	next int  // line on which the next row begins
	over bool // nothing more can be read
}

func newTable(r io.Reader, comma rune) *table {
	t := &table{from: bufio.NewReaderSize(r, 64<<10), next: 1}
	if mark, _ := t.from.Peek(3); bytes.Equal(mark, []byte("\xef\xbb\xbf")) { // of some editors
		_, _ = t.from.Discard(3)
	}
	t.rows = csv.NewReader(t)
	t.rows.Comma, t.rows.FieldsPerRecord = comma, -1
	return t
}

// Read is for the reader of the rows.
func (t *table) Read(p []byte) (int, error) {
	if t.left <= 0 {
		return 0, errLongRow
	}
	n, err := t.from.Read(p[:min(len(p), t.left)])
	t.left -= n
	return n, err
}

// row returns the cells of the next row, without spaces around them; io.EOF at the end.
func (t *table) row() (cells []string, err error) {
	t.left, t.line = longestRow, t.next
	cells, err = t.rows.Read()
	var parse *csv.ParseError
	switch {
	case errors.As(err, &parse):
		t.line, t.over = parse.StartLine, errors.Is(parse.Err, csv.ErrQuote)
		return nil, fault.Usagef("it is not a row of a table: %v", parse.Err).
			Try("a text with a quotation mark in it stands in quotation marks, and the mark twice")
	case errors.Is(err, errLongRow):
		t.over = true
		return nil, fault.Usagef("the row is longer than %d MiB", longestRow>>20).Try("look for a quotation mark that is never closed")
	case err != nil:
		if t.over = true; err != io.EOF {
			err = unreadable(err)
		}
		return nil, err
	}
	t.line, _ = t.rows.FieldPos(0)
	last := len(cells) - 1
	t.next, _ = t.rows.FieldPos(last)
	t.next += 1 + strings.Count(cells[last], "\n")
	for i := range cells {
		if !utf8.ValidString(cells[i]) {
			return nil, fault.Usagef("column %d is not valid UTF-8", i+1).Try(`save the table as UTF-8, or write encoding = "windows-1252" in a mapping`)
		}
		cells[i] = strings.TrimSpace(cells[i])
	}
	return cells, nil
}

// reader reads a row of a table.
type reader func(cells []string) (*row, error)

// tableRows reads a table as entries. Under says how to read the rows under a
// heading. Rows in which nothing stands are passed over.
func tableRows(r io.Reader, comma rune, skip int, under func(heading []string) (reader, error)) iter.Seq[found] {
	return func(yield func(found) bool) {
		t := newTable(r, comma)
		for ; skip > 0 && !t.over; skip-- {
			_, _ = t.row()
		}
		var read reader
		again := map[[32]byte]int{}
		for !t.over {
			cells, err := t.row()
			if err == io.EOF || err == nil && read != nil && strings.Join(cells, "") == "" {
				continue
			}
			f := found{line: t.line, err: err}
			switch {
			case err != nil:
			case read == nil:
				if read, f.err = under(cells); f.err == nil {
					continue
				}
			default:
				f.entry, f.err = read.entry(cells, t.line, again)
			}
			if !yield(f) || read == nil { // nothing can be read without a heading
				return
			}
		}
	}
}

func (read reader) entry(cells []string, line int, again map[[32]byte]int) (*entry, error) {
	r, err := read(cells)
	if err != nil {
		return nil, err
	}
	e, err := r.entry(again)
	if err == nil {
		e.line = line
	}
	return e, err
}
