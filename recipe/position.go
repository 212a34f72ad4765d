package recipe

import (
	"bytes"
	"errors"
	"sort"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Why a second reading of the file: the decoder that holds the truth gives the
// line of the last element for a fault in any element of an array of tables, and
// no line at all for an unknown key. This reading builds a tree of places that
// has the shape of the decoded content, and nothing else.

// place is where one key, table or list item stands in the file, as byte offsets.
type place struct {
	key, keyEnd int // the key, or the header of a table; the same as the value for list items
	val, valEnd int
	children    map[string]*place
	items       []*place
	header      bool // made by a [table] or [[table]] line
	inline      bool // a table between braces
}

// source is a file with its lines, so that an offset becomes a line and column.
type source struct {
	file  string
	data  []byte
	lines []int // offset of the start of each line
}

func newSource(file string, data []byte) *source {
	lines := make([]int, 1, bytes.Count(data, []byte{'\n'})+1)
	for i, b := range data {
		if b == '\n' {
			lines = append(lines, i+1)
		}
	}
	return &source{file: file, data: data, lines: lines}
}

// at gives line and column, both from 1. The column counts characters, not bytes.
func (s *source) at(offset int) (line, column int) {
	offset = min(max(offset, 0), len(s.data))
	i := sort.SearchInts(s.lines, offset+1) - 1
	return i + 1, utf8.RuneCount(s.data[s.lines[i]:offset]) + 1
}

func (s *source) text(from, to int) string {
	from = min(max(from, 0), len(s.data))
	to = min(max(to, from), len(s.data), from+400)
	return excerpt(string(s.data[from:to]))
}

func (s *source) finding(from, to int, what, cure string) Finding {
	line, column := s.at(from)
	return Finding{File: s.file, Line: line, Column: column, Text: s.text(from, to), What: what, Cure: cure}
}

// maxDepth is how deep tables, lists and dotted keys may nest. A recipe needs
// four; the limit keeps hostile files from costing time or stack.
const maxDepth = 16

// locate reads the file once for its places. It gives findings of its own for
// syntax the second parser refuses and for nesting beyond maxDepth; the tree is
// then not complete and the file must not be decoded.
func locate(src *source) (root *place, faults []Finding) {
	root = &place{}
	defer func() {
		// The parser of a library must never take the program down with it.
		if recover() != nil {
			faults = append(faults, Finding{File: src.file, What: "not readable as TOML", Cure: "compare with the output of hepar recipe new"})
		}
	}()
	l := locator{src: src, root: root, table: root}
	l.parser.Reset(src.data)
	for l.parser.NextExpression() {
		if from, ok := l.expression(l.parser.Expression()); !ok {
			return root, []Finding{src.finding(from, lineEnd(src.data, from), "nested too deeply for a recipe (more than 16 levels)",
				"write the file flat, as hepar recipe new lays it out")}
		}
	}
	if err := l.parser.Error(); err != nil {
		faults = append(faults, l.syntax(err))
	}
	return root, faults
}

type locator struct {
	src    *source
	parser unstable.Parser
	root   *place
	table  *place
}

func (l *locator) syntax(err error) Finding {
	from, end := 0, 0
	var pe *unstable.ParserError
	if errors.As(err, &pe) {
		// A highlight that is no slice of the data makes Range panic; locate recovers.
		if len(pe.Highlight) > 0 {
			r := l.parser.Range(pe.Highlight)
			from = int(r.Offset)
		} else {
			from = len(l.src.data) - len(bytes.TrimLeft(l.src.data, " \t\r\n"))
		}
	}
	end = lineEnd(l.src.data, from)
	f := l.src.finding(from, end, "not valid TOML: "+plain(err.Error()), syntaxCure(err.Error()))
	f.Text = l.src.text(lineStart(l.src.data, from), end)
	return f
}

// expression places one line of the file. ok is false, with an offset, where it
// nests too deeply.
func (l *locator) expression(node *unstable.Node) (offset int, ok bool) {
	switch node.Kind {
	case unstable.Table, unstable.ArrayTable:
		return l.head(node)
	case unstable.KeyValue:
		return l.pair(l.table, node, 1)
	}
	return 0, true
}

// head opens the table of a [table] or [[table]] line.
func (l *locator) head(node *unstable.Node) (int, bool) {
	keys := keysOf(node)
	if len(keys) == 0 {
		return 0, true
	}
	from := int(keys[0].Raw.Offset)
	if len(keys) > maxDepth {
		return from, false
	}
	// The key stands behind one or two brackets and perhaps blanks.
	start := lineStart(l.src.data, from)
	start += len(l.src.data[start:from]) - len(bytes.TrimLeft(l.src.data[start:from], " \t"))
	last := keys[len(keys)-1]
	end := int(last.Raw.Offset + last.Raw.Length)
	end += closing(l.src.data[end:])

	at := l.root
	for _, key := range keys[:len(keys)-1] {
		at = at.child(string(key.Data), place{key: start, keyEnd: end, val: start, valEnd: end})
		at = at.latest()
	}
	here := place{key: start, keyEnd: end, val: start, valEnd: end, header: true}
	named := at.child(string(last.Data), here)
	if node.Kind == unstable.ArrayTable {
		item := here
		named.items = append(named.items, &item)
		l.table = &item
		return 0, true
	}
	if !named.header { // made before by a dotted header such as [bath.x]
		named.key, named.keyEnd, named.val, named.valEnd, named.header = here.key, here.keyEnd, here.val, here.valEnd, true
	}
	l.table = named
	return 0, true
}

// pair places key = value in a table.
func (l *locator) pair(in *place, node *unstable.Node, depth int) (int, bool) {
	keys := keysOf(node)
	if len(keys) == 0 {
		return 0, true
	}
	from := int(keys[0].Raw.Offset)
	if len(keys)+depth > maxDepth+1 {
		return from, false
	}
	last := keys[len(keys)-1]
	keyEnd := int(last.Raw.Offset + last.Raw.Length)
	val := valueStart(l.src.data, keyEnd)
	here := place{key: from, keyEnd: keyEnd, val: val, valEnd: int(node.Raw.Offset + node.Raw.Length)}
	for _, key := range keys {
		here.key, here.keyEnd = int(key.Raw.Offset), int(key.Raw.Offset+key.Raw.Length)
		in = in.child(string(key.Data), here)
	}
	return l.value(in, node.Value(), depth+len(keys)-1)
}

// value places what is inside a list or an inline table.
func (l *locator) value(at *place, node *unstable.Node, depth int) (int, bool) {
	if node.Kind != unstable.Array && node.Kind != unstable.InlineTable {
		return 0, true
	}
	if depth >= maxDepth {
		return at.val, false
	}
	at.inline = node.Kind == unstable.InlineTable
	for it := node.Children(); it.Next(); {
		child := it.Node()
		switch {
		case child.Kind == unstable.Comment:
		case node.Kind == unstable.InlineTable:
			if from, ok := l.pair(at, child, depth+1); !ok {
				return from, false
			}
		default:
			item := &place{key: at.val, keyEnd: at.valEnd, val: at.val, valEnd: at.valEnd}
			if child.Raw.Length > 0 { // lists inside lists carry no range of their own
				item.key, item.keyEnd = int(child.Raw.Offset), int(child.Raw.Offset+child.Raw.Length)
				item.val, item.valEnd = item.key, item.keyEnd
			}
			at.items = append(at.items, item)
			if from, ok := l.value(item, child, depth+1); !ok {
				return from, false
			}
		}
	}
	return 0, true
}

func (p *place) child(key string, here place) *place {
	if c, ok := p.children[key]; ok {
		return c
	}
	if p.children == nil {
		p.children = map[string]*place{}
	}
	c := &here
	p.children[key] = c
	return c
}

// latest is the table a dotted header speaks of: the last item of a list.
func (p *place) latest() *place {
	if n := len(p.items); n > 0 {
		return p.items[n-1]
	}
	return p
}

func keysOf(node *unstable.Node) []*unstable.Node {
	var keys []*unstable.Node
	for it := node.Key(); it.Next(); {
		keys = append(keys, it.Node())
	}
	return keys
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

// closing counts the blanks and brackets behind the key of a header.
func closing(rest []byte) int {
	n := 0
	for n < len(rest) && (rest[n] == ' ' || rest[n] == '\t') {
		n++
	}
	for n < len(rest) && rest[n] == ']' {
		n++
	}
	return n
}

// valueStart is where the value behind a key begins.
func valueStart(data []byte, keyEnd int) int {
	i := keyEnd
	for i < len(data) && (data[i] == ' ' || data[i] == '\t' || data[i] == '=') {
		i++
	}
	return i
}
