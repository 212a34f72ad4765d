package store

import (
	"cmp"
	"errors"
	"io"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"runtime/debug"
	"time"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// Format is the number of the format of a journal file. There is one so far.
const Format = 1

const magic = "hepar journal"

// DefaultWait is how long a transaction waits for another process.
const DefaultWait = 5 * time.Second

const unknownHolder = "another process"

// File is the path of a journal and how to treat it. It holds nothing open: every
// transaction opens the file, locks it, and lets it go.
type File struct {
	Path string
	Wait time.Duration    // for another process; below zero not at all
	Now  func() time.Time // with the offset of the bench

	Watch func(events int) // told from time to time how many were read or written; may be nil

	Called string // what messages call it, if it is a copy made beside; empty means Path

	loose bool // nobody else knows of the file yet: no syncs
	doubt bool // walk it in any case
	done  int  // events read or written
}

// Open names the journal at path; it opens nothing. A symbolic link is followed
// once and for all: what takes the place of the journal must not take that of the link.
func Open(path string, wait time.Duration, now func() time.Time) *File {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if now == nil {
		now = time.Now
	}
	return &File{Path: path, Wait: cmp.Or(wait, DefaultWait), Now: now}
}

func (f *File) name() string { return cmp.Or(f.Called, f.Path) }

// Exists says whether there is something at the path. It does not open it.
func (f *File) Exists() (bool, error) {
	_, err := os.Stat(f.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil, f.Explain(err)
}

// View runs fn in a transaction that only reads.
func (f *File) View(fn func(*Tx) error) error { return f.transact(false, fn) }

// UpdateExisting is Update that returns an error if there is no journal.
func (f *File) UpdateExisting(fn func(*Tx) error) error { return f.transact(true, fn) }

func (f *File) transact(write bool, fn func(*Tx) error) error {
	return f.session(write, func(store boltFile) error {
		return store.Transact(write, func(kv KV) error {
			tx := newTx(f, kv, write, store.entries)
			err := fn(tx)
			if err == nil && write {
				tx.finish()
			}
			return err
		})
	})
}

// Update runs fn in a transaction that is on the disk when Update returns nil, and
// leaves the file as it was when it returns an error. It makes the journal if
// there is none.
func (f *File) Update(fn func(*Tx) error) error {
	there, err := f.Exists()
	if err == nil && !there {
		err = f.Rebuild(func(*File) error { return nil })
	}
	if err != nil && fault.KindOf(err) != fault.Busy { // another process was quicker
		return err
	}
	return f.UpdateExisting(fn)
}

// partBytes is about how many bytes InParts writes in one transaction: more take memory,
// fewer write pages twice.
const partBytes = 2 << 20

// InParts calls write for each of all, in as many transactions as it takes, and stops at
// an error. Weight is about how many bytes write has written.
func InParts[K, V any](f *File, all iter.Seq2[K, V], write func(*Tx, K, V) (weight int)) {
	next, stop := iter.Pull2(all)
	defer stop()
	for more := true; more; {
		fault.Check(f.UpdateExisting(func(tx *Tx) error {
			var k K
			var v V
			for done := 0; done < partBytes; {
				if k, v, more = next(); !more {
					break
				}
				done += write(tx, k, v)
			}
			return nil
		}))
	}
}

// Lay writes a journal without events into the empty file. A zero id is drawn anew.
func (f *File) Lay(journal record.ID, head Head) error {
	now := f.Now()
	if journal.IsZero() {
		journal = newID(now)
	}
	about := About{Magic: magic, Format: Format, Journal: journal, Made: record.StampOf(now)}
	return f.session(true, func(store boltFile) error {
		return store.Transact(true, func(kv KV) error {
			kv.Make(metaBucket, eventsBucket, listsBucket, indexBucket, blobsBucket)
			fault.Check(kv.Put(metaBucket, aboutKey, sealed(AboutFrame, about)))
			head.Digest, head.Tx, head.Entries = about.ChainStart(), kv.ID(), 2
			return kv.Put(metaBucket, headKey, sealed(HeadFrame, head))
		})
	})
}

// session locks the file, walks it, opens it, runs fn and lets it go. It turns a
// fault of memory or a panic of the store, which mean a damaged file, into an error. It
// does not close the store then, which may wait for a lock that the panic left shut.
func (f *File) session(write bool, fn func(boltFile) error) (err error) {
	file, err := f.Hold(write)
	if err != nil {
		return err
	}
	defer file.Close() // a second close where the store has closed it; lets the lock go where it has not
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			unlock(file) // the map of the store, which stays, would hold the lock
			err = f.Explain(badPage("%v", r))
		}
	}()
	entries, err := f.walked(file, write)
	if err != nil {
		return f.Explain(err)
	}
	store, err := openBolt(file, entries, write, f.loose)
	if errors.Is(err, errHeld) {
		return f.busy(holder(file))
	}
	if err == nil {
		err = fault.Caught(func() { fault.Check(fn(store)) })
		err = cmp.Or(err, store.db.Close())
	}
	return f.Explain(err)
}

