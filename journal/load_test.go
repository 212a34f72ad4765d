package journal_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
)

// loadingPage takes the fenced blocks out of FORMAT.md that a comment names, so
// that what the page says is what is tried.
func loadingPage(t *testing.T) map[string]string {
	t.Helper()
	text, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := map[string]string{}
	for _, part := range strings.Split(string(text), "\n<!-- ")[1:] {
		name, rest, ok := strings.Cut(part, " -->\n```")
		_, rest, ok2 := strings.Cut(rest, "\n")
		block, _, ok3 := strings.Cut(rest, "\n```\n")
		if !ok || !ok2 || !ok3 || blocks[name] != "" {
			t.Fatalf("the block after the comment %q cannot be read", name)
		}
		blocks[name] = block + "\n"
	}
	return blocks
}

// laidOut writes the files that the page shows into a new folder.
func laidOut(t *testing.T, page map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, block := range page {
		if file, ok := strings.CutPrefix(name, "file: "); ok {
			write(t, dir, file, block)
		}
	}
	return dir
}

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// hostileTexts are texts that have led a loader astray: quotes, backslashes,
// what ends a COPY, what begins a formula, letters of many bytes.
func hostileTexts() []string {
	return []string{
		`he said "it's black"`, `C:\temp\new\table`, `\N`, `\`, `\\`, `"`, `""`, `'`, "a\ttab", "two\nlines", "a line of\n\\N\nalone", `\u0000 is words here`, `\x41\101`,
		"'); DROP TABLE batches; --", "$$", "$1", "NULL", "null", "{}", `{"json": [1, null]}`, "=SUM(A1:A9)", "+49 170", "-5", "@home", "'tis",
		"smørrebrød, žluť, 黒染め, 🐟🏴‍☠️, e\u0301", "a\u00a0space\u200band\ufeffmarks", "\U0010fffd", "comma,semicolon;pipe|", "%s %d", "<b>&amp;</b>", strings.Repeat("long ", 4000),
	}
}

