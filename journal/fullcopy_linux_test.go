package journal_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// copyCalls are the calls that write a copy of the journal.
func copyCalls(j *journal.Journal) map[string]error {
	dir := filepath.Dir(j.Path())
	errs := map[string]error{}
	_, errs["backup"] = j.Backup("", journal.BackupOptions{})
	_, errs["compact"] = j.Compact()
	_, errs["restore"] = j.Restore(filepath.Join(dir, "elsewhere", "from.backup"), journal.RestoreOptions{LoseEvents: true})
	_, errs["salvage"] = j.Salvage(filepath.Join(dir, "salvaged.journal"))
	// So many are taken over on a copy beside.
	_, errs["merge"] = j.Merge(filepath.Join(dir, "elsewhere", "many.journal"), journal.MergeOptions{})
	lines, err := os.Open(filepath.Join(dir, "elsewhere", "many.jsonl"))
	if err != nil {
		errs["import"] = err
		return errs
	}
	defer lines.Close()
	_, errs["import"] = j.Import(lines, journal.ImportOptions{Format: journal.JSONLines, Source: "many.jsonl"})
	return errs
}

// playCopies makes copies where there is no room or no right to, as the
// environment has it.
func playCopies(j *journal.Journal) error {
	if limit := os.Getenv(limitVariable); limit != "" {
		var bytes uint64
		if _, err := fmt.Sscan(limit, &bytes); err != nil {
			return err
		}
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: bytes, Max: bytes}); err != nil {
			return err
		}
	} else if os.Getuid() == 0 {
		if err := syscall.Setuid(65534); err != nil {
			return err
		}
	}
	for call, err := range copyCalls(j) {
		fmt.Printf("%s: %d: %v | %s\n", call, fault.KindOf(err), err, fault.CureOf(err))
	}
	return nil
}

const limitVariable = "HEPAR_JOURNAL_TEST_LIMIT"

// toCopy gives a journal with a backup elsewhere, to restore from.
func toCopy(t *testing.T, dir string) *journal.Journal {
	t.Helper()
	j := journaltest.Open(t, filepath.Join(dir, "hepar.journal"), journal.Options{})
	for range 12 {
		history(t, j)
	}
	report, err := j.Backup(filepath.Join(dir, "elsewhere"), journal.BackupOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(report.Path, filepath.Join(dir, "elsewhere", "from.backup")); err != nil {
		t.Fatal(err)
	}
	many := large(t, 600)
	if err := os.WriteFile(filepath.Join(dir, "elsewhere", "many.jsonl"), []byte(everything(t, many)), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "elsewhere", "many.journal"), bytesOf(t, many.Path()), 0o644); err != nil {
		t.Fatal(err)
	}
	history(t, j)
	return j
}

