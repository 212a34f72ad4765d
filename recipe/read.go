package recipe

import (
	"io"

	"hepar/recipe/strict"
)

// MaxSize is how large a recipe file may be, in bytes. The longest of the
// built-in ones is under one hundredth of it.
const MaxSize = strict.MaxSize

// Finding is one thing wrong in a recipe file.
type Finding = strict.Finding

// Findings is what is wrong with one recipe, as an error. [Library.Get] returns
// one inside a *fault.Error; errors.As brings it back.
type Findings = strict.Findings

// FindingsOf brings back the findings behind an error of this package, or nil.
func FindingsOf(err error) []Finding { return strict.FindingsOf(err) }

// placeholder is what the template puts where a person has to write something.
const placeholder = strict.Placeholder

// Read opens and decodes one recipe file. The error says that the file cannot be
// read at all: missing, a directory, a device or a pipe. Never more than
// [MaxSize] bytes and one are read; a longer file gives one finding.
func Read(path string) (*Recipe, []Finding, error) {
	data, err := fileKind().ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	r, findings := Decode(path, data)
	return r, findings, nil
}

// readFrom decodes what comes out of an open file.
func readFrom(kind strict.Kind, path string, from io.Reader) (*Recipe, []Finding, error) {
	data, err := kind.ReadAll(path, from)
	if err != nil {
		return nil, nil, err
	}
	r, findings := decode(kind, path, data)
	return r, findings, nil
}
