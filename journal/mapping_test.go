package journal_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/strict"
)

func mapping(t testing.TB, text string) *journal.Mapping {
	t.Helper()
	return must[*journal.Mapping](t)(readMapping(t, text))
}

func readMapping(t testing.TB, text string) (*journal.Mapping, error) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "mapping.toml")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return journal.ReadMapping(file)
}

const handMapping = `
delimiter = ";"
decimal_comma = true
dates = ["DD.MM.YYYY", "YYYY-MM-DD HH:MM"]
zone = "+01:00"
skip_rows = 1
[columns]
created = "Datum"
created_time = "Uhr"
recipe = "Rezept"
alloy = "Metall"
by = "Wer"
good = "Anzahl gut"
rework = "nochmal"
reject = "Ausschuss"
temperature = "Bad"
time = "Dauer"
note = "Bemerkung"
[units]
temperature = "F"
time = "min"
[causes]
too-light = "zu hell"
spots = "Flecken"
[defaults]
shape = "disc"
alloy = "sterling-925"
rework = "0"
[names.recipe]
"Schwarz" = "token-black"
[names.by]
"IT" = "Ilse Tamm"
`

const handTop = "Datum;Uhr;Rezept;Metall;Wer;Anzahl gut;nochmal;Ausschuss;Bad;Dauer;Bemerkung;zu hell;Flecken\n"

const handLog = "Badebuch;;;;;;;;;;;;\n" + handTop +
	"05.11.2024;14:05;schwarz;;IT;11;1;;160,7;0,5;=SUM(A1) schön;1;\n" +
	";;;;;;;;;;;;\n" +
	"05.11.2024;14:05;schwarz;;IT;11;1;;160,7;0,5;=SUM(A1) schön;1;\n" +
	"2024-12-01 09:30;;brown;copper-c110;Mikko Raun;20;;2;71 C;45 s;\"zwei\nZeilen\";;2\n"

func mapped(t testing.TB, j *journal.Journal, m, text string) (journal.ImportReport, error) {
	t.Helper()
	return j.Import(strings.NewReader(text), journal.ImportOptions{Format: journal.Sheet, Mapping: mapping(t, m), Source: "log.csv"})
}

func TestMappedTable(t *testing.T) {
	report := must[journal.ImportReport](t)
	j := journaltest.New(t)
	if r := report(mapped(t, j, handMapping, handLog)); r.New != 3 || r.Rows != 3 || r.Recipes["token-black"] != 2 {
		t.Fatalf("%+v", r)
	}
	rows := table(t, exported(t, j, journal.CSV, false))
	for i, want := range []map[string]string{
		{"created": "2024-11-05T14:05:00.000+01:00", "recipe": "token-black", "alloy": "sterling-925", "shape": "disc", "pieces": "12", "by": "Ilse Tamm",
			"good": "11", "rework": "1", "reject": "0", "causes": "too-light=1", "temperature_c": "71.5", "time_s": "30", "note": "'=SUM(A1) schön"},
		{"created": "2024-11-05T14:05:00.000+01:00", "pieces": "12"},
		{"created": "2024-12-01T09:30:00.000+01:00", "recipe": "brown", "alloy": "copper-c110", "pieces": "22", "by": "Mikko Raun",
			"good": "20", "reject": "2", "causes": "spots=2", "temperature_c": "71", "time_s": "45", "note": "zwei\nZeilen"},
	} {
		for name, text := range want {
			if rows[i][name] != text {
				t.Errorf("row %d: %s is %q, want %q", i, name, rows[i][name], text)
			}
		}
	}
	// The same again changes nothing, even after an amendment; another bench makes the same batches.
	must[journal.Batch](t)(j.Amend("2024-001", "good", "10", "counted", ""))
	if r := report(mapped(t, j, handMapping, handLog)); r.Same != 3 || r.Events != 0 {
		t.Errorf("again: %+v", r)
	}
	other := journaltest.New(t)
	report(mapped(t, other, handMapping, handLog))
	if r := merged(t, j, other); r.Same != 3 || r.Events != 0 || len(r.Conflicts) != 0 {
		t.Errorf("merged: %+v", r)
	}
}

