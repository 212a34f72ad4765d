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
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/oklog/ulid/v2"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// column is a column of a table in CSV.
type column struct {
	name string
	get  func(*record.Batch) string
	set  func(r *row, text string) error // nil: an import leaves it aside
}

// columns returns the columns of a table: identity and plan, every field of package
// record under its JSON key, and at the end what an import leaves aside.
func columns() []column {
	all := []column{
		{"number", func(b *record.Batch) string { return b.Number }, func(r *row, text string) error {
			number, _, ok := splitEnding(text)
			if !ok {
				number = text
			}
			r.batch.Number = number
			return nil
		}},
		{"id", func(b *record.Batch) string { return b.ID.String() }, func(r *row, text string) (err error) {
			if r.batch.ID, err = ulid.ParseStrict(text); err != nil {
				err = fault.Usagef("%q is not an id", text).Try("leave the column empty: the row then gets an id of its own")
			}
			return err
		}},
		{"state", func(b *record.Batch) string { return string(b.State) }, func(r *row, text string) error {
			if r.batch.State = record.State(text); !slices.Contains(record.States(), r.batch.State) {
				return fault.Usagef("there is no state %q", text).Try("write planned, reviewed, dipped, logged or withdrawn")
			}
			return nil
		}},
		stampColumn("created", func(b *record.Batch) record.Stamp { return b.Created }, func(r *row, s record.Stamp) { r.batch.Created = s }),
		textColumn("recipe", func(b *record.Batch) *string { return &b.Slug }),
		textColumn("recipe_title", func(b *record.Batch) *string { return &b.Title }),
		textColumn("recipe_kind", func(b *record.Batch) *string { return &b.Recipe.Kind }),
		{"recipe_revision", func(b *record.Batch) string { return strconv.Itoa(b.Revision) }, func(r *row, text string) (err error) {
			r.batch.Revision, err = measure.ParseCount(text, 0, record.MaxPieces)
			return err
		}},
		textColumn("by", func(b *record.Batch) *string { return &b.By }),
	}
	for _, f := range record.Fields() {
		if !f.OfResult {
			all = append(all, fieldColumn(f))
		}
	}
	all = append(all, stampColumn("logged", func(b *record.Batch) record.Stamp {
		if b.Result == nil {
			return record.Stamp{}
		}
		return b.Result.Logged
	}, func(r *row, s record.Stamp) { r.result().Logged = s }))
	for _, f := range record.Fields() {
		if f.OfResult {
			all = append(all, fieldColumn(f))
		}
	}
	return append(all, asideColumns()...)
}

func textColumn(name string, at func(*record.Batch) *string) column {
	return column{name, func(b *record.Batch) string { return cell(*at(b)) },
		func(r *row, text string) (err error) {
			*at(&r.batch), err = record.Line(name, uncell(text))
			return err
		}}
}

