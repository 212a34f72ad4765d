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

// rows reads a table kept by hand. Each row becomes texts by the names of columns,
// and is read as a row of an export.
func (m *Mapping) rows(r io.Reader) iter.Seq[found] {
	if m.latin {
		r = charmap.Windows1252.NewDecoder().Reader(r)
	}
	return tableRows(r, m.comma, m.skip, func(names []string) (reader, error) {
		at, err := m.find(names)
		if err != nil {
			return nil, err
		}
		return func(cells []string) (*row, error) { return sheetRow{m, at, cells}.read() }, nil
	})
}

// find returns the places of the columns by their names in the table.
func (m *Mapping) find(names []string) (map[string]int, error) {
	wanted := slices.Concat(slices.Collect(maps.Values(m.columns)), slices.Collect(maps.Values(m.causes)))
	if m.key != "" {
		wanted = append(wanted, m.key)
	}
	at := map[string]int{}
	for i, name := range names {
		if _, twice := at[name]; twice && slices.Contains(wanted, name) {
			return nil, fault.Usagef("the table has two columns %q", name).Try("give one of them another name in the table")
		}
		at[name] = i
	}
	slices.Sort(wanted)
	for _, name := range wanted {
		if _, there := at[name]; !there {
			return nil, fault.Usagef("the table has no column %q", name).Try("its columns are: %s", strict.Excerpt(strings.Join(names, ", ")))
		}
	}
	return at, nil
}

// sheetRow is a row of a table kept by hand.
type sheetRow struct {
	*Mapping
	at    map[string]int // place of a column by its name in the table
	cells []string
}

func (s sheetRow) cell(name string) string {
	if at, ok := s.at[name]; ok && name != "" && at < len(s.cells) {
		return s.cells[at]
	}
	return ""
}

// text returns what stands for a name of ours: the cell of its column, by our word
// for it, or the default.
func (s sheetRow) text(name string) string {
	text := s.cell(s.columns[name])
	if text == "" {
		return s.defaults[name]
	}
	if ours, ok := s.names[name][record.Fold(text)]; ok {
		return ours
	}
	return text
}

func (s sheetRow) read() (*row, error) {
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
	bad := func(name string) bool { return texts[name] != "" && texts[name] != "0" }
	if texts["good"] == "" && !bad("rework") && !bad("reject") && !bad("causes") { // a plan
		for _, f := range record.Fields() {
			if f.OfResult {
				delete(texts, f.JSON)
			}
		}
		delete(texts, "logged")
	}
	r, err := readRow(texts)
	if err == nil && s.key != "" {
		if r.key = s.cell(s.key); r.key == "" {
			return nil, fault.Usagef("the row has nothing in the column %q", s.key).Try("fill it in, or leave the key out of the mapping")
		}
	}
	return r, err
}

// value returns what a person would write for a field.
func (s sheetRow) value(f record.Field) (string, error) {
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
	return text, nil
}

// counts works out pieces or good from the others if the table does not have them.
func (s sheetRow) counts(texts map[string]string) error {
	n := map[string]int{}
	for _, name := range []string{"pieces", "spares", "good", "rework", "reject"} {
		if texts[name] == "" {
			continue
		}
		var err error
		if n[name], err = measure.ParseCount(texts[name], 0, record.MaxPieces); err != nil {
			return fault.Usagef("%s: %v", name, err).Try("write it as in 48")
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
func (s sheetRow) time(name string) (t time.Time, err error) {
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
