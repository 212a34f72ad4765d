package main

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"hepar/recipe/measure"
)

// pageWidth is the widest line the program prints, in columns: 80, or the width of
// the terminal from 60 to 100. main sets it once.
var pageWidth = 80

// wrap breaks text at spaces so that no line is wider than pageWidth. The first
// line starts with first; the others are indented to the same depth.
func wrap(first, text string) string { return measure.Hang(first, text, pageWidth) + "\n" }

// put prints texts, each wrapped behind first; of an empty one nothing.
func (e *env) put(first string, texts ...string) {
	e.putIn(func(text string) string { return text }, first, texts...)
}

// putIn prints texts as put does, in a colour.
func (e *env) putIn(paint func(string) string, first string, texts ...string) {
	for _, text := range texts {
		if text != "" {
			e.say("%s", paint(wrap(first, text)))
		}
	}
}

// tell prints texts as put does, on standard error.
func (e *env) tell(first string, texts ...string) {
	for _, text := range nonEmpty(texts...) {
		e.note("%s", wrap(first, text))
	}
}

// head prints a heading below an empty line.
func (e *env) head(title string) {
	e.say("\n")
	e.putIn(e.heading, "", title)
}

// section prints a heading and the texts below it, if there are any.
func (e *env) section(title, first string, texts ...string) {
	if len(texts) > 0 {
		e.head(title)
		e.put(first, texts...)
	}
}

// table is rows of plain cells, with numbers to the right and words to the left.
type table struct {
	head  []string
	right []bool // which columns are set to the right
	rows  []row
	mark  string              // what a remark starts with; four spaces if it is empty
	paint func(string) string // of the remarks; nil leaves them plain
}

// row is the cells of a row and the remarks below it.
type row struct{ cells, remarks []string }

func (t *table) remark(text string) {
	if len(t.rows) == 0 {
		t.add()
	}
	last := &t.rows[len(t.rows)-1]
	last.remarks = append(last.remarks, nonEmpty(text)...)
}

func (t *table) add(cells ...string) {
	for i := range cells {
		cells[i] = oneLine(cells[i])
	}
	t.rows = append(t.rows, row{cells: cells})
}

// facts adds a row for each name and value behind it, where there is a value.
func (t *table) facts(pairs ...string) {
	for fact := range slices.Chunk(pairs, 2) {
		if fact[1] != "" {
			t.add(fact...)
		}
	}
}

// show prints a heading and the table below it; nothing if the table has no rows.
func (t *table) show(e *env, title string) {
	if len(t.rows) > 0 {
		e.head(title)
		t.write(e.out, "  ")
	}
}

// write prints the table with two spaces between columns, or one in a wide table. What is still
// too wide is wrapped: the last column and the widest other one, if they hold words.
func (t *table) write(w io.Writer, indent string) {
	all := append([]row{{cells: t.head}}, t.rows...)
	var width []int
	for _, row := range all {
		width = append(width, make([]int, max(0, len(row.cells)-len(width)))...)
		for i, cell := range row.cells {
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
	for _, row := range all {
		cells, lines := make([][]string, len(width)), 0
		for i, cell := range row.cells {
			cells[i] = measure.Lines(cell, width[i])
			lines = max(lines, len(cells[i]))
		}
		for at := range lines {
			line := indent
			for i, texts := range cells {
				text := strings.Join(texts[min(at, len(texts)):min(at+1, len(texts))], "")
				line += fmt.Sprintf(either(toRight(i), "%*s", "%-*s"), width[i], text) + space
			}
			io.WriteString(w, strings.TrimRight(line, " ")+"\n")
		}
		for _, remark := range row.remarks {
			text := wrap(indent+cmp.Or(t.mark, "    "), remark)
			if t.paint != nil {
				text = t.paint(text)
			}
			io.WriteString(w, text)
		}
	}
}

func cut(text string, most int) string {
	if r := []rune(text); len(r) > most {
		return string(r[:most-2]) + ".."
	}
	return text
}

// atMost prints a short figure as it is, and rounds a longer one to so many figures.
func atMost(x float64, figures int) string {
	if text := measure.Plain(x); len(text) <= figures+3 {
		return text
	}
	return measure.Figures(x, figures)
}

func plural(n int, what string) string { return measure.Counted(n, what, what+"s") }

func keys[T any](m map[string]T) []string { return slices.Sorted(maps.Keys(m)) }

func shortDigest(digest string) string { return digest[:min(len(digest), 19)] }

func when(holds bool, text string) string { return either(holds, text, "") }

// textOf is a value in words, where there is one.
func textOf[T any](value *T, say func(T) string) string {
	if value == nil {
		return ""
	}
	return say(*value)
}

// either returns the one where something holds, and the other where it does not.
func either[T any](holds bool, one, other T) T {
	if holds {
		return one
	}
	return other
}

func mapped[T, R any](list []T, f func(T) R) []R {
	var out []R
	for _, one := range list {
		out = append(out, f(one))
	}
	return out
}
