package exchange

import (
	"bufio"
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"iter"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// rows yields an entry for each row of a file that read fills in. A row ends at a line break, in a table only
// outside of quotation marks. One that is too long ends the file: nobody can tell where it was to end.
func rows(r io.Reader, table bool, longest int, read func(e *entry, text []byte)) iter.Seq2[*entry, error] {
	return func(yield func(*entry, error) bool) {
		in := bufio.NewScanner(r)
		in.Buffer(make([]byte, 64<<10), longest)
		in.Split(func(data []byte, atEnd bool) (int, []byte, error) {
			quoted := false
			for i, b := range data {
				quoted = quoted != (table && b == '"')
				if b == '\n' && !quoted {
					return i + 1, data[:i+1], nil
				}
			}
			if !atEnd || len(data) == 0 {
				return 0, nil, nil
			}
			return len(data), data, nil
		})
		line := 1
		for in.Scan() {
			e, text := &entry{line: line}, in.Bytes()
			line += bytes.Count(text, []byte("\n"))
			if e.line == 1 {
				text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")) // of some editors
			}
			err := fault.Caught(func() { read(e, text) })
			if (err != nil || len(e.events) > 0) && !yield(e, err) || e.last {
				return
			}
		}
		switch err := in.Err(); {
		case errors.Is(err, bufio.ErrTooLong):
			yield(&entry{line: line}, fault.Usagef("the row is longer than %d MiB; nothing after it is read", longest>>20).
				Try("leave it out, or look for a quotation mark that is never closed"))
		case err != nil:
			yield(&entry{line: line}, fault.Failuref("the rest of the file cannot be read").Because(err).Try("check the disk or the pipe"))
		}
	}
}

// cells returns the cells of a row of a table, without spaces around them; none of an empty line.
func cells(text []byte, comma rune) []string {
	in := csv.NewReader(bytes.NewReader(text))
	in.Comma = comma
	all, err := in.Read()
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		fault.Check(fault.Usagef("it is not a row of a table: %v", parse.Err).
			Try("put a text that has a quotation mark in quotation marks, and double it"))
	}
	for i := range all {
		fault.Need(utf8.ValidString(all[i]), fault.Usagef("column %d is not valid UTF-8", i+1).
			Try(`save the table as UTF-8, or write encoding = "windows-1252" in a mapping`))
		all[i] = strings.TrimSpace(all[i])
	}
	return all
}

// rows reads a table as entries: one kept by hand as the mapping says, one that an export wrote by the names of
// its columns. Rows in which nothing stands are passed over.
func (m *Mapping) rows(r io.Reader) iter.Seq2[*entry, error] {
	if m.latin {
		r = charmap.Windows1252.NewDecoder().Reader(r)
	}
	var names []string
	skip, again := m.skip, map[[32]byte]int{}
	return rows(r, true, 1<<20, func(e *entry, text []byte) {
		if skip--; skip >= 0 {
			return
		}
		e.last = names == nil // nothing can be read without a heading
		all := cells(text, m.comma)
		if strings.Join(all, "") == "" {
			e.last = false
			return
		}
		if e.last {
			m.heading(all)
			names, e.last = all, false
			return
		}
		fault.Need(len(all) == len(names) || m != exported, fault.Usagef("the row has %d columns and the first row %d", len(all), len(names)).
			Try("put a text that has a comma in quotation marks"))
		cells := map[string]string{}
		for i := range min(len(all), len(names)) {
			cells[names[i]] = all[i]
		}
		delete(cells, "") // nobody can ask for a column without a name
		e.says = m.says(cells)
		e.fromRow(cells[m.key], again)
	})
}

// heading sees that each column that is wanted is in the table, once.
func (m *Mapping) heading(names []string) {
	wanted := slices.Concat(slices.Collect(maps.Values(m.columns)), slices.Collect(maps.Values(m.causes)))
	if m.key != "" {
		wanted = append(wanted, m.key)
	}
	if m == exported {
		wanted = slices.Concat(names, []string{"created", "recipe", "pieces"})
		for i, name := range names {
			fault.Need(slices.Contains(columns(), name) || slices.Contains(aside, name), fault.Usagef("column %d is %q, which is no column of an export", i+1, name).
				Try("import a table of another kind with a mapping: 'hepar journal import --template' prints one"))
		}
	}
	slices.Sort(wanted)
	for _, name := range wanted {
		i := slices.Index(names, name)
		fault.Need(i >= 0, fault.Usagef("the table has no column %q", name).Try("its columns are: %s", strict.Excerpt(strings.Join(names, ", "))))
		fault.Need(!slices.Contains(names[i+1:], name), fault.Usagef("the table has two columns %q", name).
			Try("give one of them another name in the table"))
	}
}

