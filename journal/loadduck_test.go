package journal_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"hepar/journal"
)

func TestLoadIntoDuckDB(t *testing.T) {
	page := loadingPage(t)
	program, err := exec.LookPath("duckdb")
	if err != nil {
		t.Skip("DuckDB is not installed: the loading of an export into it was not tried")
	}
	j := workshop(t)
	dir := laidOut(t, page)
	lines := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true})
	write(t, dir, "batches.jsonl", lines)
	ask := func(sql string) (rows []map[string]any) {
		ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
		defer cancel()
		cmd := exec.CommandContext(ctx, program, "-json", "workshop.duckdb")
		cmd.Dir, cmd.Stdin, cmd.WaitDelay = dir, strings.NewReader(sql), 5*time.Second
		var wrong bytes.Buffer
		cmd.Stderr = &wrong
		out, err := cmd.Output()
		if err != nil || len(out) > 0 && json.Unmarshal(out, &rows) != nil {
			t.Fatalf("%s: %v\n%s%s", sql, err, out, wrong.String())
		}
		return rows
	}
	ask(page["file: duck.sql"])
	var sums []map[string]string
	for _, row := range ask(page["file: ducksums.sql"]) {
		texts := map[string]string{}
		for name, x := range row {
			if f, ok := x.(float64); ok {
				x = strconv.FormatFloat(f, 'f', -1, 64)
			}
			texts[name] = fmt.Sprint(x)
		}
		sums = append(sums, texts)
	}
	sumsAgree(t, j, sums)
	var back strings.Builder
	for _, row := range ask("SELECT CAST(json AS VARCHAR) AS line FROM read_ndjson_objects('batches.jsonl');\n") {
		back.WriteString(row["line"].(string) + "\n")
	}
	sameLines(t, back.String(), lines, 400)
	var rows []map[string]string
	for _, row := range ask(`SELECT id, number, CAST(epoch_ms(created) AS VARCHAR) AS created, CAST(epoch_ms(logged) AS VARCHAR) AS logged, "by" AS person, alloy, note, shade FROM batches;` + "\n") {
		texts := map[string]string{}
		for name, x := range row {
			if texts[name] = ""; x != nil {
				texts[name] = x.(string)
			}
		}
		rows = append(rows, texts)
	}
	columnsAgree(t, j, rows)
}
