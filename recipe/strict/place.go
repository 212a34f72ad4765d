package strict

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/pelletier/go-toml/v2/unstable"
)

// The decoder that holds the truth about content gives no line for an unknown key, and
// the line of the last table for a fault in any table of a list. So the file is read a
// second time: this reading builds a tree of places in the shape of the content.

// Place is where one key, table or list item stands in the file. [Table.Place],
// [Table.Here] and [Table.List] return one.
type Place struct {
	// Byte offsets.
	key, keyEnd int // the key, or the header of a table; the value for list items
	val, valEnd int
	children    map[string]*Place
	items       []*Place
	header      bool // made by a [table] or [[table]] line
	paired      bool // made by a line key = value
	inline      bool // a table between braces
}

// spot is the place of what has no key and value of its own.
func spot(from, end int) Place { return Place{key: from, keyEnd: end, val: from, valEnd: end} }

// item is the place of an item of a list, or of the list if the item has none.
func (p *Place) item(i int) *Place {
	if i < len(p.items) {
		return p.items[i]
	}
	return p
}

// MaxDepth is how deep tables, lists and dotted keys may nest. A recipe needs four; the
// limit keeps hostile files from costing time or stack.
const MaxDepth = 16

// locate reads the file for its places. It returns findings for syntax that this parser
// refuses and for nesting beyond MaxDepth; the tree is then incomplete, and the file must
// not be decoded.
func locate(src *source) (*Place, []Finding) {
	root := &Place{}
	l := locator{src: src, table: root}
	l.parser.Reset(src.data)
	for !l.deep && l.parser.NextExpression() {
		switch node := l.parser.Expression(); node.Kind {
		case unstable.Table, unstable.ArrayTable:
			l.head(root, node)
		case unstable.KeyValue:
			l.pair(l.table, node, 1)
		}
	}
	if err := l.parser.Error(); err != nil && !l.deep {
		from := 0
		var pe *unstable.ParserError
		if errors.As(err, &pe) {
			from = skip(src.data, " \t\r\n")
			if len(pe.Highlight) > 0 { // one that is no slice of the data panics: see [Kind.Decode]
				from = int(l.parser.Range(pe.Highlight).Offset)
			}
		}
		l.faults = append(l.faults, src.notTOML(from, err.Error()))
	}
	return root, l.faults
}

type locator struct {
	src    *source
	parser unstable.Parser
	table  *Place
	faults []Finding
	deep   bool // the file nests too deeply: stop
}

// within notes nesting beyond MaxDepth.
func (l *locator) within(depth, from int) bool {
	if depth > MaxDepth {
		l.deep = true
		l.faults = append(l.faults, l.src.finding(from, l.src.lineEnd(from), fmt.Sprintf("nested too deeply for a %s (more than %d levels)", l.src.kind.Name, MaxDepth),
			fmt.Sprintf("write the file flat, like the output of %s", l.src.kind.Sample)))
	}
	return !l.deep
}

// head opens the table of a [table] or [[table]] line.
func (l *locator) head(root *Place, node *unstable.Node) {
	keys := keysOf(node)
	last, from := keys[len(keys)-1], int(keys[0].Raw.Offset)
	if !l.within(len(keys), from) {
		return
	}
	start, end := l.src.lines[l.src.line(from)], int(last.Raw.Offset+last.Raw.Length)
	start += skip(l.src.data[start:from], " \t") // the brackets, and perhaps blanks, stand before the key
	end += skip(l.src.data[end:], " \t")
	end += skip(l.src.data[end:], "]")
	here := spot(start, end)
	at, reopened := root, false
	for _, key := range keys[:len(keys)-1] {
		at = at.child(string(key.Data), here)
		if n := len(at.items); n > 0 {
			at = at.items[n-1] // the header means the last table of a list
		}
		reopened = reopened || at.inline
	}
	here.header = true
	named := at.child(string(last.Data), here)
	if reopened || named.paired { // the decoder would let this pass
		l.faults = append(l.faults, l.src.finding(start, end, "not valid TOML: the table already exists", l.src.kind.syntaxCure("already")))
	}
	if node.Kind == unstable.ArrayTable {
		named.items = append(named.items, &here)
		named = &here
	} else if !named.header { // made before by a header such as [bath.x]
		here.children, here.items = named.children, named.items
		*named = here
	}
	l.table = named
}

// pair places key = value in a table.
func (l *locator) pair(in *Place, node *unstable.Node, depth int) {
	keys := keysOf(node)
	if !l.within(len(keys)+depth-1, int(keys[0].Raw.Offset)) {
		return
	}
	last := keys[len(keys)-1].Raw
	here := Place{val: int(last.Offset + last.Length), valEnd: int(node.Raw.Offset + node.Raw.Length), paired: true}
	here.val += skip(l.src.data[here.val:], " \t=")
	for _, key := range keys {
		here.key, here.keyEnd = int(key.Raw.Offset), int(key.Raw.Offset+key.Raw.Length)
		in = in.child(string(key.Data), here)
	}
	l.value(in, node.Value(), depth+len(keys)-1)
}

// value places what is inside a list or an inline table.
func (l *locator) value(at *Place, node *unstable.Node, depth int) {
	if node.Kind != unstable.Array && node.Kind != unstable.InlineTable || !l.within(depth+1, at.val) {
		return
	}
	at.inline = node.Kind == unstable.InlineTable
	for it := node.Children(); it.Next() && !l.deep; {
		child := it.Node()
		from, end := int(child.Raw.Offset), int(child.Raw.Offset+child.Raw.Length)
		switch {
		case child.Kind == unstable.Comment:
		case at.inline:
			l.pair(at, child, depth+1)
			if end >= at.valEnd { // the parser returns only the opening brace of a table in a list
				if brace := end + skip(l.src.data[end:], " \t"); brace < len(l.src.data) && l.src.data[brace] == '}' {
					end = brace + 1
				}
				at.valEnd, at.keyEnd = end, max(at.keyEnd, end)
			}
		default:
			item := spot(at.val, at.valEnd)
			if end > from { // lists inside lists carry no range of their own
				item = spot(from, end)
			}
			at.items = append(at.items, &item)
			l.value(&item, child, depth+1)
		}
	}
}

func (p *Place) child(key string, here Place) *Place {
	if p.children == nil {
		p.children = map[string]*Place{}
	}
	if p.children[key] == nil {
		p.children[key] = &here
	}
	return p.children[key]
}

func keysOf(node *unstable.Node) (keys []*unstable.Node) {
	for it := node.Key(); it.Next(); {
		keys = append(keys, it.Node())
	}
	return keys
}

// skip counts the leading bytes that are in the set.
func skip(data []byte, set string) int { return len(data) - len(bytes.TrimLeft(data, set)) }
