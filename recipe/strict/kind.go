// Package strict reads TOML that a person has typed. For everything that is wrong it says
// where, and what to do.
//
// [Kind.Read] passes the root [Table] of a file to a function of the caller, which reads one key
// after the other, a quantity with [Figure]. Each reader notes a fault and goes on, so one reading
// finds everything. The caller adds its own with [Table.AtKey] and [Table.AtValue].
//
// The package promises: a file of any size, shape or content returns findings and never a
// panic; line and column are those of the key or value itself, counted in characters; numbers
// are plain decimals; no message carries a character that could act on a terminal.
package strict

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
	other "github.com/pelletier/go-toml/v2"

	"hepar/recipe/fault"
)

// Kind describes a sort of file, for the messages.
type Kind struct {
	Name    string // "recipe", "shop file"
	Sample  string // the command that prints one: "hepar recipe new"
	Missing string // what to do if the file does not exist
	Further string // how to begin another table of a list; may be empty
}

// The limits of a file. A recipe needs four levels and some hundred keys; more costs time and stack.
const (
	MaxSize     = 1 << 20 // bytes
	MaxFindings = 200     // that are shown
	MaxDepth    = 16      // of tables, lists and dotted keys inside each other
	MaxKeys     = 5000
	MaxList     = 60 // entries of a list, and tables of a list of tables
)

func (k Kind) file() string { return strings.TrimSuffix(k.Name, " file") + " file" }

// ReadFile returns the bytes of a file, for [Kind.Decode]; for a file over [MaxSize] so many
// zeros, and one more, that Decode refuses it. The error is of kind Failure: the file is
// missing, or is a directory, a device or a pipe.
func (k Kind) ReadFile(path string) ([]byte, error) {
	info, err := os.Stat(path) // before opening: opening a pipe would wait for a writer
	if err == nil && !info.Mode().IsRegular() {
		return nil, fault.Failuref("a device or a directory, not a %s", k.file()).At(Plain(path)).Try("name a %s that ends in .toml", k.file())
	}
	if err == nil && info.Size() > MaxSize {
		return make([]byte, MaxSize+1), nil
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, k.Unreadable(path, err)
	}
	return data, nil
}

// Unreadable is the error for a file or folder that cannot be read.
func (k Kind) Unreadable(path string, err error) error {
	if pe, ok := errors.AsType[*fs.PathError](err); ok {
		err = pe.Err // the path is in the message already
	}
	if errors.Is(err, fs.ErrNotExist) {
		return fault.Failuref("there is no such file").At(Plain(path)).Try("%s", k.Missing)
	}
	return fault.Failuref("cannot be read").At(Plain(path)).Because(err).Try("check the permissions of the file")
}

// Read reads a file as [Kind.ReadFile] and [Kind.Decode] do, with the findings as one error.
func (k Kind) Read(path string, read func(root Table)) error {
	data, err := k.ReadFile(path)
	if err != nil {
		return err
	}
	return Findings(k.Decode(path, data, read)).Of(k.Name)
}

// Decode passes the root table of a file, called name in the findings, to read and returns
// everything that is wrong, in the order of the file: at most [MaxFindings] and all refusals.
// It does not call read for a file that is not text, not TOML or over [MaxSize]. The caller
// drops what read made of a file with findings. Decode never panics.
func (k Kind) Decode(name string, data []byte, read func(root Table)) (findings []Finding) {
	defer func() { // no fault in a library may stop the bench
		if trouble := recover(); trouble != nil {
			findings = []Finding{{File: name, What: fmt.Sprintf("could not be read: %v", trouble), Cure: "compare the file with the output of " + k.Sample}}
		}
	}()
	src := &source{kind: k, name: name, data: data}
	if unreadable := src.notText(); unreadable != nil {
		return unreadable
	}
	root, deep := locate(data)
	if deep >= 0 {
		return []Finding{src.finding(deep, fmt.Sprintf("nested too deeply for a %s (more than %d levels), or too long (more than %d keys)", k.Name, MaxDepth, MaxKeys), "write the file short and flat, like the output of "+k.Sample)}
	}
	content := map[string]any{}
	err := other.Unmarshal(data, &map[string]any{}) // the decoder lets some tables be opened twice
	if err == nil {
		_, err = toml.Decode(string(data), &content)
	}
	if err != nil {
		return []Finding{src.notTOML(err)}
	}
	read(Table{src, "", content, root})
	return src.sorted()
}