// With a key, a row that was corrected is a conflict; without, it is another batch.
func TestMappedTableByKey(t *testing.T) {
	report := must[journal.ImportReport](t)
	text := "No;When;How;Good\n7;2024-11-05;black;11\n8;2024-11-06;black;12\n"
	bare := "delimiter = \";\"\nzone = \"+01:00\"\ndates = [\"YYYY-MM-DD\"]\n%s[columns]\ncreated = \"When\"\nrecipe = \"How\"\ngood = \"Good\"\n"
	m := fmt.Sprintf(bare, "key = \"No\"\n")
	j := journaltest.New(t)
	report(mapped(t, j, m, text))
	r, err := mapped(t, j, m, strings.Replace(text, "black;12", "black;13", 1))
	if err == nil || len(r.Conflicts) != 1 || r.Conflicts[0].Line != 3 || !strings.Contains(r.Conflicts[0].What, `"12" here and "13" in the file`) {
		t.Errorf("%v, %+v", err, r)
	}
	if r, err := mapped(t, j, m, text+"8;2024-11-06;black;12\n"); err == nil || !strings.Contains(fmt.Sprint(r.Errors), "another row has the key") {
		t.Errorf("a key that stands twice: %v, %+v", err, r)
	}
	if r := report(mapped(t, journaltest.New(t), fmt.Sprintf(bare, ""), text+"8;2024-11-06;black;13\n")); r.New != 3 {
		t.Errorf("without key: %+v", r)
	}
}

func TestMappedTableRefuses(t *testing.T) {
	for name, c := range map[string]struct{ row, want string }{
		"a date of another kind": {"11/05/2024;;Schwarz;;;1;;;;;;;", "fits no date format"},
		"no date":                {";;Schwarz;;;1;;;;;;;", "has no date"},
		"a day that is none":     {"31.02.2024;;Schwarz;;;1;;;;;;;", "fits no date format"},
		"no recipe":              {"05.11.2024;;;;;1;;;;;;;", "the recipe is missing"},
		"a point for a comma":    {"05.11.2024;;Schwarz;;;1;;;160.7;;;;", "temperature has a decimal point"},
		"words for a number":     {"05.11.2024;;Schwarz;;;viele;;;;;;;", "good: "},
		"half a piece":           {"05.11.2024;;Schwarz;;;1,5;;;;;;;", "good: "},
		"a number for machines":  {"05.11.2024;;Schwarz;;;0x1p4;;;;;;;", "good: "},
		"an underscore":          {"05.11.2024;;Schwarz;;;1_000;;;;;;;", "good: "},
		"an exponent":            {"05.11.2024;;Schwarz;;;1;;;1e2;;;;", "1e2"},
		"more causes than bad":   {"05.11.2024;;Schwarz;;;3;;1;;;;2;", "causes"},
		"nothing counted":        {"05.11.2024;;Schwarz;;;;;;;;;;", "pieces"},
		"no good":                {"05.11.2024;;Schwarz;;;;2;;;;;;", "good"},
	} {
		r, err := mapped(t, journaltest.New(t), handMapping, "x\n"+handTop+c.row+"\n")
		if err == nil || len(r.Errors) != 1 || r.Errors[0].Line != 3 || !strings.Contains(r.Errors[0].What, c.want) || r.Errors[0].Cure == "" {
			t.Errorf("%s: %v, %+v; want %q", name, err, r, c.want)
		}
	}
	for name, c := range map[string]struct{ top, want string }{
		"a missing column":  {strings.Replace(handTop, "Bad;", "", 1), `no column "Bad"`},
		"two of a name":     {strings.Replace(handTop, "zu hell", "Bad", 1), `two columns "Bad"`},
		"not in UTF-8":      {strings.Replace(handTop, "Wer", "W\xe4r", 1), `not valid UTF-8`},
		"another delimiter": {strings.ReplaceAll(handTop, ";", ","), `no column`},
	} {
		r, err := mapped(t, journaltest.New(t), handMapping, "x\n"+c.top)
		if err == nil || len(r.Errors) != 1 || !strings.Contains(r.Errors[0].What, c.want) {
			t.Errorf("%s: %v, %+v", name, err, r)
		}
	}
	// The lists are capped, with counts, and nothing is taken over.
	var many strings.Builder
	many.WriteString("created,recipe,pieces,good\n2026-03-09T10:00:00Z,x,5,5\n")
	for range 500 {
		many.WriteString("when,x,5,5\n")
	}
	j := journaltest.New(t)
	r, err := j.Import(strings.NewReader(many.String()), journal.ImportOptions{Format: journal.CSV, Max: 7})
	if err == nil || len(r.Errors) != 7 || r.MoreErrors != 493 || r.New != 0 || r.Rows != 501 {
		t.Errorf("%v, %+v", err, r)
	}
}

