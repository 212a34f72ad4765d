//go:build unix

package recipe

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A pipe that nobody writes to would make the reader wait for ever.
func TestReadRefusesPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe.toml")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip("no pipes here:", err)
	}
	if _, _, err := Read(path); err == nil || !strings.Contains(err.Error(), "a device or a directory") {
		t.Errorf("%v", err)
	}
}
