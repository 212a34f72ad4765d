package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"hepar/recipe/fault"
)

// Files that are made beside the one that counts, and take its place.

// stampFormat is how a moment is written in the name of a file: in UTC, and so
// that names sort by time.
const stampFormat = "20060102T150405Z"

// datedName names a copy of the journal: what it is a copy of, when, and how many
// events it has.
func (j *Journal) datedName(at time.Time, events uint64, ending string) string {
	return fmt.Sprintf("%s-%s-%d%s", filepath.Base(j.path), at.UTC().Format(stampFormat), events, ending)
}

// newBeside makes an empty file in dir, for the owner alone, that has no name of
// its own yet.
func (j *Journal) newBeside(dir string) (*os.File, error) {
	file, err := makeCopy(dir, "."+filepath.Base(j.path)+".new-*")
	if err != nil {
		return nil, noRoom(dir, err)
	}
	return file, nil
}

// leftBeside gives the files in dir that were made by newBeside for this journal, at
// work or left by a process that was ended.
func (j *Journal) leftBeside(dir string) iter.Seq2[string, fs.FileInfo] {
	return func(yield func(string, fs.FileInfo) bool) {
		entries, err := os.ReadDir(dir)
		if err != nil {
			return
		}
		for _, entry := range entries {
			if !entry.Type().IsRegular() || !strings.HasPrefix(entry.Name(), "."+filepath.Base(j.path)+".new-") {
				continue
			}
			if info, err := entry.Info(); err == nil && !yield(filepath.Join(dir, entry.Name()), info) {
				return
			}
		}
	}
}

// nameFile gives the file at from the name to, or to with a count where that is
// taken: nothing is ever overwritten.
func nameFile(from, to string) (string, error) {
	ending := filepath.Ext(to)
	start := strings.TrimSuffix(to, ending)
	for n := 1; n < 1000; n++ {
		if n > 1 {
			to = fmt.Sprintf("%s.%d%s", start, n, ending)
		}
		err := os.Link(from, to)
		if err == nil {
			return to, nil
		}
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if _, there := os.Lstat(to); there == nil {
			continue
		}
		// A file system without links: nobody else uses these names.
		return to, os.Rename(from, to)
	}
	return "", fmt.Errorf("there are too many files with the name %s", to)
}

// swap puts the file at made in the place of the journal, while no other process
// reads or writes it, and keeps the old one beside under the name kept (not where
// kept is empty). Ready is asked, under the lock, whether it may be: it gets the
// old file, which is nil where there is none. Whoever waits for the old file
// notices that it was replaced and opens the new one.
func (j *Journal) swap(made, kept string, ready func(old *os.File) error) (string, error) {
	old, err := j.hold(true)
	if errors.Is(err, fs.ErrNotExist) {
		return "", j.settle(made, ready)
	}
	if err != nil {
		return "", err
	}
	defer old.Close()
	if j.twice(old) {
		return "", fault.Failuref("%s has a second name (a hard link), which would go on naming the old file", j.path).
			Try("take the other name away; the journal was not changed")
	}
	if err := ready(old); err != nil {
		return "", err
	}
	if kept != "" {
		if kept, err = nameFile(j.path, kept); err != nil {
			return "", noRoom(kept, err)
		}
	}
	if err := os.Rename(made, j.path); err != nil {
		return kept, noRoom(j.path, err)
	}
	if err := syncFolder(filepath.Dir(j.path)); err != nil {
		return kept, j.explain(err)
	}
	return kept, nil
}

// twice says whether the journal has a second name, once those are taken away
// that were left when a process was ended while it gave the file its name.
func (j *Journal) twice(file *os.File) bool {
	info, err := file.Stat()
	if err != nil || links(info) < 2 {
		return false
	}
	for path, other := range j.leftBeside(filepath.Dir(j.path)) {
		if os.SameFile(info, other) {
			_ = os.Remove(path)
		}
	}
	info, err = file.Stat()
	return err == nil && links(info) > 1
}

// settle is swap where there is no journal yet.
func (j *Journal) settle(made string, ready func(old *os.File) error) error {
	if err := ready(nil); err != nil {
		return err
	}
	switch err := os.Link(made, j.path); {
	case errors.Is(err, fs.ErrExist):
		return j.busy("somebody who has just made it")
	case err != nil: // a file system without links
		if err := os.Rename(made, j.path); err != nil {
			return noRoom(j.path, err)
		}
	}
	if err := syncFolder(filepath.Dir(j.path)); err != nil {
		return j.explain(err)
	}
	return nil
}

// noRoom explains why a copy could not be written.
func noRoom(path string, err error) error {
	var known *fault.Error
	switch {
	case errors.As(err, &known):
		return err
	case saidBySystem(err, syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG):
		return fault.Failuref("the disk is full: there is no room for a copy in %s", filepath.Dir(path)).Because(reason(err)).
			Try("make room there, or name a folder on another disk; the journal was not changed")
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return fault.Failuref("no file may be written at %s", path).Because(reason(err)).
			Try("give yourself the right to write to the folder, or name another; the journal was not changed")
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return fault.Failuref("there is no folder for %s", path).Because(reason(err)).Try("name a folder that is there; the journal was not changed")
	}
	return fault.Failuref("a copy could not be written at %s", path).Because(reason(err)).
		Try("see that the disk is there and sound; the journal was not changed")
}
