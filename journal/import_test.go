package journal_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// full gives a journal with every kind of event, and plain gives its export.
func full(t testing.TB) *journal.Journal {
	t.Helper()
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka Brandt"})
	history(t, j)
	book(t, j)
	if _, err := j.LogNew(order(12), journal.Result{Good: 11, Reject: 1, Temperature: celsius(71.3), Time: seconds(9.5), Shade: "blau", Note: "two\nlines"}); err != nil {
		t.Fatal(err)
	}
	return j
}

func exportOf(t testing.TB, j *journal.Journal, format string, f journal.Filter) string {
	t.Helper()
	var out bytes.Buffer
	f.Reverse = true
	if _, err := j.Export(&out, format, f); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// elsewhere gives an empty journal of another bench.
func elsewhere(t testing.TB) *journal.Journal {
	t.Helper()
	return journaltest.Open(t, filepath.Join(t.TempDir(), "other.journal"), journal.Options{By: "Runa Fern"})
}

func imported(t testing.TB, j *journal.Journal, text string, o journal.ImportOptions) journal.ImportReport {
	t.Helper()
	report, err := j.Import(strings.NewReader(text), o)
	if err != nil {
		t.Fatalf("import: %v, %+v", err, report)
	}
	return report
}

// numbersOf takes the names of containers out of an export: they stay on the shelf
// of their bench, and elsewhere are named by their ids.
func withoutShelf(text string) string {
	for _, n := range []string{"S-001", "S-002"} {
		text = strings.ReplaceAll(text, fmt.Sprintf(`"container":%q`, n), `"container":"?"`)
	}
	for _, part := range strings.SplitAfter(text, `"container_id":"`)[1:] {
		text = strings.ReplaceAll(text, fmt.Sprintf(`"container":%q`, part[:26]), `"container":"?"`)
	}
	return text
}

func TestImportJSONLines(t *testing.T) {
	j := full(t)
	for _, frozen := range []bool{true, false} {
		text := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: frozen})
		other := elsewhere(t)
		report := imported(t, other, text, journal.ImportOptions{Format: journal.JSONLines})
		if report.New == 0 || report.New != report.Rows || report.Same+report.Further > 0 {
			t.Errorf("frozen %v: %+v", frozen, report)
		}
		if got := exportOf(t, other, journal.JSONLines, journal.Filter{Frozen: frozen}); withoutShelf(got) != withoutShelf(text) {
			t.Errorf("frozen %v: got\n%s\nwant\n%s", frozen, got, text)
		}
		for _, o := range []*journal.Journal{other, j} { // a second time, and where it comes from
			if report := imported(t, o, text, journal.ImportOptions{Format: journal.JSONLines}); report.Same != report.Rows || report.Events != 0 {
				t.Errorf("frozen %v: again: %+v", frozen, report)
			}
		}
	}
}

func TestImportCSV(t *testing.T) {
	j := full(t)
	odd := order(10)
	odd.By, odd.Note = "@SUM(A1)", "=HYPERLINK(\"x\")\n'quoted,\r"
	if _, err := j.LogNew(odd, journal.Result{Good: 9, Reject: 1, Temperature: celsius(-5.5), Time: seconds(12.25), Shade: "'tis", Note: "+49 = phone <b>"}); err != nil {
		t.Fatal(err)
	}
	text := exportOf(t, j, journal.CSV, journal.Filter{})
	other := elsewhere(t)
	report := imported(t, other, "\ufeff"+text, journal.ImportOptions{Format: journal.CSV})
	if report.New != report.Rows || report.WithoutText != report.Rows {
		t.Errorf("%+v", report)
	}
	// One was reviewed, one logged without, and one went through everything.
	if report.Aside != 3 {
		t.Errorf("of %d batches more is said than is read, want 3", report.Aside)
	}
	// An import does not read of reviews and dips: those batches are plans again.
	old := narrow(t, text)
	want := strings.NewReplacer(",reviewed,", ",planned,", ",dipped,", ",planned,").Replace(old)
	if got := narrow(t, exportOf(t, other, journal.CSV, journal.Filter{})); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	// A table of before the further columns is the same.
	before := elsewhere(t)
	if report := imported(t, before, old, journal.ImportOptions{Format: journal.CSV}); report.New != report.Rows || report.Aside != 0 {
		t.Errorf("without the further columns: %+v", report)
	}
	for _, o := range []*journal.Journal{other, j, before} {
		for _, text := range []string{text, old} {
			if report := imported(t, o, text, journal.ImportOptions{Format: journal.CSV}); report.Same != report.Rows || report.Aside != 0 {
				t.Errorf("again: %+v", report)
			}
		}
	}
}