func (s *source) sorted() []Finding {
	all := s.findings
	slices.SortStableFunc(all, func(a, b Finding) int { return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column)) })
	if len(all) <= MaxFindings {
		return all
	}
	kept := slices.DeleteFunc(slices.Clone(all[MaxFindings:]), func(f Finding) bool { return !f.Refused })
	return append(slices.Concat(all[:MaxFindings], kept), Finding{File: s.name,
		What: fmt.Sprintf("there are more than %d findings; the rest is not shown", MaxFindings), Cure: "correct these first, then check again"})
}

type source struct {
	kind     Kind
	name     string
	data     []byte
	findings []Finding
}

// at returns line and column, both from 1. The column counts characters, not bytes.
func (s *source) at(offset int) (line, column int) {
	start := bytes.LastIndexByte(s.data[:offset], '\n') + 1
	return bytes.Count(s.data[:start], []byte{'\n'}) + 1, utf8.RuneCount(s.data[start:offset]) + 1
}

// finding is a fault at an offset; it shows the rest of the line.
func (s *source) finding(offset int, what, cure string) Finding {
	line, column := s.at(offset)
	text, _, _ := bytes.Cut(s.data[offset:min(offset+400, len(s.data))], []byte{'\n'})
	return Finding{File: s.name, Line: line, Column: column, Text: Excerpt(string(text)), What: what, Cure: cure}
}

// notText finds a file that is not a text file: too large, binary, in a wrong encoding.
func (s *source) notText() []Finding {
	f := Finding{File: s.name, Cure: fmt.Sprintf("save the %s as plain text in UTF-8", s.kind.Name)}
	switch {
	case len(s.data) > MaxSize:
		f.What = fmt.Sprintf("the file is larger than 1 MiB, too large for a %s", s.kind.Name)
		f.Cure = fmt.Sprintf("name a %s", s.kind.file())
	case bytes.HasPrefix(s.data, []byte{0xff, 0xfe}), bytes.HasPrefix(s.data, []byte{0xfe, 0xff}):
		f.What = "the file is saved as UTF-16, not UTF-8"
	case bytes.HasPrefix(s.data, []byte{0xef, 0xbb, 0xbf}):
		f.What = "the file begins with a byte order mark"
		f.Cure = "save it as UTF-8 without a byte order mark (BOM)"
	case bytes.IndexByte(s.data, 0) >= 0:
		f.What = "this is not a text file: it holds a NUL byte"
		f.Line, f.Column = s.at(bytes.IndexByte(s.data, 0))
	case !utf8.Valid(s.data):
		f.What = "this is not UTF-8 text: a byte here belongs to no character"
		f.Line, f.Column = s.at(len(s.data) - len(bytes.TrimLeftFunc(s.data, func(r rune) bool { return r != utf8.RuneError })))
	default:
		return nil
	}
	return []Finding{f}
}

// notTOML is the finding for an error of the parser. It shows the whole line.
func (s *source) notTOML(err error) Finding {
	f := Finding{File: s.name, What: "not valid TOML: " + Plain(strings.TrimPrefix(err.Error(), "toml: "))}
	if at, ok := errors.AsType[*other.DecodeError](err); ok {
		row, column := at.Position() // which counts bytes
		line := bytes.Split(s.data, []byte{'\n'})[row-1]
		before := bytes.ToValidUTF8(line[:min(column-1, len(line))], nil)
		f.Line, f.Column, f.Text = row, utf8.RuneCount(before)+1, Excerpt(string(line))
	}
	for _, cure := range [][2]string{ // what usually mends it
		{"already", strings.TrimSuffix("a key or table may stand only once; remove one of the two; "+s.kind.Further, "; ")},
		{"escape", `write a backslash twice (\\), or put the text between single quotes`},
		{"array", "close the list with ] and put a comma between its entries"},
		{"inline table", "close the braces with } and put a comma between the entries"},
		{"", `write key = "text", key = 3 or a [table] line; put text and quantities in quotes`},
	} {
		if strings.Contains(strings.ToLower(err.Error()), cure[0]) {
			f.Cure = cmp.Or(f.Cure, cure[1])
		}
	}
	return f
}
