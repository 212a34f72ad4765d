package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"os"
	"slices"
)

// A walk over the pages before the store opens a file. The store trusts its pages: a
// file shorter than its header says kills a process that reads it through the map,
// and a branch that leads back above itself sends it down without end.
// What follows is the store's file format, version 2.
const (
	boltMagic   = 0xED0CDAED
	boltVersion = 2
	minPage     = 512
	maxPage     = 1 << 20
	deepest     = 24

	branchPage = 0x01
	leafPage   = 0x02
	metaPage   = 0x04
	listPage   = 0x10
	subBucket  = 0x01
)

var order = binary.NativeEndian

// pageHead begins every page. The entries of a branch or a leaf follow, as long as it is.
type pageHead struct {
	ID          uint64
	Kind, Count uint16
	Over        uint32 // how many pages it runs over
}

const headSize = 16 // bytes

type header struct {
	pageHead
	Magic, Version, PageSize, Flags     uint32
	Root, Sequence, Freelist, Pages, Tx uint64 // every page in use is below Pages
	Sum                                 uint64 // of all from Magic on
}

// errPages is the beginning of every fault of a page.
const errPages = damage("its pages do not hold together")

func badPage(format string, args ...any) error {
	return damage(string(errPages) + ": " + fmt.Sprintf(format, args...))
}

// readHeader returns the newer header; none if the file is no store. It returns an error
// if the file is cut short, or one header is damaged or older than the last write but one.
func readHeader(file *os.File) (newer header, err error) {
	info, err := file.Stat()
	if err != nil {
		return newer, err
	}
	if info.Size() == 0 {
		return newer, noJournal("it is empty")
	}
	var found []header
	for at := uint64(0); at <= maxPage; at = max(2*at, minPage) {
		var h header
		raw := make([]byte, binary.Size(h))
		_, _ = file.ReadAt(raw, int64(at)) // zeros are no header
		_, _ = binary.Decode(raw, order, &h)
		sum := fnv.New64a()
		sum.Write(raw[headSize : len(raw)-8])
		if h.Magic == boltMagic && h.Version == boltVersion && h.Sum == sum.Sum64() && h.Kind == metaPage &&
			h.ID == h.Tx%2 && at == h.ID*uint64(h.PageSize) && h.PageSize >= minPage && h.PageSize <= maxPage {
			found = append(found, h)
		}
	}
	if found == nil {
		return newer, noJournal("it does not begin like a journal")
	}
	newer, older := found[0], found[len(found)-1]
	if newer.Tx < older.Tx {
		newer, older = older, newer
	}
	if there := uint64(info.Size()) / uint64(newer.PageSize); newer.Pages > there {
		newer.Pages = there + 1
		return newer, badPage("it is shorter than its header says")
	}
	if older.PageSize != newer.PageSize || older.Tx+1 != newer.Tx {
		return newer, badPage("one of its two header pages is damaged, or not of the last write but one")
	}
	return newer, nil
}

// Walked is what a walk has found.
type Walked struct {
	Faults []error // the first thousand: nobody reads more
	Last   uint64  // the last transaction; 0 if a later one may be lost

	Entries uint64 // in all buckets

	file *os.File
	header
	live, used []bool              // by page: the header leads to it; that, or it is on the list of free pages
	count      uint64              // of the pages used
	pages      [deepest + 2][]byte // the page that is walked at each depth, without those it runs over
}

// Walk looks at the pages of a file, which may be damaged in any way: the headers, every
// branch, the head and the first key of every leaf. Every page must be used once, or free.
func Walk(file *os.File) *Walked {
	h, err := readHeader(file)
	w := &Walked{file: file, header: h, used: make([]bool, h.Pages), Last: h.Tx}
	if err != nil {
		w.Last, w.Faults = 0, []error{err}
	}
	if h.Pages > 0 {
		w.below(h.Root, true, nil, 0)
		w.live = slices.Clone(w.used)
		w.free()
	}
	return w
}

// Live says whether a place of the file lies on a page to which the header leads.
func (w *Walked) Live(offset int64) bool {
	return w.Pages > 0 && offset/int64(w.PageSize) < int64(len(w.live)) && w.live[offset/int64(w.PageSize)]
}

func (w *Walked) bad(format string, args ...any) {
	if len(w.Faults) < 1000 {
		w.Faults = append(w.Faults, badPage(format, args...))
	}
}

func (w *Walked) claim(id uint64) bool {
	switch {
	case id < 2 || id >= w.Pages:
		w.bad("something leads to page %d, which does not exist", id)
	case w.used[id]:
		w.bad("page %d is used twice, or in use and free", id)
	default:
		w.used[id] = true
		w.count++
		return true
	}
	return false
}

func (w *Walked) read(id uint64, from uint32, into []byte) bool {
	_, err := w.file.ReadAt(into, int64(id)*int64(w.PageSize)+int64(from))
	if err != nil {
		w.bad("page %d cannot be read: %v", id, err)
	}
	return err == nil
}

