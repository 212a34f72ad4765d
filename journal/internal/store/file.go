package store

import (
	"errors"
	"fmt"
	"io/fs"
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

	Salvage bool   // what lacks events may be written: see package check
	Called  string // what messages call it, if it is a copy made beside; empty means Path

	loose bool // nobody else knows of the file yet: no syncs
}

// Open names the journal at path; it opens nothing. A symbolic link is followed
// once and for all: what takes the place of the journal must not take that of the link.
func Open(path string, wait time.Duration, now func() time.Time) *File {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if wait == 0 {
		wait = DefaultWait
	}
	if now == nil {
		now = time.Now
	}
	return &File{Path: path, Wait: wait, Now: now}
}

// name is what messages call the file.
func (f *File) name() string {
	if f.Called != "" {
		return f.Called
	}
	return f.Path
}

// Exists says whether there is something at the path. It does not open it.
func (f *File) Exists() (bool, error) {
	_, err := os.Stat(f.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, f.fileFault(err, false)
	}
	return true, nil
}

// View runs fn in a transaction that only reads.
func (f *File) View(fn func(*Tx) error) error {
	return f.session(false, false, func(db *boltFile) error {
		return db.View(func(kv Bucketed) error { return f.run(kv, false, fn) })
	})
}

// Update runs fn in a transaction that is on the disk when Update returns nil, and
// leaves the file as it was when it returns an error. It makes the journal if
// there is none.
func (f *File) Update(fn func(*Tx) error) error {
	if there, err := f.Exists(); err != nil {
		return err
	} else if !there {
		if err := f.create(); err != nil {
			return f.Explain(err)
		}
	}
	return f.UpdateExisting(fn)
}

// UpdateExisting is Update that returns an error if there is no journal.
func (f *File) UpdateExisting(fn func(*Tx) error) error {
	return f.session(true, false, func(db *boltFile) error { return f.update(db, fn) })
}

// Many runs fn, which may run one Update after another, of a file that was made for
// the purpose and of which nobody else knows.
func (f *File) Many(fn func(update func(func(*Tx) error) error) error) error {
	return f.session(true, false, func(db *boltFile) error {
		db.guard = nil // the leaves change with each
		return fn(func(one func(*Tx) error) error { return f.update(db, one) })
	})
}

func (f *File) update(db *boltFile, fn func(*Tx) error) error {
	return db.Update(func(kv Bucketed) error {
		return f.run(kv, true, func(tx *Tx) error {
			if err := fn(tx); err != nil {
				return err
			}
			return tx.finish()
		})
	})
}

func (f *File) run(kv Bucketed, write bool, fn func(*Tx) error) error {
	tx, err := newTx(f, kv, write)
	if err != nil {
		return err
	}
	return fn(tx)
}

// Inspect runs fn in a transaction that only reads, like View, after a walk over
// every page (see walk) and the store's own check, of whose findings it returns at
// most so many.
func (f *File) Inspect(most int, fn func(*Tx) error) (found []string, err error) {
	err = f.session(false, true, func(db *boltFile) error {
		if found = db.check(most); len(found) > 0 {
			return nil
		}
		return db.View(func(kv Bucketed) error { return f.run(kv, false, fn) })
	})
	return found, err
}

// WalkWhole looks at every page of the file: see walk.
func (f *File) WalkWhole() error {
	return f.session(false, true, func(*boltFile) error { return nil })
}

// session locks the file, walks it, opens it, runs fn and lets it go.
func (f *File) session(write, whole bool, fn func(*boltFile) error) error {
	file, err := f.Hold(write)
	if err != nil {
		return err
	}
	defer file.Close() // a second close where the store has closed it; lets the lock go where it has not
	return f.guarded(file, write, whole, fn)
}

