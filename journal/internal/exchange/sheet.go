package exchange

import (
	"io"
	"iter"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/encoding/charmap"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// rows reads a table kept by hand. Each row becomes one with the columns of an
// export, and is read as such.
func (m *Mapping) rows(r io.Reader) iter.Seq[found] {
	return func(yield func(found) bool) {
		if m.latin {
			r = charmap.Windows1252.NewDecoder().Reader(r)
		}
		t := newTableReader(r, m.comma)
		for range m.skip {
			if _, _, end, _ := t.next(); end {
				break
			}
		}
		names, line, _, err := t.next()
		s := &sheetRow{Mapping: m}
		if err == nil {
			err = s.find(names)
		}
		if err != nil {
			yield(found{line: line, err: err})
			return
		}
		t.each(yield, s.read)
	}
}

// sheetRow reads the rows of one table.
type sheetRow struct {
	*Mapping
	at    map[string]int // place of a column by its name in the table; -1 if two have it
	cells []string
}

// find looks for the columns by their names.
func (s *sheetRow) find(names []string) error {
	s.at = map[string]int{}
	for i, name := range names {
		name = strings.TrimSpace(name)
		if _, twice := s.at[name]; twice {
			i = -1
		}
		s.at[name] = i
	}
	wanted := slices.Concat(slices.Collect(maps.Values(s.columns)), slices.Collect(maps.Values(s.causes)))
	if s.key != "" {
		wanted = append(wanted, s.key)
	}
	slices.Sort(wanted)
	for _, name := range wanted {
		switch at, ok := s.at[name]; {
		case !ok:
			return fault.Usagef("the table has no column %q", name).Try("its columns are: %s", strict.Excerpt(strings.Join(names, ", ")))
		case at < 0:
			return fault.Usagef("the table has two columns %q", name).Try("give one of them another name in the table")
		}
	}
	return nil
}

func (s *sheetRow) cell(name string) string {
	if at, ok := s.at[name]; ok && name != "" && at < len(s.cells) {
		return strings.TrimSpace(s.cells[at])
	}
	return ""
}

// text returns what stands for a name of ours: the cell of its column, by our word
// for it, or the default.
func (s *sheetRow) text(name string) string {
	text := s.cell(s.columns[name])
	if text == "" {
		return s.defaults[name]
	}
	if ours, ok := s.names[name][record.Fold(text)]; ok {
		return ours
	}
	return text
}

func (s *sheetRow) read(cells []string) (*row, error) {
	s.cells = cells
	texts := map[string]string{"recipe": s.text("recipe"), "by": s.text("by")}
	for _, name := range []string{"created", "logged"} {
		t, err := s.time(name)
		if err != nil {
			return nil, err
		}
		texts[name] = stampText(record.StampOf(t))
	}
	if texts["created"] == "" {
		return nil, fault.Usagef("the row has no date").Try("fill in the column %q", s.columns["created"])
	}
	for _, f := range record.Fields() {
		text, err := s.value(f)
		if err != nil {
			return nil, err
		}
		texts[f.JSON] = text
	}
	if err := s.counts(texts); err != nil {
		return nil, err
	}
	if texts["good"] == "" && !s.counted(texts) { // a plan
		for _, f := range record.Fields() {
			if f.OfResult {
				delete(texts, f.JSON)
			}
		}
		delete(texts, "logged")
	}
	out := &row{}
	for _, c := range columns() {
		text := texts[c.name]
		if text == "" || c.set == nil {
			continue
		}
		if f, ok := record.FieldNamed(c.name); !ok || f.Unit == "" {
			text = cell(text)
		}
		if err := c.set(out, text); err != nil {
			return nil, err
		}
		out.said = append(out.said, said{c, text})
	}
	if s.key != "" {
		if out.key = s.cell(s.key); out.key == "" {
			return nil, fault.Usagef("the row has nothing in the column %q", s.key).Try("fill it in, or leave the key out of the mapping")
		}
	}
	return out, nil
}

// counted says whether the row counts pieces to rework or rejected, or their causes.
func (s *sheetRow) counted(texts map[string]string) bool {
	return slices.ContainsFunc([]string{"rework", "reject", "causes"}, func(name string) bool { return texts[name] != "" && texts[name] != "0" })
}

// value returns the text of a field as an export has it.
func (s *sheetRow) value(f record.Field) (string, error) {
	text := s.text(f.Name)
	if f.Name == "causes" {
		for _, cause := range slices.Sorted(maps.Keys(s.causes)) {
			if n := s.cell(s.causes[cause]); n != "" && n != "0" {
				text = strings.Trim(text+", "+cause+"="+n, ", ")
			}
		}
	}
	if f.Unit == "" || text == "" {
		return text, nil
	}
	if s.decimal == ',' {
		if strings.Contains(text, ".") {
			return "", fault.Usagef("%s has a point in it: %q", f.Name, measure.Clean(text)).Try("write it with a comma, or take decimal_comma out of the mapping")
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	if strings.Trim(text, "+-0123456789.") == "" {
		unit := s.units[f.Name]
		if unit == "" {
			return "", fault.Usagef("%s has no unit: %q", f.Name, measure.Clean(text)).Try("give the unit of the column under [units] in the mapping")
		}
		text += " " + unit
	}
	fixed, err := f.Parse(text)
	return strings.TrimSuffix(fixed, " "+f.Unit), err
}

// counts works out pieces or good from the others if the table does not have them.
func (s *sheetRow) counts(texts map[string]string) error {
	number := func(name string) (n int, err error) {
		if text := texts[name]; text != "" {
			if n, err = measure.ParseCount(text, 0, record.MaxPieces); err != nil {
				err = fault.Usagef("%s: %v", name, err).Try("write it as in 48")
			}
		}
		return n, err
	}
	n := map[string]int{}
	for _, name := range []string{"pieces", "spares", "good", "rework", "reject"} {
		var err error
		if n[name], err = number(name); err != nil {
			return err
		}
	}
	if texts["pieces"] == "" && texts["good"] != "" {
		texts["pieces"] = strconv.Itoa(n["good"] + n["rework"] + n["reject"] - n["spares"])
	}
	if s.restGood {
		texts["good"] = strconv.Itoa(n["pieces"] + n["spares"] - n["rework"] - n["reject"])
	}
	return nil
}

// time reads a date, with the time of day from a column of its own if there is one.
func (s *sheetRow) time(name string) (t time.Time, err error) {
	text := s.text(name)
	if text == "" {
		return t, nil
	}
	if clock := s.text(name + "_time"); clock != "" {
		text += " " + clock
	}
	for _, day := range s.layouts {
		for _, clock := range []string{"", " 15:04", " 15:04:05"} {
			t, err := time.ParseInLocation(day+clock, text, s.zone)
			if err != nil {
				continue
			}
			if onClock, _ := time.Parse(day+clock, text); onClock.Format(time.DateTime) != t.Format(time.DateTime) {
				return t, fault.Usagef("%s is in the hour that the change to summer time leaves out: %q", name, measure.Clean(text)).Try("write the time as the clock showed it after the change")
			}
			return t, record.Year(name, t)
		}
	}
	return t, fault.Usagef("%s is not a date of the mapping: %q", name, measure.Clean(text)).Try("mend it, or add how it is written to dates in the mapping")
}
