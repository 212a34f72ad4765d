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
	errHeld  = errors.New("it is held by another process")
	errNewer = errors.New("it was written by a newer hepar")
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

// fileFault explains why the file could not be opened.
func (f *File) fileFault(err error, write bool) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fault.Failuref("there is no journal at %s", f.name()).Because(ErrNone).
			Try("the first batch saved or logged makes it; if you have one elsewhere, name it with --journal")
	case errors.Is(err, fs.ErrPermission) && write, errors.Is(err, syscall.EROFS):
		return fault.Failuref("the journal %s cannot be written", f.name()).Because(Reason(err)).
			Try("give yourself the right to write to the file, or name another with --journal")
	case errors.Is(err, fs.ErrPermission):
		return fault.Failuref("the journal %s cannot be read", f.name()).Because(Reason(err)).
			Try("give yourself the right to read the file, or name another with --journal")
	case errors.Is(err, syscall.ENOTDIR):
		return fault.Failuref("the path %s leads through something that is not a folder", f.name()).
			Try("name another file with --journal")
	}
	return fault.Failuref("cannot open the journal %s", f.name()).Because(Reason(err)).Try("see that the disk is there and sound")
}

// Explain turns what came out of a transaction into a fault.
func (f *File) Explain(err error) error {
	var known *fault.Error
	var none noJournal
	switch {
	case err == nil:
		return nil
	case errors.As(err, &known):
		return err
	case errors.As(err, &none):
		return fault.Damagedf("%s is not a journal", f.name()).Because(err).
			Try("name the right file, or move this one away and restore the last backup")
	case errors.Is(err, errNewer):
		return fault.Failuref("the journal %s was written by a newer hepar", f.name()).Because(err).
			Try("update hepar on this machine; the file was not touched")
	case errors.Is(err, errPages), errors.Is(err, errFrame), errors.Is(err, errChecksum), errors.Is(err, errPlace), errors.Is(err, ErrTangled):
		return f.Damaged(err)
	case saidBySystem(err, syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG):
		return fault.Failuref("the disk is full: nothing was added to the journal %s", f.name()).Because(Reason(err)).
			Try("make room on the disk and do it again; what was in the journal is still there")
	case saidBySystem(err, syscall.EIO):
		return fault.Failuref("the disk failed under the journal %s", f.name()).Because(Reason(err)).
			Try("copy the file to another disk at once and run 'hepar journal verify' on the copy")
	case errors.Is(err, fs.ErrPermission):
		return fault.Failuref("the journal %s cannot be made", f.name()).Because(Reason(err)).
			Try("give yourself the right to write to the folder, or name another with --journal")
	}
	return fault.Failuref("the journal %s could not be used", f.name()).Because(Reason(err)).
		Try("see that the disk is there and has room, then run 'hepar journal verify'")
}

// NoRoom explains why a copy could not be written at path.
func NoRoom(path string, err error) error {
	var known *fault.Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &known):
		return err
	case saidBySystem(err, syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG):
		return fault.Failuref("the disk is full: there is no room for a copy in %s", filepath.Dir(path)).Because(Reason(err)).
			Try("make room there, or name a folder on another disk; the journal was not changed")
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return fault.Failuref("no file can be written at %s", path).Because(Reason(err)).
			Try("give yourself the right to write to the folder, or name another; the journal was not changed")
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return fault.Failuref("there is no folder for %s", path).Because(Reason(err)).Try("name a folder that is there; the journal was not changed")
	}
	return fault.Failuref("a copy could not be written at %s", path).Because(Reason(err)).
		Try("see that the disk is there and sound; the journal was not changed")
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

// Reason drops the path that a file error repeats.
func Reason(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