// walked returns how many entries there are in all buckets, and the first fault that a walk
// finds. It does not walk a file again that it found sound and that nobody has written to since.
func (f *File) walked(file *os.File, write bool) (entries uint64, err error) {
	info, err := file.Stat()
	if err != nil || info.Size() == 0 && write && f.loose { // one made beside begins empty
		return 0, err
	}
	if entries, sound := foundSound(file, info); sound && !f.doubt {
		return entries, nil
	}
	w := Walk(file)
	if w.Faults != nil {
		return 0, w.Faults[0]
	}
	if time.Since(info.ModTime()) > time.Second { // so that a later write has a later time
		noteSound(file, info, w.Entries)
	}
	return w.Entries, nil
}

// Doubted returns f such that every transaction walks the file.
func (f *File) Doubted() *File {
	doubted := *f
	doubted.doubt = true
	return &doubted
}

// Hold opens the file and takes its lock, shared to read or exclusive to write.
// Closing the file lets the lock go.
func (f *File) Hold(write bool) (*os.File, error) {
	end := time.Now().Add(max(f.Wait, 0))
	how := os.O_RDONLY
	if write {
		how = os.O_RDWR
	}
	for {
		var file *os.File
		err := Regular(f.Path)
		if err == nil {
			file, err = os.OpenFile(f.Path, how, 0)
		}
		if errors.Is(err, fs.ErrNotExist) {
			err = ErrNone
		}
		if err != nil {
			return nil, f.Explain(err)
		}
		held, err := lock(file, write, max(time.Until(end), 0))
		mine, err1 := file.Stat()
		there, err2 := os.Stat(f.Path)
		if held && err1 == nil && err2 == nil && os.SameFile(mine, there) { // not replaced while we waited
			return file, nil
		}
		who := holder(file)
		file.Close()
		if err != nil {
			return nil, fault.Failuref("cannot lock %s", f.name()).Because(err).
				Try("keep the journal on a local disk whose file system can lock files")
		}
		if !held {
			return nil, f.busy(who)
		}
	}
}

// Size returns how many bytes the file has.
func (f *File) Size() (int64, error) {
	file, err := f.Hold(false)
	if err != nil {
		return 0, err
	}
	defer file.Close()
	return file.Seek(0, io.SeekEnd)
}

// Regular returns an error if path is no plain file: opening a pipe waits for ever.
func Regular(path string) error {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = errNoFile
	}
	return err
}

// MakeFolder makes dir and what is missing above it, for the owner alone.
func MakeFolder(dir string) error {
	if _, err := os.Stat(dir); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	parent := filepath.Dir(dir)
	return cmp.Or(MakeFolder(parent), os.MkdirAll(dir, 0o700), syncFolder(parent))
}

// syncFolder makes a new name in a folder durable, where the system can do that.
func syncFolder(dir string) error {
	folder, err := os.Open(dir)
	if err == nil {
		err = folder.Sync()
		folder.Close()
	}
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, fs.ErrInvalid) {
		return nil
	}
	return err
}
