package journal

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"syscall"

	bolterrors "go.etcd.io/bbolt/errors"

	"hepar/recipe/fault"
)

// Every way in which the file can fail, in words.

func (j *Journal) damaged(format string, args ...any) *fault.Error {
	cause := fault.Failuref(format, args...)
	return fault.Damagedf("the journal %s is damaged", j.path).Because(cause).
		Try("write nothing more to it: copy the file, run 'hepar journal verify', then restore the last backup")
}

func (j *Journal) newer() *fault.Error {
	return fault.Failuref("the journal %s was written by a newer hepar", j.path).
		Try("update hepar on this machine; the file was not touched")
}

func (j *Journal) busy(who string) *fault.Error {
	return fault.Busyf("the journal %s is held by %s", j.path, who).
		Try("try again when that has ended; nothing was changed")
}

// headerFault explains what readHeader found.
func (j *Journal) headerFault(err error) error {
	var trouble headerTrouble
	if !errors.As(err, &trouble) {
		return j.explain(err)
	}
	if trouble == notAStore {
		return fault.Damagedf("%s is not a journal: %v", j.path, trouble).
			Try("name the right file, or move this one away and restore the last backup")
	}
	return j.damaged("%v", trouble)
}

// openFault explains why the store would not open.
func (j *Journal) openFault(err error, file *os.File) error {
	switch {
	case errors.Is(err, bolterrors.ErrTimeout):
		return j.busy(holder(file))
	case errors.Is(err, bolterrors.ErrInvalid), errors.Is(err, bolterrors.ErrChecksum), errors.Is(err, bolterrors.ErrVersionMismatch):
		return j.damaged("%v", err)
	}
	return j.explain(err)
}

// fileFault explains why the file could not be opened.
func (j *Journal) fileFault(err error, write bool) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fault.Failuref("there is no journal at %s", j.path).Because(fs.ErrNotExist).
			Try("the first batch saved or logged makes it; if you have one elsewhere, name it with --journal")
	case errors.Is(err, fs.ErrPermission) && write, errors.Is(err, syscall.EROFS):
		return fault.Failuref("the journal %s may not be written", j.path).Because(reason(err)).
			Try("give yourself the right to write to the file, or name another with --journal")
	case errors.Is(err, fs.ErrPermission):
		return fault.Failuref("the journal %s may not be read", j.path).Because(reason(err)).
			Try("give yourself the right to read the file, or name another with --journal")
	case errors.Is(err, syscall.ENOTDIR):
		return fault.Failuref("the path %s leads through something that is not a folder", j.path).
			Try("name another file with --journal")
	}
	return fault.Failuref("cannot open the journal %s", j.path).Because(reason(err)).Try("see that the disk is there and sound")
}

// explain turns what came out of a transaction into a fault.
func (j *Journal) explain(err error) error {
	var known *fault.Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &known):
		return err
	case errors.Is(err, errNewer):
		return j.newer()
	case saidBySystem(err, syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG):
		return fault.Failuref("the disk is full: nothing was added to the journal %s", j.path).Because(reason(err)).
			Try("make room on the disk and do it again; what was in the journal is still there")
	case saidBySystem(err, syscall.EIO):
		return fault.Failuref("the disk failed under the journal %s", j.path).Because(reason(err)).
			Try("copy the file to another disk at once and run 'hepar journal verify' on the copy")
	case errors.Is(err, errChecksum), errors.Is(err, errShort), errors.Is(err, errNoBucket), errors.Is(err, errTangled), errors.Is(err, errPages):
		return j.damaged("%v", err)
	}
	return fault.Failuref("the journal %s could not be used", j.path).Because(reason(err)).
		Try("see that the disk is there and has room, then run 'hepar journal verify'")
}

// saidBySystem says whether err is one of the numbers. The store passes some of
// them on as text only.
func saidBySystem(err error, numbers ...syscall.Errno) bool {
	for _, n := range numbers {
		if errors.Is(err, n) || strings.HasSuffix(err.Error(), ": "+n.Error()) {
			return true
		}
	}
	return false
}

// reason drops the path that a file error repeats.
func reason(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
