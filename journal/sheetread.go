package journal

import (
	"fmt"
	"io"
	"iter"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// sheetReader reads the rows of a sheet by its mapping.
type sheetReader struct {
	*Mapping
	at     map[string]int // column of each field
	causes []int
	key    int // column, or -1
	fields []string
}

// rows reads a sheet. Rows in which nothing stands are passed over.
func (m *Mapping) rows(r io.Reader) iter.Seq2[int, rowOrError] {
	return func(yield func(int, rowOrError) bool) {
		if m.latin {
			r = &latinReader{from: r}
		}
		t := newTableReader(r, m.comma)
		s := &sheetReader{Mapping: m}
		for range m.skip {
			if _, _, end, _ := t.next(); end {
				break
			}
		}
		names, line, _, err := t.next()
		if err == nil {
			err = s.find(names)
		}
		if err != nil {
			yield(max(line, 1), rowOrError{err: err})
			return
		}
		digests, same := &recipeDigests{}, map[string]int{}
		for {
			fields, line, end, err := t.next()
			if err != nil && !yield(line, rowOrError{err: err}) || end {
				return
			}
			if err != nil || strings.TrimSpace(strings.Join(fields, "")) == "" {
				continue
			}
			got := guard(func() rowOrError { return s.row(fields, digests, same) })
			if !yield(line, got) {
				return
			}
		}
	}
}

// find looks for the columns by their names.
func (s *sheetReader) find(names []string) error {
	place := map[string]int{}
	for i, name := range names {
		name = strings.TrimSpace(name)
		if _, twice := place[name]; twice {
			place[name] = -1
			continue
		}
		place[name] = i
	}
	column := func(what, name string) (int, error) {
		at, ok := place[name]
		switch {
		case !ok:
			return 0, fault.Usagef("the table has no column %q for %s", name, what).Try("its columns are: %s", strict.Excerpt(strings.Join(names, ", ")))
		case at < 0:
			return 0, fault.Usagef("the table has two columns %q", name).Try("give one of them another name in the table")
		}
		return at, nil
	}
	s.at, s.key = map[string]int{}, -1
	var err error
	for _, field := range sheetFields() {
		if c := s.columns[field]; c.name != "" {
			if s.at[field], err = column(field, c.name); err != nil {
				return err
			}
		}
	}
	for _, c := range s.Mapping.causes {
		at, err := column("the cause "+c.cause, c.name)
		if err != nil {
			return err
		}
		s.causes = append(s.causes, at)
	}
	if s.Mapping.key != "" {
		s.key, err = column("the key", s.Mapping.key)
	}
	return err
}

// text gives what stands for a field: in its column, by its other name, or by default.
func (s *sheetReader) text(field string) string {
	text := ""
	if at, ok := s.at[field]; ok && at < len(s.fields) {
		text = strings.TrimSpace(s.fields[at])
	}
	if text == "" {
		return s.defaults[field]
	}
	if ours, ok := s.names[field][strings.ToLower(text)]; ok {
		return ours
	}
	return text
}

// row makes a batch of one row.
func (s *sheetReader) row(fields []string, digests *recipeDigests, same map[string]int) rowOrError {
	s.fields = fields
	for i, f := range fields {
		if !utf8.ValidString(f) {
			return rowOrError{err: fault.Usagef("column %d is not valid UTF-8", i+1).Try(`save the table as UTF-8, or write encoding = "windows-1252" in the mapping`)}
		}
	}
	v, err := s.view()
	if err != nil {
		return rowOrError{err: err}
	}
	r, err := cleanView(v)
	if err != nil {
		return rowOrError{err: err}
	}
	r.loose = true
	// By the clock on the wall, as the table has it: the zone may be that of the
	// machine, and another one next time.
	wall := *r
	wall.Created = r.created.Format("2006-01-02T15:04:05")
	identity, near := wall.identity(), uint64(nearClock)
	if s.key >= 0 {
		near = nearKey
		if s.key >= len(fields) || strings.TrimSpace(fields[s.key]) == "" {
			return rowOrError{err: fault.Usagef("there is nothing in the column %q", s.Mapping.key).Try("fill it in, or leave the key out of the mapping")}
		}
		identity = "key " + strings.TrimSpace(fields[s.key])
	}
	// Rows that say the same are as many batches.
	same[identity]++
	if n := same[identity]; n > 1 {
		if s.key >= 0 {
			return rowOrError{err: fault.Usagef("there is another row with %q in the column %q", cut(strings.TrimSpace(fields[s.key])), s.Mapping.key).Try("give each row one of its own")}
		}
		identity += fmt.Sprintf(" again %d", n)
	}
	ms := millisOf(r.created)
	r.id = derivedID(ms, 0, "sheet", identity)
	r.ID = r.id.String()
	f, err := r.foreign(digests)
	if err == nil {
		f.near = near
	}
	return rowOrError{row: r, f: f, err: err}
}

// view makes a View from the words of a row.
func (s *sheetReader) view() (v View, err error) {
	v = View{Recipe: s.text("recipe"), Alloy: s.text("alloy"), Shape: s.text("shape"), By: s.text("by"), Order: s.text("order")}
	created, err := s.time("created")
	if err != nil {
		return v, err
	}
	if created.IsZero() {
		return v, fault.Usagef("there is no date").Try("fill in the column %q", s.columns["created"].name)
	}
	v.Created = timeText(created)
	logged, err := s.time("logged")
	if err != nil {
		return v, err
	}
	if logged.IsZero() {
		logged = created
	}
	counts := map[string]*int{}
	for _, f := range []string{"pieces", "spares", "good", "rework", "reject"} {
		if counts[f], err = s.count(f); err != nil {
			return v, err
		}
	}
	if n := counts["spares"]; n != nil {
		v.Spares = *n
	}
	v.Good, v.Rework, v.Reject = counts["good"], counts["rework"], counts["reject"]
	sum := func(ns ...*int) (total int) {
		for _, n := range ns {
			if n != nil {
				total += *n
			}
		}
		return total
	}
	if pieces := counts["pieces"]; pieces != nil {
		v.Pieces = *pieces
		if s.restGood {
			rest := v.Pieces + v.Spares - sum(v.Rework, v.Reject)
			v.Good = &rest
		}
	} else {
		v.Pieces = sum(v.Good, v.Rework, v.Reject) - v.Spares
	}
	if v.Causes, err = s.causesOf(); err != nil {
		return v, err
	}
	if v.Good == nil {
		if v.Rework != nil && *v.Rework > 0 || v.Reject != nil && *v.Reject > 0 || len(v.Causes) > 0 {
			return v, fault.Usagef("the row does not say how many were good").Try("fill it in, or write good_is_the_rest = true in the mapping")
		}
		v.Rework, v.Reject, v.Causes = nil, nil, nil
		return v, nil // a plan
	}
	at := timeText(logged)
	v.Logged = &at
	shade, note := s.text("shade"), s.text("note")
	v.Shade, v.Note = &shade, &note
	if v.TemperatureC, err = s.figure("temperature", func(text string) (float64, error) { c, err := measure.ParseTemperature(text); return float64(c), err }); err != nil {
		return v, err
	}
	v.TimeS, err = s.figure("time", func(text string) (float64, error) { x, err := measure.ParseDuration(text); return float64(x), err })
	return v, err
}

// time reads a date, with the time of day from a column of its own where there is one.
func (s *sheetReader) time(field string) (t time.Time, err error) {
	text := s.text(field)
	if text == "" {
		return t, nil
	}
	if clock := s.text(field + "_time"); clock != "" {
		text += " " + clock
	}
	for _, day := range s.layouts {
		for _, clock := range []string{"", " 15:04", " 15:04:05"} {
			if t, err := time.ParseInLocation(day+clock, text, s.zone); err == nil {
				return t, cleanTime(field, t)
			}
		}
	}
	return t, fault.Usagef("%s is no date as the mapping has it: %q", field, cut(text)).Try("mend it, or add how it is written to dates in the mapping")
}

// number reads a figure with the decimal mark of the mapping.
func (s *sheetReader) number(text string) (string, bool) {
	if s.decimal == ',' {
		if strings.Contains(text, ".") {
			return "", false
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	for _, c := range text {
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' {
			return "", false
		}
	}
	return text, text != ""
}

func (s *sheetReader) count(field string) (*int, error) {
	text := s.text(field)
	if text == "" {
		return nil, nil
	}
	plain, ok := s.number(text)
	x, err := strconv.ParseFloat(plain, 64)
	if !ok || err != nil || x != math.Trunc(x) || math.Abs(x) > maxPieces {
		return nil, fault.Usagef("%s is no whole number: %q", field, cut(text)).Try("write it as in 48")
	}
	n := int(x)
	return &n, nil
}

// figure reads a figure: a bare number has the unit of the mapping.
func (s *sheetReader) figure(field string, parse func(string) (float64, error)) (*float64, error) {
	text := s.text(field)
	if text == "" {
		return nil, nil
	}
	if plain, ok := s.number(text); ok {
		if s.columns[field].unit == "" {
			return nil, fault.Usagef("%s has no unit: %q", field, cut(text)).Try("give the unit of the column under [units] in the mapping")
		}
		text = plain + " " + s.columns[field].unit
	} else if s.decimal == ',' {
		if strings.Contains(text, ".") {
			return nil, fault.Usagef("%s has a point in it: %q", field, cut(text)).Try("write it with a comma, or take decimal_comma out of the mapping")
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	x, err := parse(text)
	if err != nil {
		return nil, fault.Usagef("%s: %v", field, err).Try("%s", fault.CureOf(err))
	}
	return &x, nil
}

func (s *sheetReader) causesOf() (map[string]int, error) {
	causes, err := parseCauses(s.text("causes"))
	if err != nil {
		return nil, err
	}
	for i, c := range s.Mapping.causes {
		text := ""
		if s.causes[i] < len(s.fields) {
			text = strings.TrimSpace(s.fields[s.causes[i]])
		}
		if text == "" {
			continue
		}
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > maxPieces {
			return nil, fault.Usagef("the pieces of %s are no whole number: %q", c.cause, cut(text)).Try("write it as in 2")
		}
		if n > 0 {
			if causes == nil {
				causes = map[string]int{}
			}
			causes[c.cause] += n
		}
	}
	return causes, nil
}

// latinReader turns windows-1252, as older programs save it, into UTF-8.
type latinReader struct {
	from io.Reader
	raw  [4096]byte
	out  []byte
}

func (l *latinReader) Read(p []byte) (int, error) {
	if len(l.out) == 0 {
		n, err := l.from.Read(l.raw[:])
		if n == 0 {
			return 0, err
		}
		high := []rune("€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ")
		for _, c := range l.raw[:n] {
			r := rune(c)
			if c >= 0x80 && c < 0xa0 {
				r = high[c-0x80]
			}
			l.out = utf8.AppendRune(l.out, r)
		}
	}
	n := copy(p, l.out)
	l.out = l.out[n:]
	return n, nil
}
