package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"hepar/recipe/fault"
)

// Files that are made beside the journal and take its place. Long work is done on
// such a copy, in many transactions, and the copy takes the place of the journal in
// one step: all or nothing, and nobody waits for it.

// made are the files that this process is making and that have no name of their
// own yet, so that an end by a signal need not leave them.
var made struct {
	sync.Mutex
	paths map[string]bool
}

// DropCopies removes what this process has been making beside journals. Call it
// from a signal handler, and end without another word to the journal: whoever
// makes a file after it waits for ever. The journals themselves are not touched.
func DropCopies() {
	made.Lock() // and never let go
	for path := range made.paths {
		_ = os.Remove(path) // gone already where it was put in its place
	}
}

// besideName is the name of a file that is being made for the journal at path.
func besideName(path string) string { return "." + filepath.Base(path) + ".new-" }

// Beside makes a file in the folder of path, with no name of its own yet, with the
// content of from if that is not nil. It removes those that were left by processes
// that have ended.
func Beside(path string, from *os.File) (*File, error) {
	dir := filepath.Dir(path)
	sweep(dir, besideName(path))
	made.Lock()
	file, err := os.CreateTemp(dir, besideName(path)+"*") // mode 0600
	if err == nil {
		if made.paths == nil {
			made.paths = map[string]bool{}
		}
		made.paths[file.Name()] = true
	}
	made.Unlock()
	if err != nil {
		return nil, NoRoom(path, err)
	}
	_, _ = lock(file, false, 0) // a sweep leaves alone what is held
	f := &File{Path: file.Name(), Wait: DefaultWait, Now: time.Now, loose: true}
	if from != nil {
		if _, err = from.Seek(0, io.SeekStart); err == nil {
			_, err = io.Copy(file, from)
		}
	}
	if closed := file.Close(); err == nil {
		err = closed
	}
	if err != nil {
		f.Drop()
		return nil, NoRoom(f.Path, err)
	}
	return f, nil
}

// Drop removes a file made by Beside, if it has not been put in a place.
func (f *File) Drop() {
	_ = os.Remove(f.Path)
	made.Lock()
	delete(made.paths, f.Path)
	made.Unlock()
}

// sweepAfter is after how long a copy that nobody holds or writes to was left behind.
const sweepAfter = time.Minute

// sweep removes files in dir whose names begin with prefix and that nobody works on.
func sweep(dir, prefix string) {
	entries, _ := os.ReadDir(dir)
	for _, entry := range entries {
		info, err := entry.Info()
		if err != nil || !info.Mode().IsRegular() || !strings.HasPrefix(entry.Name(), prefix) || time.Since(info.ModTime()) < sweepAfter {
			continue
		}
		path := filepath.Join(dir, entry.Name())
		if file, err := os.OpenFile(path, os.O_RDWR, 0); err == nil {
			if held, err := lock(file, true, 0); err == nil && held {
				_ = os.Remove(path)
			}
			file.Close()
		}
	}
}

