//go:build unix

package store

import (
	"io/fs"
	"os"
	"syscall"
)

// own gives file the mode of the old file and, where that is allowed, its owner
// and group.
func own(file *os.File, old fs.FileInfo) error {
	if stat, ok := old.Sys().(*syscall.Stat_t); ok {
		_ = file.Chown(int(stat.Uid), int(stat.Gid)) // only root may, or the owner among his groups
	}
	return file.Chmod(old.Mode().Perm())
}

// names is how many names a file has.
func names(info fs.FileInfo) uint64 {
	if stat, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(stat.Nlink)
	}
	return 1
}
