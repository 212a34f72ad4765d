package recipe

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"hepar/recipe/fault"
)

func TestReadStopsAtTheLimit(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sparse.toml")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(path, 100<<20); err != nil {
		t.Fatal(err)
	}
	if _, findings, err := Read(path); err != nil || len(findings) != 1 || !strings.Contains(findings[0].What, "larger than 1 MiB") {
		t.Errorf("100 MB: %v %v", findings, err)
	}
}

func TestReadRefuses(t *testing.T) {
	dir := t.TempDir()
	locked := filepath.Join(dir, "locked.toml")
	if err := os.WriteFile(locked, []byte(good), 0o000); err != nil {
		t.Fatal(err)
	}
	cases := []struct{ path, say string }{
		{dir, "a directory"},
		{filepath.Join(dir, "none.toml"), "no such file"},
		{filepath.Join(dir, "none\x00.toml"), ""},
	}
	if runtime.GOOS == "linux" {
		cases = append(cases, struct{ path, say string }{os.DevNull, "a device or a directory"})
		if os.Getuid() != 0 {
			cases = append(cases, struct{ path, say string }{locked, "permission denied"})
		}
	}
	for _, c := range cases {
		r, findings, err := Read(c.path)
		if r != nil || findings != nil || err == nil || !strings.Contains(err.Error(), c.say) || fault.CureOf(err) == "" {
			t.Errorf("%q: %v %v %v", c.path, r, findings, err)
		}
		if err != nil && strings.ContainsRune(err.Error(), 0) {
			t.Errorf("a control character in %q", err)
		}
	}
	path := filepath.Join(dir, "test-grey.toml")
	if err := os.WriteFile(path, []byte(good), 0o600); err != nil {
		t.Fatal(err)
	}
	r, findings, err := Read(path)
	if err != nil || len(findings) > 0 || r.Slug != "test-grey" || r.File != path {
		t.Errorf("%v %v %v", r, findings, err)
	}
}
