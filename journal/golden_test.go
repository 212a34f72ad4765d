package journal_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
)

// Only to be set for a format that has none yet: a golden file is never made anew.
var makeGolden = flag.Bool("make-golden", false, "make the golden journal of the present format if there is none")

// golden gives a copy of the golden journal of a format, with what it must tell.
func golden(t testing.TB, name string) (path string, lines []byte) {
	t.Helper()
	packed, err := os.Open(filepath.Join("testdata", name+".journal.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	unpacked, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(unpacked)
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "hepar.journal")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if lines, err = os.ReadFile(filepath.Join("testdata", name+".jsonl")); err != nil {
		t.Fatal(err)
	}
	return path, lines
}

// A journal of every format there ever was is read for ever: an older one after
// the upgrade, and then it tells what it told the program that wrote it.
func TestGoldenJournals(t *testing.T) {
	if *makeGolden {
		writeGolden(t, filepath.Join("testdata", fmt.Sprintf("format%d", journal.FileFormat)))
	}
	for format := 1; format <= journal.FileFormat; format++ {
		name := fmt.Sprintf("format%d", format)
		t.Run(name, func(t *testing.T) {
			path, want := golden(t, name)
			j := journaltest.Open(t, path, journal.Options{By: "Uwe Stern"})
			if report, err := j.Upgrade(); err != nil || report.From != format {
				t.Fatalf("%+v, %v", report, err)
			}
			var got bytes.Buffer
			if _, err := j.Export(&got, journal.JSONLines, journal.Filter{Frozen: true, Reverse: true}); err != nil {
				t.Fatal(err)
			}
			if format == journal.FileFormat && !bytes.Equal(got.Bytes(), want) {
				t.Errorf("got\n%s\nwant\n%s", got.Bytes(), want)
			}
			tellsAsMuch(t, got.Bytes(), want)
			if c, err := j.Container("S-001"); err != nil || c.LeftG != 237.2 || len(c.Events) != 6 {
				t.Errorf("container %+v, %v", c, err)
			}
			if _, err := j.Amend("2026-003", "shade", "blue-black", "seen by daylight", "Tomas Reh"); err != nil {
				t.Errorf("it cannot be written on: %v", err)
			}
		})
	}
}

// tellsAsMuch checks that the lines of an export say all that those of an older
// program said. They may say more.
func tellsAsMuch(t *testing.T, got, want []byte) {
	t.Helper()
	read := func(data []byte) (all []any) {
		for line := range bytes.Lines(data) {
			var v any
			if err := json.Unmarshal(line, &v); err != nil {
				t.Fatal(err)
			}
			all = append(all, v)
		}
		return all
	}
	said := 0
	var compare func(where string, got, want any)
	compare = func(where string, got, want any) {
		switch want := want.(type) {
		case map[string]any:
			have, _ := got.(map[string]any)
			for key := range want {
				compare(where+"."+key, have[key], want[key])
			}
		case []any:
			have, _ := got.([]any)
			if len(have) != len(want) {
				t.Errorf("%s has %d items, want %d", where, len(have), len(want))
				return
			}
			for i := range want {
				compare(fmt.Sprintf("%s[%d]", where, i), have[i], want[i])
			}
		default:
			said++
			if text, ok := want.(string); ok {
				if at, err := time.Parse(time.RFC3339Nano, text); err == nil { // times are told in whole milliseconds since format 2
					want = at.Truncate(time.Millisecond).Format(time.RFC3339Nano)
				}
			}
			if got != want {
				t.Errorf("%s is %v, want %v", where, got, want)
			}
		}
	}
	compare("line", read(got), read(want))
	if said < 100 {
		t.Errorf("only %d values were compared", said)
	}
}

func writeGolden(t *testing.T, name string) {
	t.Helper()
	clock := journaltest.NewClock(time.Date(2026, 3, 9, 8, 15, 0, 0, time.FixedZone("", 3600)))
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{
		By: "Ilka Brandt", Now: func() time.Time { clock.Add(time.Minute); return clock.Now() },
	})
	history(t, j)
	book(t, j)
	past := order(12)
	past.Created, past.Sheet, past.Recipe.Text = time.Date(2024, 11, 5, 14, 0, 0, 0, time.FixedZone("", 3600)), nil, ""
	if _, err := j.LogNew(past, journal.Result{Good: 11, Reject: 1, Temperature: celsius(71.5), Time: seconds(9), Shade: "übergang", Note: "two\nlines"}); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	if _, err := w.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	var lines bytes.Buffer
	if _, err := j.Export(&lines, journal.JSONLines, journal.Filter{Frozen: true, Reverse: true}); err != nil {
		t.Fatal(err)
	}
	for path, data := range map[string][]byte{name + ".journal.gz": packed.Bytes(), name + ".jsonl": lines.Bytes()} {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := file.Write(data); err != nil {
			t.Fatal(err)
		}
		if err := file.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
