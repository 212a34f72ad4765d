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

// Mapping says what the columns of a table kept by hand are, for Import. Get one
// from DecodeMapping.
type Mapping struct {
	comma        rune
	skip         int // rows before the one with the names of the columns
	decimalComma bool
	latin        bool // the table is in windows-1252
	layouts      []string
	zone         *time.Location
	key          string // column that names a row for ever
	restGood     bool
	columns      map[string]string // our name -> name in the table
	units        map[string]string // of figures that stand without one
	causes       map[string]string // cause -> column that counts its pieces
	defaults     map[string]string
	names        map[string]map[string]string // our name -> word of the table -> ours
}

// mapped are the names of what a column may be.
func mapped() []string {
	return append([]string{"created", "created_time", "logged", "logged_time", "recipe", "by"}, record.FieldNames()...)
}

// unmeasured are those of them that may have a default or words of their own: what
// is no time and no figure.
func unmeasured() []string {
	return slices.DeleteFunc(mapped(), func(name string) bool {
		f, _ := record.FieldNamed(name)
		return f.Unit != "" || strings.HasPrefix(name, "created") || strings.HasPrefix(name, "logged")
	})
}

func mappingKind() strict.Kind {
	return strict.Kind{Name: "mapping", Sample: "hepar journal import --template", Missing: "begin one with 'hepar journal import --template > mapping.toml'"}
}

// ReadMapping reads the mapping in a file.
func ReadMapping(path string) (*Mapping, error) {
	data, err := mappingKind().ReadFile(path)
	if err != nil {
		return nil, err
	}
	return DecodeMapping(path, data)
}

// DecodeMapping reads a mapping. It returns all that is wrong with it at once: see
// strict.FindingsOf. File is its name for the messages.
func DecodeMapping(file string, data []byte) (*Mapping, error) {
	m := &Mapping{}
	if findings := mappingKind().Decode(file, data, m.read); len(findings) > 0 {
		return nil, strict.Findings(findings).Of("mapping")
	}
	return m, nil
}

func choice[T any](t strict.Table, key string, words map[string]T, missing T, cure string) T {
	text := t.Text(key, 40, false, "")
	if text == "" {
		return missing
	}
	value, ok := words[text]
	if !ok {
		t.AtValue(t.Place(key), cure, "%s %s is not known", key, strict.Excerpt(text))
	}
	return value
}

func (m *Mapping) read(root strict.Table) {
	root.Only("delimiter", "decimal_comma", "encoding", "skip_rows", "dates", "zone", "key", "good_is_the_rest", "columns", "units", "causes", "defaults", "names")
	m.comma = choice(root, "delimiter", map[string]rune{",": ',', ";": ';', "|": '|', "tab": '\t'}, ',', `write ",", ";", "|" or "tab"`)
	m.latin = choice(root, "encoding", map[string]bool{"utf-8": false, "windows-1252": true}, false,
		`write "utf-8" or "windows-1252"; save a table in another encoding as UTF-8`)
	m.decimalComma = root.Flag("decimal_comma")
	m.skip = root.Whole("skip_rows", 0, 1000, 0, false)
	m.readDates(root)
	m.key = root.Text("key", 200, false, "")
	m.restGood = root.Flag("good_is_the_rest")
	const theirs = "write the name of the column as the table has it"
	if !root.Has("columns") {
		root.Missing("[columns]", `say which column is what: [columns], and below it created = "Date"`)
	}
	m.columns, _ = texts(root, "columns", mapped(), theirs)
	var t strict.Table
	m.units, t = texts(root, "units", nil, "write the unit of the column")
	for name, unit := range m.units {
		f, known := record.FieldNamed(name)
		switch {
		case !known || f.Unit == "":
			t.AtKey(t.Place(name), "take it away", "%s has no unit", strict.Excerpt(name))
		case m.columns[name] == "":
			t.AtKey(t.Place(name), "name its column in [columns], or take the unit away", "%s has a unit and no column", name)
		default:
			if _, err := f.Parse("1 " + unit); err != nil {
				t.AtValue(t.Place(name), "write for instance "+f.Unit, "the unit %s of %s is not known", strict.Excerpt(unit), name)
			}
		}
	}
	m.causes = map[string]string{}
	columns, t := texts(root, "causes", nil, theirs)
	for key, name := range columns {
		cause, err := record.CauseName(key)
		if err != nil {
			t.AtKey(t.Place(key), fault.CureOf(err), "%v", err)
		}
		m.causes[cause] = name
	}
	m.defaults, _ = texts(root, "defaults", unmeasured(), "write what stands for an empty cell")
	m.names = map[string]map[string]string{}
	if t, ok := root.Sub("names", "[names]"); ok {
		t.Only(unmeasured()...)
		for _, name := range t.Keys() {
			words, _ := texts(t, name, nil, "write what stands for it here")
			m.names[name] = map[string]string{}
			for theirs, ours := range words {
				m.names[name][record.Fold(theirs)] = ours
			}
		}
	}
	m.needs(root)
}

