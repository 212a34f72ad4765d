package exchange

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// Mapping says what the columns of a table kept by hand are. Get one from ReadMapping.
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

// exported is how a table that an export wrote is read.
var exported = &Mapping{comma: ','}

var mappingKind = strict.Kind{Name: "mapping", Sample: "hepar journal import --template", Missing: "print one with 'hepar journal import --template > mapping.toml'"}

// ReadMapping reads a mapping. It returns all that is wrong with it at once: see strict.Findings.
func ReadMapping(path string) (*Mapping, error) {
	m := &Mapping{}
	return m, mappingKind.Read(path, m.read)
}

func choice[T any](t strict.Table, key, missing string, words map[string]T, cure string) T {
	text := t.Text(key, 40, false, "")
	if text == "" {
		text = missing
	}
	value, ok := words[text]
	if !ok {
		t.AtValue(t.Place(key), cure, "%s %s is not known", key, strict.Excerpt(text))
	}
	return value
}

func (m *Mapping) read(root strict.Table) {
	root.Only("delimiter", "decimal_comma", "encoding", "skip_rows", "dates", "zone", "key", "good_is_the_rest", "columns", "units", "causes", "defaults", "names")
	m.comma = choice(root, "delimiter", ",", map[string]rune{",": ',', ";": ';', "|": '|', "tab": '\t'}, `write ",", ";", "|" or "tab"`)
	m.latin = choice(root, "encoding", "utf-8", map[string]bool{"utf-8": false, "windows-1252": true},
		`write "utf-8" or "windows-1252"; save a table in another encoding as UTF-8`)
	m.decimalComma = root.Flag("decimal_comma")
	m.skip = root.Whole("skip_rows", 0, 1000, 0, false)
	m.readDates(root)
	m.key = root.Text("key", 200, false, "")
	m.restGood = root.Flag("good_is_the_rest")

	// What a column may be, and what may have a default or words of its own: no time and no figure.
	all := slices.Concat([]string{"created", "created_time", "logged", "logged_time", "recipe", "by"}, record.Names(record.Fields()))
	var figures []string
	for _, f := range record.Fields() {
		if f.Unit != "" {
			figures = append(figures, f.Name)
		}
	}
	words := slices.DeleteFunc(slices.Clone(all[4:]), func(name string) bool { return slices.Contains(figures, name) })
	const theirs = "write the name of the column as the table has it"
	if !root.Has("columns") {
		root.Missing("[columns]", `say which column is what: [columns], and below it created = "Date"`)
	}
	m.columns, _ = texts(root, "columns", all, theirs)
	m.defaults, _ = texts(root, "defaults", words, "write the value for an empty cell")
	units, t := texts(root, "units", figures, "write the unit of the column")
	for name, unit := range units {
		f, _ := record.Named(record.Fields(), name)
		if _, err := f.Parse("1 " + unit); err != nil {
			t.AtValue(t.Place(name), "write for instance "+f.Unit, "the unit %s of %s is not known", strict.Excerpt(unit), name)
		} else if m.columns[name] == "" {
			t.AtKey(t.Place(name), "name its column in [columns], or remove the unit", "%s has a unit and no column", name)
		}
	}
	m.units = units
	m.causes = map[string]string{}
	columns, t := texts(root, "causes", nil, theirs)
	for key, name := range columns {
		cause, err := record.CauseName(key)
		if err != nil {
			t.AtKey(t.Place(key), fault.CureOf(err), "%v", err)
		}
		m.causes[cause] = name
	}
	m.names = map[string]map[string]string{}
	if t, ok := root.Sub("names", "[names]"); ok {
		t.Only(words...)
		for _, name := range t.Keys() {
			ours, _ := texts(t, name, nil, "write the name that hepar has for it")
			m.names[name] = map[string]string{}
			for theirs := range ours {
				m.names[name][record.Fold(theirs)] = ours[theirs]
			}
		}
	}

	// What no row could do without.
	note := func(wrong bool, cure, what string) {
		if wrong {
			root.AtKey(root.Place("columns"), cure, "%s", what)
		}
	}
	has := func(name string) bool { return m.columns[name] != "" || m.defaults[name] != "" }
	note(!has("created"), "name its column in [columns]", "no column says created")
	note(!has("recipe"), "name its column in [columns], or give one for all rows in [defaults]", "no column says recipe")
	note(!has("pieces") && !has("good"), "name the column of good or of pieces, or both", "no column counts pieces")
	note(m.restGood && (has("good") || !has("pieces")), "name the column of pieces, and none of good, or leave good_is_the_rest out", "good_is_the_rest does not fit these columns")
}

// texts reads a table of texts; a nil only allows every key.
func texts(root strict.Table, key string, only []string, cure string) (out map[string]string, t strict.Table) {
	out = map[string]string{}
	t, ok := root.Sub(key, "["+key+"]")
	if only != nil && ok {
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
		}
		m.layouts = append(m.layouts, layout, layout+" 15:04", layout+" 15:04:05") // the time may have a column of its own
	}
	m.zone = time.Local
	text := root.Text("zone", 60, false, "")
	if text == "" {
		return
	}
	offset, err := time.Parse("-07:00", text)
	_, seconds := offset.Zone()
	if m.zone = time.FixedZone("", seconds); err != nil {
		m.zone, err = time.LoadLocation(text)
	}
	if err != nil || m.zone == time.Local { // another place on every machine
		root.AtValue(root.Place("zone"), `write an offset such as "+01:00" or a name such as "Europe/Oslo"`, "zone %s is not known", strict.Excerpt(text))
	}
}

