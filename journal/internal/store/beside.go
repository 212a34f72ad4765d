package store

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// Files that are made beside the journal and take its place. Long work is done on
// such a copy, in many transactions, and the copy takes the place of the journal in
// one step: all or nothing, and nobody waits for it.

// unnamed are the paths of the files that this process is making.
var unnamed sync.Map

// DropCopies removes what this process has been making beside journals, and leaves the
// journals alone. Call it before the program ends at a signal.
func DropCopies() {
	unnamed.Range(func(path, _ any) bool {
		_ = os.Remove(path.(string)) // gone already where it was put in its place
		return true
	})
}

// sweepAfter is after how long without a write a copy was left behind.
const sweepAfter = 10 * time.Minute

// Beside makes a file in the folder of path, with the content of from if that is not nil,
// and called as f. It removes those to which nobody has written for [sweepAfter].
func (f *File) Beside(path string, from *os.File) (*File, error) {
	dir, name := filepath.Dir(path), "."+filepath.Base(path)+".new-"
	entries, _ := os.ReadDir(dir)
	for _, entry := range entries {
		info, err := entry.Info()
		if err == nil && info.Mode().IsRegular() && strings.HasPrefix(entry.Name(), name) && time.Since(info.ModTime()) > sweepAfter {
			_ = os.Remove(filepath.Join(dir, entry.Name()))
		}
	}
	file, err := os.CreateTemp(dir, name+"*") // mode 0600
	if err != nil {
		return nil, NoRoom(path, err)
	}
	unnamed.Store(file.Name(), nil)
	made := &File{Path: file.Name(), Wait: DefaultWait, Now: f.Now, Called: f.name(), loose: true}
	if from != nil {
		_, err = io.Copy(file, io.NewSectionReader(from, 0, 1<<62))
	}
	if err = errors.Join(err, file.Close()); err != nil {
		made.Drop()
		return nil, NoRoom(made.Path, err)
	}
	return made, nil
}

// Drop removes a file made by Beside, if it has not been put in a place.
func (f *File) Drop() {
	_ = os.Remove(f.Path)
	unnamed.Delete(f.Path)
}

// settle makes the content of a file durable. If like is not nil the file gets its
// mode and, where that is allowed, its owner and group: see own.
func settle(path string, like fs.FileInfo) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if like != nil {
		err = own(file, like)
	}
	return errors.Join(err, file.Sync(), file.Close())
}

// Place makes the file at from durable and moves it to the name to. It returns
// fs.ErrExist if there is something: a link, unlike a rename, never overwrites what
// another process has made.
func Place(from, to string) error {
	if err := settle(from, nil); err != nil {
		return err
	}
	if err := os.Link(from, to); err != nil {
		if _, there := os.Lstat(to); there == nil {
			return fs.ErrExist
		}
		if err := os.Rename(from, to); err != nil { // a file system without links
			return err
		}
	}
	return syncFolder(filepath.Dir(to))
}

// Give is Place, to a name with a count if the name is taken: nothing is ever
// overwritten. It returns the name.
func Give(from, to string) (string, error) {
	ending := filepath.Ext(to)
	start := strings.TrimSuffix(to, ending)
	for n := 2; n < 1000; n++ {
		if err := Place(from, to); !errors.Is(err, fs.ErrExist) {
			return to, err
		}
		to = fmt.Sprintf("%s.%d%s", start, n, ending)
	}
	return "", fmt.Errorf("there are too many files with the name %s", to)
}

// Exchange makes a file beside the journal and puts it in its place in one step. Build
// makes it while the journal is held for reading; old is nil if there is none. Finish
// works on it while others may write; it returns the name under which the old file stays
// beside, empty for none. The error is of kind Busy, with ErrChanged, if somebody wrote
// meanwhile. On any error, and on ErrStop, which is none, the journal stays as it was.
func (f *File) Exchange(build func(old *os.File) (*File, error), finish func(made *File) (keep string, err error)) (kept string, err error) {
	old, before, err := f.current(false)
	if err != nil {
		return "", err
	}
	made, err := build(old)
	old.Close()
	if made != nil {
		defer made.Drop()
	}
	keep := ""
	if err == nil {
		keep, err = finish(made)
	}
	if err == nil {
		return f.replace(made, keep, before)
	}
	if errors.Is(err, ErrStop) {
		err = nil
	}
	return "", err
}

// replace puts the file made beside in the place of the journal under its lock, with its
// mode, owner and group, if the journal is still in the state before.
func (f *File) replace(by *File, keep string, before state) (kept string, err error) {
	if err := settle(by.Path, nil); err != nil { // before others wait
		return "", NoRoom(by.Path, err)
	}
	old, now, err := f.current(true)
	if err != nil {
		return "", err
	}
	defer old.Close()
	if now != before {
		return "", fault.Busyf("something was added to the journal %s meanwhile", f.name()).Because(ErrChanged).
			Try("nothing was changed; do it again when nobody else is at work")
	}
	if old == nil {
		if err = Place(by.Path, f.Path); errors.Is(err, fs.ErrExist) {
			err = f.busy("somebody who has just made it")
		}
		return "", NoRoom(f.Path, err)
	}
	info, err := old.Stat()
	if err != nil {
		return "", f.Explain(err)
	}
	if err := settle(by.Path, info); err != nil {
		return "", NoRoom(f.Path, err)
	}
	if keep != "" {
		if kept, err = Give(f.Path, keep); err != nil {
			return "", NoRoom(keep, err)
		}
	}
	if err := os.Rename(by.Path, f.Path); err != nil {
		return kept, NoRoom(f.Path, err)
	}
	return kept, f.Explain(syncFolder(filepath.Dir(f.Path)))
}

// state is what a file is at a moment: two that are equal are the same content. It
// is the digest of the beginning, which every write changes; zero if there is no file.
type state [sha256.Size]byte

// current holds the journal and returns its state; both are nothing if there is none.
func (f *File) current(write bool) (file *os.File, s state, err error) {
	file, err = f.Hold(write)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, s, nil
	}
	if err == nil {
		hash := sha256.New()
		_, _ = io.Copy(hash, io.NewSectionReader(file, 0, 1<<17)) // both headers, at any size of page
		s = state(hash.Sum(nil))
	}
	return file, s, err
}

// Compacted writes what is in the journal, as it is, into a file beside: no room is left
// that nothing uses.
func (f *File) Compacted() (small *File, err error) {
	if small, err = f.Beside(f.Path, nil); err != nil {
		return nil, err
	}
	size := int64(0)
	err = f.session(false, func(from boltFile) error {
		return small.session(true, func(to boltFile) (err error) {
			size, err = to.take(from)
			return NoRoom(small.Path, err)
		})
	})
	if err == nil {
		err = NoRoom(small.Path, os.Truncate(small.Path, size)) // the store makes files larger in steps of up to 16 MiB
	}
	if err != nil {
		small.Drop()
	}
	return small, err
}

// Rebuild runs fn on a copy of the journal, or on an empty one if there is none, and
// puts the copy in its place: see Exchange.
func (f *File) Rebuild(fn func(copy *File) error) error {
	_, err := f.Exchange(func(old *os.File) (made *File, err error) {
		if old == nil {
			err = NoRoom(f.Path, MakeFolder(filepath.Dir(f.Path)))
		}
		if err == nil {
			made, err = f.Beside(f.Path, old)
		}
		if err == nil && old == nil {
			err = made.Lay(record.ID{})
		}
		return made, err
	}, func(copy *File) (string, error) { return "", fn(copy) })
	return err
}