// A time in the hour that the change to summer time leaves out never was.
func TestMappedTableRefusesTheMissingHour(t *testing.T) {
	m := "dates = [\"YYYY-MM-DD HH:MM\"]\nzone = \"Europe/Oslo\"\n[columns]\ncreated = \"When\"\nrecipe = \"How\"\ngood = \"Good\"\n"
	for when, ok := range map[string]bool{"2024-03-31 01:59": true, "2024-03-31 02:30": false, "2024-03-31 03:00": true, "2024-10-27 02:30": true} {
		r, err := mapped(t, journaltest.New(t), m, "When,How,Good\n"+when+",black,3\n")
		if ok != (err == nil) || !ok && !strings.Contains(fmt.Sprint(r.Errors), "summer time") {
			t.Errorf("%s: %v, %+v", when, err, r)
		}
	}
}

func TestMappedTableInOldLetters(t *testing.T) {
	text := "When,How,Pieces,Bad,Note\n2024-11-05,black,3,1,\"gr\xfcn \x80 \x96\"\n"
	m := "encoding = \"windows-1252\"\ngood_is_the_rest = true\ndates = [\"YYYY-MM-DD\"]\n[columns]\ncreated = \"When\"\nrecipe = \"How\"\npieces = \"Pieces\"\nreject = \"Bad\"\nnote = \"Note\"\n"
	j := journaltest.New(t)
	must[journal.ImportReport](t)(mapped(t, j, m, text))
	if row := table(t, exported(t, j, journal.CSV, false))[0]; row["note"] != "grün € –" || row["good"] != "2" {
		t.Errorf("got %v", row)
	}
}

func TestMappingTemplate(t *testing.T) {
	text := journal.MappingTemplate
	mapping(t, text)
	var all strings.Builder // without the comment marks that have no blank behind them
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "# ") {
			line = line[1:]
		}
		all.WriteString(line)
	}
	_, err := readMapping(t, all.String())
	if err == nil || !strings.Contains(err.Error(), "good_is_the_rest does not fit these columns") {
		t.Errorf("with everything set: %v; only good and good_is_the_rest contradict each other", err)
	}
}

func TestMappingRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		old, new string
		line     int
		want     string
	}{
		"an unknown key":        {"skip_rows", "skip_row", 6, "unknown key skip_row"},
		"an unknown field":      {"note = ", "remark = ", 18, "unknown key remark"},
		"an unknown delimiter":  {`";"`, `"x"`, 2, "delimiter x is not known"},
		"a date without a year": {`"DD.MM.YYYY"`, `"DD.MM."`, 4, "is not clear"},
		"a month twice":         {`"DD.MM.YYYY"`, `"MM.MM.YYYY"`, 4, "is not clear"},
		"an odd zone":           {`"+01:00"`, `"Atlantis"`, 5, "zone Atlantis is not known"},
		"an odd unit":           {`time = "min"`, `time = "blink"`, 21, "unit blink of time"},
		"no date":               {`created = "Datum"`, "", 7, "no column says created"},
		"no recipe":             {`recipe = "Rezept"`, "", 7, "no column says recipe"},
		"an odd encoding":       {"skip_rows = 1", `encoding = "ebcdic"`, 6, "encoding ebcdic is not known"},
		"not TOML":              {"skip_rows = 1", "skip_rows", 6, "not valid TOML"},
	} {
		if !strings.Contains(handMapping, c.old) {
			t.Fatalf("%s: the mapping has no %s", name, c.old)
		}
		_, err := readMapping(t, strings.Replace(handMapping, c.old, c.new, 1))
		var findings strict.Findings
		if !errors.As(err, &findings) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if f := findings[0]; f.Line != c.line || !strings.Contains(f.What, c.want) || f.Cure == "" {
			t.Errorf("%s: got %s: %s", name, f.Place(), f.What)
		}
	}
}
