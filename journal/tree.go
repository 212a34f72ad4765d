package journal

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// A reader of our own for the pages of the store. The store's reader trusts its
// pages: where a damaged one leads back to a page above it, the store goes down
// without end and takes the process with it, past any recover. This one goes
// down only so far, looks at each page before it uses it, and makes sure that
// each page holds the keys that the page above says it does. It costs a few
// comparisons for each page on the way, so nothing at open, however large the
// file is.

// errPages means that the pages of the store do not hold together.
var errPages = errors.New("the pages do not hold together")

// pageSource gives the bytes of a page with its overflow, which must be whole.
type pageSource interface {
	load(page uint64) ([]byte, error)
}

// node is a leaf or branch page and a place in it.
type node struct {
	page  uint64
	data  []byte
	leaf  bool
	count int
	at    int
}

// openNode checks the head of a page.
func openNode(page uint64, data []byte) (node, error) {
	if len(data) < pageHeaderSize {
		return node{}, fmt.Errorf("%w: page %d is cut short", errPages, page)
	}
	kind := binary.NativeEndian.Uint16(data[8:])
	n := node{page: page, data: data, leaf: kind == leafPage, count: int(binary.NativeEndian.Uint16(data[10:]))}
	if kind != leafPage && kind != branchPage {
		return n, fmt.Errorf("%w: page %d is neither a branch nor a leaf", errPages, page)
	}
	if pageHeaderSize+n.count*elementSize > len(data) || !n.leaf && n.count == 0 {
		return n, fmt.Errorf("%w: page %d claims to have %d entries", errPages, page, n.count)
	}
	if n.count == 0 {
		return n, nil
	}
	// The store writes the first key right behind the entries. If it is elsewhere,
	// the count is wrong, and entries would be passed over in silence.
	first := data[pageHeaderSize:]
	if n.leaf {
		first = first[4:]
	}
	if got := int(binary.NativeEndian.Uint32(first)); got != n.count*elementSize {
		return n, fmt.Errorf("%w: page %d claims to have %d entries and has %d", errPages, page, n.count, got/elementSize)
	}
	return n, nil
}

// element gives one entry: of a leaf its key, value and flags, of a branch its
// key and the page it leads to.
func (n *node) element(i int) (key, value []byte, rest uint64, err error) {
	start := pageHeaderSize + i*elementSize
	e := n.data[start : start+elementSize : start+elementSize]
	order := binary.NativeEndian
	var from, keyEnd, end uint64
	if n.leaf {
		from = uint64(start) + uint64(order.Uint32(e[4:]))
		keyEnd = from + uint64(order.Uint32(e[8:]))
		end = keyEnd + uint64(order.Uint32(e[12:]))
		rest = uint64(order.Uint32(e))
	} else {
		from = uint64(start) + uint64(order.Uint32(e))
		keyEnd = from + uint64(order.Uint32(e[4:]))
		end = keyEnd
		rest = order.Uint64(e[8:])
	}
	if from < uint64(pageHeaderSize+n.count*elementSize) || end > uint64(len(n.data)) {
		return nil, nil, 0, fmt.Errorf("%w: entry %d of page %d lies outside of it", errPages, i, n.page)
	}
	return n.data[from:keyEnd:keyEnd], n.data[keyEnd:end:end], rest, nil
}

// search puts the node at its first entry whose key is not below want, or in a
// branch at the entry below which want must be.
func (n *node) search(want []byte) error {
	low, high := 0, n.count
	exact := false
	for low < high {
		middle := (low + high) / 2
		key, _, _, err := n.element(middle)
		if err != nil {
			return err
		}
		switch bytes.Compare(key, want) {
		case -1:
			low = middle + 1
		case 0:
			exact = true
			high = middle
		default:
			high = middle
		}
	}
	if !n.leaf && !exact && low > 0 {
		low--
	}
	n.at = low
	return nil
}

// tree is a bucket: a root page, or the page kept in place of one in a small bucket.
type tree struct {
	source pageSource
	root   node
}

// openTree gives the tree whose root is at page.
func openTree(source pageSource, page uint64) (*tree, error) {
	root, err := loadNode(source, page)
	return &tree{source: source, root: root}, err
}

func loadNode(source pageSource, page uint64) (node, error) {
	data, err := source.load(page)
	if err != nil {
		return node{}, err
	}
	return openNode(page, data)
}

// bucket gives the tree of a bucket in the tree of buckets; nil where there is none.
func (t *tree) bucket(name []byte) (*tree, error) {
	at, err := t.leaf(name)
	if err != nil || at.at >= at.count {
		return nil, err
	}
	key, value, flags, err := at.element(at.at)
	if err != nil || !bytes.Equal(key, name) {
		return nil, err
	}
	if flags&bucketFlag == 0 || len(value) < bucketHead {
		return nil, fmt.Errorf("%w: the bucket %s is none", errPages, name)
	}
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		return openTree(t.source, root)
	}
	inside, err := openNode(at.page, value[bucketHead:])
	if err == nil && !inside.leaf {
		err = fmt.Errorf("%w: the small bucket %s has branches", errPages, name)
	}
	return &tree{source: t.source, root: inside}, err
}

// get gives the value under key; nil where there is none.
func (t *tree) get(key []byte) ([]byte, error) {
	n, err := t.leaf(key)
	if err != nil || n.at >= n.count {
		return nil, err
	}
	found, value, flags, err := n.element(n.at)
	if err != nil || !bytes.Equal(found, key) || flags&bucketFlag != 0 {
		return nil, err
	}
	return value, nil
}

// leaf goes to the leaf where key must be, as a cursor does, without keeping the way.
func (t *tree) leaf(key []byte) (node, error) {
	n := t.root
	for depth := 0; ; depth++ {
		if err := n.search(key); err != nil || n.leaf {
			return n, err
		}
		if depth > deepestTree {
			return n, fmt.Errorf("%w: the tree is too deep at page %d", errPages, n.page)
		}
		child, err := childOf(t.source, &n, n.at)
		if err != nil {
			return n, err
		}
		n = child
	}
}