// Sync makes the content of the file durable.
func (f *File) Sync() error {
	file, err := os.OpenFile(f.Path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	err = file.Sync()
	if closed := file.Close(); err == nil {
		err = closed
	}
	return err
}

// Place gives the file at from the name to. It returns fs.ErrExist if there is
// something: a link, unlike a rename, never overwrites what another process has made.
func Place(from, to string) error {
	err := os.Link(from, to)
	if err == nil {
		return SyncFolder(filepath.Dir(to))
	}
	if _, there := os.Lstat(to); there == nil {
		return fs.ErrExist
	}
	if err := os.Rename(from, to); err != nil { // a file system without links
		return err
	}
	return SyncFolder(filepath.Dir(to))
}

// Give gives the file at from the name to, or to with a count if that is taken:
// nothing is ever overwritten. It returns the name given.
func Give(from, to string) (string, error) {
	ending := filepath.Ext(to)
	start := strings.TrimSuffix(to, ending)
	for n := 1; n < 1000; n++ {
		if n > 1 {
			to = fmt.Sprintf("%s.%d%s", start, n, ending)
		}
		if err := Place(from, to); !errors.Is(err, fs.ErrExist) {
			return to, err
		}
	}
	return "", fmt.Errorf("there are too many files with the name %s", to)
}

// Replace puts the file made beside in the place of the journal under its lock,
// with its mode, owner and group. Ready is asked, under the lock, whether it may
// be; old is the file there, nil if there is none. With keep not empty the old
// file stays beside under that name, which is returned.
func (f *File) Replace(by *File, keep string, ready func(old *os.File) error) (kept string, err error) {
	if err := by.Sync(); err != nil {
		return "", NoRoom(by.Path, err)
	}
	old, err := f.Hold(true)
	if errors.Is(err, fs.ErrNotExist) {
		if err := ready(nil); err != nil {
			return "", err
		}
		err := Place(by.Path, f.Path)
		if errors.Is(err, fs.ErrExist) {
			return "", f.busy("somebody who has just made it")
		}
		return "", NoRoom(f.Path, err)
	}
	if err != nil {
		return "", err
	}
	defer old.Close()
	info, err := old.Stat()
	if err != nil {
		return "", f.Explain(err)
	}
	if names(info) > 1 {
		return "", fault.Failuref("%s has a second name (a hard link), which would go on naming the old file", f.name()).
			Try("remove the other name; the journal was not changed")
	}
	if err := ready(old); err != nil {
		return "", err
	}
	file, err := os.OpenFile(by.Path, os.O_RDWR, 0)
	if err == nil {
		err = own(file, info)
		file.Close()
	}
	if err != nil {
		return "", NoRoom(by.Path, err)
	}
	if keep != "" {
		if kept, err = Give(f.Path, keep); err != nil {
			return "", NoRoom(keep, err)
		}
	}
	if err := os.Rename(by.Path, f.Path); err != nil {
		return kept, NoRoom(f.Path, err)
	}
	return kept, f.Explain(SyncFolder(filepath.Dir(f.Path)))
}

// State is what a file is at a moment: two that are equal are the same content.
type State struct {
	there  bool
	header header // zero if it cannot be read
	size   int64
	mod    time.Time // of a file whose header cannot be read
}

// StateOf returns the state of a file that is held; nil is no file.
func StateOf(file *os.File) (s State) {
	if file == nil {
		return s
	}
	s.there = true
	info, err := file.Stat()
	if err != nil {
		return s
	}
	s.size = info.Size()
	if s.header, err = readHeader(file); err != nil {
		s.header, s.mod = header{}, info.ModTime()
	}
	return s
}

// CompactInto writes what is in the journal, as it is, into the empty file: no room
// is left that nothing uses.
func (f *File) CompactInto(empty *File) error {
	file, err := os.OpenFile(empty.Path, os.O_RDWR, 0)
	if err != nil {
		return NoRoom(empty.Path, err)
	}
	defer file.Close() // a second close where the store has closed it
	return f.session(false, true, func(from *boltFile) error {
		to, err := openBolt(file, true, true)
		if err != nil {
			return NoRoom(empty.Path, err)
		}
		if err = to.take(from); err == nil {
			err = to.Update(restamp)
		}
		if closed := to.close(); err == nil {
			err = closed
		}
		if err == nil {
			err = cutUnused(empty.Path)
		}
		return NoRoom(empty.Path, err)
	})
}

// cutUnused cuts off the end of a file that no page reaches: the store makes its
// files larger in steps of up to 16 MiB.
func cutUnused(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer file.Close()
	h, err := readHeader(file)
	if err != nil {
		return err
	}
	return file.Truncate(int64(h.pages) * h.pageSize)
}

// Rebuild runs fn on a copy of the journal, or on an empty one if there is none,
// and puts the copy in its place. It returns a fault of kind Busy if somebody wrote
// to the journal meanwhile, and leaves it as it was on any error.
func (f *File) Rebuild(fn func(copy *File) error) error {
	if err := MakeFolder(filepath.Dir(f.Path)); err != nil {
		return NoRoom(f.Path, err)
	}
	held, err := f.Hold(false)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	before := StateOf(held)
	copy, err := Beside(f.Path, held)
	if held != nil {
		held.Close()
	}
	if err != nil {
		return err
	}
	defer copy.Drop()
	copy.Now, copy.Called = f.Now, f.name()
	if held == nil {
		if err := copy.Lay(About{}); err != nil {
			return NoRoom(copy.Path, err)
		}
	}
	if err := fn(copy); err != nil {
		return err
	}
	_, err = f.Replace(copy, "", func(old *os.File) error {
		if StateOf(old) == before {
			return nil
		}
		return fault.Busyf("something was added to the journal %s meanwhile", f.name()).
			Try("nothing was changed; do it again when nobody else is at work")
	})
	return err
}
