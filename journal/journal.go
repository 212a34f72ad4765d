package journal

import (
	"path/filepath"
	"time"
)

// DefaultWait is how long a call waits for another process to let go of the
// file where Options.Wait is zero.
const DefaultWait = 5 * time.Second

// Options are the few things that differ between a bench and a test.
type Options struct {
	// Wait is how long a call waits for another process to let go of the file.
	// Zero means DefaultWait; below zero it does not wait at all.
	Wait time.Duration
	// Now gives the time with the local offset of the bench; nil means time.Now.
	Now func() time.Time
	// By is the person named in an event where the call names nobody.
	By string
	// Watch is told from time to time how many events Verify has read, and what rests
	// on it: Backup, Restore, Compact and Upgrade verify what they made. May be nil.
	Watch func(events int)
}

// Journal is the path of a journal file and how to treat it. It holds nothing
// open: every call opens the file, does its one transaction and lets go. It may
// be used from several goroutines at once.
type Journal struct {
	path string
	wait time.Duration
	now  func() time.Time
	by   string

	watch     func(events int)
	anyFormat bool // for an upgrade, which alone may open an older one
	alone     bool // nobody else knows of the file: it may be held for long
}

// At gives the journal at path. The file need not exist: the first batch
// written makes it, and the folders above it. A symbolic link is followed once and
// for all: what takes the place of the journal must not take that of the link.
func At(path string, o Options) *Journal {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	j := &Journal{path: path, wait: o.Wait, now: o.Now, by: o.By, watch: o.Watch}
	if j.wait == 0 {
		j.wait = DefaultWait
	}
	if j.now == nil {
		j.now = time.Now
	}
	return j
}

// Path returns the path of the file, with links followed.
func (j *Journal) Path() string { return j.path }

// person returns by, or the person of the options where by is empty.
func (j *Journal) person(by string) string {
	if by == "" {
		return j.by
	}
	return by
}