// guarded turns a fault of memory or a panic of the store, which mean a damaged
// file, into an error. After a panic the store is not closed: closing may wait for
// a lock that the panic left shut.
func (f *File) guarded(file *os.File, write, whole bool, fn func(*boltFile) error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			unlock(file) // the map of the store, which stays, would hold the lock
			err = f.Damaged(fmt.Errorf("reading it failed: %v", r))
		}
	}()
	leaves, err := walk(file, whole)
	if err != nil {
		return f.Explain(err)
	}
	db, err := openBolt(file, write, f.loose)
	if errors.Is(err, errHeld) {
		return f.busy(holder(file))
	}
	if err != nil {
		return f.Explain(err)
	}
	if !whole {
		db.guard = &guard{file: file, pageSize: int64(db.db.Info().PageSize), leaves: leaves, read: map[uint64]bool{}}
	}
	err = fn(db)
	if closed := db.close(); err == nil && closed != nil {
		err = closed
	}
	return f.Explain(err)
}

// Hold opens the file and takes its lock, shared to read or exclusive to write.
// Closing the file lets the lock go.
func (f *File) Hold(write bool) (*os.File, error) {
	end := time.Now().Add(max(f.Wait, 0))
	for {
		file, err := f.openFile(write)
		if err != nil {
			return nil, err
		}
		held, err := lock(file, write, max(time.Until(end), 0))
		if err != nil {
			file.Close()
			return nil, fault.Failuref("cannot lock %s", f.name()).Because(err).
				Try("keep the journal on a local disk whose file system knows locks")
		}
		if !held {
			who := holder(file)
			file.Close()
			return nil, f.busy(who)
		}
		// The file may have been replaced (by a restore) while we waited.
		mine, err1 := file.Stat()
		there, err2 := os.Stat(f.Path)
		if err1 == nil && err2 == nil && os.SameFile(mine, there) {
			return file, nil
		}
		file.Close()
		if err2 != nil && !errors.Is(err2, fs.ErrNotExist) {
			return nil, f.fileFault(err2, write)
		}
	}
}

func (f *File) openFile(write bool) (*os.File, error) {
	if err := Regular(f.Path); err != nil {
		if errors.Is(err, errNoFile) {
			return nil, fault.Failuref("%s is not a file", f.name()).Try("name the journal file itself")
		}
		return nil, f.fileFault(err, write)
	}
	how := os.O_RDONLY
	if write {
		how = os.O_RDWR
	}
	file, err := os.OpenFile(f.Path, how, 0)
	if err != nil {
		return nil, f.fileFault(err, write)
	}
	return file, nil
}

var errNoFile = errors.New("it is a folder, a pipe or a device")

// Regular returns an error if path is no plain file: a pipe would make whoever
// opens it wait for ever.
func Regular(path string) error {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = errNoFile
	}
	return err
}

// create makes an empty journal.
func (f *File) create() error {
	dir := filepath.Dir(f.Path)
	if err := MakeFolder(dir); err != nil {
		return err
	}
	made, err := Beside(f.Path, nil)
	if err != nil {
		return err
	}
	defer made.Drop()
	if err := made.Lay(About{}); err != nil {
		return err
	}
	if err := Place(made.Path, f.Path); !errors.Is(err, fs.ErrExist) {
		return err
	}
	return nil // another process was quicker
}

// Lay writes an empty journal into the empty file. A zero id is drawn anew.
func (f *File) Lay(about About) error {
	file, err := os.OpenFile(f.Path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer file.Close()
	if held, err := lock(file, true, 0); err != nil || !held {
		return errors.Join(errHeld, err)
	}
	db, err := openBolt(file, true, false)
	if err != nil {
		return err
	}
	err = db.lay(buckets())
	if err == nil {
		err = db.Update(func(kv Bucketed) error {
			now := f.Now()
			about.Magic, about.Format, about.Made = magic, Format, record.StampOf(now)
			if about.Journal.IsZero() {
				about.Journal = newID(now)
			}
			return start(kv, about)
		})
	}
	if closed := db.close(); err == nil {
		err = closed
	}
	return err
}

// MakeFolder makes dir and what is missing above it, for the owner alone.
func MakeFolder(dir string) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	}
	parent := filepath.Dir(dir)
	if parent != dir {
		if err := MakeFolder(parent); err != nil {
			return err
		}
	}
	if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return SyncFolder(parent)
}

// SyncFolder makes a new name in a folder durable. Some systems cannot do it for
// a folder; they order such writes themselves.
func SyncFolder(dir string) error {
	folder, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer folder.Close()
	if err := folder.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrInvalid) {
		return err
	}
	return nil
}
