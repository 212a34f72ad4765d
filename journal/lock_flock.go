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
// those that wait, and a turnstile keeps readers from overtaking a writer.
func lock(file *os.File, write bool, wait time.Duration) (held bool, err error) {
	end := time.Now().Add(wait)
	fd := int(file.Fd())
	how := syscall.LOCK_SH
	if write {
		how = syscall.LOCK_EX
	}
	take := func(fd int, wait bool) error {
		if !wait {
			return flock(fd, how|syscall.LOCK_NB)
		}
		return flock(fd, how)
	}
	if write || wait <= 0 {
		if held, err := await(fd, 0, take); held || err != nil || wait <= 0 {
			return held, err
		}
	}
	passed, err := await(fd, wait, func(fd int, wait bool) error { return turn(fd, write, wait) })
	if !passed || err != nil {
		return false, err
	}
	defer leaveTurn(fd)
	return await(fd, time.Until(end), take)
}

// await takes a lock of an open file, for which it waits so long at most.
func await(fd int, wait time.Duration, take func(fd int, wait bool) error) (held bool, err error) {
	if err := take(fd, false); err == nil {
		return true, nil
	} else if !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EACCES) {
		return false, err
	}
	if wait <= 0 {
		return false, nil
	}
	// A second descriptor of the same open file shares its locks. If we give up,
	// the one that waits gets the lock some time later and lets it go at once by
	// closing the last descriptor; if not, ours keeps it.
	syscall.ForkLock.RLock() // or a process started just now would inherit it, and the lock
	second, err := syscall.Dup(fd)
	if err == nil {
		syscall.CloseOnExec(second)
	}
	syscall.ForkLock.RUnlock()
	if err != nil {
		return false, err
	}
	done := make(chan error, 1)
	go func() {
		err := take(second, true)
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
