package journal

import (
	"errors"
	"syscall"
)

// The turnstile before the lock. Readers share the lock, and the kernel lets one in
// while others hold it; so with several at work their turns overlap without end, and
// a writer waits in vain. Whoever waits to write therefore closes the turnstile,
// through which each reader passes. It is a lock of another kind (of an open file,
// on a byte beyond any end), which the store does not use. Where the file system
// does not know it, all is as without.
const (
	ofdSetLock     = 37 // F_OFD_SETLK of linux/fcntl.h, which syscall has no name for
	ofdSetLockWait = 38 // F_OFD_SETLKW
	turnstileAt    = 1 << 61
)

// turn passes the turnstile: to write, it closes it.
func turn(fd int, write, wait bool) error {
	how := int16(syscall.F_RDLCK)
	if write {
		how = syscall.F_WRLCK
	}
	err := ofdLock(fd, how, wait)
	if err == nil || errors.Is(err, syscall.EAGAIN) || errors.Is(err, syscall.EACCES) {
		return err
	}
	return nil
}

// leaveTurn opens the turnstile again.
func leaveTurn(fd int) { _ = ofdLock(fd, syscall.F_UNLCK, false) }

func ofdLock(fd int, how int16, wait bool) error {
	cmd := ofdSetLock
	if wait {
		cmd = ofdSetLockWait
	}
	for {
		err := syscall.FcntlFlock(uintptr(fd), cmd, &syscall.Flock_t{Type: how, Start: turnstileAt, Len: 1})
		if !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}
