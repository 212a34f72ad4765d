//go:build unix

package journal_test

import (
	"os"
	"syscall"
	"testing"
)

// ownerOf returns owner and group of a file.
func ownerOf(t testing.TB, path string) (uid, gid int) {
	stat := must[os.FileInfo](t)(os.Stat(path)).Sys().(*syscall.Stat_t)
	return int(stat.Uid), int(stat.Gid)
}
