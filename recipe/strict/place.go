package strict

import (
	"bytes"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Place is where one key, table or list item stands in the file.
type Place struct {
	key      int // byte offset of the key, or of the header of a table; the value for list items
	val      int // byte offset of the value, or of the header of a table
	children map[string]*Place
	items    []*Place
}

// locate reads the places, which the decoder does not tell, up to what is not TOML. deep is the
// offset of what is beyond MaxDepth or MaxKeys, or -1; such a file must not be decoded.
func locate(data []byte) (root *Place, deep int) {
	root = &Place{}
	l := locator{data: data, deep: -1}
	l.parser.Reset(data)
	for table := root; l.deep < 0 && l.parser.NextExpression(); {
		switch node := l.parser.Expression(); node.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = l.head(root, node)
		case unstable.KeyValue:
			l.pair(table, node, 1)
		}
	}
	return root, l.deep
}

type locator struct {
	data   []byte
	parser unstable.Parser
	keys   int // so far
	deep   int
}

// within notes what is beyond MaxDepth or MaxKeys.
func (l *locator) within(depth, from int) bool {
	if l.keys++; depth > MaxDepth || l.keys > MaxKeys {
		l.deep = from
	}
	return l.deep < 0
}

func (l *locator) head(root *Place, node *unstable.Node) *Place {
	keys := keysOf(node)
	last, from := len(keys)-1, int(keys[0].Raw.Offset)
	l.within(len(keys), from)
	start := bytes.LastIndexByte(l.data[:from], '\n') + 1
	start += skip(l.data[start:], " \t") // the brackets, and perhaps blanks, stand before the key
	at := root
	for _, key := range keys[:last] {
		at = at.child(string(key.Data), start, start)
		if n := len(at.items); n > 0 {
			at = at.items[n-1] // the header means the last table of a list
		}
	}
	at = at.child(string(keys[last].Data), start, start)
	if node.Kind == unstable.ArrayTable {
		at.items = append(at.items, &Place{key: start, val: start})
		return at.items[len(at.items)-1]
	}
	at.key, at.val = start, start // where a header such as [bath.x] came before
	return at
}

func (l *locator) pair(in *Place, node *unstable.Node, depth int) {
	keys := keysOf(node)
	depth += len(keys) - 1
	l.within(depth, int(keys[0].Raw.Offset))
	last := keys[len(keys)-1].Raw
	val := int(last.Offset + last.Length)
	val += skip(l.data[val:], " \t=")
	for _, key := range keys {
		in = in.child(string(key.Data), int(key.Raw.Offset), val)
	}
	l.value(in, node.Value(), depth)
}

// value places what is inside a list or an inline table.
func (l *locator) value(at *Place, node *unstable.Node, depth int) {
	if node.Kind != unstable.Array && node.Kind != unstable.InlineTable || !l.within(depth+1, at.val) {
		return
	}
	for it := node.Children(); it.Next() && l.deep < 0; {
		switch child := it.Node(); {
		case child.Kind == unstable.Comment:
		case node.Kind == unstable.InlineTable:
			l.pair(at, child, depth+1)
		default:
			item := &Place{key: at.val, val: at.val}
			if child.Raw.Length > 0 { // lists inside lists carry no range of their own
				item.key, item.val = int(child.Raw.Offset), int(child.Raw.Offset)
			}
			at.items = append(at.items, item)
			l.value(item, child, depth+1)
		}
	}
}

func (p *Place) child(name string, key, val int) *Place {
	if p.children == nil {
		p.children = map[string]*Place{}
	}
	if p.children[name] == nil {
		p.children[name] = &Place{key: key, val: val}
	}
	return p.children[name]
}

func keysOf(node *unstable.Node) (keys []*unstable.Node) {
	for it := node.Key(); it.Next(); {
		keys = append(keys, it.Node())
	}
	return keys
}

func skip(data []byte, set string) int { return len(data) - len(bytes.TrimLeft(data, set)) }
