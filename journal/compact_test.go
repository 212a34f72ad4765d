package journal_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

func TestCompact(t *testing.T) {
	j := journaltest.New(t)
	for range 30 {
		history(t, j)
	}
	// Make room that nothing uses: a bucket that comes and goes.
	for _, fn := range []func(tx *bolt.Tx) error{
		func(tx *bolt.Tx) error {
			b, err := tx.CreateBucket([]byte("ballast"))
			if err != nil {
				return err
			}
			return b.Put([]byte("x"), make([]byte, 4<<20))
		},
		func(tx *bolt.Tx) error { return tx.DeleteBucket([]byte("ballast")) },
	} {
		if err := journal.Tamper(j.Path(), fn); err != nil {
			t.Fatal(err)
		}
	}
	before, want := verified(t, j), everything(t, j)
	report, err := j.Compact()
	if err != nil {
		t.Fatal(err)
	}
	after := verified(t, j)
	if report.Before != before.Bytes || report.After != after.Bytes || after.Bytes >= before.Bytes-4<<20 {
		t.Errorf("from %d to %d bytes; the report says %+v", before.Bytes, after.Bytes, report)
	}
	// A second time there is nothing to gain, and nothing grows.
	again, err := j.Compact()
	if err != nil || again.After > report.After {
		t.Errorf("again: %v, %+v after %+v", err, again, report)
	}
	backup, err := j.Backup(t.TempDir(), journal.BackupOptions{})
	if err != nil || again.After > backup.Bytes+64<<10 {
		t.Errorf("%v; compacted it has %d bytes and its backup %d", err, again.After, backup.Bytes)
	}
	if after.Head != before.Head || after.ID != before.ID || report.Head != before.Head || everything(t, j) != want {
		t.Error("it is another journal now")
	}
	if left := names(t, filepath.Dir(j.Path())); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
	if _, err := j.Create(order(1)); err != nil {
		t.Error(err)
	}
}

func verified(t testing.TB, j *journal.Journal) journal.Report {
	t.Helper()
	report, err := j.Verify()
	if err != nil || !report.Sound() {
		t.Fatalf("%v, %+v", err, report)
	}
	return report
}

// Two writers go on while the journal is compacted over and over.
func TestCompactWhileOthersWrite(t *testing.T) {
	j := journaltest.New(t)
	history(t, j)
	a, b := startChild(t, "log", j.Path(), 40), startChild(t, "log", j.Path(), 40)
	compacted := 0
	for range 5 {
		if _, err := j.Compact(); err == nil {
			compacted++
		} else if fault.KindOf(err) != fault.Busy {
			t.Fatal(err)
		}
	}
	planned := 0
	for _, c := range []*child{a, b} {
		for line, err := c.out.ReadString('\n'); err == nil; line, err = c.out.ReadString('\n') {
			if strings.HasPrefix(line, "planned") {
				planned++
			}
		}
		if err := c.Wait(); err != nil {
			t.Errorf("a writer failed: %v: %s", err, c.err)
		}
	}
	if _, err := j.Compact(); err != nil {
		t.Error(err)
	}
	if n, err := j.Count(journal.Filter{}); err != nil || planned != 80 || n != planned+5 {
		t.Errorf("%d batches, %v; %d were acknowledged and there were 5", n, err, planned)
	}
	t.Logf("compacted %d times meanwhile", compacted)
}

func TestCompactRefusesDamage(t *testing.T) {
	for name, fn := range map[string]func(tx *bolt.Tx) error{
		"a record": func(tx *bolt.Tx) error {
			b := tx.Bucket([]byte("batches"))
			k, v := first(b)
			v[len(v)/2] ^= 1
			return b.Put(k, v)
		},
		"an event gone": func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("events")).Delete([]byte{0, 0, 0, 0, 0, 0, 0, 5})
		},
	} {
		t.Run(name, func(t *testing.T) {
			j := tampered(t, fn)
			before, err := os.ReadFile(j.Path())
			if err != nil {
				t.Fatal(err)
			}
			if _, err := j.Compact(); fault.KindOf(err) != fault.Damaged || fault.CureOf(err) == "" || strings.Contains(err.Error(), ".new-") {
				t.Errorf("got %v", err)
			}
			if after, _ := os.ReadFile(j.Path()); string(after) != string(before) {
				t.Error("the file was changed")
			}
		})
	}
}
