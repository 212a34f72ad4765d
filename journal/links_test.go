//go:build unix

package journal_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// A journal that is reached through a symbolic link stays where it is, whatever
// takes its place; one that has two names is not exchanged under one of them.
func TestLinks(t *testing.T) {
	j := full(t)
	link := filepath.Join(t.TempDir(), "link.journal")
	if err := os.Symlink(j.Path(), link); err != nil {
		t.Skip("no links here:", err)
	}
	through := journal.At(link, journal.Options{})
	backup, err := through.Backup(t.TempDir(), journal.BackupOptions{})
	if err != nil {
		t.Fatal(err)
	}
	many := exportOf(t, large(t, 700), journal.JSONLines, journal.Filter{})
	for what, work := range map[string]func() error{
		"compact": func() error { _, err := through.Compact(); return err },
		"restore": func() error {
			_, err := through.Restore(backup.Path, journal.RestoreOptions{LoseEvents: true})
			return err
		},
		"import": func() error {
			_, err := through.Import(strings.NewReader(many), journal.ImportOptions{Format: journal.JSONLines})
			return err
		},
	} {
		if err := work(); err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		if info, err := os.Lstat(link); err != nil || info.Mode().Type() != os.ModeSymlink {
			t.Fatalf("%s: the link is no link any more: %v, %v", what, info, err)
		}
		if _, err := through.LogNew(order(3), journal.Result{Good: 3}); err != nil {
			t.Fatal(err)
		}
		mine, err1 := j.Count(journal.Filter{})
		theirs, err2 := through.Count(journal.Filter{})
		if err1 != nil || err2 != nil || mine != theirs {
			t.Errorf("%s: %d batches at the journal, %d through the link; %v, %v", what, mine, theirs, err1, err2)
		}
		journaltest.Sound(t, j)
	}

	second := filepath.Join(filepath.Dir(j.Path()), "second.journal")
	if err := os.Link(j.Path(), second); err != nil {
		t.Skip("no hard links here:", err)
	}
	if _, err := j.Compact(); fault.KindOf(err) != fault.Failure || !strings.Contains(err.Error(), "second name") {
		t.Errorf("a journal with two names was exchanged: %v", err)
	}
	if _, err := j.Merge(second, journal.MergeOptions{}); fault.KindOf(err) != fault.Usage {
		t.Errorf("a merge with itself under another name: %v", err)
	}
	if _, err := j.Merge(link, journal.MergeOptions{}); fault.KindOf(err) != fault.Usage {
		t.Errorf("a merge with itself through a link: %v", err)
	}
	if err := os.Rename(second, filepath.Join(filepath.Dir(j.Path()), "."+filepath.Base(j.Path())+".new-1")); err != nil {
		t.Fatal(err)
	}
	if _, err := j.Compact(); err != nil {
		t.Errorf("a name that was left by a process that was killed stops the work: %v", err)
	}
	if _, err := j.LogNew(order(3), journal.Result{Good: 3}); err != nil {
		t.Errorf("what stays in its place may be written to: %v", err)
	}
}
