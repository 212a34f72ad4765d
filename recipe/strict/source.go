package strict

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

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
	f := Finding{File: s.name, What: "not valid TOML: " + Plain(strings.TrimPrefix(err.Error(), "toml: ")), Cure: s.kind.syntaxCure(err.Error())}
	var at *toml.DecodeError
	if errors.As(err, &at) {
		row, column := at.Position() // which counts bytes
		line := bytes.Split(s.data, []byte{'\n'})[row-1]
		before := bytes.ToValidUTF8(line[:min(column-1, len(line))], nil)
		f.Line, f.Column, f.Text = row, utf8.RuneCount(before)+1, Excerpt(string(line))
	}
	return f
}

// syntaxCure says what usually mends a syntax error.
func (k Kind) syntaxCure(message string) string {
	m := strings.ToLower(message)
	switch {
	case strings.Contains(m, "already"):
		cure := "a key or table may stand only once; remove one of the two"
		if k.Further != "" {
			cure += " (" + k.Further + ")"
		}
		return cure
	case strings.Contains(m, "escape"):
		return `write a backslash twice (\\), or put the text between single quotes`
	case strings.Contains(m, "array"):
		return "close the list with ] and put a comma between its entries"
	case strings.Contains(m, "inline table"):
		return "close the braces with } and put a comma between the entries"
	}
	return `write key = "text", key = 3 or a [table] line; put text and quantities in quotes`
}
