package journal_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// everyCall makes each kind of call once and gives the errors by name. It adds
// up to two batches where the journal is sound.
func everyCall(j *journal.Journal) map[string]error {
	errs := map[string]error{}
	_, errs["create"] = j.Create(order(1))
	_, errs["log new"] = j.LogNew(order(1), journal.Result{Good: 1})
	_, errs["review"] = j.Review("2026-001", journal.Acknowledgement{Digest: order(1).Recipe.Digest})
	_, errs["dip"] = j.Dip("2026-001", journal.DipRecord{}, journal.Gate{})
	_, errs["log"] = j.Log("2026-001", journal.Result{Good: 1}, "", time.Time{})
	_, errs["add container"] = j.AddContainer(journal.Container{Substance: "soda", AmountG: 1})
	_, errs["use"] = j.Use(journal.Use{Container: "S-001", Grams: 1}, "", "")
	_, errs["shelf"] = j.Shelf("soda")
	_, errs["amend"] = j.Amend("2026-001", "good", "1", "counted again", "")
	_, errs["withdraw"] = j.Withdraw("2026-001", "never made", "")
	_, errs["get"] = j.Get("2026-001")
	_, errs["count"] = j.Count(journal.Filter{})
	_, errs["export"] = j.Export(&bytes.Buffer{}, journal.JSONLines, journal.Filter{})
	_, errs["sorted"] = j.Export(&bytes.Buffer{}, journal.CSV, journal.Filter{Sort: journal.SortRecipe})
	return errs
}

// filled gives the bytes in use of a sound journal with a few batches.
func filled(t testing.TB, batches int) []byte {
	t.Helper()
	j := journaltest.New(t)
	for range batches {
		if _, err := j.LogNew(order(48), journal.Result{Good: 46, Reject: 1}); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	used, err := journal.InUse(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	return data[:used] // without the room to grow, whose loss is none
}

func TestFilesThatAreNoJournal(t *testing.T) {
	sound := filled(t, 3)
	foreign := filepath.Join(t.TempDir(), "foreign")
	db, err := bolt.Open(foreign, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	stranger, err := os.ReadFile(foreign)
	if err != nil {
		t.Fatal(err)
	}
	oneHeader := bytes.Clone(sound)
	oneHeader[20] ^= 0xff
	for name, data := range map[string][]byte{
		"empty":             {},
		"one byte":          {0},
		"junk":              bytes.Repeat([]byte("junk and more junk\n"), 4000),
		"text":              []byte("title = \"Antique black\"\n"),
		"a foreign store":   stranger,
		"half":              sound[:len(sound)/2],
		"a page less":       sound[:len(sound)-os.Getpagesize()],
		"two pages":         sound[:8192],
		"first header gone": oneHeader,
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "hepar.journal")
			if err := os.WriteFile(path, data, 0o600); err != nil {
				t.Fatal(err)
			}
			j := journal.At(path, journal.Options{})
			for call, err := range everyCall(j) {
				if fault.KindOf(err) != fault.Damaged || fault.CureOf(err) == "" {
					t.Errorf("%s: got %v (%q), want it called damaged, with a cure", call, err, fault.CureOf(err))
				}
			}
			report, err := j.Verify()
			if err != nil || report.Sound() || fault.KindOf(report.Err()) != fault.Damaged {
				t.Errorf("verify: got %v and %+v, want findings", err, report)
			}
			if after, _ := os.ReadFile(path); !bytes.Equal(after, data) {
				t.Error("the file was changed")
			}
		})
	}
}

func TestPlacesThatHoldNoJournal(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	pipe := filepath.Join(dir, "pipe")
	if err := mkfifo(pipe); err != nil {
		t.Skip("no pipes here")
	}
	for name, path := range map[string]string{"a folder": dir, "below a file": filepath.Join(file, "hepar.journal"), "a pipe": pipe} {
		t.Run(name, func(t *testing.T) {
			for call, err := range everyCall(journal.At(path, journal.Options{})) {
				if fault.KindOf(err) != fault.Failure || fault.CureOf(err) == "" {
					t.Errorf("%s: got %v (%q), want a failure with a cure", call, err, fault.CureOf(err))
				}
			}
		})
	}
}

// Where there is no journal, a change of a batch and a question say so, and only
// a new batch makes one: in folders for the owner alone.
func TestMissingJournal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "share", "hepar", "hepar.journal")
	j := journaltest.Open(t, path, journal.Options{})
	if _, err := j.Get("2026-001"); !errors.Is(err, fs.ErrNotExist) || fault.CureOf(err) == "" {
		t.Errorf("get: %v", err)
	}
	if _, err := j.Withdraw("2026-001", "why", ""); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("withdraw: %v", err)
	}
	if there, err := j.Exists(); there || err != nil {
		t.Errorf("there = %v, %v after calls that make nothing", there, err)
	}
	if _, err := j.Create(order(1)); err != nil {
		t.Fatal(err)
	}
	for p, want := range map[string]os.FileMode{path: 0o600, filepath.Dir(path): 0o700, filepath.Dir(filepath.Dir(path)): 0o700} {
		if info, err := os.Stat(p); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v, %v; want mode %o", p, info.Mode(), err, want)
		}
	}
	left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"))
	if len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestNewerFormatIsLeftAlone(t *testing.T) {
	j := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{})
	if _, err := j.Create(order(1)); err != nil {
		t.Fatal(err)
	}
	if err := journal.RaiseFormat(j.Path()); err != nil {
		t.Fatal(err)
	}
	calls := everyCall(j)
	_, calls["verify"] = j.Verify()
	for call, err := range calls {
		if fault.KindOf(err) != fault.Failure || !strings.Contains(err.Error(), "newer") || !strings.Contains(fault.CureOf(err), "update") {
			t.Errorf("%s: got %v (%q)", call, err, fault.CureOf(err))
		}
	}
}