// narrow leaves of a table the columns that an import reads.
func narrow(t testing.TB, text string) string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	for _, row := range rows {
		if err := w.Write(row[:slices.Index(rows[0], "note")+1]); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	return out.String()
}

// The columns of a table are those that are known, and never half of them.
func TestImportCSVRefusesOtherColumns(t *testing.T) {
	text := exportOf(t, full(t), journal.CSV, journal.Filter{})
	for name, c := range map[string]struct{ old, new, want string }{
		"another name":            {"alloy,shape", "metal,shape", `column 8 is "metal" and should be "alloy"`},
		"two exchanged":           {"alloy,shape", "shape,alloy", `column 8 is "shape"`},
		"one that is not known":   {"people,reviewed,", "people,glory,", `column 25 is "glory", which no export has`},
		"one that is there twice": {"people,reviewed,", "people,people,", `the column "people" is there twice`},
		"one read twice":          {"people,reviewed,", "note,reviewed,", `column 24 is "note", which no export has`},
	} {
		if !strings.Contains(text, c.old) {
			t.Fatalf("%s: the table has no %s", name, c.old)
		}
		j := elsewhere(t)
		report, err := j.Import(strings.NewReader(strings.Replace(text, c.old, c.new, 1)), journal.ImportOptions{Format: journal.CSV})
		if err == nil || len(report.Errors) != 1 || report.Errors[0].Line != 1 || !strings.Contains(report.Errors[0].What, c.want) {
			t.Errorf("%s: %v, %+v", name, err, report)
		}
	}
}

// What has happened since in the file is taken over; what has happened since here
// is not lost; where both happened, nothing is imported.
func TestImportGoesFurther(t *testing.T) {
	j := full(t)
	before := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true})
	other := elsewhere(t)
	imported(t, other, before, journal.ImportOptions{Format: journal.JSONLines})
	number := fmt.Sprintf("%d-003", time.Now().Year())
	if _, err := j.Amend(number, "shade", "brown", "seen by daylight", ""); err != nil {
		t.Fatal(err)
	}
	after := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true})
	if report := imported(t, other, after, journal.ImportOptions{Format: journal.JSONLines}); report.Further != 1 || report.Events != 1 {
		t.Errorf("further: %+v", report)
	}
	if report := imported(t, other, before, journal.ImportOptions{Format: journal.JSONLines}); report.Same != report.Rows {
		t.Errorf("an older file: %+v", report)
	}
	if _, err := other.Amend(number, "note", "polished", "forgotten", ""); err != nil {
		t.Fatal(err)
	}
	if _, err := j.Amend(number, "note", "waxed", "forgotten", ""); err != nil {
		t.Fatal(err)
	}
	after = exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true})
	was := exportOf(t, other, journal.JSONLines, journal.Filter{})
	report, err := other.Import(strings.NewReader(after), journal.ImportOptions{Format: journal.JSONLines})
	if fault.KindOf(err) != fault.Failure || len(report.Conflicts) != 1 || report.Conflicts[0].Number != number || report.Conflicts[0].Line == 0 {
		t.Fatalf("both changed: %v, %+v", err, report)
	}
	if got := exportOf(t, other, journal.JSONLines, journal.Filter{}); got != was {
		t.Error("a refused import changed something")
	}
	if report := imported(t, other, after, journal.ImportOptions{Format: journal.JSONLines, KeepHere: true}); len(report.Conflicts) != 1 {
		t.Errorf("keeping what is here: %+v", report)
	}
	if got := exportOf(t, other, journal.JSONLines, journal.Filter{}); got != was {
		t.Error("what is here was not kept")
	}
}

// line gives one good line of an export.
func goodLine(t testing.TB) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "format1.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range strings.Split(string(data), "\n") {
		if strings.Contains(l, `"field":"good"`) {
			return l
		}
	}
	t.Fatal("no line with an amendment")
	return ""
}

