package journal_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

func mapping(t testing.TB, text string) *journal.Mapping {
	t.Helper()
	m, err := journal.DecodeMapping("mapping.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return m
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
rework = 0
reject = 0
[names.recipe]
"Schwarz" = "antique-black-silver"
[names.by]
"IB" = "Ilka Brandt"
`

const handLog = "Badebuch;;;;;;;;;;;;\n" +
	"Datum;Uhr;Rezept;Metall;Wer;Anzahl gut;nochmal;Ausschuss;Bad;Dauer;Bemerkung;zu hell;Flecken\n" +
	"05.11.2024;14:05;schwarz;;IB;11;1;;160,7;0,5;=SUM(A1) schön;1;\n" +
	";;;;;;;;;;;;\n" +
	"05.11.2024;14:05;schwarz;;IB;11;1;;160,7;0,5;=SUM(A1) schön;1;\n" +
	"2024-12-01 09:30;;brown;copper-c110;Tomas Reh;20;;2;71 C;45 s;\"zwei\nZeilen\";;2\n"

func TestImportSheet(t *testing.T) {
	j := elsewhere(t)
	o := journal.ImportOptions{Format: journal.Sheet, Mapping: mapping(t, handMapping), Source: "log.csv"}
	if r := imported(t, j, handLog, o); r.New != 3 || r.Rows != 3 {
		t.Fatalf("%+v", r)
	}
	got := strings.Split(exportOf(t, j, journal.CSV, journal.Filter{}), "\r\n")
	got[3] += "\n" + got[4] // a note of two lines
	for i, want := range []string{
		",logged,2024-11-05T14:05:00+01:00,antique-black-silver,,0,sterling-925,disc,12,0,Ilka Brandt,,2024-11-05T14:05:00+01:00,11,1,0,0,too-light=1,71.5,30,,'=SUM(A1) schön",
		",logged,2024-11-05T14:05:00+01:00,antique-black-silver,,0,sterling-925,disc,12,0,Ilka Brandt,,2024-11-05T14:05:00+01:00,11,1,0,0,too-light=1,71.5,30,,'=SUM(A1) schön",
		",logged,2024-12-01T09:30:00+01:00,brown,,0,copper-c110,disc,22,0,Tomas Reh,,2024-12-01T09:30:00+01:00,20,0,2,0,spots=2,71,45,,\"zwei\nZeilen\"",
	} {
		_, row, _ := strings.Cut(got[i+1], ",")
		if _, row, _ = strings.Cut(row, ","); !strings.HasPrefix(","+row, want+",") {
			t.Errorf("row %d: got\n,%s\nwant\n%s", i, row, want)
		}
	}
	// The same again changes nothing; at another bench it makes the same batches.
	if r := imported(t, j, handLog, o); r.Same != 3 || r.Events != 0 {
		t.Errorf("again: %+v", r)
	}
	other := elsewhere(t)
	imported(t, other, handLog, o)
	if r := merged(t, j, other); r.Same != 3 || r.Events != 0 || len(r.Conflicts) != 0 {
		t.Errorf("merged: %+v", r)
	}
}

// With a key a row that was corrected is a conflict; without, it is another batch.
func TestImportSheetByKey(t *testing.T) {
	text := "No;When;How;Good\n7;2024-11-05;black;11\n8;2024-11-06;black;12\n"
	base := "dates = [\"YYYY-MM-DD\"]\nkey = \"No\"\n[columns]\ncreated = \"When\"\nrecipe = \"How\"\ngood = \"Good\"\n"
	o := journal.ImportOptions{Format: journal.Sheet, Mapping: mapping(t, "delimiter = \";\"\n"+base)}
	j := elsewhere(t)
	imported(t, j, text, o)
	r, err := j.Import(strings.NewReader(strings.Replace(text, "black;12", "black;13", 1)), o)
	if err == nil || len(r.Conflicts) != 1 || r.Conflicts[0].Line != 3 || !strings.Contains(r.Conflicts[0].What, `good is "12" here and "13" in the file`) && !strings.Contains(r.Conflicts[0].What, `pieces is "12" here`) {
		t.Errorf("%v, %+v", err, r)
	}
	if _, err := j.Import(strings.NewReader(text+"8;2024-11-06;black;12\n"), o); err == nil {
		t.Error("a key that stands twice was taken")
	}
	// A corrected date is no other batch; the same number in another year is one.
	r, err = j.Import(strings.NewReader(strings.Replace(text, "2024-11-06", "2024-10-06", 1)), o)
	if err == nil || len(r.Conflicts) != 1 || r.Conflicts[0].Line != 3 || !strings.Contains(r.Conflicts[0].What, "created") || r.New != 0 {
		t.Errorf("a corrected date: %v, %+v", err, r)
	}
	if r := imported(t, j, strings.ReplaceAll(text, "2024", "2025"), o); r.New != 2 {
		t.Errorf("the numbers of the next year: %+v", r)
	}
}

// The same file on a machine that stands in another zone adds nothing.
func TestImportSheetInAnotherZone(t *testing.T) {
	text := "When;How;Good\n2024-11-05;black;11\n2024-11-05;black;11\n2024-11-06;black;12\n"
	in := func(zone string) journal.ImportOptions {
		return journal.ImportOptions{Format: journal.Sheet, Mapping: mapping(t, "delimiter = \";\"\nzone = \""+zone+"\"\n"+
			"dates = [\"YYYY-MM-DD\"]\n[columns]\ncreated = \"When\"\nrecipe = \"How\"\ngood = \"Good\"\n")}
	}
	j := elsewhere(t)
	imported(t, j, text, in("+01:00"))
	for _, zone := range []string{"+01:00", "-08:00", "+00:00"} {
		if r := imported(t, j, text, in(zone)); r.New != 0 || r.Same != 3 {
			t.Errorf("%s: %+v", zone, r)
		}
	}
	if r := imported(t, j, strings.ReplaceAll(text, "2024-11-05", "2024-11-08"), in("+01:00")); r.New != 2 || r.Same != 1 {
		t.Errorf("another day: %+v", r)
	}
}

func TestImportSheetRefuses(t *testing.T) {
	top := "Datum;Uhr;Rezept;Metall;Wer;Anzahl gut;nochmal;Ausschuss;Bad;Dauer;Bemerkung;zu hell;Flecken\n"
	for name, c := range map[string]struct{ row, want string }{
		"a date of another kind": {"11/05/2024;;Schwarz;;;1;;;;;;;", "no date as the mapping has it"},
		"no date":                {";;Schwarz;;;1;;;;;;;", "there is no date"},
		"a day that is none":     {"31.02.2024;;Schwarz;;;1;;;;;;;", "no date"},
		"no recipe":              {"05.11.2024;;;;;1;;;;;;;", "names no recipe"},
		"a point for a comma":    {"05.11.2024;;Schwarz;;;1;;;160.7;;;;", "temperature has a point in it"},
		"words for a number":     {"05.11.2024;;Schwarz;;;viele;;;;;;;", "good is no whole number"},
		"half a piece":           {"05.11.2024;;Schwarz;;;1,5;;;;;;;", "good is no whole number"},
		"more causes than bad":   {"05.11.2024;;Schwarz;;;3;;1;;;;2;", "causes"},
		"nothing counted":        {"05.11.2024;;Schwarz;;;;;;;;;;", "pieces is 0"},
		"no good":                {"05.11.2024;;Schwarz;;;;2;;;;;;", "how many were good"},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := elsewhere(t).Import(strings.NewReader("x\n"+top+c.row+"\n"), journal.ImportOptions{Format: journal.Sheet, Mapping: mapping(t, handMapping)})
			if fault.KindOf(err) != fault.Failure || len(r.Errors) != 1 || r.Errors[0].Line != 3 || !strings.Contains(r.Errors[0].What, c.want) {
				t.Errorf("%v, %+v; want %q", err, r, c.want)
			}
		})
	}
	for name, c := range map[string]struct{ top, want string }{
		"a missing column":   {strings.Replace(top, "Bad;", "", 1), `no column "Bad"`},
		"two of a name":      {strings.Replace(top, "zu hell", "Bad", 1), `two columns "Bad"`},
		"not in UTF-8":       {strings.Replace(top, "Wer", "W\xe4r", 1), `no column "Wer"`},
		"another delimiter":  {strings.ReplaceAll(top, ";", ","), `no column "Datum"`},
		"nothing whatsoever": {"", `no column "Datum"`},
	} {
		r, err := elsewhere(t).Import(strings.NewReader("x\n"+c.top), journal.ImportOptions{Format: journal.Sheet, Mapping: mapping(t, handMapping)})
		if name == "nothing whatsoever" {
			continue // an empty table has no rows
		}
		if err == nil || len(r.Errors) != 1 || !strings.Contains(r.Errors[0].What, c.want) {
			t.Errorf("%s: %v, %+v", name, err, r)
		}
	}
}

// A table saved by an older program in its own letters is read right.
func TestImportOldLetters(t *testing.T) {
	text := "When,How,Good,Note\n2024-11-05,black,3,\"gr\xfcn \x80 \x96\"\n"
	m := mapping(t, "encoding = \"windows-1252\"\ndates = [\"YYYY-MM-DD\"]\n[columns]\ncreated = \"When\"\nrecipe = \"How\"\ngood = \"Good\"\nnote = \"Note\"\n")
	j := elsewhere(t)
	imported(t, j, text, journal.ImportOptions{Format: journal.Sheet, Mapping: m})
	if got := exportOf(t, j, journal.CSV, journal.Filter{}); !strings.Contains(got, "grün € –") {
		t.Errorf("got %s", got)
	}
}

func TestMappingTemplate(t *testing.T) {
	text := string(journal.MappingTemplate())
	mapping(t, text)
	var all strings.Builder // with all comment marks that have no blank behind them taken away
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "# ") {
			line = line[1:]
		}
		all.WriteString(line)
	}
	_, err := journal.DecodeMapping("mapping.toml", []byte(all.String()))
	if err == nil || !strings.Contains(err.Error(), "good cannot be the rest") {
		t.Errorf("with everything set: %v; only good and good_is_the_rest should be at odds", err)
	}
}

func TestMappingRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		old, new     string
		line, column int
		want         string
	}{
		"an unknown key":        {"skip_rows", "skip_row", 6, 1, "unknown key skip_row"},
		"an unknown field":      {"note = ", "remark = ", 18, 1, "unknown key remark"},
		"an unknown delimiter":  {`";"`, `"x"`, 2, 13, "delimiter x is not known"},
		"a date without a year": {`"DD.MM.YYYY"`, `"DD.MM."`, 4, 10, "is not clear"},
		"a month twice":         {`"DD.MM.YYYY"`, `"MM.MM.YYYY"`, 4, 10, "is not clear"},
		"an odd zone":           {`"+01:00"`, `"Atlantis"`, 5, 8, "zone Atlantis is not known"},
		"an odd unit":           {`time = "min"`, `time = "blink"`, 21, 8, "unit blink of time"},
		"an odd default":        {"rework = 0", "rework = 1", 28, 10, "rework is outside"},
		"no date":               {`created = "Datum"`, "", 7, 1, "no column says created"},
		"no recipe":             {`recipe = "Rezept"`, "", 7, 1, "no column says recipe"},
		"an odd encoding":       {"skip_rows = 1", `encoding = "ebcdic"`, 6, 12, "encoding ebcdic is not known"},
		"not TOML":              {"skip_rows = 1", "skip_rows", 6, 0, "not valid TOML"},
	} {
		if !strings.Contains(handMapping, c.old) {
			t.Fatalf("%s: the mapping has no %s", name, c.old)
		}
		_, err := journal.DecodeMapping("mapping.toml", []byte(strings.Replace(handMapping, c.old, c.new, 1)))
		var findings strict.Findings
		if !errors.As(err, &findings) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		f := findings[0]
		if f.Line != c.line || c.column > 0 && f.Column != c.column || !strings.Contains(f.What, c.want) || f.Cure == "" {
			t.Errorf("%s: got %s: %s", name, fmt.Sprint(f.Place()), f.What)
		}
	}
}