// noNumber stands for the number of a row that has none: the journal gives it one.
const noNumber = "0000-000"

// fromRow makes a batch of what a row says, with an event each for planned, logged, withdrawn; never a review. The ids
// follow from the row, so that it is known again. Rows that say the same are as many batches, which again counts.
func (e *entry) fromRow(key string, again map[[32]byte]int) {
	b := &e.batch
	for _, column := range columns() {
		if e.says[column] != "" {
			set(b, column, e.says[column])
		}
	}
	fault.Need(b.Created != "", fault.Usagef("the row does not say when the batch was made").Try("fill in the column created"))
	if b.ID.IsZero() {
		identity := "key " + key
		if key == "" {
			identity = "row"
			row := row(b)
			for _, column := range columns() {
				if e.says[column] != "" {
					identity += fmt.Sprintf(" %s %q", column, row[column])
				}
			}
		}
		digest := sha256.Sum256([]byte(identity))
		if again[digest]++; again[digest] > 1 {
			fault.Need(key == "", fault.Usagef("another row has the key %q", key).Try("give each row its own key"))
			identity += fmt.Sprint(" again ", again[digest])
		}
		b.ID = derivedID(b.Created, 0, identity)
	}
	b.Number = cmp.Or(bare(b.Number), noNumber)
	e.id = b.ID
	add := func(kind string, at record.Stamp) *record.Event {
		ev := &record.Event{ID: derivedID(b.Created, byte(len(e.events)+1), b.ID.String()+kind), Of: b.ID, Kind: kind, At: at, By: b.By}
		e.events = append(e.events, ev)
		return ev
	}
	last := b.Created
	add(record.Created, last).Plan = &b.Plan
	if b.Result != nil {
		for _, f := range record.Fields() {
			fault.Need(!f.Required || !f.OfResult || e.says[f.JSON] != "", fault.Usagef("the row has a result, and %s is missing", f.Label).Try("fill in %s", f.JSON))
		}
		b.Result.Logged = cmp.Or(b.Result.Logged, b.Created)
		last = b.Result.Logged
		add(record.Logged, last).Result = b.Result
	}
	fault.Need(b.State == "" || slices.Contains(record.States(), b.State), fault.Usagef("there is no state %q", b.State).
		Try("write planned, reviewed, dipped, logged or withdrawn"))
	if b.State == record.StateWithdrawn {
		add(record.Withdrawn, last).Reason = "withdrawn in the file that it was imported from"
	} else if b.State != "" && (b.State == record.StateLogged) != (b.Result != nil) {
		has := map[bool]string{true: "a", false: "no"}[b.Result != nil]
		fault.Check(fault.Usagef("the state is %s and the row has %s result", b.State, has).Try("fill in good, rework and reject and write logged, or leave both out"))
	}
	err := fault.Caught(func() { fits(e.id, false, e.events) })
	var known *fault.Error
	if errors.As(err, &known) {
		known.What = strings.ReplaceAll(known.What, "batch "+noNumber, "the row")
	}
	fault.Check(err)
}

// sameAs stops at the first thing in which the batch here differs from the row, unless it only went further here.
func (e *entry) sameAs(b *record.Batch) {
	mine, theirs := row(b), row(&e.batch)
	mine["number"] = bare(mine["number"])
	if slices.Index(record.States(), e.batch.State) <= slices.Index(record.States(), b.State) {
		mine["state"] = theirs["state"]
	}
	for _, column := range columns() {
		fault.Need(e.says[column] == "" || mine[column] == theirs[column],
			fault.Failuref("%s is %q here and %q in the file", column, mine[column], theirs[column]))
	}
}

// derivedID returns an id that follows from a text, with the time of a stamp and, within it, an order.
func derivedID(at record.Stamp, order byte, text string) record.ID {
	id, sum := store.Bound(at.Time()), sha256.Sum256([]byte(text)) // a time too late for an id is refused by its year
	copy(id[6:], sum[:])
	id[6] = order
	return id
}

// bare returns a number without the ending of one given out twice: "2026-014" of "2026-014-7Q2F".
func bare(number string) string {
	if i := strings.LastIndexByte(number, '-'); strings.Count(number, "-") == 2 {
		return number[:i]
	}
	return number
}