func TestImportRefuses(t *testing.T) {
	good := goodLine(t)
	change := func(old, new string) string {
		t.Helper()
		if !strings.Contains(good, old) {
			t.Fatalf("the line has no %s", old)
		}
		return strings.Replace(good, old, new, 1)
	}
	number := func(key, value string) string {
		t.Helper()
		at := strings.Index(good, `"`+key+`":`) + len(key) + 3
		end := at + strings.IndexAny(good[at:], ",}")
		return good[:at] + value + good[end:]
	}
	deep := strings.Repeat("[", 100_000)
	for name, c := range map[string]struct{ line, want string }{
		"no JSON":                  {"hello", "not JSON"},
		"cut off":                  {good[:len(good)/2], "ends too early"},
		"two objects":              {good + good, "end of the line"},
		"a list":                   {"[" + good + "]", "an object"},
		"an unknown key":           {change(`"spares"`, `"spare"`), `did you mean spares?`},
		"a key that stands twice":  {change(`"spares":`, `"spares":1,"spares":`), `"spares" stands twice`},
		"twice in a review":        {change(`"review":null`, `"review":{"by":"a","by":"b"}`), `review: the key "by" stands twice`},
		"twice in a dip":           {change(`"dip":null`, `"dip":{"by":"a","by":"b"}`), `dip: the key "by" stands twice`},
		"unknown in a dip":         {change(`"dip":null`, `"dip":{"who":"a"}`), `unknown field`},
		"deep":                     {change(`"dip":null`, `"dip":`+deep), "nests deeper"},
		"deep in the sheet":        {change(`"sheet":`, `"sheet":`+deep), "nests deeper"},
		"no UTF-8":                 {change("Ilka", "Il\xffka"), "UTF-8"},
		"half a surrogate":         {change("Ilka", `Il\ud800ka`), "UTF-8"},
		"a terminal escape":        {change("Ilka", `Il\u001b[31mka`), "control character U+001B"},
		"a raw control character":  {change("Ilka", "Il\x1bka"), "without control characters"},
		"turned letters":           {change("Ilka", "Il\u202eka"), "control character U+202E"},
		"NaN":                      {number("temperature_c", "NaN"), "a number"},
		"infinity":                 {number("time_s", "1e999"), "too large"},
		"a huge number":            {number("pieces", strings.Repeat("9", 400)), "pieces: 9999"},
		"half a piece":             {number("good", "40.5"), "not a whole number"},
		"below nothing":            {number("reject", "-1"), "rejected pieces is -1"},
		"a leading zero":           {number("pieces", "048"), "a number should be"},
		"more than were made":      {number("good", "410"), "counts 41"},
		"absolute zero":            {number("temperature_c", "-400"), "temperature is -400"},
		"no time":                  {change(`"created":"20`, `"created":"yesterday 20`), "created is no time"},
		"a time before time":       {change(`"created":"2026`, `"created":"0026`), "year 26"},
		"an id that is none":       {number("id", `"01U"`), "id is no id"},
		"an id after time":         {number("id", `"7ZZZZZZZZZZZZZZZZZZZZZZZZZ"`), "after the year 2200"},
		"an id beyond 128 bits":    {number("id", `"8ZZZZZZZZZZZZZZZZZZZZZZZZZ"`), "is no id"},
		"an id before the batch":   {number("id", `"01JBY6J740MY08V1MRXRSP92TH"`), "before the batch was created"},
		"a number that is none":    {number("number", `"26/14"`), "no number of a batch"},
		"an odd state":             {number("state", `"gilded"`), `no state "gilded"`},
		"another state":            {number("state", `"planned"`), "do not lead to the batch: state"},
		"no recipe":                {number("recipe", `""`), "names no recipe"},
		"a result that was not":    {change(`"new":"41"`, `"new":"39"`), `it made the good "39"`},
		"events out of order":      {change(`"events":[{`, `"events":[{"id":"7GZZZZZZZZZZZZZZZZZZZZZZZZ","kind":"created","at":"2026-01-01T00:00:00Z"},{`), "event"},
		"an event of an odd kind":  {change(`"kind":"logged"`, `"kind":"melted"`), `its kind "melted" is unknown`},
		"no created":               {change(`"kind":"created"`, `"kind":"withdrawn"`), "do not lead"},
		"a name as long as a book": {change("Ilka", strings.Repeat("I", 10_000)), "bytes long"},
	} {
		t.Run(name, func(t *testing.T) {
			j := elsewhere(t)
			report, err := j.Import(strings.NewReader("\n"+good+"\n"+c.line+"\n"), journal.ImportOptions{Format: journal.JSONLines})
			if fault.KindOf(err) != fault.Failure || len(report.Errors) != 1 {
				t.Fatalf("%v, %+v", err, report)
			}
			e := report.Errors[0]
			if e.Line != 3 || !strings.Contains(e.What, c.want) || e.Cure == "" || len(e.What) > 400 {
				t.Errorf("got %+v, want %q in line 3", e, c.want)
			}
			for _, r := range e.What + e.Cure {
				if r < ' ' || r == '\u202e' {
					t.Errorf("%q would act on a terminal", e.What)
				}
			}
			if there, _ := j.Exists(); there {
				if n, err := j.Count(journal.Filter{}); err != nil || n != 0 {
					t.Errorf("%d batches, %v: it is all or nothing", n, err)
				}
			}
		})
	}
}

