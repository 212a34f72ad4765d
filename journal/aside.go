package journal

import (
	"os"
	"path/filepath"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// Long work is done on a copy aside, in many transactions that need not be
// durable, and the copy takes the place of the journal in one step at the end. So
// it is all or nothing, however much it is, and nobody waits for it.

// aside is the copy at work.
type aside struct {
	j     *Journal
	path  string
	store *bolt.DB
	snap  *plain // what the journal was when it was copied; nil where there was none
}

// openAside makes the copy, or an empty journal where there is none.
func (j *Journal) openAside() (*aside, error) {
	there, err := j.Exists()
	if err != nil {
		return nil, err
	}
	dir := filepath.Dir(j.path)
	if err := makeFolder(dir); err != nil {
		return nil, noRoom(j.path, err)
	}
	j.sweep(dir)
	file, err := j.newBeside(dir)
	if err != nil {
		return nil, err
	}
	a := &aside{j: j, path: file.Name()}
	if there {
		a.snap, _, err = j.snapshot(file)
	}
	if closed := file.Close(); err == nil && closed != nil {
		err = noRoom(a.path, closed)
	}
	if err == nil && !there {
		err = j.layOut(a.path)
	}
	if err == nil {
		// NoFreelistSync: the list of free pages would be written with each transaction.
		a.store, err = bolt.Open(a.path, 0o600, &bolt.Options{
			Timeout: boltWait, FreelistType: bolt.FreelistMapType, NoStatistics: true, NoSync: true, NoFreelistSync: true,
		})
	}
	if err != nil {
		a.drop()
		return nil, noRoom(a.path, err)
	}
	return a, nil
}

// staleAfter is after how long a copy that nobody wrote to is one that was left.
const staleAfter = time.Hour

// sweep takes away copies that were left when a process was ended in the middle
// of its work: of this journal, not written to for an hour, and not held.
func (j *Journal) sweep(dir string) {
	for path, info := range j.leftBeside(dir) {
		if time.Since(info.ModTime()) < staleAfter {
			continue
		}
		file, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			continue
		}
		if held, err := lock(file, true, 0); err == nil && held {
			_ = os.Remove(path)
		}
		_ = file.Close()
	}
}

// update runs fn in a transaction of the copy.
func (a *aside) update(fn func(w *Writer) error) error {
	return a.j.explain(catch(func() error { return a.store.Update(a.j.inWriter(fn)) }))
}

// drop throws the copy away.
func (a *aside) drop() {
	if a.store != nil {
		_ = a.store.Close()
		a.store = nil
	}
	_ = os.Remove(a.path)
}

// put makes the copy durable and gives it the place of the journal, which may not
// have changed meanwhile.
func (a *aside) put() error {
	a.store.NoFreelistSync = false
	err := a.store.Update(setMoment)
	if err == nil {
		err = a.store.Sync()
	}
	if closed := a.store.Close(); err == nil {
		err = closed
	}
	a.store = nil
	if err != nil {
		return noRoom(a.path, err)
	}
	_, err = a.j.swap(a.path, "", func(old *os.File) error {
		if a.snap == nil || old == nil {
			if (a.snap == nil) != (old == nil) {
				return a.changed()
			}
			return nil
		}
		now, err := openPlain(old)
		if err != nil {
			return a.j.damaged("%v", err)
		}
		if now.header.txid != a.snap.header.txid || !sameRecords(now, a.snap) {
			return a.changed()
		}
		return nil
	})
	return err
}

func (a *aside) changed() error {
	return fault.Busyf("something was added to the journal %s meanwhile", a.j.path).
		Try("nothing was changed; do it again when nobody else is at work")
}
