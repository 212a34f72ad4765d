package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// writeNew writes a file that must not exist yet. Of two processes that want the same
// name, one gets it. A file that cannot be written whole is removed.
func writeNew(file string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return fault.Failuref("the folder of %s cannot be made", measure.Clean(file)).Because(err).Try("name a place you may write to")
	}
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return fault.Failuref("%s already exists", measure.Clean(file)).Try("move it away, or name another file")
	}
	if err == nil {
		_, err = f.Write(text)
		if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
			os.Remove(file)
		}
	}
	if err != nil {
		return fault.Failuref("%s cannot be written", measure.Clean(file)).Because(err).Try("name a place you may write to")
	}
	return nil
}
