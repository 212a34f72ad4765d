package journal

import (
	"bytes"
	"fmt"
)

// treeCursor goes through a tree in the order of its keys. Its moves give a nil
// key at the end, and then stay where they are.
type treeCursor struct {
	source pageSource
	root   node
	stack  []node
	room   [8]node // a tree is seldom deeper: spares an allocation
}

func (t *tree) cursor() *treeCursor {
	c := &treeCursor{source: t.source, root: t.root}
	c.stack = c.room[:0]
	return c
}

func (c *treeCursor) top() *node { return &c.stack[len(c.stack)-1] }

// enter goes from the branch on top to the page that its entry leads to, and
// makes sure that it is one that may stand there.
func (c *treeCursor) enter() error {
	if len(c.stack) > deepestTree {
		return fmt.Errorf("%w: the tree is too deep at page %d", errPages, c.top().page)
	}
	child, err := c.child(c.top().at)
	if err != nil {
		return err
	}
	c.stack = append(c.stack, child)
	return nil
}

// child opens the page that entry i of the branch on top leads to. Its keys must
// lie between those of the entry and the next one.
func (c *treeCursor) child(i int) (node, error) {
	n, err := childOf(c.source, c.top(), i)
	if err != nil {
		return n, err
	}
	for k := range c.stack {
		if c.stack[k].page == n.page {
			return node{}, fmt.Errorf("%w: page %d leads back to page %d above it", errPages, c.top().page, n.page)
		}
	}
	return n, nil
}

func childOf(source pageSource, above *node, i int) (node, error) {
	low, _, page, err := above.element(i)
	if err != nil {
		return node{}, err
	}
	n, err := loadNode(source, page)
	if err != nil {
		return n, err
	}
	if n.count == 0 {
		return n, fmt.Errorf("%w: page %d is empty", errPages, page)
	}
	first, _, _, err := n.element(0)
	if err != nil {
		return n, err
	}
	last, _, _, err := n.element(n.count - 1)
	if err != nil {
		return n, err
	}
	fits := bytes.Compare(first, low) >= 0 && bytes.Compare(first, last) <= 0
	if fits && i+1 < above.count {
		next, _, _, err := above.element(i + 1)
		if err != nil {
			return n, err
		}
		fits = bytes.Compare(last, next) < 0
	}
	if !fits {
		return n, fmt.Errorf("%w: page %d does not hold the keys that page %d says", errPages, page, above.page)
	}
	return n, nil
}

// down goes to the leaf below, to its first or its last entry.
func (c *treeCursor) down(last bool) error {
	for {
		n := c.top()
		n.at = 0
		if last {
			n.at = max(0, n.count-1)
		}
		if n.leaf {
			return nil
		}
		if err := c.enter(); err != nil {
			return err
		}
	}
}

// here gives the entry at which the cursor stands.
func (c *treeCursor) here() (key, value []byte, flags uint64, err error) {
	n := c.top()
	if n.at >= n.count {
		return nil, nil, 0, nil
	}
	return n.element(n.at)
}

func (c *treeCursor) end(last bool) (key, value []byte, flags uint64, err error) {
	c.stack = append(c.stack[:0], c.root)
	if err := c.down(last); err != nil {
		return nil, nil, 0, err
	}
	return c.here()
}

// seek goes to the first entry whose key is not below want.
func (c *treeCursor) seek(want []byte) (key, value []byte, flags uint64, err error) {
	if err := c.path(want); err != nil {
		return nil, nil, 0, err
	}
	if n := c.top(); n.at >= n.count && n.count > 0 {
		n.at = n.count - 1
		return c.step(false)
	}
	return c.here()
}

// path goes to the leaf where want must be.
func (c *treeCursor) path(want []byte) error {
	c.stack = append(c.stack[:0], c.root)
	for {
		if err := c.top().search(want); err != nil {
			return err
		}
		if c.top().leaf {
			return nil
		}
		if err := c.enter(); err != nil {
			return err
		}
	}
}

// step goes to the next entry, or back to the one before.
func (c *treeCursor) step(back bool) (key, value []byte, flags uint64, err error) {
	for depth := len(c.stack) - 1; depth >= 0; depth-- {
		n := &c.stack[depth]
		if back && n.at == 0 || !back && n.at+1 >= n.count {
			continue
		}
		if back {
			n.at--
		} else {
			n.at++
		}
		if n.leaf {
			return n.element(n.at)
		}
		c.stack = c.stack[:depth+1]
		if err := c.enter(); err != nil {
			return nil, nil, 0, err
		}
		if err := c.down(back); err != nil {
			return nil, nil, 0, err
		}
		return c.here()
	}
	return nil, nil, 0, nil
}

// neighbours opens the pages beside each page on the path: taking out an entry
// may join a page with the one beside it.
func (c *treeCursor) neighbours() error {
	for depth := len(c.stack) - 2; depth >= 0; depth-- {
		c.stack = c.stack[:depth+1]
		n := c.top()
		mine, err := c.child(n.at)
		if err != nil {
			return err
		}
		for _, i := range []int{n.at - 1, n.at + 1} {
			if i < 0 || i >= n.count {
				continue
			}
			beside, err := c.child(i)
			if err != nil {
				return err
			}
			if beside.leaf != mine.leaf || beside.page == mine.page {
				return fmt.Errorf("%w: page %d has no place beside page %d", errPages, beside.page, mine.page)
			}
		}
	}
	return nil
}
