package strict

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// source is a file with its lines, so that an offset becomes a line and column, and with
// the findings so far.
type source struct {
	kind     Kind
	name     string
	data     []byte
	lines    []int // offset of the start of each line
	findings []Finding
}

func newSource(kind Kind, name string, data []byte) *source {
	lines := make([]int, 1, bytes.Count(data, []byte{'\n'})+1)
	for i, b := range data {
		if b == '\n' {
			lines = append(lines, i+1)
		}
	}
	return &source{kind: kind, name: name, data: data, lines: lines}
}

// line is the index of the line that an offset falls into.
func (s *source) line(offset int) int { return sort.SearchInts(s.lines, offset+1) - 1 }

// at returns line and column, both from 1. The column counts characters, not bytes.
func (s *source) at(offset int) (line, column int) {
	offset = s.whole(offset)
	i := s.line(offset)
	return i + 1, utf8.RuneCount(s.data[s.lines[i]:offset]) + 1
}

// whole is the start of the character that an offset falls into; the parsers point at
// bytes.
func (s *source) whole(offset int) int {
	offset = min(max(offset, 0), len(s.data))
	for offset > 0 && offset < len(s.data) && !utf8.RuneStart(s.data[offset]) {
		offset--
	}
	return offset
}

// finding is a fault between two offsets.
func (s *source) finding(from, to int, what, cure string) Finding {
	line, column := s.at(from)
	from = s.whole(from)
	text := s.data[from:min(max(to, from), len(s.data), from+400)]
	return Finding{File: s.name, Line: line, Column: column, Text: Excerpt(string(text)), What: what, Cure: cure}
}

func (s *source) lineEnd(offset int) int {
	offset = min(offset, len(s.data))
	if i := bytes.IndexByte(s.data[offset:], '\n'); i >= 0 {
		return offset + i
	}
	return len(s.data)
}

// notText finds a file that is not a text file: too large, binary, in a wrong encoding.
func (s *source) notText() (f Finding, bad bool) {
	f = Finding{File: s.name, Cure: fmt.Sprintf("save the %s as plain text in UTF-8", s.kind.Name)}
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
		return f, false
	}
	return f, true
}

// notTOML is the finding for a message of a parser. It shows the whole line.
func (s *source) notTOML(from int, message string) Finding {
	f := s.finding(from, from, "not valid TOML: "+Plain(strings.TrimPrefix(message, "toml: ")), s.kind.syntaxCure(message))
	f.Text = s.finding(s.lines[s.line(s.whole(from))], s.lineEnd(from), "", "").Text
	return f
}

// undecoded is the finding for an error of the first parser. Its offset is used: its
// column counts bytes, and it does not always set the line.
func (s *source) undecoded(err error) Finding {
	var pe toml.ParseError
	if errors.As(err, &pe) {
		return s.notTOML(min(pe.Position.Start, len(s.data)), pe.Message)
	}
	return Finding{File: s.name, What: "not valid TOML: " + Plain(err.Error()), Cure: s.kind.compare()}
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
