//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package store

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"syscall"
	"time"
)

// lock takes the same lock as the store on the same open file, so that the store
// finds it held. It looks every few milliseconds, where the store would look every
// fifty and so be overtaken by whoever looks at the right moment.
func lock(file *os.File, write bool, wait time.Duration) (held bool, err error) {
	how := syscall.LOCK_SH
	if write {
		how = syscall.LOCK_EX
	}
	for end := time.Now().Add(wait); ; {
		switch err := syscall.Flock(int(file.Fd()), how|syscall.LOCK_NB); {
		case err == nil:
			return true, nil
		case !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EINTR):
			return false, err
		case time.Now().After(end):
			return false, nil
		}
		time.Sleep(time.Millisecond + rand.N(2*time.Millisecond))
	}
}

func unlock(file *os.File) { _ = syscall.Flock(int(file.Fd()), syscall.LOCK_UN) }

// own gives file the mode of the old file and, where that is allowed, its owner and group.
// It returns an error if the old file has two names.
func own(file *os.File, old fs.FileInfo) error {
	if stat, ok := old.Sys().(*syscall.Stat_t); ok {
		if stat.Nlink > 1 {
			return errTwoNames
		}
		_ = file.Chown(int(stat.Uid), int(stat.Gid)) // only root may, or the owner among his groups
	}
	return file.Chmod(old.Mode().Perm())
}
