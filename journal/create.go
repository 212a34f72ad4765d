package journal

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// Exists says whether there is something at the path. It does not open it.
func (j *Journal) Exists() (bool, error) {
	_, err := os.Stat(j.path)
	switch {
	case err == nil:
		return true, nil
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	}
	return false, j.fileFault(err, false)
}

// Init makes an empty journal where there is none. Create and LogNew do so by
// themselves; call Init to learn early that the place is no good.
func (j *Journal) Init() error {
	there, err := j.Exists()
	if err != nil || there {
		return err
	}
	if err := j.create(); err != nil {
		var known *fault.Error
		if errors.As(err, &known) {
			return err
		}
		if errors.Is(err, fs.ErrPermission) {
			return fault.Failuref("cannot make the journal %s", j.path).Because(reason(err)).
				Try("give yourself the right to write to the folder, or name another with --journal")
		}
		return j.explain(err)
	}
	return nil
}

// create builds the whole file beside its place, makes it durable, and only
// then gives it its name: a power cut while a store file is being laid out
// would leave a ruin. The name is given by a link, which unlike a rename fails
// where another process was quicker and may already hold acknowledged batches.
func (j *Journal) create() error {
	dir := filepath.Dir(j.path)
	if err := makeFolder(dir); err != nil {
		return err
	}
	beside, err := makeCopy(dir, "."+filepath.Base(j.path)+".new-*") // mode 0600
	if err != nil {
		return err
	}
	defer os.Remove(beside.Name())
	if err := beside.Close(); err != nil {
		return err
	}
	if err := j.layOut(beside.Name()); err != nil {
		return err
	}
	err = os.Link(beside.Name(), j.path)
	switch {
	case errors.Is(err, fs.ErrExist):
		return nil
	case err != nil: // a file system without links
		if there, _ := j.Exists(); there {
			return nil
		}
		if err := os.Rename(beside.Name(), j.path); err != nil {
			return err
		}
	}
	return syncFolder(dir)
}

// layOut writes an empty journal into the empty file at path.
func (j *Journal) layOut(path string) error {
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: boltWait, FreelistType: bolt.FreelistMapType, NoStatistics: true})
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bolt.Tx) error {
		for _, name := range bucketNames() {
			if _, err := tx.CreateBucket([]byte(name)); err != nil {
				return err
			}
		}
		now := j.now()
		about := aboutRecord{Format: fileFormat, Journal: idAt(now), Created: stampOf(now)}
		meta := tx.Bucket([]byte(metaBucket))
		if err := meta.Put([]byte(magicKey), []byte(magic)); err != nil {
			return err
		}
		if err := putRecord(meta, []byte(aboutKey), about); err != nil {
			return err
		}
		return putRecord(meta, []byte(headKey), headRecord{Digest: chainStart(about.Journal), Moment: uint64(tx.ID())})
	})
	if closed := db.Close(); err == nil {
		err = closed
	}
	return err
}

// makeFolder makes dir and what is missing above it, for the owner alone.
func makeFolder(dir string) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	}
	parent := filepath.Dir(dir)
	if parent != dir {
		if err := makeFolder(parent); err != nil {
			return err
		}
	}
	if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return syncFolder(parent)
}

// syncFolder makes a new name in a folder durable. Some systems cannot do it for
// a folder; they order such writes themselves.
func syncFolder(dir string) error {
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

// putRecord seals v and puts it under key.
func putRecord(b interface{ Put(key, value []byte) error }, key []byte, v any) error {
	record, err := seal(v)
	if err != nil {
		return err
	}
	return b.Put(key, record)
}
