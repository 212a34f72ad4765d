package journal_test

import (
	"fmt"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hepar/journal"
	"hepar/journal/internal/record"
	"hepar/journal/journaltest"
)

// page reads a page and the table under a comment that names it, without its head.
func page(t *testing.T, file, table string) (text string, rows [][]string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(data), "<!-- "+table+" -->\n")
	rest, _, _ = strings.Cut(rest, "\n\n")
	for i, line := range strings.Split(rest, "\n") {
		if i < 2 {
			continue
		}
		var cells []string
		for cell := range strings.SplitSeq(strings.Trim(line, "|"), "|") {
			cells = append(cells, strings.Trim(strings.TrimSpace(cell), "`"))
		}
		rows = append(rows, cells)
	}
	return string(data), rows
}

func tag(f reflect.StructField, kind string) string {
	name, _, _ := strings.Cut(f.Tag.Get(kind), ",")
	return name
}

func TestFormatPageTellsTheFields(t *testing.T) {
	_, rows := page(t, "FORMAT.md", "fields")
	var want [][]string
	dash := func(text string) string {
		if text == "" || text == "0" {
			return "-"
		}
		return text
	}
	for _, f := range journal.Fields() {
		want = append(want, []string{f.Name, f.JSON, dash(fmt.Sprint(f.CBOR)), dash(f.Unit), dash(limits(f)), f.Help})
	}
	if !reflect.DeepEqual(rows, want) {
		t.Errorf("the page has\n%q\nand the table of fields\n%q", rows, want)
	}
	for name, table := range blocks(t) {
		for _, f := range journal.Fields() {
			if (strings.HasSuffix(name, "figures.sql") || strings.HasSuffix(name, "duck.sql")) && f.OfResult && !regexp.MustCompile(`\b`+f.JSON+`\b`).MatchString(table) {
				t.Errorf("the table of %s has no column %s", name, f.JSON)
			}
		}
	}
}

func limits(f journal.Field) string {
	if f.High == 0 {
		return ""
	}
	return fmt.Sprintf("%s to %s", strconv.FormatFloat(f.Low, 'f', -1, 64), strconv.FormatFloat(f.High, 'f', -1, 64))
}

// TestFormatPageTellsTheStates holds the page and the steps to each other: a state that is
// taken from a step, or a step that the page does not have, is a difference.
func TestFormatPageTellsTheStates(t *testing.T) {
	_, rows := page(t, "FORMAT.md", "kinds")
	got := map[string]string{}
	for _, row := range rows {
		got[row[0]] = row[1]
	}
	want := map[string]string{record.Created: "-"}
	for kind, states := range journal.StepStates() {
		var names []string
		for _, s := range states {
			names = append(names, string(s))
		}
		want[kind] = strings.Join(names, ", ")
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the page has\n%q\nand the steps\n%q", got, want)
	}
}

func TestFormatPageTellsTheEvents(t *testing.T) {
	text, rows := page(t, "FORMAT.md", "events")
	var got, want [][]string
	for _, row := range rows {
		got = append(got, row[:2])
	}
	for f := range reflect.TypeFor[journal.Event]().Fields() {
		if key := tag(f, "cbor"); key != "-" {
			want = append(want, []string{key, tag(f, "json")})
		} else if name := tag(f, "json"); name != "-" && !strings.Contains(text, "`"+name+"`") {
			t.Errorf("the page does not name %s", name)
		}
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the page has\n%q\nand the struct\n%q", got, want)
	}
	for _, word := range []string{
		record.StockAdded, record.StockChanged, record.StockUsed, record.StockEmptied, record.TakenOver, record.Salvaged,
		"`meta`", "`events`", "`lists`", "`index`", "`blobs`",
	} {
		if !strings.Contains(text, word) {
			t.Errorf("the page does not name %s", word)
		}
	}
}