// texts reads a table of texts; a nil only allows every key.
func texts(root strict.Table, key string, only []string, cure string) (out map[string]string, t strict.Table) {
	out = map[string]string{}
	t, ok := root.Sub(key, "["+key+"]")
	if !ok {
		return out, t
	}
	if only != nil {
		t.Only(only...)
	}
	for _, name := range t.Keys() {
		if only == nil || slices.Contains(only, name) {
			if text := t.Text(name, 200, true, cure); text != "" {
				out[name] = text
			}
		}
	}
	return out, t
}

// readDates reads how dates are written, in letters: DD.MM.YYYY HH:MM.
func (m *Mapping) readDates(root strict.Table) {
	words, places := root.List("dates", 40, true, false, `write for instance dates = ["DD.MM.YYYY", "DD.MM.YYYY HH:MM"]`)
	for i, text := range words {
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
	if strings.EqualFold(text, "local") { // another place on every machine
		return nil, fault.Usagef("it is not a zone")
	}
	return time.LoadLocation(text)
}

var (
	dayLetters   = strings.NewReplacer("YYYY", "2006", "YY", "06", "MM", "01", "M", "1", "DD", "02", "D", "2")
	clockLetters = strings.NewReplacer("HH", "15", "H", "15", "MM", "04", "SS", "05")
)

// dateLayout turns a date in letters into a layout of package time. MM is the minutes
// behind HH. It is clear if a date written in it is read as the same.
func dateLayout(text string) (layout string, clear bool) {
	day, clock := text, ""
	if i := strings.IndexByte(text, 'H'); i >= 0 {
		day, clock = text[:i], text[i:]
	}
	layout = dayLetters.Replace(day) + clockLetters.Replace(clock)
	if strings.Trim(text, "YMDHST .,:/-") != "" || strings.Trim(layout, "0123456789T .,:/-") != "" {
		return "", false
	}
	when := time.Date(2024, 11, 23, 14, 35, 0, 0, time.UTC)
	read, err := time.Parse(layout, when.Format(layout))
	same := func(form string) bool { return err == nil && read.Format(form) == when.Format(form) }
	return layout, (day == "" || same(time.DateOnly)) && (clock == "" || same("15:04"))
}

// needs notes what no row could do without.
func (m *Mapping) needs(root strict.Table) {
	note := func(cure, what string, args ...any) { root.AtKey(root.Place("columns"), cure, what, args...) }
	has := func(name string) bool { return m.columns[name] != "" || m.defaults[name] != "" }
	if !has("created") {
		note("name its column in [columns]", "no column says created")
	}
	if !has("recipe") {
		note("name its column in [columns], or give one for all rows in [defaults]", "no column says recipe")
	}
	if !has("pieces") && !has("good") {
		note("name the column of good or of pieces, or both", "no column counts pieces")
	}
	if m.restGood && (has("good") || !has("pieces")) {
		note("name the column of pieces, and none of good, or leave good_is_the_rest out", "good cannot be the rest")
	}
}

// rows reads a table kept by hand. Each row becomes texts by the names of columns,
// and is read as a row of an export.
func (m *Mapping) rows(r io.Reader) iter.Seq2[*entry, error] {
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
	if s.decimalComma {
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
