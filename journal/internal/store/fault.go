package store

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"syscall"

	"hepar/recipe/fault"
)

// Every way in which the file can fail, in words.

// damage is what is wrong inside the file: for errors.Is one is like the other.
type damage string

func (d damage) Error() string { return string(d) }

func (d damage) Is(other error) bool { _, is := other.(damage); return is }

var (
	errHeld   = errors.New("it is held by another process")
	errNewer  = errors.New("it was written by a newer hepar")
	errNoFile = errors.New("it is a folder, a pipe or a device")

	// Those without a text are for errors.Is alone: the message around them says what is wrong.

	errTwoNames = errors.New("")
	// ErrNone means that there is no file at the path of the journal.
	ErrNone = errors.New("")
	// ErrNoJournal means that the file is something else, or that both of its header pages
	// are damaged.
	ErrNoJournal = errors.New("")
	// ErrStop ends an Exchange without a change: it is no error.
	ErrStop = errors.New("the journal stays as it is")
)

func (f *File) busy(who string) error {
	return fault.Busyf("the journal %s is held by %s", f.name(), who).
		Try("try again when that program has ended; nothing was changed")
}

// noJournal is why a file is not a journal.
func noJournal(why string) error { return fmt.Errorf("%w%s", ErrNoJournal, why) }

// explained is what is said about an error that has one of the reasons, or about any.
type explained struct {
	reasons   []error
	what, try string
}

const same = "; the journal was not changed"

var (
	errFull = []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG}

	ofDamage = []explained{
		{[]error{ErrNoJournal}, "%s is not a journal", "name the right file, or move this one away and restore the last backup"},
		{nil, "the journal %s is damaged", "write nothing more to it: copy the file, run 'hepar journal verify', then restore the last backup or run 'hepar journal salvage'"},
	}
	ofJournal = []explained{
		{errFull, "the disk is full: nothing was added to the journal %s", "make room on the disk and do it again; what was in the journal is still there"},
		{[]error{errNewer}, "the journal %s cannot be read", "update hepar on this machine; the file was not touched"},
		{[]error{errNoFile}, "%s is not a file", "name the journal file itself"},
		{[]error{ErrNone}, "there is no journal at %s", "the first batch saved or logged makes it; if you have one elsewhere, name it with --journal"},
		{[]error{syscall.EIO}, "the disk failed while hepar used the journal %s", "copy the file to another disk at once and run 'hepar journal verify' on the copy"},
		{[]error{fs.ErrPermission, syscall.EROFS}, "the journal %s cannot be opened", "check that you may read and write it, or name another with --journal"},
		{[]error{syscall.ENOTDIR}, "the path %s leads through something that is not a folder", "name another file with --journal"},
		{nil, "the journal %s could not be used", "check that the disk is there and has room, then run 'hepar journal verify'"},
	}
	ofCopy = []explained{
		{errFull, "the disk is full: there is no room for %s", "make room there, or name a folder on another disk" + same},
		{[]error{errTwoNames}, "%s has a second name (a hard link), which would go on naming the old file", "remove the second name" + same},
		{[]error{fs.ErrPermission, syscall.EROFS}, "%s cannot be written", "check that you may write to the folder, or name another" + same},
		{[]error{fs.ErrNotExist, syscall.ENOTDIR}, "the folder of %s does not exist", "name an existing folder" + same},
		{nil, "a copy could not be written at %s", "check that the disk is there and sound" + same},
	}
)

// Explain turns an error of the file, or of a transaction, into a fault.
func (f *File) Explain(err error) error {
	kind, all := fault.Failure, ofJournal
	if is(err, ErrNoJournal, damage("")) && !is(err, errFull...) {
		kind, all = fault.Damaged, ofDamage
	}
	return explain(kind, all, f.name(), err)
}

// NoRoom explains why a copy could not be written at path.
func NoRoom(path string, err error) error { return explain(fault.Failure, ofCopy, path, err) }

// explain returns the fault of what is at path by the first of all that has a reason of err.
func explain(kind fault.Kind, all []explained, path string, err error) error {
	if _, known := errors.AsType[*fault.Error](err); err == nil || known {
		return err
	}
	i := slices.IndexFunc(all, func(e explained) bool { return e.reasons == nil || is(err, e.reasons...) })
	return &fault.Error{Kind: kind, What: fmt.Sprintf(all[i].what, path), Cure: all[i].try, Err: Reason(err)}
}

// is says whether err is one of the errors. The store passes some of those of the
// system on as text only.
func is(err error, any ...error) bool {
	return err != nil && slices.ContainsFunc(any, func(e error) bool {
		return errors.Is(err, e) || strings.HasSuffix(err.Error(), ": "+cmp.Or(e.Error(), "?"))
	})
}

// Reason drops the path that a file error repeats.
func Reason(err error) error {
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return path.Err
	}
	return err
}
