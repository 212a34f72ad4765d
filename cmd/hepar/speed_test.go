package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

var speedBatches = flag.Int("speed", 0, "measure whole commands over a journal of so many batches")

// TestSpeed measures whole processes in pairs, ours and another in turn, and prints
// the ratios: go test ./cmd/hepar -run Speed -v -args -speed 100000. It is no timed
// test: it fails only if the two sides do not answer alike.
func TestSpeed(t *testing.T) {
	if *speedBatches == 0 {
		t.Skip("a long run: add -args -speed 100000")
	}
	sqlite, err := exec.LookPath("sqlite3")
	if err != nil {
		t.Skip("the sqlite3 shell is not here")
	}
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	do := func(name string, args ...string) string {
		t.Helper()
		out, err := exec.Command(name, args...).Output()
		if err != nil {
			var exit *exec.ExitError
			if e, ok := err.(*exec.ExitError); ok {
				exit = e
				t.Fatalf("%s %v: %v\n%s", name, args, err, exit.Stderr)
			}
			t.Fatalf("%s %v: %v", name, args, err)
		}
		return string(out)
	}
	if err := os.WriteFile(at("empty.go"), []byte("package main\n\nfunc main() {}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("CGO_ENABLED", "0") // as in the README and in .ci/run
	do("go", "build", "-trimpath", "-ldflags=-s -w", "-o", at("empty"), at("empty.go"))
	do("go", "build", "-trimpath", "-ldflags=-s -w", "-tags", "urfave_cli_no_docs", "-o", at("hepar"), ".")
	do(at("hepar"), "demo", at("shop"), "--batches", fmt.Sprint(*speedBatches))
	journal := at("shop/journal.db")
	lines := do(at("hepar"), "journal", "list", "--json", "--journal", journal)
	if err := os.WriteFile(at("rows.jsonl"), []byte(lines), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at("load.sql"), []byte(`PRAGMA journal_mode=WAL;
CREATE TABLE lines(line TEXT);
.mode ascii
.separator "\001" "\n"
.import `+at("rows.jsonl")+` lines
CREATE TABLE batch(id TEXT PRIMARY KEY, recipe TEXT, alloy TEXT, line TEXT) WITHOUT ROWID;
INSERT INTO batch SELECT json_extract(line,'$.id'), json_extract(line,'$.recipe'), json_extract(line,'$.alloy'), line FROM lines;
DROP TABLE lines;
CREATE INDEX by_recipe ON batch(recipe, id);
CREATE INDEX by_alloy ON batch(alloy, id);
`), 0o600); err != nil {
		t.Fatal(err)
	}
	load := exec.Command(sqlite, at("rows.db"))
	load.Stdin = bytes.NewReader([]byte(".read " + at("load.sql") + "\n"))
	if out, err := load.CombinedOutput(); err != nil {
		t.Fatalf("load: %v\n%s", err, out)
	}
	numbers := func(text string) (out []string) {
		for line := range strings.Lines(text) {
			var b struct{ Number string }
			if err := json.Unmarshal([]byte(line), &b); err != nil {
				t.Fatalf("%v: %.200s", err, line)
			}
			out = append(out, b.Number)
		}
		return out
	}
	for _, pair := range []struct {
		what, goal  string
		ours, other []string
		alike       bool
	}{
		{"--version / an empty program", "2", []string{at("hepar"), "--version"}, []string{at("empty")}, false},
		{"prepare / an empty program", "3", []string{at("hepar"), "prepare", "silver-black", "--pieces", "60", "--alloy", "sterling-925", "--shape", "disc",
			"--diameter", "24mm", "--thickness", "1.6mm", "--vessel", "200x140x90mm"}, []string{at("empty")}, false},
		{"list 100 by recipe / sqlite3", "1.5", []string{at("hepar"), "journal", "list", "--json", "--recipe", "silver-black", "--limit", "100", "--journal", journal},
			[]string{sqlite, at("rows.db"), "SELECT line FROM batch WHERE recipe='silver-black' ORDER BY id DESC LIMIT 100"}, true},
		{"list 100 by metal / sqlite3", "1.5", []string{at("hepar"), "journal", "list", "--json", "--alloy", "fine-999", "--limit", "100", "--journal", journal},
			[]string{sqlite, at("rows.db"), "SELECT line FROM batch WHERE alloy='fine-999' ORDER BY id DESC LIMIT 100"}, true},
		{"sum by recipe / sqlite3 json_extract", "1.0", []string{at("hepar"), "journal", "sum", "--json", "--per", "recipe", "--journal", journal},
			[]string{sqlite, at("rows.db"), "SELECT recipe, count(*), sum(json_extract(line,'$.pieces')), sum(json_extract(line,'$.good')), sum(json_extract(line,'$.rework')), sum(json_extract(line,'$.reject')), avg(json_extract(line,'$.temperature_c')), avg(json_extract(line,'$.time_s')) FROM batch GROUP BY recipe"}, false},
		{"verify / sha256 of the file", "25", []string{at("hepar"), "journal", "verify", "--journal", journal}, []string{"sha256sum", journal}, false},
	} {
		var ratios, mine, theirs []float64
		for i := range 8 {
			start := time.Now()
			a := do(pair.ours[0], pair.ours[1:]...)
			mid := time.Now()
			b := do(pair.other[0], pair.other[1:]...)
			end := time.Now()
			if i == 0 { // a warm-up, in which the answers are compared
				if pair.alike && !slices.Equal(numbers(a), numbers(b)) {
					t.Errorf("%s: the answers differ", pair.what)
				}
				continue
			}
			mine, theirs = append(mine, mid.Sub(start).Seconds()), append(theirs, end.Sub(mid).Seconds())
			ratios = append(ratios, mid.Sub(start).Seconds()/end.Sub(mid).Seconds())
		}
		slices.Sort(ratios)
		slices.Sort(mine)
		slices.Sort(theirs)
		t.Logf("%-40s %6.2f (%.2f to %.2f)  %8.1f ms / %8.1f ms  goal %s", pair.what, ratios[len(ratios)/2], ratios[0], ratios[len(ratios)-1],
			mine[len(mine)/2]*1000, theirs[len(theirs)/2]*1000, pair.goal)
	}
}
