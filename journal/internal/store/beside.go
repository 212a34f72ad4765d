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

// Beside makes an empty file in the folder of path, called as f, and runs work on it, which
// may give it to a name: in the end it is removed. So are those to which nobody has written
// for [sweepAfter].
func (f *File) Beside(path string, work func(made *File)) error {
	return NoRoom(path, fault.Caught(func() {
		dir, name := filepath.Dir(path), "."+filepath.Base(path)+".new-"
		entries, _ := os.ReadDir(dir)
		for _, entry := range entries {
			info, err := entry.Info()
			if err == nil && info.Mode().IsRegular() && strings.HasPrefix(entry.Name(), name) && time.Since(info.ModTime()) > sweepAfter {
				_ = os.Remove(filepath.Join(dir, entry.Name()))
			}
		}
		file := fault.Must(os.CreateTemp(dir, name+"*")) // mode 0600
		unnamed.Store(file.Name(), nil)
		defer unnamed.Delete(file.Name())
		defer os.Remove(file.Name())
		fault.Check(file.Close())
		work(&File{Path: file.Name(), Wait: DefaultWait, Now: f.Now, Watch: f.Watch, Called: f.name(), loose: true})
	}))
}

// Copy fills a file made by Beside with the content of another. Like Compact it is for work
// of Beside, which stops at an error.
func (f *File) Copy(from *File) {
	source := fault.Must(from.Hold(false))
	defer source.Close()
	file := fault.Must(os.OpenFile(f.Path, os.O_WRONLY, 0))
	_, err := io.Copy(file, source)
	fault.Check(errors.Join(err, file.Close()))
}

// Compact is Copy without the room that nothing uses.
func (f *File) Compact(from *File) {
	fault.Check(from.session(false, func(source boltFile) error {
		return f.session(true, func(to boltFile) error { return to.take(source) })
	}))
	file := fault.Must(os.OpenFile(f.Path, os.O_RDWR, 0))
	defer file.Close()
	used := fault.Must(readHeader(file))
	// The store makes files larger in steps of up to 16 MiB.
	fault.Check(file.Truncate(int64(used.Pages) * int64(used.PageSize)))
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

// Give makes the file at from durable and gives it the name to or, if that is taken, the
// same with a count from 2 to most. It returns the name, and fs.ErrExist if all are taken: a
// link, unlike a rename, never overwrites what another process has made.
func Give(from, to string, most int) (string, error) {
	ending := filepath.Ext(to)
	start := strings.TrimSuffix(to, ending)
	err := settle(from, nil)
	for n := 2; err == nil && os.Link(from, to) != nil; n++ {
		if _, free := os.Lstat(to); free != nil {
			err = os.Rename(from, to) // a file system without links
			break
		} else if n > most {
			return "", fs.ErrExist
		}
		to = fmt.Sprintf("%s.%d%s", start, n, ending)
	}
	if err == nil {
		err = syncFolder(filepath.Dir(to))
	}
	return to, err
}

// Exchange puts a file that work makes of an empty one in the place of the journal, with
// its mode, owner and group. Work is told whether there is a journal, and returns the name
// under which the old file stays beside, empty for none. The error is of kind Busy
// if somebody wrote meanwhile. On any error, and on ErrStop, which is none, the
// journal stays as it was.
func (f *File) Exchange(work func(made *File, there bool) (keep string)) (kept string, err error) {
	err = fault.Caught(func() {
		file, before := f.current(false)
		there := file != nil
		if !there {
			fault.Check(NoRoom(f.Path, MakeFolder(filepath.Dir(f.Path))))
		}
		_ = file.Close()
		fault.Check(f.Beside(f.Path, func(made *File) {
			keep := work(made, there)
			info, _ := os.Stat(f.Path)
			fault.Check(settle(made.Path, info)) // before others wait
			file, now := f.current(true)
			defer file.Close()
			if now != before {
				fault.Check(fault.Busyf("another program wrote to the journal %s meanwhile", f.name()).
					Try("nothing was changed; run it again when no other program uses it"))
			}
			if !there {
				_, err := Give(made.Path, f.Path, 1)
				if errors.Is(err, fs.ErrExist) {
					err = f.busy("another program")
				}
				fault.Check(err)
				return
			}
			if keep != "" {
				kept = fault.Must(Give(f.Path, keep, 1000))
			}
			fault.Check(os.Rename(made.Path, f.Path))
			fault.Check(f.Explain(syncFolder(filepath.Dir(f.Path))))
		}))
	})
	if errors.Is(err, ErrStop) {
		err = nil
	}
	return kept, err
}

// current holds the journal and returns its state: two that are equal are the same content.
// It is the digest of the beginning, which every write changes. Both are nothing if there is
// no file.
func (f *File) current(write bool) (file *os.File, state [sha256.Size]byte) {
	file, err := f.Hold(write)
	if errors.Is(err, ErrNone) {
		return nil, state
	}
	fault.Check(err)
	hash := sha256.New()
	_, _ = io.Copy(hash, io.NewSectionReader(file, 0, 1<<17)) // both headers, at any size of page
	return file, [sha256.Size]byte(hash.Sum(nil))
}

// Rebuild runs fn on a copy of the journal, or on a new one if there is none, and puts the
// copy in its place: see Exchange.
func (f *File) Rebuild(fn func(copy *File) error) error {
	_, err := f.Exchange(func(made *File, there bool) string {
		if there {
			made.Copy(f)
		} else {
			fault.Check(made.Lay(record.ID{}, Head{}))
		}
		fault.Check(fn(made))
		return ""
	})
	return err
}
