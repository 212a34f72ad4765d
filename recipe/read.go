package recipe

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"hepar/recipe/fault"
)

// MaxSize is how large a recipe file may be, in bytes. The longest of the
// built-in ones is under one hundredth of it.
const MaxSize = 1 << 20

func tooLarge(file string) Finding {
	return Finding{File: file, What: "the file is larger than 1 MiB, which no recipe is", Cure: "name a recipe file"}
}

// Read opens and decodes one recipe file. The error says that the file cannot be
// read at all: missing, a directory, a device or a pipe. Never more than
// [MaxSize] bytes and one are read; a longer file gives one finding.
func Read(path string) (*Recipe, []Finding, error) {
	info, err := os.Stat(path) // before opening: opening a pipe would wait for a writer
	if err == nil && !info.Mode().IsRegular() {
		what := "not a regular file"
		if info.IsDir() {
			what = "a directory, not a recipe file"
		}
		return nil, nil, fault.Usagef("%s", what).At(plain(path)).Try("name a recipe file that ends in .toml")
	}
	if err != nil {
		return nil, nil, unreadable(path, err)
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, nil, unreadable(path, err)
	}
	defer file.Close()
	return readFrom(path, file)
}

// readFrom decodes what comes out of an open file.
func readFrom(path string, from io.Reader) (*Recipe, []Finding, error) {
	data, err := io.ReadAll(io.LimitReader(from, MaxSize+1))
	if err != nil {
		return nil, nil, unreadable(path, err)
	}
	r, findings := Decode(path, data)
	return r, findings, nil
}

func unreadable(path string, err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err // the path is said once
	}
	if errors.Is(err, fs.ErrNotExist) {
		return fault.Failuref("there is no such file").At(plain(path)).Try("hepar recipe list names the recipes there are")
	}
	return fault.Failuref("cannot be read").At(plain(path)).Because(fmt.Errorf("%w", err)).Try("look at the permissions of the file")
}
