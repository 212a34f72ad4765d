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

// addIf adds a row with one value, where there is one.
func (t *table) addIf(name, value string) {
	if value != "" {
		t.add(name, value)
	}
}

// write prints the table with two spaces between columns, or one if a line would be too
// wide otherwise. What is still too wide is wrapped: the last column, if it holds words,
// and the widest other column of words.
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
	if len(width) == 0 {
		return
	}
	toRight := func(i int) bool { return i < len(t.right) && t.right[i] }
	last, room, widest, space := len(width)-1, pageWidth-len(indent), 0, "  "
	for i, n := range width[:last] {
		room -= n + len(space)
		if !toRight(i) && (n > width[widest] || toRight(widest)) {
			widest = i
		}
	}
	least := width[last]
	if !toRight(last) {
		least = min(least, 24)
	}
	if room < least {
		room, space = room+last, " "
	}
	if lack := least - room; lack > 0 && last > 0 {
		was := width[widest]
		width[widest] = max(was-lack, min(was, 12))
		room += was - width[widest]
	}
	if !toRight(last) {
		width[last] = min(width[last], max(room, 12))
	}
	for n, row := range all {
		row = append(row, make([]string, len(width)-len(row))...)
		cells, lines := make([][]string, len(row)), 0
		for i, cell := range row {
			cells[i] = split(cell, width[i])
			lines = max(lines, len(cells[i]))
		}
		for at := range lines {
			line := indent
			for i := range width {
				text := ""
				if at < len(cells[i]) {
					text = cells[i][at]
				}
				gap := strings.Repeat(" ", max(0, width[i]-utf8.RuneCountInString(text)))
				if toRight(i) {
					line += gap + text + space
				} else {
					line += text + gap + space
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
		for n > room && !strings.ContainsAny(word, `/\`) { // a path is copied whole
			r := []rune(word)
			at := room
			if hyphen := strings.LastIndex(string(r[:room]), "-"); hyphen > 0 {
				at = utf8.RuneCountInString(string(r[:room])[:hyphen+1])
			}
			out, word, n = append(out, string(r[:at])), string(r[at:]), n-at
		}
		if line != "" {
			line, width = line+" ", width+1
		}
		line, width = line+word, width+n
	}
	return append(out, line)
}
