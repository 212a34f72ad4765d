package journal_test

import (
	"bytes"
	"compress/gzip"
	"flag"
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

// A journal of every format there ever was is read for ever.
func TestGoldenJournals(t *testing.T) {
	if *makeGolden {
		writeGolden(t, filepath.Join("testdata", "format1"))
	}
	files, err := filepath.Glob(filepath.Join("testdata", "format*.journal.gz"))
	if err != nil || len(files) != 1 {
		t.Fatalf("%d golden journals, %v; want 1", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			packed, err := os.Open(file)
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
			path := filepath.Join(t.TempDir(), "hepar.journal")
			if err := os.WriteFile(path, data, 0o600); err != nil {
				t.Fatal(err)
			}
			j := journaltest.Open(t, path, journal.Options{})
			var got bytes.Buffer
			if _, err := j.Export(&got, journal.JSONLines, journal.Filter{Frozen: true, Reverse: true}); err != nil {
				t.Fatal(err)
			}
			want, err := os.ReadFile(file[:len(file)-len(".journal.gz")] + ".jsonl")
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got.Bytes(), want) {
				t.Errorf("got\n%s\nwant\n%s", got.Bytes(), want)
			}
			if c, err := j.Container("S-001"); err != nil || c.LeftG != 237.2 || len(c.Events) != 6 {
				t.Errorf("container %+v, %v", c, err)
			}
			if _, err := j.Amend("2026-003", "shade", "blue-black", "seen by daylight", "Tomas Reh"); err != nil {
				t.Errorf("it cannot be written on: %v", err)
			}
		})
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