// page claims a page with those it runs over, and returns its head and its bytes, without
// those that it runs over; nothing if it is bad.
func (w *Walked) page(id uint64, depth int) (head pageHead, start []byte) {
	if start = w.pages[depth]; start == nil {
		start = make([]byte, w.PageSize)
		w.pages[depth] = start
	}
	if !w.read(id, 0, start) {
		return head, nil
	}
	head = pageHead{ID: order.Uint64(start), Kind: order.Uint16(start[8:]), Count: order.Uint16(start[10:]), Over: order.Uint32(start[12:])}
	if head.ID != id || head.Over > 4*maxFrame/w.PageSize {
		w.bad("page %d calls itself page %d, with %d more", id, head.ID, head.Over)
		return pageHead{}, nil
	}
	for n := range uint64(head.Over) + 1 {
		if !w.claim(id + n) {
			return pageHead{}, nil
		}
	}
	return head, start
}

// element reads the head of an entry, of a branch: place, length of the key, child; of a
// leaf: kind, place, lengths of key and value.
func element(data []byte) (e [4]uint32) {
	for i := range e {
		e[i] = order.Uint32(data[4*i:])
	}
	return e
}

// content returns a page, which begins with start, whole.
func (w *Walked) content(head pageHead, start []byte) ([]byte, bool) {
	if head.Over == 0 {
		return start, start != nil
	}
	data := make([]byte, (head.Over+1)*w.PageSize)
	return data, w.read(head.ID, 0, data)
}

// below walks a page, whose first key the branch above has, and what is under it. Top is the
// tree whose leaves hold the buckets.
func (w *Walked) below(id uint64, top bool, first []byte, depth int) {
	if depth > deepest {
		w.bad("page %d is too deep", id)
		return
	}
	head, start := w.page(id, depth)
	if start == nil {
		return
	}
	e := element(start[headSize:])
	leaf := head.Kind == leafPage
	if leaf {
		copy(e[:], e[1:])
	}
	// What is in the first entry comes right behind the heads of all: so none is lost if the count is wrong.
	if !leaf && head.Kind != branchPage || head.Count == 0 || e[0] != uint32(head.Count)*headSize {
		w.bad("page %d is neither branch nor leaf, or lacks entries", id)
		return
	}
	data := start
	if at := headSize + int(e[0]); at+len(first) > len(start) || !leaf || top { // more than the beginning is needed
		data, _ = w.content(head, start)
	}
	if at := headSize + int(e[0]); first != nil && (int(e[1]) != len(first) || at+len(first) > len(data) || !bytes.Equal(data[at:at+len(first)], first)) {
		w.bad("page %d does not begin as the branch above says", id)
		return
	}
	if leaf && !top {
		w.Entries += uint64(head.Count)
		return
	}
	size := uint64(len(data))
	for i := range uint64(head.Count) {
		at := headSize * (i + 1)
		if at+headSize > size {
			w.bad("page %d has too many entries", id)
			return
		}
		e = element(data[at:])
		place, key, value := e[0], e[1], uint32(0)
		if leaf {
			place, key, value = e[1], e[2], e[3]
		}
		from := at + uint64(place)
		to := from + uint64(key)
		if to+uint64(value) > size || leaf && (e[0] != subBucket || value < headSize) {
			w.bad("entry %d of page %d is not whole", i, id)
			return
		}
		if !leaf {
			w.below(order.Uint64(data[at+8:]), top, data[from:to], depth+1)
		} else if root := order.Uint64(data[to:]); root != 0 {
			w.below(root, false, nil, depth+1)
		} else { // a small bucket lies in the entry itself
			small := slices.Concat(data[to+headSize:to+uint64(value)], make([]byte, 2*headSize))
			n := uint32(order.Uint16(small[10:]))
			if w.Entries += uint64(n); order.Uint32(small[headSize+4:]) != n*headSize {
				w.bad("entry %d of page %d lacks entries", i, id)
			}
		}
	}
}

// free claims the pages on the list of free pages, which a write would overwrite.
func (w *Walked) free() {
	if len(w.Faults) > 0 {
		return
	}
	head, start := w.page(w.Freelist, 0)
	data, whole := w.content(head, start)
	if !whole {
		w.bad("the list of free pages is damaged")
		return
	}
	ids, count := data[headSize:], uint64(head.Count)
	if count == 0xffff {
		count, ids = order.Uint64(ids), ids[8:]
	}
	if head.Kind != listPage || count > uint64(len(ids)/8) {
		w.bad("the list of free pages is damaged")
		return
	}
	for i := range count {
		w.claim(order.Uint64(ids[i*8:]))
	}
	if w.count != w.Pages-2 && len(w.Faults) == 0 {
		w.bad("%d pages are neither used nor free", w.Pages-2-w.count)
	}
}
