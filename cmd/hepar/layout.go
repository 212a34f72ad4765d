package main

import (
	"io"
	"strings"
	"unicode/utf8"

	"hepar/recipe/measure"
)

// pageWidth is the widest line the program prints, in columns: 80, or the width of
// the terminal from 60 to 100. main sets it once.
var pageWidth = 80

// wrap breaks text at spaces so that no line is wider than pageWidth. The first
// line starts with first; the others are indented to the same depth.
func wrap(first, text string) string {
	depth := utf8.RuneCountInString(first)
	lines := split(measure.Clean(text), max(pageWidth-depth, 1))
	return strings.TrimRight(first+strings.Join(lines, "\n"+strings.Repeat(" ", depth)), " ") + "\n"
}

// table is rows of plain cells, with numbers to the right and words to the left.
type table struct {
	head  []string
	right []bool // which columns are set to the right
	rows  [][]string
	under map[int]string // remarks below a row
	mark  string         // what a line of remarks starts with
}

// remark puts a line of text below the last row.
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

// write prints the table with two spaces between columns, and wraps the last column
// if the line would be too wide.
func (t *table) write(w io.Writer, indent string) {
	all, heads := t.rows, 0
	if t.head != nil {
		all, heads = append([][]string{t.head}, t.rows...), 1
	}
	var width []int
	for _, row := range all {
		width = append(width, make([]int, max(0, len(row)-len(width)))...)
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	last, room := len(width)-1, pageWidth-len(indent)
	for _, n := range width[:max(last, 0)] {
		room -= n + 2
	}
	room = max(room, 20)
	for n, row := range all {
		row = append(row, make([]string, len(width)-len(row))...)
		for first, piece := range split(row[last], room) {
			line := indent
			for i := range width {
				text, space := row[i], width[i]
				if i == last {
					text, space = piece, min(space, room)
				} else if first > 0 {
					text = ""
				}
				gap := strings.Repeat(" ", max(0, space-utf8.RuneCountInString(text)))
				if i < len(t.right) && t.right[i] {
					line += gap + text + "  "
				} else {
					line += text + gap + "  "
				}
			}
			io.WriteString(w, strings.TrimRight(line, " ")+"\n")
		}
		if remark := t.under[n-heads]; remark != "" {
			io.WriteString(w, wrap(indent+"    "+t.mark, remark))
		}
	}
}

// cut shortens text to at most so many characters.
func cut(text string, most int) string {
	if r := []rune(text); len(r) > most {
		return string(r[:most-2]) + ".."
	}
	return text
}

// split breaks text into lines of at most room characters, at spaces where it can.
// It returns at least one line.
func split(text string, room int) []string {
	var out []string
	line, width := "", 0
	for word := range strings.FieldsSeq(text) {
		n := utf8.RuneCountInString(word)
		if line != "" && width+1+n > room {
			out, line, width = append(out, line), "", 0
		}
		for ; n > room && !strings.ContainsAny(word, `/\`); n -= room { // a path is copied whole
			r := []rune(word)
			out, word = append(out, string(r[:room])), string(r[room:])
		}
		if line != "" {
			line, width = line+" ", width+1
		}
		line, width = line+word, width+n
	}
	return append(out, line)
}
