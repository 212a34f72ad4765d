//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package journal

import (
	"errors"
	"math/rand/v2"
	"os"
	"syscall"
	"time"
)

// lock takes the same lock as the store on the same open file, so that the
// store finds it already held. It waits itself because the store only looks
// every 50 ms: a bench that logs by hand should not feel its neighbour.
func lock(file *os.File, write bool, wait time.Duration) (held bool, err error) {
	how := syscall.LOCK_SH
	if write {
		how = syscall.LOCK_EX
	}
	end := time.Now().Add(wait)
	for pause := time.Millisecond; ; pause = min(pause*2, 16*time.Millisecond) {
		err := syscall.Flock(int(file.Fd()), how|syscall.LOCK_NB)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, syscall.EINTR):
			continue
		case !errors.Is(err, syscall.EWOULDBLOCK):
			return false, err
		}
		left := time.Until(end)
		if left <= 0 {
			return false, nil
		}
		// Chance keeps two that wait from always asking at the same time.
		time.Sleep(min(left, pause/2+rand.N(pause)))
	}
}

// boltWait is the time the store itself may wait: the lock is held already.
const boltWait = time.Second
