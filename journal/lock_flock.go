//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package journal

import (
	"errors"
	"os"
	"syscall"
	"time"
)

// lock takes the same lock as the store on the same open file, so that the
// store finds it already held. It waits itself because the store only looks
// every 50 ms, which is slow and unfair: whoever looks at the right moment
// wins, and with many at work one of them waits in vain. Here the kernel wakes
// those that wait.
func lock(file *os.File, write bool, wait time.Duration) (held bool, err error) {
	how := syscall.LOCK_SH
	if write {
		how = syscall.LOCK_EX
	}
	if err := flock(int(file.Fd()), how|syscall.LOCK_NB); err == nil {
		return true, nil
	} else if !errors.Is(err, syscall.EWOULDBLOCK) {
		return false, err
	}
	if wait <= 0 {
		return false, nil
	}
	// A second descriptor of the same open file shares its lock. If we give up,
	// the one that waits gets the lock some time later and lets it go at once by
	// closing the last descriptor; if not, ours keeps it.
	syscall.ForkLock.RLock() // or a process started just now would inherit it, and the lock
	second, err := syscall.Dup(int(file.Fd()))
	if err == nil {
		syscall.CloseOnExec(second)
	}
	syscall.ForkLock.RUnlock()
	if err != nil {
		return false, err
	}
	done := make(chan error, 1)
	go func() {
		err := flock(second, how)
		_ = syscall.Close(second)
		done <- err
	}()
	giveUp := time.NewTimer(wait)
	defer giveUp.Stop()
	select {
	case err := <-done:
		return err == nil, err
	case <-giveUp.C:
		return false, nil
	}
}

// unlock lets the lock go.
func unlock(file *os.File) { _ = flock(int(file.Fd()), syscall.LOCK_UN) }

func flock(fd, how int) error {
	for {
		if err := syscall.Flock(fd, how); !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}

// boltWait is the time the store itself may wait: the lock is held already.
const boltWait = time.Second
