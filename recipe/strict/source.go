package strict

import (
	"bytes"
	"sort"
	"unicode/utf8"
)

// source is a file with its lines, so that an offset becomes a line and column.
type source struct {
	kind  Kind
	file  string
	data  []byte
	lines []int // offset of the start of each line
}

func newSource(kind Kind, file string, data []byte) *source {
	lines := make([]int, 1, bytes.Count(data, []byte{'\n'})+1)
	for i, b := range data {
		if b == '\n' {
			lines = append(lines, i+1)
		}
	}
	return &source{kind: kind, file: file, data: data, lines: lines}
}

// at gives line and column, both from 1. The column counts characters, not bytes.
func (s *source) at(offset int) (line, column int) {
	offset = s.whole(offset)
	i := sort.SearchInts(s.lines, offset+1) - 1
	return i + 1, utf8.RuneCount(s.data[s.lines[i]:offset]) + 1
}

// whole is the start of the character that an offset falls into; the parsers point
// at bytes.
func (s *source) whole(offset int) int {
	offset = min(max(offset, 0), len(s.data))
	for offset > 0 && offset < len(s.data) && !utf8.RuneStart(s.data[offset]) {
		offset--
	}
	return offset
}

func (s *source) text(from, to int) string {
	from = s.whole(from)
	to = min(max(to, from), len(s.data), from+400)
	return Excerpt(string(s.data[from:to]))
}

func (s *source) finding(from, to int, what, cure string) Finding {
	line, column := s.at(from)
	return Finding{File: s.file, Line: line, Column: column, Text: s.text(from, to), What: what, Cure: cure}
}

func lineStart(data []byte, offset int) int {
	offset = min(offset, len(data))
	return bytes.LastIndexByte(data[:offset], '\n') + 1
}

func lineEnd(data []byte, offset int) int {
	offset = min(offset, len(data))
	if i := bytes.IndexByte(data[offset:], '\n'); i >= 0 {
		return offset + i
	}
	return len(data)
}
