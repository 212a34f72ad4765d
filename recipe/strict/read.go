package strict

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"hepar/recipe/fault"
)

// MaxSize is how large a file may be, in bytes. The longest of the built-in
// recipes is under one hundredth of it.
const MaxSize = 1 << 20

func (k Kind) tooLarge(file string) Finding {
	return Finding{File: file, What: fmt.Sprintf("the file is larger than 1 MiB, which no %s is", k.Name), Cure: fmt.Sprintf("name a %s", k.file())}
}

// ReadFile gives the bytes of a file, for [Kind.Decode]. The error says that the
// file cannot be read at all: missing, a directory, a device or a pipe. Never more
// than [MaxSize] bytes and one are read; Decode refuses a longer file. The error is
// of kind Failure, as all that is wrong with a file.
func (k Kind) ReadFile(path string) ([]byte, error) {
	info, err := os.Stat(path) // before opening: opening a pipe would wait for a writer
	if err == nil && !info.Mode().IsRegular() {
		what := "not a regular file"
		if info.IsDir() {
			what = fmt.Sprintf("a directory, not a %s", k.file())
		}
		return nil, fault.Failuref("%s", what).At(Plain(path)).Try("name a %s that ends in .toml", k.file())
	}
	if err != nil {
		return nil, k.Unreadable(path, err)
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, k.Unreadable(path, err)
	}
	defer file.Close()
	return k.ReadAll(path, file)
}

// ReadAll gives the bytes of an open file, as [Kind.ReadFile] does; path is for
// messages only.
func (k Kind) ReadAll(path string, from io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(from, MaxSize+1))
	if err != nil {
		return nil, k.Unreadable(path, err)
	}
	return data, nil
}

// Unreadable is the error of a file or folder that cannot be read.
func (k Kind) Unreadable(path string, err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err // the path is said once
	}
	if errors.Is(err, fs.ErrNotExist) {
		return fault.Failuref("there is no such file").At(Plain(path)).Try("%s", k.Missing)
	}
	return fault.Failuref("cannot be read").At(Plain(path)).Because(err).Try("look at the permissions of the file")
}
