package journal_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// playFullDisk logs until the limit on the size of a file, which stands in for a
// full disk, stops it. It ends well if the error is clear and a read still works.
func playFullDisk(j *journal.Journal) error {
	if err := j.Init(); err != nil {
		return err
	}
	limit := syscall.Rlimit{Cur: 256 << 10, Max: 256 << 10}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	for n := 0; ; n++ {
		big := order(48)
		big.Note = strings.Repeat(fmt.Sprintf("entry %d; ", n), 500)
		if n > 1000 {
			return errors.New("the limit was never reached")
		}
		if _, err := j.Create(big); err == nil {
			fmt.Println("kept", n)
		} else if fault.KindOf(err) != fault.Failure || !strings.Contains(err.Error(), "disk is full") || fault.CureOf(err) == "" {
			return fmt.Errorf("the error is not clear: %w", err)
		} else {
			break
		}
	}
	_, err := j.Get("2026-001")
	if err != nil && fault.KindOf(err) != fault.Usage { // Usage: the year is another
		return err
	}
	return nil
}

func TestFullDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hepar.journal")
	j := journaltest.Open(t, path, journal.Options{})
	c := startChild(t, "full", path, 0)
	kept := 0
	for line, err := c.out.ReadString('\n'); err == nil; line, err = c.out.ReadString('\n') {
		if strings.HasPrefix(line, "kept") {
			kept++
		}
	}
	if err := c.Wait(); err != nil {
		t.Fatalf("%v: %s", err, c.err)
	}
	n, err := j.Count(journal.Filter{})
	if err != nil || n != kept || kept == 0 {
		t.Errorf("there are %d batches, %v; want the %d that were acknowledged", n, err, kept)
	}
	// With room again it goes on.
	if _, err := j.Create(order(1)); err != nil {
		t.Errorf("after the disk was full: %v", err)
	}
}

// playNobody tries to read and to write as a user who has no right to.
func playNobody(j *journal.Journal) error {
	const nobody = 65534
	if os.Getuid() == 0 {
		if err := syscall.Setuid(nobody); err != nil {
			return err
		}
	}
	report := func(what string, err error) {
		fmt.Printf("%s: %d: %v | %s\n", what, fault.KindOf(err), err, fault.CureOf(err))
	}
	_, err := j.Count(journal.Filter{})
	report("read", err)
	_, err = j.Create(order(1))
	report("write", err)
	return nil
}

func TestNoRight(t *testing.T) {
	for name, c := range map[string]struct {
		mode os.FileMode
		want []string
	}{
		"not to read":  {0o000, []string{"read: 0: ", "may not be read", "write: 0: ", "may not be written"}},
		"not to write": {0o444, []string{"read: 0: <nil>", "write: 0: ", "may not be written"}},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "hepar.journal")
			j := journaltest.Open(t, path, journal.Options{})
			if _, err := j.Create(order(1)); err != nil {
				t.Fatal(err)
			}
			// The other user must be able to get as far as the file.
			for _, folder := range []string{dir, filepath.Dir(dir)} {
				if err := os.Chmod(folder, 0o755); err != nil {
					t.Fatal(err)
				}
			}
			if err := os.Chmod(path, c.mode); err != nil {
				t.Fatal(err)
			}
			defer os.Chmod(path, 0o600)
			other := startChild(t, "nobody", path, 0)
			var out strings.Builder
			for line, err := other.out.ReadString('\n'); err == nil; line, err = other.out.ReadString('\n') {
				out.WriteString(line)
			}
			if err := other.Wait(); err != nil {
				t.Fatalf("%v: %s", err, other.err)
			}
			for _, want := range c.want {
				if !strings.Contains(out.String(), want) {
					t.Errorf("it said\n%swant %q in it", out.String(), want)
				}
			}
		})
	}
}
