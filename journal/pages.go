package journal

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
)

// The pages of the store, walked here before the store's own check walks them:
// that check would go round for ever where a damaged page leads back to itself.
// The layout is that of bbolt's file format version 2.
const (
	branchPage   = 0x01
	leafPage     = 0x02
	freelistPage = 0x10

	elementSize  = 16 // of a branch page and of a leaf page alike
	bucketHead   = 16 // of the value of a bucket: root page, sequence
	bucketFlag   = 0x01
	countInData  = 0xFFFF // a freelist too long for its header
	noFreelist   = ^uint64(0)
	deepestTree  = 64 // pages from the root to a leaf; a sound tree is below 10
	mostNestings = 4  // buckets within buckets; ours are not nested

	// mostOverflow is how many bytes a page may go on: a list of eight million free
	// pages, or many times the largest record. It bounds the memory needed.
	mostOverflow = 64 << 20
)

// pageWalk checks that every page is reached once, holds together and is not
// free as well.
type pageWalk struct {
	file   io.ReaderAt
	header pageHeader
	seen   []bool // by page
	report func(where, what string)
}

// walkPages reports what is wrong with the pages of a file.
func walkPages(file io.ReaderAt, size int64, h pageHeader, report func(where, what string)) {
	if int64(h.pages) > size/h.pageSize {
		report("file", string(cutShort))
		return
	}
	w := &pageWalk{file: file, header: h, seen: make([]bool, h.pages), report: report}
	w.seen[0], w.seen[1] = true, true
	w.tree(h.root, 0, 0)
	if h.freelist != noFreelist {
		w.freelist()
	}
}

func (w *pageWalk) wrong(page uint64, format string, args ...any) {
	w.report(fmt.Sprintf("page %d", page), fmt.Sprintf(format, args...))
}

// load reads a page with its overflow and marks all of it as seen; nil where it
// is not what it should be.
func (w *pageWalk) load(page uint64) []byte {
	if page < 2 || page >= w.header.pages {
		w.wrong(page, "something leads to this page, which does not exist")
		return nil
	}
	head := make([]byte, pageHeaderSize)
	if _, err := w.file.ReadAt(head, int64(page)*w.header.pageSize); err != nil {
		w.wrong(page, "it cannot be read: %v", err)
		return nil
	}
	order := binary.NativeEndian
	if got := order.Uint64(head); got != page {
		w.wrong(page, "it calls itself page %d", got)
		return nil
	}
	extra := uint64(order.Uint32(head[12:]))
	if extra >= w.header.pages-page {
		w.wrong(page, "it claims to go on beyond the end")
		return nil
	}
	if int64(extra) > mostOverflow/w.header.pageSize {
		w.wrong(page, "it claims to go on over %d pages", extra)
		return nil
	}
	for p := page; p <= page+extra; p++ {
		if w.seen[p] {
			w.wrong(p, "more than one thing leads to it")
			return nil
		}
		w.seen[p] = true
	}
	all := make([]byte, int64(extra+1)*w.header.pageSize)
	if _, err := w.file.ReadAt(all, int64(page)*w.header.pageSize); err != nil {
		w.wrong(page, "it cannot be read: %v", err)
		return nil
	}
	return all
}

// tree checks the page and all below it.
func (w *pageWalk) tree(page uint64, depth, nesting int) {
	if depth > deepestTree || nesting > mostNestings {
		w.wrong(page, "the tree is too deep")
		return
	}
	data := w.load(page)
	if data == nil {
		return
	}
	w.elements(page, data, depth, nesting)
}

// elements checks the entries of a branch or leaf page (or of a bucket that is
// small enough to be kept inside a leaf).
func (w *pageWalk) elements(page uint64, data []byte, depth, nesting int) {
	order := binary.NativeEndian
	kind, count := order.Uint16(data[8:]), int(order.Uint16(data[10:]))
	if kind != branchPage && kind != leafPage {
		w.wrong(page, "it is neither a branch nor a leaf")
		return
	}
	if pageHeaderSize+count*elementSize > len(data) || kind == branchPage && count == 0 {
		w.wrong(page, "it claims to have %d entries", count)
		return
	}
	var before []byte
	for i := range count {
		start := pageHeaderSize + i*elementSize
		e := data[start : start+elementSize]
		pos, keyLen, valueLen := uint64(order.Uint32(e)), uint64(order.Uint32(e[4:])), uint64(0)
		if kind == leafPage {
			pos, keyLen, valueLen = uint64(order.Uint32(e[4:])), uint64(order.Uint32(e[8:])), uint64(order.Uint32(e[12:]))
		}
		from := uint64(start) + pos
		if from < uint64(pageHeaderSize+count*elementSize) || from+keyLen+valueLen > uint64(len(data)) {
			w.wrong(page, "entry %d lies outside of it", i)
			return
		}
		key, value := data[from:from+keyLen], data[from+keyLen:from+keyLen+valueLen]
		if i > 0 && bytes.Compare(before, key) >= 0 {
			w.wrong(page, "its entries are out of order at %d", i)
		}
		before = key
		switch {
		case kind == branchPage:
			w.tree(order.Uint64(e[8:]), depth+1, nesting)
		case order.Uint32(e)&bucketFlag != 0:
			w.nested(page, value, nesting)
		}
	}
}

// nested checks a bucket that is an entry of a leaf.
func (w *pageWalk) nested(page uint64, value []byte, nesting int) {
	if len(value) < bucketHead {
		w.wrong(page, "one of its buckets is cut short")
		return
	}
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		w.tree(root, 0, nesting+1)
		return
	}
	inside := value[bucketHead:]
	if len(inside) < pageHeaderSize || nesting >= mostNestings {
		w.wrong(page, "one of its small buckets is cut short")
		return
	}
	w.elements(page, inside, 0, nesting+1)
}

// freelist checks that the free pages are those that nothing leads to.
func (w *pageWalk) freelist() {
	page := w.header.freelist
	data := w.load(page)
	if data == nil {
		return
	}
	order := binary.NativeEndian
	if order.Uint16(data[8:]) != freelistPage {
		w.wrong(page, "it is not the list of free pages")
		return
	}
	ids, count := data[pageHeaderSize:], uint64(order.Uint16(data[10:]))
	if count == countInData {
		count, ids = order.Uint64(ids), ids[8:]
	}
	if count > uint64(len(ids)/8) {
		w.wrong(page, "it claims to list %d free pages", count)
		return
	}
	for i := range count {
		free := order.Uint64(ids[i*8:])
		if free < 2 || free >= w.header.pages {
			w.wrong(page, "it lists page %d as free, which does not exist", free)
			continue
		}
		if w.seen[free] {
			w.wrong(free, "it is in use and listed as free, or listed twice")
			continue
		}
		w.seen[free] = true
	}
	for p, seen := range w.seen {
		if !seen {
			w.wrong(uint64(p), "nothing leads to it and it is not listed as free")
		}
	}
}