// workshop gives a journal of some hundred batches, with every kind of event, the
// hostile texts in every place that takes a text, and batches that do not count.
func workshop(t *testing.T) *journal.Journal {
	t.Helper()
	clock := journaltest.NewClock(time.Date(2026, 3, 28, 8, 0, 0, 0, time.FixedZone("", 3600)))
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka Brandt", Now: clock.Now})
	history(t, j)
	book(t, j)
	recipes := []string{"antique-black-silver", "brown-copper", "blue-brass", "žluť"}
	err := j.Update(func(w *journal.Writer) error { // at once: each alone would be made durable
		for i := range 400 {
			clock.Add(7 * time.Hour)
			b := order(20 + i%7)
			b.Recipe.Slug = recipes[(i+i/5)%len(recipes)]
			r := journal.Result{Good: 15 + i%5, Rework: i % 3, Reject: i % 2, Shade: "brown"}
			if r.Rework+r.Reject > 0 && i%3 > 0 {
				r.Causes = map[string]int{"patchy": 1}
			}
			if i%4 > 0 {
				r.Temperature, r.Time = celsius(60+float64(i%97)/7), seconds(float64(i%31)+0.1)
			}
			done, err := w.LogNew(b, r)
			if err == nil && i%29 == 0 {
				_, err = w.Withdraw(done.Number, "counted twice", "")
			}
			if err != nil {
				return err
			}
		}
		for _, text := range hostileTexts() {
			clock.Add(time.Hour)
			b := order(9)
			b.Note = text
			if len(text) < 200 && !strings.ContainsAny(text, "\n\t") {
				b.By, b.Alloy, b.Shape, b.Recipe.Title = text, text, text, text
			}
			sheet := map[string]any{"text": text, "controls": "\x01\x02\x1f\x7f\u2028\u2029", "figures": []float64{1e300, -0.1, 1e-300}, "whole": 12345678901234567}
			var err error
			if b.Sheet, err = json.Marshal(sheet); err != nil {
				return err
			}
			done, err := w.LogNew(b, journal.Result{Good: 9, Note: text, Shade: b.By})
			if err == nil {
				_, err = w.Amend(done.Number, "note", "was: "+text, text, "")
			}
			if err != nil {
				return fmt.Errorf("%q: %w", text, err)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// table reads what a database printed as CSV, by the names of its columns.
func table(t *testing.T, text string) (rows []map[string]string) {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(all) == 0 {
		t.Fatalf("%v in %q", err, text)
	}
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// sumsAgree compares the sums by recipe of a database with those of the journal.
func sumsAgree(t *testing.T, j *journal.Journal, got []map[string]string) {
	t.Helper()
	groups, err := j.Sum(journal.Filter{State: journal.Logged}, journal.ByRecipe)
	if err != nil || len(groups) < 4 || len(got) != len(groups) {
		t.Fatalf("the journal has %d recipes, the database %d; %v", len(groups), len(got), err)
	}
	for i, g := range groups {
		row := got[i]
		whole := func(name string, want int) {
			if row[name] != strconv.Itoa(want) {
				t.Errorf("%s of %s: the database has %s, the journal %d", name, g.Key, row[name], want)
			}
		}
		if row["recipe"] != g.Key {
			t.Errorf("recipe %d is %q, want %q", i, row["recipe"], g.Key)
		}
		whole("batches", g.Logged)
		whole("pieces", g.Pieces)
		whole("spares", g.Spares)
		whole("good", g.Good)
		whole("rework", g.Rework)
		whole("reject", g.Reject)
		whole("measured_c", g.Celsius.N)
		whole("measured_s", g.Seconds.N)
		for name, want := range map[string]float64{"mean_c": g.Celsius.Mean, "mean_s": g.Seconds.Mean} {
			// Each adds floats in an order of its own.
			if x, err := strconv.ParseFloat(row[name], 64); err != nil || math.Abs(x-want) > 1e-12*want || want == 0 {
				t.Errorf("%s of %s: the database has %q, the journal %.17g", name, g.Key, row[name], want)
			}
		}
	}
}

// sameLines compares lines of JSON by what they say, in any order of the lines.
func sameLines(t *testing.T, got, want string, least int) {
	t.Helper()
	read := func(text string) map[string]any {
		all := map[string]any{}
		for line := range strings.Lines(text) {
			var v map[string]any
			if err := json.Unmarshal([]byte(line), &v); err != nil {
				t.Fatalf("%v in %s", err, line)
			}
			all[v["id"].(string)] = v
		}
		return all
	}
	g, w := read(got), read(want)
	if len(g) != len(w) || len(w) < least {
		t.Fatalf("%d lines came back of %d", len(g), len(w))
	}
	for id, v := range w {
		if !reflect.DeepEqual(g[id], v) {
			t.Errorf("%s came back as\n%v\nand was\n%v", id, g[id], v)
		}
	}
}

// shell does what a block of the page says, but for the calls of hepar itself,
// whose output the test has written.
func (p *postgres) shell(t *testing.T, dir, block string) (out string) {
	t.Helper()
	called := 0
	for line := range strings.Lines(block) {
		words := strings.Fields(line)
		if words[0] == "hepar" {
			continue
		}
		called++
		out = p.run(t, dir, nil, words[0], words[1:]...)
	}
	if called == 0 {
		t.Fatal("the page calls nothing")
	}
	return out
}

func (p *postgres) query(t *testing.T, sql string) string {
	t.Helper()
	return p.run(t, p.home, nil, "psql", "--no-psqlrc", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--quiet", "--no-align", "--tuples-only", "--command="+sql)
}

func TestLoadIntoPostgres(t *testing.T) {
	page := loadingPage(t)
	p := startPostgres(t)
	t.Log(p.bin)
	j := workshop(t)
	dir := laidOut(t, page)
	lines := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true})
	write(t, dir, "batches.jsonl", lines)
	p.shell(t, dir, page["shell: postgres"])

	sameLines(t, p.query(t, "SELECT line::text FROM batches"), lines, 400)
	sums := func() string {
		return p.run(t, dir, nil, "psql", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--quiet", "--csv", "--file=sums.sql")
	}
	tables := regroup(sums())
	if len(tables) != 3 {
		t.Fatalf("the page asks for %d tables", len(tables))
	}
	sumsAgree(t, j, table(t, tables[0]))
	causesAgree(t, j, table(t, tables[1]))
	lotsAgree(t, j, "K-717", table(t, tables[2]))
	columnsAgree(t, j, table(t, p.run(t, dir, nil, "psql", "--dbname=workshop", "--csv",
		"--command=SELECT id, number, extract(epoch FROM created)*1000 AS created, extract(epoch FROM logged)*1000 AS logged, person, alloy, note, shade FROM batch")))

	t.Run("spreadsheet", func(t *testing.T) {
		text := exportOf(t, j, journal.CSV, journal.Filter{})
		write(t, dir, "batches.csv", text)
		p.shell(t, dir, page["shell: postgres csv"])
		got := table(t, p.run(t, dir, nil, "psql", "--dbname=workshop", "--csv",
			`--command=SELECT id, note, "order", "good (pieces)" AS good, "temperature (C)" AS celsius, lots, signed_off_by FROM spreadsheet ORDER BY id`))
		want := table(t, strings.ReplaceAll(text, "\r\n", "\n"))
		slices.SortFunc(want, func(a, b map[string]string) int { return strings.Compare(a["id"], b["id"]) })
		if len(got) != len(want) {
			t.Fatalf("%d rows came back of %d", len(got), len(want))
		}
		for i, w := range want {
			for ours, theirs := range map[string]string{"note": "note", "order": "order", "good (pieces)": "good", "temperature (C)": "celsius", "lots": "lots", "signed_off_by": "signed_off_by"} {
				if back := got[i][theirs]; back != w[ours] {
					t.Errorf("%s of %s is %q, want %q", ours, w["id"], back, w[ours])
				}
			}
		}
	})

	var shelf strings.Builder
	if _, err := j.ExportContainers(&shelf, journal.JSONLines, journal.ContainerFilter{Empty: true}); err != nil {
		t.Fatal(err)
	}
	write(t, dir, "containers.jsonl", shelf.String())
	write(t, dir, "shelf.sql", strings.ReplaceAll(page["file: load.sql"], "batches", "containers"))
	p.run(t, dir, nil, "psql", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--file=shelf.sql")
	sameLines(t, p.query(t, "SELECT line::text FROM containers"), shelf.String(), 2)

	// A later export takes the place of what was there, and nothing is there twice.
	for b, err := range j.List(journal.Filter{State: journal.Logged, Limit: 1}) {
		if err == nil {
			_, err = j.Amend(b.Number, "good", "8", "one was chipped", "")
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if _, err := j.LogNew(order(30), journal.Result{Good: 30, Temperature: celsius(71), Note: "a line of\n\\.\nalone"}); err != nil {
		t.Fatal(err)
	}
	lines = exportOf(t, j, journal.JSONLines, journal.Filter{})
	write(t, dir, "batches.jsonl", lines)
	p.run(t, dir, nil, "psql", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--file=load.sql")
	p.query(t, "REFRESH MATERIALIZED VIEW batch")
	sameLines(t, p.query(t, "SELECT line::text FROM batches"), lines, 400)
	sumsAgree(t, j, table(t, regroup(sums())[0]))

	// What ends a table too early for some versions is an error, and never half a table.
	text := exportOf(t, j, journal.CSV, journal.Filter{})
	write(t, dir, "batches.csv", text)
	p.query(t, "TRUNCATE spreadsheet")
	load := page["file: table.sql"]
	write(t, dir, "copy.sql", load[strings.Index(load, `\copy`):])
	out, err := p.command(t.Context(), dir, "psql", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--file=copy.sql").CombinedOutput()
	rows, want := p.query(t, "SELECT count(*) FROM spreadsheet"), strconv.Itoa(len(table(t, text)))+"\n"
	if err == nil && rows != want || err != nil && (rows != "0\n" || !strings.Contains(string(out), "unterminated")) {
		t.Errorf("%s rows of %s: %v, %s", rows, want, err, out)
	}
	t.Logf("a note with a line of a backslash and a point, in a table: %v", err)

	// A file with a line that is none changes nothing.
	write(t, dir, "batches.jsonl", lines[:len(lines)-20])
	before := p.query(t, "SELECT count(*), max(line->>'id') FROM batches")
	broken := p.command(t.Context(), dir, "psql", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--file=load.sql")
	if out, err := broken.CombinedOutput(); err == nil || !strings.Contains(string(out), "json") {
		t.Errorf("a cut file: %v, %s", err, out)
	}
	if after := p.query(t, "SELECT count(*), max(line->>'id') FROM batches"); after != before {
		t.Errorf("after a cut file there is %s, before %s", after, before)
	}
}

// regroup tells the tables apart that were printed one after another: each begins
// with a row of names, of which the first is one of these.
func regroup(text string) (tables []string) {
	for line := range strings.SplitAfterSeq(text, "\n") {
		if strings.HasPrefix(line, "recipe,") || strings.HasPrefix(line, "number,") {
			tables = append(tables, "")
		}
		if len(tables) > 0 {
			tables[len(tables)-1] += line
		}
	}
	return tables
}

func causesAgree(t *testing.T, j *journal.Journal, rows []map[string]string) {
	t.Helper()
	groups, err := j.Sum(journal.Filter{}, journal.ByRecipe)
	if err != nil {
		t.Fatal(err)
	}
	got, want := map[string]string{}, map[string]string{}
	for _, row := range rows {
		got[row["recipe"]+" "+row["cause"]] = row["pieces"]
	}
	for _, g := range groups {
		for cause, n := range g.Causes {
			want[g.Key+" "+cause] = strconv.Itoa(n)
		}
	}
	if !reflect.DeepEqual(got, want) || len(want) == 0 {
		t.Errorf("causes: the database has %v, the journal %v", got, want)
	}
}

func lotsAgree(t *testing.T, j *journal.Journal, lot string, rows []map[string]string) {
	t.Helper()
	var got, want []string
	for _, row := range rows {
		got = append(got, fmt.Sprintf("%s %s %s", row["number"], row["container"], row["grams"]))
	}
	for b, err := range j.List(journal.Filter{Lot: lot, Reverse: true}) {
		if err != nil {
			t.Fatal(err)
		}
		for _, u := range b.Lots {
			if u.Lot == lot {
				want = append(want, fmt.Sprintf("%s %s %g", b.Number, u.Container, float64(u.Grams)))
			}
		}
	}
	if !slices.Equal(got, want) || len(want) < 3 {
		t.Errorf("lot %s: the database has %q, the journal %q", lot, got, want)
	}
}

// columnsAgree compares typed columns with the batches, times as milliseconds.
func columnsAgree(t *testing.T, j *journal.Journal, rows []map[string]string) {
	t.Helper()
	byID := map[string]map[string]string{}
	for _, row := range rows {
		byID[row["id"]] = row
	}
	n := 0
	for b, err := range j.List(journal.Filter{}) {
		if err != nil {
			t.Fatal(err)
		}
		n++
		row, want := byID[b.ID], map[string]string{"number": b.Number, "person": b.By, "alloy": b.Alloy, "logged": "", "note": "", "shade": ""}
		want["created"] = strconv.FormatInt(b.Created.UnixMilli(), 10)
		if b.Result != nil {
			want["note"], want["shade"], want["logged"] = b.Result.Note, b.Result.Shade, strconv.FormatInt(b.Logged.UnixMilli(), 10)
		}
		for name, w := range want {
			got := row[name]
			if name == "created" || name == "logged" {
				got, _, _ = strings.Cut(got, ".")
			}
			if got != w {
				t.Errorf("%s of %s: the database has %q, the journal %q", name, b.Number, got, w)
			}
		}
	}
	if n != len(rows) {
		t.Errorf("the database has %d rows, the journal %d batches", len(rows), n)
	}
}