// failed makes sure that calls failed clearly, left nothing behind and left the
// journal as it was.
func failed(t *testing.T, j *journal.Journal, before, said string, want string) {
	t.Helper()
	for _, call := range []string{"backup", "compact", "restore", "salvage", "merge", "import"} {
		found := false
		for line := range strings.Lines(said) {
			if !strings.HasPrefix(line, call+": ") {
				continue
			}
			found = true
			text, cure, _ := strings.Cut(strings.TrimSpace(line), " | ")
			if !strings.HasPrefix(text, call+": 0: ") || !strings.Contains(text, want) || cure == "" || strings.Contains(text, "<nil>") {
				t.Errorf("got %q, want a failure with %q and a cure", line, want)
			}
		}
		if !found {
			t.Errorf("nothing was said of %s in %q", call, said)
		}
	}
	err := filepath.WalkDir(filepath.Dir(j.Path()), func(path string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		if name := e.Name(); name != "hepar.journal" && name != "from.backup" && !strings.HasPrefix(name, "many.") {
			t.Errorf("left behind: %s", path)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if everything(t, j) != before {
		t.Error("the journal was changed")
	}
}

func said(t *testing.T, c *child) string {
	t.Helper()
	var out strings.Builder
	for line, err := c.out.ReadString('\n'); err == nil; line, err = c.out.ReadString('\n') {
		out.WriteString(line)
	}
	if err := c.Wait(); err != nil {
		t.Fatalf("%v: %s", err, c.err)
	}
	return out.String()
}

// A limit on the size of a file stands in for a full disk, at several sizes: it
// strikes in the first page, in the middle, and shortly before the end.
func TestNoRoomForCopies(t *testing.T) {
	for _, limit := range []string{"1", "4096", "40000", "100000"} {
		t.Run(limit, func(t *testing.T) {
			j := toCopy(t, t.TempDir())
			before := everything(t, j)
			t.Setenv(limitVariable, limit)
			failed(t, j, before, said(t, startChild(t, "copies", j.Path(), 0)), "disk is full")
		})
	}
}

// A folder that may be read and not written.
func TestNoRightToCopy(t *testing.T) {
	dir := t.TempDir()
	j := toCopy(t, dir)
	before := everything(t, j)
	readable := []string{j.Path(), filepath.Join(dir, "elsewhere", "from.backup"), filepath.Join(dir, "elsewhere", "many.journal")}
	for _, path := range readable {
		if err := os.Chmod(path, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, folder := range []string{filepath.Join(dir, "elsewhere"), dir, filepath.Dir(dir)} {
		mode := os.FileMode(0o555)
		if folder == filepath.Dir(dir) {
			mode = 0o755
		}
		if err := os.Chmod(folder, mode); err != nil {
			t.Fatal(err)
		}
		defer os.Chmod(folder, 0o755)
	}
	failed(t, j, before, said(t, startChild(t, "copies", j.Path(), 0)), "no file may be written")
}

// apart runs the test in a process of its own that may mount file systems which
// nobody else sees; it says whether it is that process.
func apart(t *testing.T) bool {
	t.Helper()
	if os.Getenv(apartVariable) != "" {
		return true
	}
	c := exec.Command(os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v")
	c.Env = append(os.Environ(), apartVariable+"=yes")
	c.SysProcAttr = &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
		UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}},
	}
	said, err := c.CombinedOutput()
	switch {
	case strings.Contains(string(said), "--- SKIP"), err != nil && len(said) == 0:
		t.Skipf("no file system can be mounted here: %v %s", err, said)
	case err != nil:
		t.Errorf("%v\n%s", err, said)
	default:
		t.Logf("in a process of its own:\n%s", said)
	}
	return false
}

const apartVariable = "HEPAR_JOURNAL_TEST_APART"

// A small file system that is really full.
func TestFullFileSystem(t *testing.T) {
	if !apart(t) {
		return
	}
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=3m"); err != nil {
		t.Skipf("no small file system can be mounted here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, 0) })
	j := toCopy(t, dir)
	before := everything(t, j)
	ballast := filepath.Join(dir, "hepar.journal.ballast")
	file, err := os.Create(ballast)
	if err != nil {
		t.Fatal(err)
	}
	block := make([]byte, 4096)
	for err == nil {
		_, err = file.Write(block)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for call, err := range copyCalls(j) {
		fmt.Fprintf(&out, "%s: %d: %v | %s\n", call, fault.KindOf(err), err, fault.CureOf(err))
	}
	large := order(1) // more than the pages that are free in the file can hold
	large.Note = strings.Repeat("x", 60<<10)
	large.Recipe.Text = strings.Repeat("y", 900<<10)
	if _, err := j.Create(large); err == nil || fault.KindOf(err) != fault.Failure || !strings.Contains(err.Error(), "disk is full") {
		t.Errorf("create: %v", err)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	failed(t, j, before, out.String(), "disk is full")
	if _, err := j.Create(order(1)); err != nil {
		t.Errorf("with room again: %v", err)
	}
	journaltest.Sound(t, j) // before the file system goes
}