// letters turns a date in letters into a layout of package time. MM is the minutes behind HH.
var letters = strings.NewReplacer("YYYY", "2006", "YY", "06", "HH:MM", "15:04", "H:MM", "15:04", "HH.MM", "15.04", "H.MM", "15.04",
	"SS", "05", "MM", "01", "M", "1", "DD", "02", "D", "2")

// dateLayout returns the layout of a date in letters, which is clear if what it writes is read as the same.
func dateLayout(text string) (layout string, clear bool) {
	layout, form := letters.Replace(text), time.DateOnly
	if strings.Contains(text, "H") {
		form += " 15:04"
	}
	when := time.Date(2024, 11, 23, 14, 35, 0, 0, time.UTC)
	read, err := time.Parse(layout, when.Format(layout))
	return layout, err == nil && strings.Trim(layout, "0123456789T .,:/-") == "" && strings.Trim(text, "YMDHST .,:/-") == "" && read.Format(form) == when.Format(form)
}

// text returns what stands for a name of ours: the cell of its column, by our word for it, or the default.
func (m *Mapping) text(cells map[string]string, name string) string {
	text := cells[m.columns[name]]
	return cmp.Or(m.names[name][record.Fold(text)], text, m.defaults[name])
}

// says returns what a row says, by the columns of an export, as a person would write it.
func (m *Mapping) says(cells map[string]string) map[string]string {
	if m == exported {
		for key, cell := range cells {
			cells[key] = uncell(key, cell)
		}
		return cells
	}
	says := map[string]string{"recipe": m.text(cells, "recipe"), "by": m.text(cells, "by")}
	for _, name := range []string{"created", "logged"} {
		says[name] = m.time(name, m.text(cells, name), m.text(cells, name+"_time"))
	}
	fault.Need(says["created"] != "", fault.Usagef("the row has no date").Try("fill in the column %q", m.columns["created"]))
	fault.Need(m.key == "" || cells[m.key] != "", fault.Usagef("the row has nothing in the column %q", m.key).
		Try("fill it in, or leave the key out of the mapping"))
	for _, f := range record.Fields() {
		says[f.JSON] = m.value(cells, f)
	}
	m.counts(says)
	bad := func(name string) bool { return says[name] != "" && says[name] != "0" }
	if says["good"] == "" && !bad("rework") && !bad("reject") && !bad("causes") { // a plan
		for _, f := range record.Fields() {
			if f.OfResult {
				delete(says, f.JSON)
			}
		}
		delete(says, "logged")
	}
	return says
}

// value returns what a person would write for a field.
func (m *Mapping) value(cells map[string]string, f record.Field) string {
	text := m.text(cells, f.Name)
	if f.Name == "causes" {
		for _, cause := range slices.Sorted(maps.Keys(m.causes)) {
			if n := cells[m.causes[cause]]; n != "" && n != "0" {
				text = strings.Trim(text+", "+cause+"="+n, ", ")
			}
		}
	}
	if f.Unit == "" || text == "" {
		return text
	}
	if m.decimalComma {
		fault.Need(!strings.Contains(text, "."), fault.Usagef("%s has a decimal point: %q", f.Name, measure.Clean(text)).
			Try("write it with a comma, or remove decimal_comma from the mapping"))
		text = strings.Replace(text, ",", ".", 1)
	}
	if strings.Trim(text, "+-0123456789.") == "" {
		fault.Need(m.units[f.Name] != "", fault.Usagef("%s has no unit: %q", f.Name, measure.Clean(text)).
			Try("give the unit of the column under [units] in the mapping"))
		text += " " + m.units[f.Name]
	}
	return text
}

// counts works out pieces or good from the others if the table does not have them.
func (m *Mapping) counts(says map[string]string) {
	n := map[string]int{}
	for _, name := range []string{"pieces", "spares", "good", "rework", "reject"} {
		count, err := measure.ParseCount(cmp.Or(says[name], "0"), 0, record.MaxPieces)
		fault.Need(err == nil, fault.Usagef("%s: %v", name, err).Try("write it as in 48"))
		n[name] = count
	}
	if says["pieces"] == "" && says["good"] != "" {
		says["pieces"] = strconv.Itoa(n["good"] + n["rework"] + n["reject"] - n["spares"])
	}
	if m.restGood {
		says["good"] = strconv.Itoa(n["pieces"] + n["spares"] - n["rework"] - n["reject"])
	}
}

// time reads a date, with the time of day if a column of its own has it, and writes it as an export does.
func (m *Mapping) time(name, text, clock string) string {
	if text == "" {
		return ""
	}
	text = strings.TrimSpace(text + " " + clock)
	for _, layout := range m.layouts {
		t, err := time.ParseInLocation(layout, text, m.zone)
		if err != nil {
			continue
		}
		onClock, _ := time.Parse(layout, text)
		fault.Need(onClock.Format(time.DateTime) == t.Format(time.DateTime),
			fault.Usagef("%s is in the hour that the change to summer time leaves out: %q", name, measure.Clean(text)).
				Try("write the time as the clock showed it after the change"))
		fault.Check(record.Year(name, t))
		return t.Format(time.RFC3339)
	}
	fault.Check(fault.Usagef("%s fits no date format of the mapping: %q", name, measure.Clean(text)).
		Try("correct it, or add its format to dates in the mapping"))
	return ""
}
