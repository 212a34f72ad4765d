//go:build unix

package journal

import (
	"io/fs"
	"syscall"
)

// links is how many names a file has.
func links(info fs.FileInfo) uint64 {
	if stat, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(stat.Nlink)
	}
	return 1
}
