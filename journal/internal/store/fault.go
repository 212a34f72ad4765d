package store

import (
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"syscall"

	"hepar/recipe/fault"
)

// Every way in which the file can fail, in words.

var (
	errHeld   = errors.New("it is held by another process")
	errNewer  = errors.New("it was written by a newer hepar")
	errNoFile = errors.New("it is a folder, a pipe or a device")
	// ErrNone means that there is no file at the path of the journal.
	ErrNone error = none{}
	// ErrTangled means that frames which must agree do not.
	ErrTangled = errors.New("its entries do not agree")
)

// none has no text of its own: the message around it says that there is no journal.
type none struct{}

func (none) Error() string { return "" }
func (none) Unwrap() error { return fs.ErrNotExist }

// noJournal is why a file is not a journal.
type noJournal string

func (why noJournal) Error() string { return string(why) }

// IsNoJournal says whether an error means that the file is something else, or that
// both of its header pages are damaged.
func IsNoJournal(err error) bool {
	var none noJournal
	return errors.As(err, &none)
}

// Damaged returns the fault of a journal that is damaged.
func (f *File) Damaged(cause error) error {
	return fault.Damagedf("the journal %s is damaged", f.name()).Because(cause).
		Try("write nothing more to it: copy the file, run 'hepar journal verify', then restore the last backup or run 'hepar journal salvage'")
}

func (f *File) busy(who string) error {
	return fault.Busyf("the journal %s is held by %s", f.name(), who).
		Try("try again when that has ended; nothing was changed")
}

// Explain turns an error of the file, or of a transaction, into a fault.
func (f *File) Explain(err error) error {
	failure := func(what, cure string) error {
		return fault.Failuref(what, f.name()).Because(Reason(err)).Try("%s", cure)
	}
	switch {
	case err == nil || isFault(err):
		return err
	case is(err, errFull...):
		return failure("the disk is full: nothing was added to the journal %s", "make room on the disk and do it again; what was in the journal is still there")
	case IsNoJournal(err):
		return fault.Damagedf("%s is not a journal", f.name()).Because(err).
			Try("name the right file, or move this one away and restore the last backup")
	case is(err, errFull...):
		return failure("the disk is full: nothing was added to the journal %s", "make room on the disk and do it again; what was in the journal is still there")
	case is(err, errPages, errFrame, errChecksum, errPlace, ErrTangled):
		return f.Damaged(err)
	case is(err, errNewer):
		return failure("the journal %s cannot be read", "update hepar on this machine; the file was not touched")
	case is(err, errNoFile):
		return failure("%s is not a file", "name the journal file itself")
	case is(err, fs.ErrNotExist):
		return fault.Failuref("there is no journal at %s", f.name()).Because(ErrNone).
			Try("the first batch saved or logged makes it; if you have one elsewhere, name it with --journal")
	case is(err, syscall.EIO):
		return failure("the disk failed under the journal %s", "copy the file to another disk at once and run 'hepar journal verify' on the copy")
	case is(err, fs.ErrPermission, syscall.EROFS):
		return failure("the journal %s cannot be opened", "give yourself the right to read and write it, or name another with --journal")
	case is(err, syscall.ENOTDIR):
		return failure("the path %s leads through something that is not a folder", "name another file with --journal")
	}
	return failure("the journal %s could not be used", "see that the disk is there and has room, then run 'hepar journal verify'")
}

// NoRoom explains why a copy could not be written at path.
func NoRoom(path string, err error) error {
	failure := func(what, path, cure string) error {
		return fault.Failuref(what, path).Because(Reason(err)).Try("%s; the journal was not changed", cure)
	}
	switch {
	case err == nil || isFault(err):
		return err
	case is(err, errFull...):
		return failure("the disk is full: there is no room for a copy in %s", filepath.Dir(path), "make room there, or name a folder on another disk")
	case is(err, fs.ErrPermission, syscall.EROFS):
		return failure("no file can be written at %s", path, "give yourself the right to write to the folder, or name another")
	case is(err, fs.ErrNotExist, syscall.ENOTDIR):
		return failure("there is no folder for %s", path, "name a folder that is there")
	}
	return failure("a copy could not be written at %s", path, "see that the disk is there and sound")
}

var errFull = []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG}

func isFault(err error) bool {
	var known *fault.Error
	return errors.As(err, &known)
}

// is says whether err is one of the errors. The store passes some of those of the
// system on as text only.
func is(err error, any ...error) bool {
	for _, e := range any {
		if errors.Is(err, e) || strings.HasSuffix(err.Error(), ": "+e.Error()) {
			return true
		}
	}
	return false
}

// Reason drops the path that a file error repeats.
func Reason(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
