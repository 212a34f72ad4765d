package journal

import (
	"bytes"
	_ "embed" // for the template
	"slices"
	"strings"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

//go:embed mapping.toml
var mappingTemplate []byte

// MappingTemplate gives a commented mapping that says how to write one.
func MappingTemplate() []byte { return bytes.Clone(mappingTemplate) }

// Mapping says what the columns of a sheet are, for Import. Get one from
// DecodeMapping.
type Mapping struct {
	comma    rune
	skip     int // rows before the one with the names of the columns
	decimal  byte
	latin    bool // the table is in windows-1252
	layouts  []string
	zone     *time.Location
	key      string // column that names a row for ever
	restGood bool
	columns  map[string]column // by field
	causes   []causeColumn
	defaults map[string]string
	names    map[string]map[string]string // by field: word of the sheet -> ours
}

// column is a column of the sheet and how it is read.
type column struct {
	name string
	unit string // of a figure
}

// causeColumn is a column that counts the pieces of one cause.
type causeColumn struct {
	cause, name string
}

// sheetFields are the fields of a batch that a column or a default may give.
func sheetFields() []string {
	return []string{
		"created", "created_time", "logged", "logged_time", "recipe", "alloy", "shape", "pieces", "spares", "by", "order",
		"good", "rework", "reject", "causes", "temperature", "time", "shade", "note",
	}
}

func mappingKind() strict.Kind {
	return strict.Kind{Name: "mapping", Sample: "hepar journal import --template", Missing: "begin one with 'hepar journal import --template > mapping.toml'"}
}

// ReadMapping reads the mapping in a file.
func ReadMapping(path string) (*Mapping, error) {
	kind := mappingKind()
	data, err := kind.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return DecodeMapping(path, data)
}

// DecodeMapping reads a mapping, and gives all that is wrong with it at once: see
// strict.FindingsOf. File is its name for the messages.
func DecodeMapping(file string, data []byte) (*Mapping, error) {
	kind := mappingKind()
	m := &Mapping{}
	if findings := kind.Decode(file, data, m.read); len(findings) > 0 {
		return nil, strict.Findings(findings).Of("mapping")
	}
	return m, nil
}

func (m *Mapping) read(root strict.Table) {
	root.Only("delimiter", "decimal_comma", "encoding", "skip_rows", "dates", "zone", "key", "good_is_the_rest", "columns", "units", "causes", "defaults", "names")
	m.comma = ','
	if text := root.Text("delimiter", 10, false, ""); text != "" {
		words := map[string]rune{",": ',', ";": ';', "|": '|', "tab": '\t'}
		if m.comma = words[text]; m.comma == 0 {
			root.AtValue(root.Place("delimiter"), `write ",", ";", "|" or "tab"`, "delimiter %s is not known", strict.Excerpt(text))
		}
	}
	m.decimal = '.'
	if root.Flag("decimal_comma") {
		m.decimal = ','
	}
	switch text := root.Text("encoding", 30, false, ""); text {
	case "", "utf-8":
	case "windows-1252":
		m.latin = true
	default:
		root.AtValue(root.Place("encoding"), `write "utf-8" or "windows-1252"; save the table as UTF-8 where it is neither`, "encoding %s is not known", strict.Excerpt(text))
	}
	m.skip = root.Whole("skip_rows", 0, 1000, 0, false)
	m.readDates(root)
	m.key = root.Text("key", 200, false, "")
	m.restGood = root.Flag("good_is_the_rest")
	m.readColumns(root)
	m.readDefaults(root)
	m.readNames(root)
	m.needs(root)
}

// readDates reads how dates are written, in letters: DD.MM.YYYY HH:MM.
func (m *Mapping) readDates(root strict.Table) {
	texts, places := root.List("dates", 40, true, false, `write for instance dates = ["DD.MM.YYYY", "DD.MM.YYYY HH:MM"]`)
	for i, text := range texts {
		layout, ok := dateLayout(text)
		if !ok {
			root.AtValue(places[i], `write it with YYYY or YY, MM, DD and perhaps HH:MM or HH:MM:SS, as in "DD.MM.YYYY HH:MM"`, "the date %s is not clear", strict.Excerpt(text))
			continue
		}
		m.layouts = append(m.layouts, layout)
	}
	m.zone = time.Local
	if text := root.Text("zone", 60, false, ""); text != "" {
		zone, err := parseZone(text)
		if err != nil {
			root.AtValue(root.Place("zone"), `write an offset such as "+01:00" or a name such as "Europe/Oslo"`, "zone %s is not known", strict.Excerpt(text))
			return
		}
		m.zone = zone
	}
}

func parseZone(text string) (*time.Location, error) {
	if t, err := time.Parse("-07:00", text); err == nil {
		_, seconds := t.Zone()
		return time.FixedZone("", seconds), nil
	}
	if text == "UTC" {
		return time.UTC, nil
	}
	if strings.EqualFold(text, "local") {
		return nil, fault.Usagef("it is not a zone")
	}
	return time.LoadLocation(text)
}

// dateLayout turns a date in letters into a layout of package time.
func dateLayout(text string) (string, bool) {
	parts := []struct{ letters, layout string }{
		{"YYYY", "2006"}, {"YY", "06"}, {"MM", "01"}, {"DD", "02"}, {"HH", "15"}, {"SS", "05"}, {"M", "1"}, {"D", "2"}, {"H", "15"},
	}
	layout, seen := "", map[byte]bool{}
	for i := 0; i < len(text); {
		c := text[i]
		if c >= 'A' && c <= 'Z' {
			at := slices.IndexFunc(parts, func(p struct{ letters, layout string }) bool { return strings.HasPrefix(text[i:], p.letters) })
			if at < 0 {
				return "", false
			}
			p := parts[at]
			kind := c
			if c == 'M' && seen['H'] { // minutes stand behind hours
				if p.letters != "MM" {
					return "", false
				}
				p.layout, kind = "04", 'm'
			}
			if seen[kind] {
				return "", false
			}
			seen[kind] = true
			layout += p.layout
			i += len(p.letters)
			continue
		}
		if !strings.ContainsRune(" .,:/-T", rune(c)) {
			return "", false
		}
		layout += string(c)
		i++
	}
	day, clock := seen['Y'] && seen['M'] && seen['D'], seen['H'] && seen['m']
	return layout, day && seen['H'] == seen['m'] || clock && !seen['Y'] && !seen['M'] && !seen['D']
}

func (m *Mapping) readColumns(root strict.Table) {
	m.columns = map[string]column{}
	fields := sheetFields()
	t, ok := root.Sub("columns", "[columns]")
	if !ok {
		root.Missing("[columns]", `say which column is what: [columns], and below it created = "Date"`)
		return
	}
	t.Only(fields...)
	for _, f := range fields {
		if name := t.Text(f, 200, false, "write the name of the column as the sheet has it"); name != "" {
			m.columns[f] = column{name: name}
		}
	}
	if units, ok := root.Sub("units", "[units]"); ok {
		units.Only("temperature", "time")
		for f, words := range map[string][]string{"temperature": {"C", "F", "K"}, "time": {"s", "min", "h"}} {
			unit := units.Text(f, 10, false, "")
			if unit == "" {
				continue
			}
			if !slices.Contains(words, unit) {
				units.AtValue(units.Place(f), "write one of "+strings.Join(words, ", "), "the unit %s of %s is not known", strict.Excerpt(unit), f)
			}
			c := m.columns[f]
			c.unit = unit
			m.columns[f] = c
		}
	}
	if causes, ok := root.Sub("causes", "[causes]"); ok {
		for _, key := range causes.Keys() {
			cause, err := causeName(key)
			if err != nil {
				causes.AtKey(causes.Place(key), fault.CureOf(err), "%v", err)
				continue
			}
			if name := causes.Text(key, 200, true, "write the name of the column as the sheet has it"); name != "" {
				m.causes = append(m.causes, causeColumn{cause, name})
			}
		}
	}
}

func (m *Mapping) readDefaults(root strict.Table) {
	m.defaults = map[string]string{}
	t, ok := root.Sub("defaults", "[defaults]")
	if !ok {
		return
	}
	fields := []string{"recipe", "alloy", "shape", "spares", "by", "order", "rework", "reject"}
	t.Only(fields...)
	for _, f := range fields {
		switch f {
		case "spares", "rework", "reject":
			if t.Has(f) {
				m.defaults[f] = "0"
				if t.Whole(f, 0, 0, 0, false) != 0 {
					return
				}
			}
		default:
			if text := t.Text(f, 200, false, ""); text != "" {
				m.defaults[f] = text
			}
		}
	}
}

func (m *Mapping) readNames(root strict.Table) {
	m.names = map[string]map[string]string{}
	t, ok := root.Sub("names", "[names]")
	if !ok {
		return
	}
	fields := []string{"recipe", "alloy", "shape", "by", "shade"}
	t.Only(fields...)
	for _, f := range fields {
		words, ok := t.Sub(f, "[names."+f+"]")
		if !ok {
			continue
		}
		m.names[f] = map[string]string{}
		for _, key := range words.Keys() {
			if ours := words.Text(key, 200, true, "write what stands for it here"); ours != "" {
				m.names[f][strings.ToLower(strings.TrimSpace(key))] = ours
			}
		}
	}
}

// needs notes what no row could do without.
func (m *Mapping) needs(root strict.Table) {
	note := func(cure, what string, args ...any) { root.AtKey(root.Place("columns"), cure, what, args...) }
	has := func(f string) bool { return m.columns[f].name != "" || m.defaults[f] != "" }
	for _, f := range []string{"created", "recipe"} {
		if !has(f) {
			note("name its column in [columns]"+map[bool]string{true: ", or give one for all rows in [defaults]"}[f == "recipe"], "no column says %s", f)
		}
	}
	if !has("pieces") && !has("good") {
		note("name the column of good or of pieces, or both", "no column counts pieces")
	}
	if m.restGood && (has("good") || !has("pieces")) {
		note("name the column of pieces, and none of good, or leave good_is_the_rest out", "good cannot be the rest")
	}
	for _, f := range []string{"temperature", "time"} {
		if m.columns[f].unit != "" && m.columns[f].name == "" {
			note("name its column in [columns], or take the unit away", "%s has a unit and no column", f)
		}
	}
}
