package store

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"hepar/recipe/fault"
)

// Every way in which the file can fail, in words.

var (
	errHeld   = errors.New("it is held by another process")
	errNewer  = errors.New("it was written by a newer hepar")
	errNoFile = errors.New("it is a folder, a pipe or a device")

	errTwoNames error = &quiet{}
	// ErrNone means that there is no file at the path of the journal.
	ErrNone error = &quiet{fs.ErrNotExist}
	// ErrNoJournal means that the file is something else, or that both of its header pages
	// are damaged.
	ErrNoJournal error = &quiet{}
	// ErrChanged means that somebody wrote to the journal meanwhile.
	ErrChanged error = &quiet{}
	// ErrStop ends an Exchange without a change: it is no error.
	ErrStop = errors.New("the journal stays as it is")
	// ErrTangled means that frames which must agree do not.
	ErrTangled = errors.New("its entries do not agree")
)

// quiet has no text of its own: the message around it says what is wrong.
type quiet struct{ is error }

func (*quiet) Error() string   { return "" }
func (q *quiet) Unwrap() error { return q.is }

// noJournal is why a file is not a journal.
func noJournal(why string) error { return fmt.Errorf("%w%s", ErrNoJournal, why) }

func (f *File) busy(who string) error {
	return fault.Busyf("the journal %s is held by %s", f.name(), who).
		Try("try again when that has ended; nothing was changed")
}

// explained is what is said about an error that has one of the reasons.
type explained struct {
	reasons   []error
	what, try string
}

// explain returns the fault of what is at path by the first of all that has a reason of
// err; the last has none and stands for any other.
func explain(err error, path string, all []explained) error {
	i := slices.IndexFunc(all, func(e explained) bool { return e.reasons == nil || is(err, e.reasons...) })
	return fault.Failuref(all[i].what, path).Because(Reason(err)).Try("%s", all[i].try)
}

// Explain turns an error of the file, or of a transaction, into a fault.
func (f *File) Explain(err error) error {
	switch {
	case err == nil || isFault(err):
		return err
	case errors.Is(err, ErrNoJournal):
		return fault.Damagedf("%s is not a journal", f.name()).Because(err).
			Try("name the right file, or move this one away and restore the last backup")
	case is(err, errPages, errFrame, errChecksum, errPlace, ErrTangled) && !is(err, errFull...):
		return fault.Damagedf("the journal %s is damaged", f.name()).Because(err).
			Try("write nothing more to it: copy the file, run 'hepar journal verify', then restore the last backup or run 'hepar journal salvage'")
	case is(err, fs.ErrNotExist):
		err = ErrNone
	}
	return explain(err, f.name(), []explained{
		{errFull, "the disk is full: nothing was added to the journal %s", "make room on the disk and do it again; what was in the journal is still there"},
		{[]error{errNewer}, "the journal %s cannot be read", "update hepar on this machine; the file was not touched"},
		{[]error{errNoFile}, "%s is not a file", "name the journal file itself"},
		{[]error{ErrNone}, "there is no journal at %s", "the first batch saved or logged makes it; if you have one elsewhere, name it with --journal"},
		{[]error{syscall.EIO}, "the disk failed under the journal %s", "copy the file to another disk at once and run 'hepar journal verify' on the copy"},
		{[]error{fs.ErrPermission, syscall.EROFS}, "the journal %s cannot be opened", "give yourself the right to read and write it, or name another with --journal"},
		{[]error{syscall.ENOTDIR}, "the path %s leads through something that is not a folder", "name another file with --journal"},
		{nil, "the journal %s could not be used", "see that the disk is there and has room, then run 'hepar journal verify'"},
	})
}

// NoRoom explains why a copy could not be written at path.
func NoRoom(path string, err error) error {
	if err == nil || isFault(err) {
		return err
	}
	const same = "; the journal was not changed"
	if is(err, errFull...) {
		path = filepath.Dir(path)
	}
	return explain(err, path, []explained{
		{errFull, "the disk is full: there is no room for a copy in %s", "make room there, or name a folder on another disk" + same},
		{[]error{errTwoNames}, "%s has a second name (a hard link), which would go on naming the old file", "remove the other name" + same},
		{[]error{fs.ErrPermission, syscall.EROFS}, "no file can be written at %s", "give yourself the right to write to the folder, or name another" + same},
		{[]error{fs.ErrNotExist, syscall.ENOTDIR}, "there is no folder for %s", "name a folder that is there" + same},
		{nil, "a copy could not be written at %s", "see that the disk is there and sound" + same},
	})
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