// All errors are counted and the first listed, and a trial changes nothing.
func TestImportListsErrors(t *testing.T) {
	j := elsewhere(t)
	var text strings.Builder
	for i := range 900 {
		if i%3 == 0 {
			fmt.Fprintln(&text, goodLine(t))
		} else {
			fmt.Fprintf(&text, "{%d\n", i)
		}
	}
	for _, dry := range []bool{true, false} {
		told := 0
		report, err := j.Import(strings.NewReader(text.String()), journal.ImportOptions{
			Format: journal.JSONLines, DryRun: dry, Max: 7, Progress: func(n int) { told = n },
		})
		if (err == nil) != dry || len(report.Errors) != 7 || report.MoreErrors != 593 || report.Rows != 900 || report.DryRun != dry {
			t.Errorf("dry %v: %v, %d listed, %d more of %d", dry, err, len(report.Errors), report.MoreErrors, report.Rows)
		}
		_ = told
	}
	if there, err := j.Exists(); there || err != nil {
		t.Errorf("a journal was made: %v", err)
	}
	report, err := j.Import(strings.NewReader(goodLine(t)), journal.ImportOptions{Format: journal.JSONLines, DryRun: true})
	if err != nil || report.New != 1 || report.Events != 3 {
		t.Errorf("a trial: %v, %+v", err, report)
	}
	if there, err := j.Exists(); there || err != nil {
		t.Errorf("a trial made a journal: %v", err)
	}
	if entries, err := os.ReadDir(filepath.Dir(j.Path())); err != nil || len(entries) > 0 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}

// A long import is built aside: it is all there at once, or not at all.
func TestImportOfMany(t *testing.T) {
	source := large(t, 3000)
	text := exportOf(t, source, journal.JSONLines, journal.Filter{})
	j := full(t)
	was := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true})
	bad := text + "{}\n"
	if report, err := j.Import(strings.NewReader(bad), journal.ImportOptions{Format: journal.JSONLines}); err == nil || report.New != 0 || report.Errors[0].Line != 3001 {
		t.Errorf("%v, %+v", err, report)
	}
	if report := imported(t, j, text, journal.ImportOptions{Format: journal.JSONLines, DryRun: true}); report.New != 3000 {
		t.Errorf("%+v", report)
	}
	if got := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true}); got != was {
		t.Error("a refused import or a trial changed something")
	}
	told := 0
	report := imported(t, j, text, journal.ImportOptions{Format: journal.JSONLines, Progress: func(n int) { told = n }})
	if report.New != 3000 || told != 3000 {
		t.Errorf("told %d, %+v", told, report)
	}
	if n, err := j.Count(journal.Filter{}); err != nil || n != 3000+strings.Count(was, "\n") {
		t.Errorf("%d batches, %v", n, err)
	}
	if entries, err := os.ReadDir(filepath.Dir(j.Path())); err != nil || len(entries) != 1 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}

// slowly calls fn before it gives its last part.
type slowly struct {
	r  *strings.Reader
	fn func()
}

func (s *slowly) Read(p []byte) (int, error) {
	if s.r.Len() == 0 && s.fn != nil {
		s.fn()
		s.fn = nil
	}
	return s.r.Read(p)
}

// Whoever logs while a long import is built loses nothing: the import gives way.
func TestImportGivesWay(t *testing.T) {
	text := exportOf(t, large(t, 1500), journal.JSONLines, journal.Filter{})
	j := full(t)
	n, err := j.Count(journal.Filter{})
	if err != nil {
		t.Fatal(err)
	}
	report, err := j.Import(&slowly{strings.NewReader(text), func() { create(t, j) }}, journal.ImportOptions{Format: journal.JSONLines})
	if fault.KindOf(err) != fault.Busy || report.New != 0 {
		t.Errorf("%v, %+v", err, report)
	}
	if after, err := j.Count(journal.Filter{}); err != nil || after != n+1 {
		t.Errorf("%d batches, %v; want %d", after, err, n+1)
	}
}

// What was left by a process that was ended in the middle is swept up by the next;
// what another is at work on, or what has another name, is not.
func TestSweep(t *testing.T) {
	j := full(t)
	dir := filepath.Dir(j.Path())
	long := time.Now().Add(-2 * time.Hour)
	for name, age := range map[string]time.Time{".hepar.journal.new-1": long, ".hepar.journal.new-2": time.Now(), "hepar.journal.new-3": long, ".other.new-4": long} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, age, age); err != nil {
			t.Fatal(err)
		}
	}
	imported(t, j, exportOf(t, large(t, 600), journal.JSONLines, journal.Filter{}), journal.ImportOptions{Format: journal.JSONLines})
	if got := fmt.Sprint(names(t, dir)); got != "[.hepar.journal.new-2 .other.new-4 hepar.journal hepar.journal.new-3]" {
		t.Errorf("there are %s", got)
	}
}
