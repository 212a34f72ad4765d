package journal

import (
	"errors"
	"io/fs"
	"os"
	"runtime/debug"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

const unknownHolder = "another process"

// read runs fn in a read-only transaction. The file is held shared while fn runs
// and not a moment longer.
func (j *Journal) read(fn func(tx *bolt.Tx) error) error {
	return j.session(false, func(db *bolt.DB) error { return db.View(fn) })
}

// write runs fn in a transaction that is on the disk when write returns nil, and
// leaves the file as it was when it returns an error.
func (j *Journal) write(fn func(tx *bolt.Tx) error) error {
	return j.session(true, func(db *bolt.DB) error { return db.Update(fn) })
}

// session opens the file, checks it, runs fn and closes it.
func (j *Journal) session(write bool, fn func(db *bolt.DB) error) error {
	file, err := j.hold(write)
	if err != nil {
		return err
	}
	err = j.guarded(file, write, func(db *bolt.DB) error {
		if !j.anyFormat { // what the last change left can be told of the present format only
			if err := db.View(endsWell); err != nil {
				return err
			}
		}
		return fn(db)
	})
	_ = file.Close() // a second close where the store has closed it; lets the lock go where it has not
	return err
}

// guarded turns a fault of memory or a panic of the store, both of which mean a
// damaged file, into an error. After a panic the store is not closed, since
// closing may wait for a lock that the panic left shut; the file is.
func (j *Journal) guarded(file *os.File, write bool, fn func(db *bolt.DB) error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			unlock(file) // the map of the store, which stays, would hold the lock
			err = j.damaged("reading it failed: %v", r)
		}
	}()
	if _, err := readHeader(file); err != nil {
		return j.headerFault(err)
	}
	db, err := bolt.Open(j.path, 0o600, &bolt.Options{
		Timeout:      boltWait,
		ReadOnly:     !write,
		FreelistType: bolt.FreelistMapType,
		NoStatistics: true,
		OpenFile:     func(string, int, os.FileMode) (*os.File, error) { return file, nil },
	})
	if err != nil {
		return j.openFault(err, file)
	}
	err = catch(func() error { return db.View(j.checkAbout) })
	if err == nil {
		err = catch(func() error { return fn(db) })
	}
	if closed := db.Close(); err == nil && closed != nil {
		err = closed
	}
	return j.explain(err)
}

// hold opens the file and takes its lock.
func (j *Journal) hold(write bool) (*os.File, error) {
	end := time.Now().Add(max(j.wait, 0))
	for {
		file, err := j.openFile(write)
		if err != nil {
			return nil, err
		}
		held, err := lock(file, write, max(time.Until(end), 0))
		if err != nil {
			file.Close()
			return nil, fault.Failuref("cannot lock %s", j.path).Because(err).
				Try("keep the journal on a local disk whose file system knows locks")
		}
		if !held {
			who := holder(file)
			file.Close()
			return nil, j.busy(who)
		}
		// The file may have been replaced (by a restore) while we waited.
		mine, err1 := file.Stat()
		there, err2 := os.Stat(j.path)
		if err1 == nil && err2 == nil && os.SameFile(mine, there) {
			return file, nil
		}
		file.Close()
		if err2 != nil && !errors.Is(err2, fs.ErrNotExist) {
			return nil, j.fileFault(err2, write)
		}
	}
}

func (j *Journal) openFile(write bool) (*os.File, error) {
	info, err := os.Stat(j.path) // before open, which would wait for ever on a pipe
	if err != nil {
		return nil, j.fileFault(err, write)
	}
	if !info.Mode().IsRegular() {
		return nil, fault.Failuref("%s is not a file", j.path).Try("name the journal file itself")
	}
	how := os.O_RDONLY
	if write {
		how = os.O_RDWR
	}
	file, err := os.OpenFile(j.path, how, 0)
	if err != nil {
		return nil, j.fileFault(err, write)
	}
	return file, nil
}

// checkAbout makes sure that the store is a journal of a format we know.
func (j *Journal) checkAbout(tx *bolt.Tx) error {
	b, err := openShelf(tx, metaBucket)
	if err != nil {
		return err
	}
	if b == nil || string(b.Get([]byte(magicKey))) != magic {
		return fault.Damagedf("%s is a store of another program, not a journal", j.path).
			Try("name the right file, or move this one away and restore the last backup")
	}
	var about aboutRecord
	if err := unseal(b.Get([]byte(aboutKey)), &about); err != nil {
		return err
	}
	switch {
	case j.anyFormat:
	case about.Format > fileFormat:
		return j.newer()
	case about.Format < fileFormat:
		return j.older()
	}
	return nil
}
