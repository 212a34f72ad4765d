//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package journal

import (
	"os"
	"time"
)

// lock leaves the waiting to the store, whose lock cannot be taken twice here.
func lock(*os.File, bool, time.Duration) (held bool, err error) { return true, nil }

// boltWait is the time that the store waits.
const boltWait = DefaultWait

// unlock has nothing to let go: the store's lock goes when the file is closed.
func unlock(*os.File) {}
