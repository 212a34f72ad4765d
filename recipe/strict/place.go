package strict

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Why a second reading of the file: the decoder that holds the truth gives the
// line of the last element for a fault in any element of an array of tables, and
// no line at all for an unknown key. This reading builds a tree of places that
// has the shape of the decoded content, and nothing else.

// Place is where one key, table or list item stands in the file. Get one from
// [Table.Place], [Table.Here] or [Table.List].
type Place struct {
	// Byte offsets.
	key, keyEnd int // the key, or the header of a table; the same as the value for list items
	val, valEnd int
	children    map[string]*Place
	items       []*Place
	header      bool // made by a [table] or [[table]] line
	inline      bool // a table between braces
}

// MaxDepth is how deep tables, lists and dotted keys may nest. A recipe needs
// four; the limit keeps hostile files from costing time or stack.
const MaxDepth = 16

// locate reads the file once for its places. It gives findings of its own for
// syntax the second parser refuses and for nesting beyond MaxDepth; the tree is
// then not complete and the file must not be decoded.
func locate(src *source) (root *Place, faults []Finding) {
	root = &Place{}
	defer func() {
		// The parser of a library must never take the program down with it.
		if recover() != nil {
			faults = append(faults, Finding{File: src.file, What: "not readable as TOML", Cure: src.kind.compare()})
		}
	}()
	l := locator{src: src, root: root, table: root}
	l.parser.Reset(src.data)
	for l.parser.NextExpression() {
		if from, ok := l.expression(l.parser.Expression()); !ok {
			return root, []Finding{src.finding(from, lineEnd(src.data, from), fmt.Sprintf("nested too deeply for a %s (more than %d levels)", src.kind.Name, MaxDepth),
				fmt.Sprintf("write the file flat, as %s lays it out", src.kind.Sample))}
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
	root   *Place
	table  *Place
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
	f := l.src.finding(from, end, "not valid TOML: "+Plain(err.Error()), l.src.kind.syntaxCure(err.Error()))
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
	if len(keys) > MaxDepth {
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
		at = at.child(string(key.Data), Place{key: start, keyEnd: end, val: start, valEnd: end})
		at = at.latest()
	}
	here := Place{key: start, keyEnd: end, val: start, valEnd: end, header: true}
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
func (l *locator) pair(in *Place, node *unstable.Node, depth int) (int, bool) {
	keys := keysOf(node)
	if len(keys) == 0 {
		return 0, true
	}
	from := int(keys[0].Raw.Offset)
	if len(keys)+depth > MaxDepth+1 {
		return from, false
	}
	last := keys[len(keys)-1]
	keyEnd := int(last.Raw.Offset + last.Raw.Length)
	val := valueStart(l.src.data, keyEnd)
	here := Place{key: from, keyEnd: keyEnd, val: val, valEnd: int(node.Raw.Offset + node.Raw.Length)}
	for _, key := range keys {
		here.key, here.keyEnd = int(key.Raw.Offset), int(key.Raw.Offset+key.Raw.Length)
		in = in.child(string(key.Data), here)
	}
	return l.value(in, node.Value(), depth+len(keys)-1)
}

// value places what is inside a list or an inline table.
func (l *locator) value(at *Place, node *unstable.Node, depth int) (int, bool) {
	if node.Kind != unstable.Array && node.Kind != unstable.InlineTable {
		return 0, true
	}
	if depth >= MaxDepth {
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
			at.reach(l.src.data, int(child.Raw.Offset+child.Raw.Length))
		default:
			item := &Place{key: at.val, keyEnd: at.valEnd, val: at.val, valEnd: at.valEnd}
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

// reach stretches a table between braces over one of its pairs, with the brace
// behind it; the parser gives only the opening brace of a table in a list.
func (p *Place) reach(data []byte, end int) {
	if end < p.valEnd {
		return
	}
	rest := data[end:]
	if trimmed := bytes.TrimLeft(rest, " \t"); len(trimmed) > 0 && trimmed[0] == '}' {
		end += len(rest) - len(trimmed) + 1
	}
	p.valEnd = end
	p.keyEnd = max(p.keyEnd, end)
}

func (p *Place) child(key string, here Place) *Place {
	if c, ok := p.children[key]; ok {
		return c
	}
	if p.children == nil {
		p.children = map[string]*Place{}
	}
	c := &here
	p.children[key] = c
	return c
}

// latest is the table a dotted header speaks of: the last item of a list.
func (p *Place) latest() *Place {
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
