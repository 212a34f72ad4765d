package journal

import (
	"os"
	"sync"
)

// The files that this process is making beside journals and that have no name of
// their own yet, so that an end by a signal need not leave them.
var copies struct {
	sync.Mutex
	paths map[string]struct{}
}

// makeCopy makes an empty file for the owner alone, as os.CreateTemp does.
func makeCopy(dir, pattern string) (*os.File, error) {
	copies.Lock()
	defer copies.Unlock()
	file, err := os.CreateTemp(dir, pattern)
	if err != nil {
		return nil, err
	}
	if copies.paths == nil {
		copies.paths = map[string]struct{}{}
	}
	copies.paths[file.Name()] = struct{}{}
	return file, nil
}

// DropCopies takes away what this process has been making beside journals, for one
// that is about to end in the middle of it: call it from a signal handler, and end
// without another word to the journal. The journals themselves are not touched.
func DropCopies() {
	copies.Lock() // and never let go: nothing new is begun
	for path := range copies.paths {
		_ = os.Remove(path) // gone already where it was put in its place
	}
}
