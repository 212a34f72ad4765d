package journal_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/demo"
)

// The made-up workshop of the goals, and the shell that the journal is measured against.

// The rare things of the workshop: a lot, a waste container, and batches that were
// taken back, so that each index has something to find.
const (
	rareLot   = "K-2291"
	rareWaste = "Drum 7"
)

// makeWorkshop makes a journal of n batches, always the same.
func makeWorkshop(t testing.TB, dir string, n int) string {
	t.Helper()
	end := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
	made, err := demo.Write(dir, n, end, nil)
	if err != nil || made.Batches != n {
		t.Fatal(made, err)
	}
	j := journal.At(made.Journal, journal.Options{By: "Marek Oja", Now: func() time.Time { end = end.Add(time.Second); return end }})
	c, err := j.AddContainer(journal.Container{Substance: "liver of sulfur", Lot: rareLot, AmountG: 900_000})
	if err != nil {
		t.Fatal(err)
	}
	// Half of the batches are of 2025, with numbers that rise by one.
	step := max(1, n/2/500)
	for from := 1; from < n*2/5; from += 100 * step {
		if err := j.Update(func(w *journal.Writer) error {
			for k := from; k < min(from+100*step, n*2/5); k += step {
				number := fmt.Sprintf("2025-%03d", k)
				if _, err := w.Use(journal.Use{Container: c.Number, Grams: 1.5}, number, ""); err != nil {
					return err
				}
				if k/step%3 == 0 {
					if _, err := w.AddWaste(number, journal.Waste{VolumeL: 2, Container: rareWaste}); err != nil {
						return err
					}
				}
				if k/step%5 == 0 {
					if _, err := w.Withdraw(number, "counted twice", ""); err != nil {
						return err
					}
				}
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
	return made.Journal
}

// peerImport makes a table of the lines with the indexes that a journal has, in one
// durable transaction. The indexes are made when the lines are in, which is quicker
// than with each line.
const peerImport = `
PRAGMA synchronous=FULL;
PRAGMA cache_size=-64000;
BEGIN;
CREATE TABLE batch(line TEXT NOT NULL);
.mode ascii
.separator "\037" "\n"
.import %s batch
CREATE UNIQUE INDEX batch_id ON batch(json_extract(line,'$.id'));
CREATE INDEX batch_number ON batch(json_extract(line,'$.number'));
CREATE INDEX batch_recipe ON batch(json_extract(line,'$.recipe'));
CREATE INDEX batch_alloy ON batch(json_extract(line,'$.alloy'));
CREATE INDEX batch_state ON batch(json_extract(line,'$.state'));
CREATE TABLE tag(kind TEXT, value TEXT, batch INTEGER, PRIMARY KEY(kind,value,batch)) WITHOUT ROWID;
INSERT OR IGNORE INTO tag
  SELECT 'person', lower(json_extract(e.value,'$.by')), b.rowid FROM batch b, json_each(line,'$.events') e WHERE json_extract(e.value,'$.by')<>''
  UNION ALL SELECT 'cause', c.key, b.rowid FROM batch b, json_each(line,'$.causes') c WHERE json_extract(line,'$.state')='logged'
  UNION ALL SELECT 'result', 'rework', rowid FROM batch WHERE json_extract(line,'$.state')='logged' AND json_extract(line,'$.rework')>0
  UNION ALL SELECT 'result', 'reject', rowid FROM batch WHERE json_extract(line,'$.state')='logged' AND json_extract(line,'$.reject')>0
  UNION ALL SELECT 'lot', lower(json_extract(u.value,'$.lot')), b.rowid FROM batch b, json_each(line,'$.lots') u
  UNION ALL SELECT 'waste', lower(json_extract(u.value,'$.container')), b.rowid FROM batch b, json_each(line,'$.waste') u;
COMMIT;
`

// export writes all batches as JSON Lines, oldest first.
func (g *goals) export(path, to string) {
	g.Helper()
	export := func(watch bool) (float64, int64) {
		out, took, memory := g.watched(watch, "", "/bin/sh", "-c", `exec "$0" journal export --format jsonl --oldest --journal "$1" > "$2"`, g.hepar, path, to)
		_ = out
		return took, memory
	}
	took, memory := export(true)
	g.put("export", "-", "-", figure{ours: took, memory: memory, unit: "ms"})
}

// importing measures the import of all lines, and leaves the peer's table at db.
func (g *goals) importing(lines, again, db string, n int) {
	g.Helper()
	imported := func(watch bool) (float64, int64) {
		if err := os.RemoveAll(again); err != nil {
			g.Fatal(err)
		}
		_, took, memory := g.watched(watch, "", g.hepar, "journal", "import", lines, "--journal", again)
		return took, memory
	}
	f := pair(min(3, *goalRuns), func() float64 { took, _ := imported(false); return took }, func() float64 {
		if err := os.RemoveAll(db); err != nil {
			g.Fatal(err)
		}
		_, took := g.run(fmt.Sprintf(peerImport, lines), g.sqlite, "-bail", db)
		return took
	})
	_, f.memory = imported(true)
	if count, err := journal.At(again, journal.Options{}).Count(journal.Filter{}); count != n || err != nil {
		g.Fatalf("%d batches of %d, %v", count, n, err)
	}
	g.put("import of JSON Lines with all indexes", "sqlite3 shell, same lines, same indexes, durable", "1.5, better 1.0", f)
}

// lists measures the newest hundred by each index.
func (g *goals) lists(path, db string) {
	g.Helper()
	column := func(name, value string) string {
		return fmt.Sprintf("SELECT line FROM batch WHERE json_extract(line,'$.%s')='%s' ORDER BY rowid DESC LIMIT 100", name, value)
	}
	tag := func(kind, value string) string {
		return fmt.Sprintf("SELECT line FROM tag JOIN batch b ON b.rowid=tag.batch WHERE kind='%s' AND value='%s' ORDER BY tag.batch DESC LIMIT 100", kind, value)
	}
	for _, q := range []struct{ flag, value, sql string }{
		{"recipe", "silver-black", column("recipe", "silver-black")},
		{"alloy", "copper-c110", column("alloy", "copper-c110")},
		{"state", "withdrawn", column("state", "withdrawn")},
		{"result", "reject", tag("result", "reject")},
		{"cause", "scratched", tag("cause", "scratched")},
		{"person", "Runa Fern", tag("person", "runa fern")},
		{"lot", rareLot, tag("lot", strings.ToLower(rareLot))},
		{"waste", rareWaste, tag("waste", strings.ToLower(rareWaste))},
	} {
		args := []string{"journal", "list", "--" + q.flag, q.value, "--limit", "100", "--json", "--journal", path}
		ours, _, memory := g.watched(true, "", g.hepar, args...)
		theirs, _ := g.run(q.sql, g.sqlite, "-readonly", db)
		if ours != theirs || len(ours) == 0 {
			g.Fatalf("by %s: ours\n%.3000s\ntheirs\n%.3000s", q.flag, ours, theirs)
		}
		f := pair(*goalRuns*4, func() float64 { _, took := g.run("", g.hepar, args...); return took },
			func() float64 { _, took := g.run("", g.sqlite, "-readonly", db, q.sql); return took })
		f.memory = memory
		g.put("list 100 by "+q.flag, "sqlite3 shell, same rows, same index", "1.0", f)
	}
}

// sums measures the mean time in the bath by recipe.
func (g *goals) sums(path, db string) {
	g.Helper()
	args := []string{"journal", "sum", "--per", "recipe", "--json", "--journal", path}
	const sql = `SELECT json_extract(line,'$.recipe'), count(json_extract(line,'$.time_s')), avg(json_extract(line,'$.time_s'))
		FROM batch WHERE json_extract(line,'$.state')='logged' GROUP BY 1 ORDER BY 1`
	ours, _, memory := g.watched(true, "", g.hepar, args...)
	theirs, _ := g.run("", g.sqlite, "-readonly", db, sql)
	rows := strings.Split(strings.TrimSpace(theirs), "\n")
	decoder := json.NewDecoder(strings.NewReader(ours))
	for _, row := range rows {
		var v journal.GroupView
		if err := decoder.Decode(&v); err != nil {
			g.Fatal(err)
		}
		cells := strings.Split(row, "|")
		var mean float64
		if _, err := fmt.Sscan(cells[2], &mean); err != nil || v.TimeS == nil {
			g.Fatal(err, v)
		}
		if v.Key != cells[0] || fmt.Sprint(v.TimeS.Batches) != cells[1] || math.Abs(v.TimeS.Mean-mean) > 1e-9*mean {
			g.Fatalf("ours %s %d %v, theirs %s", v.Key, v.TimeS.Batches, v.TimeS.Mean, row)
		}
	}
	if decoder.More() || len(rows) != 5 {
		g.Fatalf("%d recipes in theirs; ours\n%s", len(rows), ours)
	}
	f := pair(*goalRuns, func() float64 { _, took := g.run("", g.hepar, args...); return took },
		func() float64 { _, took := g.run("", g.sqlite, "-readonly", db, sql); return took })
	f.memory = memory
	g.put("mean time in the bath by recipe", "sqlite3 shell, same rows as JSON text, json_extract", "0.5", f)
}

// sizeOf compares the file with the text of its batches.
func (g *goals) sizeOf(path, lines string, n int) {
	g.Helper()
	size := func(path string) float64 {
		info, err := os.Stat(path)
		if err != nil {
			g.Fatal(filepath.Base(path), err)
		}
		return float64(info.Size()) / float64(n)
	}
	used, err := journal.InUse(path)
	if err != nil {
		g.Fatal(err)
	}
	g.put("file per batch", "its line of JSON", "0.7", figure{ours: size(path), theirs: size(lines), unit: "B"})
	g.put("file in use per batch", "its line of JSON", "0.7", figure{ours: float64(used) / float64(n), theirs: size(lines), unit: "B"})
}