// jsonNames returns the paths of all fields: "dip.loads[].pieces".
func jsonNames(of reflect.Type, before string) (names []string) {
	switch of.Kind() {
	case reflect.Pointer:
		return jsonNames(of.Elem(), before)
	case reflect.Slice:
		return append(jsonNames(of.Elem(), before+"[]"), before+"[]")
	case reflect.Struct:
		for f := range of.Fields() {
			if f.Anonymous {
				names = append(names, jsonNames(f.Type, before)...)
				continue
			}
			if tag(f, "json") == "" { // a type that writes itself
				continue
			}
			path := strings.TrimPrefix(before+"."+tag(f, "json"), ".")
			names = append(append(names, path), jsonNames(f.Type, path)...)
		}
	}
	return names
}

// TestRecordPage holds that every point of 21 CFR 211.188 has its fields, and that
// the page names only fields that are there.
func TestRecordPage(t *testing.T) {
	text, _ := page(t, "RECORD.md", "")
	names := append(jsonNames(reflect.TypeFor[journal.Batch](), ""), jsonNames(reflect.TypeFor[journal.Container](), "")...)
	names = append(names, "missing")
	var found []string
	for i, part := range strings.Split(text, "`") {
		if i%2 == 0 || strings.Contains(part, "--") || strings.HasPrefix(part, "hepar ") {
			continue
		}
		found = append(found, part)
		if !slices.Contains(names, part) {
			t.Errorf("there is no field %s", part)
		}
	}
	for before, of := range map[string]reflect.Type{"dip": reflect.TypeFor[record.Dip](), "lots[]": reflect.TypeFor[journal.Use](),
		"waste[]": reflect.TypeFor[journal.Waste](), "signed_off": reflect.TypeFor[journal.SignOff]()} {
		for _, name := range jsonNames(of, before) {
			detail := strings.HasSuffix(name, ".number") || strings.HasSuffix(name, ".what") || strings.HasSuffix(name, ".mg_per_l") || name == "signed_off.note"
			if !detail && !slices.ContainsFunc(found, func(f string) bool { return strings.HasPrefix(f, name) }) {
				t.Errorf("the page does not point to %s", name)
			}
		}
	}
	for n := range 13 {
		if !strings.Contains(text, fmt.Sprintf("| (b)(%d) ", n+1)) {
			t.Errorf("the point (b)(%d) is missing", n+1)
		}
	}
}

// TestEveryListOfABatch: a list of a new batch is empty and not null, has a column of its own and has its most, and the
// page of the record points to it. The page of the format names the columns that an import leaves aside.
func TestEveryListOfABatch(t *testing.T) {
	j := journaltest.New(t)
	b := must[journal.Batch](t)(j.Create(tokens(), nil))
	var table strings.Builder
	if _, err := j.Export(&table, journal.CSV, journal.Filter{}); err != nil {
		t.Fatal(err)
	}
	heading, _, _ := strings.Cut(table.String(), "\r\n")
	format, _ := page(t, "FORMAT.md", "")
	points, _ := page(t, "RECORD.md", "")
	if aside := heading[strings.Index(heading, ",missing,")+1:]; !strings.Contains(format, "after: "+strings.ReplaceAll(aside, ",", ", ")+".") {
		t.Errorf("the page does not say that the columns behind the fields are %s", aside)
	}
	for i, v := 0, reflect.ValueOf(b); i < v.NumField(); i++ {
		name, options, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		if v.Field(i).Kind() != reflect.Slice || name == "-" || options == "omitempty" {
			continue
		}
		if v.Field(i).IsNil() || !slices.Contains(strings.Split(heading, ","), name) {
			t.Errorf("%s is %#v in a new batch, and a table has the columns %s", name, v.Field(i), heading)
		}
		if !strings.Contains(points, "`"+name+"[]") {
			t.Errorf("RECORD.md does not point to %s[]", name)
		}
		full := b
		reflect.ValueOf(&full).Elem().Field(i).Set(reflect.MakeSlice(v.Field(i).Type(), record.MaxMany+1, record.MaxMany+1))
		if err := full.Fits(); err == nil || !strings.Contains(err.Error(), fmt.Sprint(record.MaxMany+1)) {
			t.Errorf("%d %s fit a batch: %v", record.MaxMany+1, name, err)
		}
	}
}
