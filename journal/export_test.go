package journal_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// exported gives a journal of three batches with hostile texts, and its export.
func exported(t *testing.T, format string, f journal.Filter) string {
	t.Helper()
	clock := journaltest.NewClock(time.Date(2026, 7, 1, 9, 0, 0, 0, time.FixedZone("", 2*3600)))
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{Now: clock.Now})
	hostile := order(10)
	hostile.By, hostile.Note = "@SUM(A1)", "=HYPERLINK(\"x\")\n+1,\"2\""
	if _, err := j.LogNew(hostile, journal.Result{
		Good: 9, Rework: 1, Reject: 1, Causes: map[string]int{"patchy": 1}, Temperature: celsius(-5.5), Time: seconds(12), Shade: "-brown", Note: "+49 = phone <b>",
	}); err != nil {
		t.Fatal(err)
	}
	clock.Add(time.Hour)
	create(t, j)
	var out bytes.Buffer
	n, err := j.Export(&out, format, f)
	if err != nil || n != 2 {
		t.Fatalf("exported %d, %v; want 2", n, err)
	}
	return out.String()
}

func TestExportCSV(t *testing.T) {
	text := exported(t, journal.CSV, journal.Filter{Reverse: true})
	if strings.Count(text, "\r\n") != strings.Count(text, "\n") {
		t.Error("a line does not end in CRLF, as RFC 4180 has it")
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	row := map[string]string{}
	for i, name := range rows[0] {
		row[name] = rows[1][i]
	}
	for name, want := range map[string]string{
		"number": "2026-001", "created": "2026-07-01T09:00:00+02:00", "by": "'@SUM(A1)", "order": "'=HYPERLINK(\"x\")\n+1,\"2\"",
		"good (pieces)": "9", "missing (pieces)": "1", "causes (pieces)": "patchy=1", "temperature (C)": "-5.5", "time (s)": "12",
		"shade": "'-brown", "note": "'+49 = phone <b>",
	} {
		if row[name] != want {
			t.Errorf("%s: got %q, want %q", name, row[name], want)
		}
	}
	if planned := rows[2]; planned[slices.Index(rows[0], "good (pieces)")] != "" || planned[slices.Index(rows[0], "state")] != "planned" {
		t.Errorf("a planned batch: %q", planned)
	}
}

// What happened around a result stands in lists, those of one table in one order.
func TestExportCSVTellsAll(t *testing.T) {
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka Brandt"})
	number := book(t, j)
	for _, c := range []journal.Container{{Substance: `=1+1; "x"`, Lot: `a;b\`, AmountG: 10}} {
		if _, err := j.AddContainer(c); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := j.Use(journal.Use{Container: "S-003", Grams: 1.5}, number, "@Runa"); err != nil {
		t.Fatal(err)
	}
	if _, err := j.AddWaste(number, journal.Waste{VolumeL: 0.25, Container: "+Drum; 2", Contents: []journal.WastePart{
		{What: "silver, as ions", MilligramsPerLiter: 0.5}, {What: "=a=b", MilligramsPerLiter: 12},
	}}); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(exportOf(t, j, journal.CSV, journal.Filter{}))).ReadAll()
	if err != nil || len(rows) != 2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	b, err := j.Get(number)
	if err != nil {
		t.Fatal(err)
	}
	at := func(of time.Time) string { return of.Format(time.RFC3339Nano) }
	want := [][2]string{
		{"people", "Ilka Brandt; Tomas Reh; Uwe Stern; '@Runa"}, {"reviewed", at(b.Review.At)}, {"reviewed_by", "Ilka Brandt"}, {"without_review", ""},
		{"dipped", at(b.Dip.Started)}, {"dipped_by", "Tomas Reh; Ilka Brandt"}, {"loads", "1; 2; 7"}, {"load_pieces (pieces)", "25; 20; 5"},
		{"load_temperatures (C)", "70.5; ; "}, {"load_times (s)", "12; ; "},
		{"lot_containers", "S-001; S-002; S-001; S-001; S-003"},
		{"lot_substances", `liver of sulfur; ammonia; liver of sulfur; liver of sulfur; '=1+1\; "x"`}, {"lots", `K-717; NH-3; K-717; K-717; a\;b\\`},
		{"lot_masses (g)", "12.5; ; 0.1; 0.2; 1.5"}, {"lot_volumes (mL)", "; 3; ; ; "},
		{"waste_containers", `Drum 1; '+Drum\; 2`}, {"waste_volumes (L)", "2.5; 0.25"},
		{"waste_contents (mg/L)", `silver=4.2; silver\, as ions=0.5, '\=a\=b=12`}, {"waste_went", "kept in the yard; "},
		{"photos", "1"}, {"signed_off", at(b.SignedOff.At)}, {"signed_off_by", "Uwe Stern"}, {"signed_off_note", "counted again"}, {"amended_since", "true"},
	}
	for i, w := range want {
		k := len(rows[0]) - len(want) + i
		if rows[0][k] != w[0] || rows[1][k] != w[1] {
			t.Errorf("column %d: got %s: %q, want %s: %q", k+1, rows[0][k], rows[1][k], w[0], w[1])
		}
	}
	if first := rows[0][len(rows[0])-len(want)-1]; first != "note" {
		t.Errorf("they stand behind %s", first)
	}
}

func TestExportJSONLines(t *testing.T) {
	lines := strings.Split(strings.TrimSuffix(exported(t, journal.JSONLines, journal.Filter{Reverse: true}), "\n"), "\n")
	if len(lines) != 2 {
		t.Fatalf("%d lines, want 2", len(lines))
	}
	var v map[string]any
	if err := json.Unmarshal([]byte(lines[0]), &v); err != nil {
		t.Fatal(err)
	}
	delete(v, "id")
	for _, e := range v["events"].([]any) {
		delete(e.(map[string]any), "id")
	}
	got, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	// Names and shape are a promise: they may only grow.
	want := `{"alloy":"sterling-925","by":"@SUM(A1)","causes":{"patchy":1},"created":"2026-07-01T09:00:00+02:00","dip":null,` +
		`"events":[{"at":"2026-07-01T09:00:00+02:00","by":"@SUM(A1)","kind":"created","written":"2026-07-01T09:00:00+02:00"},` +
		`{"at":"2026-07-01T09:00:00+02:00","by":"@SUM(A1)","kind":"logged","written":"2026-07-01T09:00:00+02:00"}],` +
		`"good":9,"logged":"2026-07-01T09:00:00+02:00","lots":[],"missing":1,"note":"+49 = phone \u003cb\u003e","number":"2026-001",` +
		`"order":"=HYPERLINK(\"x\")\n+1,\"2\"","photos":[],"pieces":10,"recipe":"antique-black-silver","recipe_digest":"sha256:6c1f","recipe_kind":"dip",` +
		`"recipe_revision":2,"recipe_title":"Antique black on silver","reject":1,"review":null,"rework":1,"shade":"-brown","shape":"disc","signed_off":null,` +
		`"spares":2,"state":"logged","temperature_c":-5.5,"time_s":12,"waste":[],"without_review":null}`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if !strings.Contains(lines[1], `"good":null`) || !strings.Contains(lines[1], `"causes":{}`) || strings.Contains(lines[1], `"sheet"`) {
		t.Errorf("a planned batch: %s", lines[1])
	}
	frozen := exported(t, journal.JSONLines, journal.Filter{Frozen: true})
	if !strings.Contains(frozen, `"sheet":{"pieces":48}`) || !strings.Contains(frozen, `"recipe_text":"title`) {
		t.Errorf("with frozen recipes and sheets: %s", frozen)
	}
}

// What is frozen goes out with an export, so nothing is frozen that others would
// not take: then one batch would keep all others from being loaded.
func TestFrozenIsForEveryone(t *testing.T) {
	j := journaltest.New(t)
	for name, c := range map[string]struct{ recipe, sheet string }{
		"no JSON": {"", "{"}, "more than JSON": {"", "{} {}"}, "JSON with the character zero": {"", `{"a":"x\u0000"}`}, "half a surrogate": {"", `["\ud800"]`},
		"not UTF-8": {"", "[\"\xff\"]"}, "very deep": {"", strings.Repeat("[", 200) + strings.Repeat("]", 200)},
		"a recipe with the character zero": {"title = \"x\x00\"", "{}"}, "a recipe that is not UTF-8": {"title = \"x\xff\"", "{}"},
	} {
		b := order(3)
		b.Sheet, b.Recipe.Text = []byte(c.sheet), c.recipe
		if _, err := j.Create(b); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: created, %v", name, err)
		}
		b.Created = time.Date(2026, 3, 9, 8, 0, 0, 0, time.UTC)
		report, err := j.ImportBatches(func(yield func(journal.Batch, error) bool) { yield(b, nil) }, journal.ImportOptions{})
		if err == nil || len(report.Errors) != 1 {
			t.Errorf("%s: imported, %+v", name, report)
		}
	}
	b := order(3)
	b.Sheet = []byte(`{"a":"\\u0000 \ud83d\ude00 \u0001","b":[1e300,{"c":null}]}`)
	if _, err := j.Create(b); err != nil {
		t.Error(err)
	}
	text := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true})
	if r := imported(t, elsewhere(t), text, journal.ImportOptions{Format: journal.JSONLines}); r.New != 1 {
		t.Errorf("%+v", r)
	}
}

// brokenPipe fails after a few bytes, as a full disk or a closed pipe does.
type brokenPipe struct{ left int }

func (b *brokenPipe) Write(p []byte) (int, error) {
	if b.left -= len(p); b.left < 0 {
		return 0, errors.New("no room")
	}
	return len(p), nil
}

func TestExportThatCannotBeWritten(t *testing.T) {
	j := many(t, 300)
	for _, format := range []string{journal.CSV, journal.JSONLines} {
		if _, err := j.Export(&brokenPipe{20_000}, format, journal.Filter{}); fault.KindOf(err) != fault.Failure || fault.CureOf(err) == "" {
			t.Errorf("%s: got %v, want a failure with a cure", format, err)
		}
	}
	if _, err := j.Export(&brokenPipe{}, "parquet", journal.Filter{}); fault.KindOf(err) != fault.Usage {
		t.Errorf("an unknown format: %v", err)
	}
}
