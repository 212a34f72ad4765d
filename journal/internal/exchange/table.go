package exchange

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/oklog/ulid/v2"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

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

type reader func(cells []string) (*row, error)

// tableRows reads a table as entries. Under says how to read the rows under a
// heading. Rows in which nothing stands are passed over.
func tableRows(r io.Reader, comma rune, skip int, under func(heading []string) (reader, error)) iter.Seq2[*entry, error] {
	return func(yield func(*entry, error) bool) {
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
			e := &entry{line: t.line}
			switch {
			case err != nil:
			case read == nil:
				if read, err = under(cells); err == nil {
					continue
				}
			default:
				if e.row, err = read(cells); err == nil {
					err = e.fromRow(again)
				}
			}
			if !yield(e, err) || read == nil { // nothing can be read without a heading
				return
			}
		}
	}
}

// noNumber stands for the number of a row that has none: the journal gives it one.
const noNumber = "0000-000"

// row is a row of a table on its way to become a batch.
type row struct {
	batch record.Batch
	texts map[string]string // what it says, by the names of columns
	key   string            // what names the row for ever; empty if all that it says does
	aside bool              // it says more than an import reads
}

// readRow reads what people write, by the names of columns.
func readRow(texts map[string]string) (*row, error) {
	r := &row{texts: texts}
	for _, c := range columns() {
		text := texts[c.JSON]
		switch {
		case text == "":
		case c.Set == nil:
			r.aside = r.aside || c.JSON != "missing" && c.JSON != "people"
		default:
			if err := read(c, &r.batch, text); err != nil {
				return nil, err
			}
		}
	}
	return r, nil
}

// said yields the columns about which the row says something that an import reads.
func (r *row) said(yield func(record.Field) bool) {
	for _, c := range columns() {
		if c.Set != nil && r.texts[c.JSON] != "" && !yield(c) {
			return
		}
	}
}

// fromRow makes a batch of a row, with an event for each of what it says: planned,
// logged, withdrawn. A review is never made up. The ids of the events, and of a
// batch that has none, follow from the row, so that it is known again. Rows that
// say the same are as many batches; again counts them.
func (e *entry) fromRow(again map[[32]byte]int) error {
	r := e.row
	b := &r.batch
	if b.Created.IsZero() {
		return fault.Usagef("the row does not say when the batch was made").Try("fill in the column created")
	}
	if b.ID.IsZero() {
		identity := "key " + r.key
		if r.key == "" {
			identity = "row"
			for c := range r.said {
				identity += fmt.Sprintf(" %s %q", c.JSON, says(c, b))
			}
		}
		digest := sha256.Sum256([]byte(identity))
		again[digest]++
		if n := again[digest]; n > 1 {
			if r.key != "" {
				return fault.Usagef("another row has the key %q", r.key).Try("give each row one of its own")
			}
			identity += fmt.Sprint(" again ", n)
		}
		b.ID = derivedID(b.Created, 0, identity)
	}
	if b.Number == "" {
		b.Number = noNumber
	}
	e.id = b.ID
	add := func(kind string, at record.Stamp) *record.Event {
		ev := &record.Event{ID: derivedID(b.Created, byte(len(e.events)+1), b.ID.String()+kind), Of: b.ID, Kind: kind, At: at, By: b.By}
		e.events = append(e.events, ev)
		return ev
	}
	plan, last := b.Plan, b.Created
	add(record.Created, last).Plan = &plan
	if b.Result != nil {
		for _, f := range record.Fields() {
			if f.Required && r.texts[f.JSON] == "" {
				return fault.Usagef("the row has a result and does not say the %s", f.Label).Try("fill in %s", f.JSON)
			}
		}
		if b.Result.Logged.IsZero() {
			b.Result.Logged = b.Created
		}
		result := *b.Result
		last = result.Logged
		add(record.Logged, last).Result = &result
	}
	switch {
	case b.State == record.StateWithdrawn:
		add(record.Withdrawn, last).Reason = "withdrawn in the file that it was imported from"
	case b.State == record.StateLogged && b.Result == nil:
		return fault.Usagef("the state is logged and the row has no result").Try("fill in good, rework and reject")
	case b.State != "" && b.State != record.StateLogged && b.Result != nil:
		return fault.Usagef("the state is %s and the row has a result", b.State).Try("write logged, or take the result away")
	}
	_, err := fits(e.id, false, e.events)
	var known *fault.Error
	if errors.As(err, &known) {
		known.What = strings.ReplaceAll(known.What, "batch "+noNumber, "the row")
	}
	return err
}

// differs says in what the batch here differs from the row: the first thing that
// the row says and that is otherwise here. A batch that went further here does not.
func (r *row) differs(b *record.Batch) string {
	for c := range r.said {
		here, there := says(c, b), says(c, &r.batch)
		switch c.JSON {
		case "state":
			if slices.Index(record.States(), r.batch.State) <= slices.Index(record.States(), b.State) {
				continue
			}
		case "number":
			here, _ = splitEnding(here)
		}
		if here != there {
			return fmt.Sprintf("%s is %q here and %q in the file", c.JSON, here, there)
		}
	}
	return ""
}

// derivedID returns an id that follows from a text, with the time of a stamp. Those of
// one stamp rise with order.
func derivedID(at record.Stamp, order byte, text string) (id record.ID) {
	sum := sha256.Sum256([]byte(text))
	copy(id[6:], sum[:])
	id[6] = order
	_ = id.SetTime(ulid.Timestamp(time.UnixMilli(max(at.MS, 0)))) // a time too late for an id is refused by its year
	return id
}

// splitEnding divides "2026-014-7Q2F" into the number and the ending that it has
// where two benches gave it out.
func splitEnding(text string) (number string, ended bool) {
	if i := strings.LastIndexByte(text, '-'); strings.Count(text, "-") == 2 {
		return text[:i], true
	}
	return text, false
}
