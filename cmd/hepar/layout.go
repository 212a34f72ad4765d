package main

import (
	"bytes"
	"io"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"hepar/recipe/measure"
)

// pageWidth is the widest line the program prints, in columns.
const pageWidth = 100

// wrap breaks text at spaces so that no line is wider than pageWidth. The first
// line starts with first, the others are indented to the same depth.
func wrap(first, text string) string {
	indent := utf8.RuneCountInString(first)
	var b strings.Builder
	b.Grow(len(text) + len(text)/pageWidth*(indent+2) + indent + 2)
	line := make([]byte, 0, 4*pageWidth) // the one being filled
	line = append(line, first...)
	width, used := indent, 0 // in columns; words in it
	next := func() {
		b.Write(bytes.TrimRight(line, " "))
		b.WriteByte('\n')
		line, width, used = line[:0], indent, 0
		for range indent {
			line = append(line, ' ')
		}
	}
	for word := range strings.FieldsSeq(measure.Clean(text)) {
		n := utf8.RuneCountInString(word)
		if used > 0 && width+1+n > pageWidth {
			next()
		}
		// A word longer than a line is cut rather than let through.
		for width+n > pageWidth && width < pageWidth {
			room := pageWidth - width
			r := []rune(word)
			line = append(line, string(r[:room])...)
			next()
			word, n = string(r[room:]), n-room
		}
		if used > 0 {
			line, width = append(line, ' '), width+1
		}
		line, width = append(line, word...), width+n
		used++
	}
	next()
	return b.String()
}

// table is rows of plain cells. Numbers stand to the right, words to the left.
type table struct {
	head  []string
	right []bool // which columns stand to the right
	rows  [][]string
	under map[int]string // a line of remarks below a row
	mark  string         // what such a line starts with
}

// remark puts a line of words below the last row.
func (t *table) remark(text string) {
	if t.under == nil {
		t.under = map[int]string{}
	}
	t.under[len(t.rows)-1] = text
}

func (t *table) add(cells ...string) {
	for i := range cells {
		cells[i] = oneLine(cells[i])
	}
	t.rows = append(t.rows, cells)
}

// write prints the table with two spaces between columns. The last column is
// wrapped where the line would be too wide.
func (t *table) write(w io.Writer, indent string) {
	all := t.rows
	if t.head != nil {
		all = append([][]string{t.head}, t.rows...)
	}
	width := t.widths(all)
	var b strings.Builder
	tw := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	last := len(width) - 1
	before := len(indent)
	for _, w := range width[:max(last, 0)] {
		before += w + 2
	}
	room := max(pageWidth-before, 20)
	for _, row := range all {
		for len(row) < len(width) {
			row = append(row, "")
		}
		for n, piece := range split(row[last], room) {
			cells := make([]string, len(row))
			if n == 0 {
				copy(cells, row)
			}
			cells[last] = piece
			for i := range cells {
				if i < len(t.right) && t.right[i] {
					cells[i] = strings.Repeat(" ", width[i]-utf8.RuneCountInString(cells[i])) + cells[i]
				}
			}
			io.WriteString(tw, strings.Join(cells, "\t")+"\n")
		}
	}
	tw.Flush()
	row := -1
	if t.head != nil {
		row = -2
	}
	for line := range strings.Lines(b.String()) {
		io.WriteString(w, strings.TrimRight(indent+strings.TrimSuffix(line, "\n"), " ")+"\n")
		// Remarks go with tables whose rows are one line each.
		if row++; t.under[row] != "" {
			io.WriteString(w, wrap(indent+"    "+t.mark, t.under[row]))
		}
	}
}

// cut shortens a word for a column.
func cut(text string, most int) string {
	if r := []rune(text); len(r) > most {
		return string(r[:most-2]) + ".."
	}
	return text
}

func (t *table) widths(rows [][]string) []int {
	var width []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(width) {
				width = append(width, 0)
			}
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	return width
}

// split cuts text into pieces of at most room runes, at spaces where it can.
func split(text string, room int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(text) {
		for utf8.RuneCountInString(word) > room {
			if line != "" {
				out, line = append(out, line), ""
			}
			r := []rune(word)
			out, word = append(out, string(r[:room])), string(r[room:])
		}
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= room:
			line += " " + word
		default:
			out, line = append(out, line), word
		}
	}
	return append(out, line)
}