func stampColumn(name string, get func(*record.Batch) record.Stamp, set func(*row, record.Stamp)) column {
	return column{name, func(b *record.Batch) string { return stampText(get(b)) }, func(r *row, text string) error {
		var s record.Stamp
		if err := s.UnmarshalJSON([]byte(strconv.Quote(text))); err != nil {
			return fault.Usagef("%s: %v", name, err).Try("write it as in 2026-03-09T14:30:00+01:00")
		}
		set(r, s)
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

// fieldColumn is the column of a field. A figure stands without its unit, which is
// in the heading.
func fieldColumn(f record.Field) column {
	get := func(b *record.Batch) string {
		if f.OfResult && b.Result == nil {
			return ""
		}
		if f.Unit != "" {
			return strings.TrimSuffix(f.Get(b), " "+f.Unit)
		}
		return cell(f.Get(b))
	}
	return column{f.JSON, get, func(r *row, text string) error {
		if f.Unit != "" {
			return r.field(f, text+" "+f.Unit)
		}
		return r.field(f, uncell(text))
	}}
}

// asideColumns are the columns that an import leaves aside.
func asideColumns() []column {
	list := func(n int, item func(i int) []string) string {
		var all []string
		for i := range n {
			all = append(all, strings.Join(slices.DeleteFunc(item(i), func(s string) bool { return s == "" }), ", "))
		}
		return cell(strings.Join(all, "; "))
	}
	figure := func(x float64, unit string) string { return record.AmountText(x, unit) }
	return []column{
		{"missing", func(b *record.Batch) string {
			if b.Result == nil {
				return ""
			}
			return strconv.Itoa(b.Missing())
		}, nil},
		{"people", func(b *record.Batch) string { return cell(strings.Join(b.People(), "; ")) }, nil},
		{"review", func(b *record.Batch) string {
			if b.Review == nil {
				return ""
			}
			return list(1, func(int) []string { return []string{stampText(b.Review.At), b.Review.By} })
		}, nil},
		{"without_review", func(b *record.Batch) string { return cell(b.WithoutReview) }, nil},
		{"dip", func(b *record.Batch) string {
			if b.Dip == nil {
				return ""
			}
			return list(len(b.Dip.Loads), func(i int) []string {
				l := b.Dip.Loads[i]
				item := []string{fmt.Sprintf("load %d", l.Number), fmt.Sprintf("%d pieces", l.Pieces)}
				if l.Temperature != nil {
					item = append(item, figure(float64(*l.Temperature), "C"))
				}
				if l.Time != nil {
					item = append(item, figure(float64(*l.Time), "s"))
				}
				return append(item, l.Note)
			})
		}, nil},
		{"lots", func(b *record.Batch) string {
			return list(len(b.Uses), func(i int) []string {
				u := b.Uses[i]
				return []string{u.Number, u.Substance, u.Lot, u.Text()}
			})
		}, nil},
		{"waste", func(b *record.Batch) string {
			return list(len(b.Waste), func(i int) []string {
				w := b.Waste[i]
				item := []string{w.Container, figure(float64(w.Liters), "L")}
				for _, p := range w.Contents {
					item = append(item, p.What+" "+figure(p.MilligramsPerLiter, "mg/L"))
				}
				return append(item, w.Went)
			})
		}, nil},
		{"photos", func(b *record.Batch) string {
			return list(len(b.Photos), func(i int) []string { return []string{b.Photos[i].Path} })
		}, nil},
		{"signed_off", func(b *record.Batch) string {
			if b.SignOff == nil {
				return ""
			}
			return list(1, func(int) []string { return []string{stampText(b.SignOff.At), b.SignOff.By, b.SignOff.Note} })
		}, nil},
	}
}

// formula is what a spreadsheet takes for the beginning of a formula, and the
// apostrophe itself.
const formula = "=+-@'\t\r\n"

// cell puts an apostrophe before a text that begins as a formula does.
func cell(text string) string {
	if text != "" && strings.ContainsRune(formula, rune(text[0])) {
		return "'" + text
	}
	return text
}

func uncell(text string) string {
	if len(text) > 1 && text[0] == '\'' && strings.ContainsRune(formula, rune(text[1])) {
		return text[1:]
	}
	return text
}

// splitEnding divides "2026-014-7Q2F" into number and ending.
func splitEnding(text string) (number, ending string, ok bool) {
	i := strings.LastIndexByte(text, '-')
	if i < 0 || strings.Count(text, "-") != 2 {
		return text, "", false
	}
	return text[:i], text[i+1:], true
}

// longestRow is how many bytes a row of a table may have.
const longestRow = 1 << 20

// tableReader reads a table row by row. A row that is too long ends it: nobody can
// tell where it was meant to end.
type tableReader struct {
	rows  *csv.Reader
	from  io.Reader
	left  int
	after int // line on which the next row begins
}

var errLongRow = errors.New("the row is too long")

func (t *tableReader) Read(p []byte) (int, error) {
	if t.left <= 0 {
		return 0, errLongRow
	}
	n, err := t.from.Read(p[:min(len(p), t.left)])
	t.left -= n
	return n, err
}

func newTableReader(r io.Reader, comma rune) *tableReader {
	buffered := bufio.NewReaderSize(r, 64<<10)
	if mark, _ := buffered.Peek(3); bytes.Equal(mark, []byte("\xef\xbb\xbf")) {
		_, _ = buffered.Discard(3)
	}
	t := &tableReader{from: buffered, after: 1}
	t.rows = csv.NewReader(t)
	t.rows.Comma, t.rows.FieldsPerRecord = comma, -1
	return t
}

// next returns a row and the line on which it begins. With end, nothing more can be
// read.
func (t *tableReader) next() (cells []string, line int, end bool, err error) {
	t.left = longestRow
	cells, err = t.rows.Read()
	var parse *csv.ParseError
	switch {
	case err == nil:
		line, _ = t.rows.FieldPos(0)
		last := len(cells) - 1
		t.after, _ = t.rows.FieldPos(last)
		t.after += 1 + strings.Count(cells[last], "\n")
		for i, c := range cells {
			if !utf8.ValidString(c) {
				return cells, line, false, fault.Usagef("column %d is not valid UTF-8", i+1).Try(`save the table as UTF-8, or write encoding = "windows-1252" in a mapping`)
			}
		}
		return cells, line, false, nil
	case err == io.EOF:
		return nil, t.after, true, nil
	case errors.As(err, &parse):
		return nil, parse.StartLine, errors.Is(parse.Err, csv.ErrQuote), fault.Usagef("it is not a row of a table: %v", parse.Err).
			Try("a text with a quotation mark in it stands in quotation marks, and the mark twice")
	case errors.Is(err, errLongRow):
		return nil, t.after, true, fault.Usagef("the row is longer than %d MiB", longestRow>>20).Try("look for a quotation mark that is never closed")
	}
	return nil, t.after, true, unreadable(err)
}

// each yields the rows below the heading, made into entries. Rows in which nothing
// stands are passed over.
func (t *tableReader) each(yield func(found) bool, read func(cells []string) (*row, error)) {
	again := map[[32]byte]int{}
	for {
		cells, line, end, err := t.next()
		if end && err == nil {
			return
		}
		if err == nil && strings.TrimSpace(strings.Join(cells, "")) == "" {
			continue
		}
		f := found{line: line, err: err}
		if err == nil {
			var r *row
			if r, f.err = read(cells); f.err == nil {
				f.entry, f.err = r.entry(again)
			}
			if f.entry != nil {
				f.entry.line = line
			}
		}
		if !yield(f) || end {
			return
		}
	}
}

// tableRows reads a table with the columns of an export, in any order.
func tableRows(r io.Reader) iter.Seq[found] {
	return func(yield func(found) bool) {
		t := newTableReader(r, ',')
		names, line, _, err := t.next()
		var at []column
		if err == nil {
			at, err = headings(names)
		}
		if err != nil {
			yield(found{line: line, err: err})
			return
		}
		t.each(yield, func(cells []string) (*row, error) {
			if len(cells) != len(at) {
				return nil, fault.Usagef("the row has %d columns and the first row %d", len(cells), len(at)).Try("a text with a comma in it stands in quotation marks")
			}
			out := &row{}
			for i, c := range at {
				text := strings.TrimSpace(cells[i])
				switch {
				case text == "":
				case c.set == nil:
					out.aside = out.aside || c.name != "missing" && c.name != "people"
				default:
					if err := c.set(out, text); err != nil {
						return nil, err
					}
					out.said = append(out.said, said{c, text})
				}
			}
			return out, nil
		})
	}
}

func headings(names []string) (at []column, err error) {
	all := columns()
	for i, name := range names {
		j := slices.IndexFunc(all, func(c column) bool { return c.name == strings.TrimSpace(name) })
		switch {
		case j < 0:
			err = fault.Usagef("column %d is %q, which no export has", i+1, name)
		case slices.ContainsFunc(at, func(c column) bool { return c.name == all[j].name }):
			err = fault.Usagef("the column %q is there twice", name)
		default:
			at = append(at, all[j])
			continue
		}
		return nil, err.(*fault.Error).Try("import a table of another kind with a mapping: 'hepar journal import --template' begins one")
	}
	for _, name := range []string{"created", "recipe", "pieces"} {
		if !slices.ContainsFunc(at, func(c column) bool { return c.name == name }) {
			return nil, fault.Usagef("the column %q is missing", name).Try("import a table of another kind with a mapping: 'hepar journal import --template' begins one")
		}
	}
	return at, nil
}

// said is what a cell says.
type said struct {
	column
	text string
}

// row is a row of a table on its way to become a batch.
type row struct {
	batch record.Batch
	said  []said // by the columns that an import reads, in their order
	key   string // what names the row for ever; empty if all that it says does
	aside bool   // it says more than an import reads
}

func (r *row) result() *record.Result {
	if r.batch.Result == nil {
		r.batch.Result = &record.Result{}
	}
	return r.batch.Result
}

// field sets a field from what a person wrote.
func (r *row) field(f record.Field, text string) error {
	fixed, err := f.Parse(text)
	if err != nil {
		return err
	}
	if f.OfResult {
		r.result()
	}
	return f.Set(&r.batch, fixed)
}

func (r *row) says(name string) bool {
	return slices.ContainsFunc(r.said, func(s said) bool { return s.name == name })
}

// entry makes a batch of the row, with an event for each of what it says: planned,
// logged, withdrawn. A review is never made up. The ids of the events, and of a
// batch that has none, follow from the row, so that it is known again. Rows that
// say the same are as many batches; again counts them.
func (r *row) entry(again map[[32]byte]int) (*entry, error) {
	b := &r.batch
	if b.Created.IsZero() {
		return nil, fault.Usagef("the row does not say when the batch was made").Try("fill in the column created")
	}
	if b.ID.IsZero() {
		identity := "key " + r.key
		if r.key == "" {
			identity = "row " + stampText(b.Created)
			for _, s := range r.said {
				identity += fmt.Sprintf(" %s %q", s.name, s.text)
			}
		}
		digest := digestOf(identity)
		again[digest]++
		if n := again[digest]; n > 1 {
			if r.key != "" {
				return nil, fault.Usagef("another row has the key %q", r.key).Try("give each row one of its own")
			}
			identity += fmt.Sprint(" again ", n)
		}
		b.ID = derivedID(b.Created, 0, identity)
	}
	e := &entry{id: b.ID, row: r}
	add := func(order byte, kind string, at record.Stamp) *record.Event {
		ev := &record.Event{ID: derivedID(b.Created, order, b.ID.String()+kind), Of: b.ID, Kind: kind, At: at, By: b.By}
		e.events = append(e.events, ev)
		return ev
	}
	plan, last := b.Plan, b.Created
	add(1, record.Created, last).Plan = &plan
	if res := b.Result; res != nil {
		for _, f := range record.Fields() {
			if f.Required && !r.says(f.JSON) {
				return nil, fault.Usagef("the row has a result and does not say the %s", f.Label).Try("fill in %s", f.JSON)
			}
		}
		if res.Logged.IsZero() {
			res.Logged = b.Created
		}
		result := *res
		last = result.Logged
		add(2, record.Logged, last).Result = &result
	}
	switch b.State {
	case record.StateWithdrawn:
		add(3, record.Withdrawn, last).Reason = "withdrawn in the file that it was imported from"
	case record.StateLogged:
		if b.Result == nil {
			return nil, fault.Usagef("the state is logged and the row has no result").Try("fill in good, rework and reject")
		}
	case record.StatePlanned, record.StateReviewed, record.StateDipped:
		if b.Result != nil {
			return nil, fault.Usagef("the state is %s and the row has a result", b.State).Try("write logged, or take the result away")
		}
	}
	if plan.Number != "" {
		return e, fits(e.id, false, e.events)
	}
	const none = "0000-000" // the journal gives it one
	plan.Number = none
	err := fits(e.id, false, e.events)
	var known *fault.Error
	if errors.As(err, &known) {
		known.What = strings.ReplaceAll(known.What, "batch "+none, "the row")
	}
	plan.Number = ""
	return e, err
}

// differs says in what the batch here differs from the row: the first thing that
// the row says and that is otherwise here. A batch that went further here does not.
func (r *row) differs(b *record.Batch) string {
	for _, s := range r.said {
		here, there := s.get(b), s.get(&r.batch)
		switch s.name {
		case "state":
			rank := func(text string) int { return slices.Index(record.States(), record.State(text)) }
			if rank(there) <= rank(here) {
				continue
			}
		case "number":
			here, _, _ = splitEnding(here)
		}
		if here != there {
			return fmt.Sprintf("%s is %q here and %q in the file", s.name, here, there)
		}
	}
	return ""
}

func digestOf(text string) [32]byte { return sha256.Sum256([]byte(text)) }

// derivedID returns an id that follows from a text, with the time of a stamp. Those of
// one stamp rise with order.
func derivedID(at record.Stamp, order byte, text string) (id record.ID) {
	sum := digestOf(text)
	copy(id[6:], sum[:])
	id[6] = order
	_ = id.SetTime(ulid.Timestamp(time.UnixMilli(max(at.MS, 0)))) // a time too late for an id is refused by its year
	return id
}
