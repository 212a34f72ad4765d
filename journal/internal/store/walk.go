package store

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"os"
	"slices"
)

// A walk over the pages before the store opens a file. The store trusts its pages: a
// file shorter than its header says kills a process that reads it through the map,
// and a branch that leads back above itself sends it down without end.
// Offsets are those of the store's file format, version 2.
const (
	boltMagic   = 0xED0CDAED
	boltVersion = 2
	pageHead    = 16
	element     = 16 // of a branch and of a leaf
	minPage     = 512
	maxPage     = 1 << 20
	deepest     = 24

	branchPage = 0x01
	leafPage   = 0x02
	metaPage   = 0x04
	listPage   = 0x10
	subBucket  = 0x01
)

var errPages = errors.New("its pages do not hold together")

func badPage(format string, args ...any) error {
	return fmt.Errorf("%w: %s", errPages, fmt.Sprintf(format, args...))
}

type header struct {
	pageSize int64 // in bytes
	root     uint64
	freelist uint64
	pages    uint64 // every page in use is below it
	txid     uint64
}

func readHeaderAt(file *os.File, offset int64) (h header, ok bool) {
	var page [pageHead + 64]byte
	if _, err := file.ReadAt(page[:], offset); err != nil {
		return h, false
	}
	meta, order := page[pageHead:], binary.NativeEndian
	sum := fnv.New64a()
	sum.Write(meta[:56])
	if order.Uint32(meta) != boltMagic || order.Uint32(meta[4:]) != boltVersion || order.Uint64(meta[56:]) != sum.Sum64() {
		return h, false
	}
	h = header{pageSize: int64(order.Uint32(meta[8:])), root: order.Uint64(meta[16:]), freelist: order.Uint64(meta[32:]),
		pages: order.Uint64(meta[40:]), txid: order.Uint64(meta[48:])}
	id := order.Uint64(page[:])
	return h, order.Uint16(page[8:]) == metaPage && id == h.txid%2 && id == uint64(min(offset, 1)) && (offset == 0 || offset == h.pageSize) &&
		h.pageSize >= minPage && h.pageSize <= maxPage && h.pageSize&(h.pageSize-1) == 0 &&
		h.pages >= 4 && h.pages < 1<<40 && h.root >= 2 && h.root < h.pages
}

// readHeader returns the newer header. It returns an error if the file is no
// store, is cut short, or one header is damaged or older than the last write but one.
func readHeader(file *os.File) (header, error) {
	info, err := file.Stat()
	if err != nil {
		return header{}, err
	}
	if info.Size() == 0 {
		return header{}, noJournal("it is empty")
	}
	var both []header
	for at := int64(0); at <= maxPage && len(both) < 2; at = max(2*at, minPage) {
		if h, ok := readHeaderAt(file, at); ok {
			both = append(both, h)
		}
	}
	if both == nil {
		return header{}, noJournal("it does not begin like a journal")
	}
	slices.SortFunc(both, func(a, b header) int { return cmp.Compare(b.txid, a.txid) })
	newer := both[0]
	switch {
	case newer.pages > uint64(info.Size()/newer.pageSize):
		newer.pages = uint64(info.Size()/newer.pageSize) + 1
		return newer, badPage("it is shorter than its header says")
	case len(both) < 2:
		return newer, badPage("one of its two header pages is damaged")
	case both[1].pageSize != newer.pageSize || both[1].txid != newer.txid-1:
		return newer, badPage("its two header pages are not of the last two writes")
	}
	return newer, nil
}

type walker struct {
	file *os.File
	header
	used   []uint64 // a bit for each page in use
	count  uint64   // of the pages in use
	faults []error  // what is wrong; the walk goes on
	head   [pageHead]byte
}

// walk looks at the pages of a file, which may be damaged in any way: the headers, every
// branch, the head of every leaf, and that no page is used twice. What is in the leaves
// has checksums of its own. It returns the first fault as an error.
func walk(file *os.File) (*walker, error) {
	h, err := readHeader(file)
	w := &walker{file: file, header: h, used: make([]uint64, h.pages/64+1)}
	if err != nil {
		w.faults = []error{err}
	}
	if h.pages > 0 {
		w.below(h.root, true, nil, nil, 0)
		w.free()
	}
	return w, cmp.Or(w.faults...)
}

// Live walks a damaged file, and tells what is wrong. It returns which places of the file
// lie on pages to which its newer header still leads, and the transaction of that header;
// 0 if a later one may be lost.
func Live(file *os.File, told func(error)) (live func(offset int64) bool, tx uint64) {
	w, _ := walk(file)
	for _, fault := range w.faults {
		told(fault)
	}
	if _, wrong := readHeader(file); wrong == nil {
		tx = w.txid
	}
	return func(offset int64) bool {
		return w.pages > 0 && offset/w.pageSize < int64(w.pages) && w.inUse(uint64(offset/w.pageSize))
	}, tx
}

func (w *walker) bad(format string, args ...any) {
	if len(w.faults) < 1000 { // nobody reads more
		w.faults = append(w.faults, badPage(format, args...))
	}
}

func (w *walker) inUse(id uint64) bool { return w.used[id/64]&(1<<(id%64)) != 0 }

func (w *walker) claim(id uint64) bool {
	switch {
	case id < 2 || id >= w.pages:
		w.bad("something leads to page %d, which does not exist", id)
	case w.inUse(id):
		w.bad("page %d is used twice", id)
	default:
		w.used[id/64] |= 1 << (id % 64)
		w.count++
		return true
	}
	return false
}

func (w *walker) read(id uint64, into []byte) bool {
	_, err := w.file.ReadAt(into, int64(id)*w.pageSize)
	if err != nil {
		w.bad("page %d cannot be read: %v", id, err)
	}
	return err == nil
}

// page claims a page with those it runs over, and returns what its head says: the kind,
// which is 0 if the page is bad, the number of entries, and the size in bytes.
func (w *walker) page(id uint64) (kind uint16, count int, size int64) {
	head := w.head[:]
	if !w.claim(id) || !w.read(id, head) {
		return 0, 0, 0
	}
	order := binary.NativeEndian
	if got := order.Uint64(head); got != id {
		w.used[id/64] &^= 1 << (id % 64)
		w.bad("page %d calls itself page %d", id, got)
		return 0, 0, 0
	}
	over := uint64(order.Uint32(head[12:]))
	size = int64(over+1) * w.pageSize
	if id+over >= w.pages || size > 4*maxFrame {
		w.bad("page %d runs over the end", id)
		return 0, 0, 0
	}
	for next := id + 1; next <= id+over; next++ {
		if !w.claim(next) {
			return 0, 0, 0
		}
	}
	return order.Uint16(head[8:]), int(order.Uint16(head[10:])), size
}

// item is an entry of a branch, which leads to a child, or of the tree of buckets.
type item struct {
	key   []byte
	child uint64 // page of a branch or root of a bucket; 0 if a small bucket lies in the entry itself
}

// items returns the entries of a page, whose keys rise from low to below high; none if
// one of them is bad.
func (w *walker) items(id uint64, kind uint16, count int, size int64, low, high []byte) []item {
	all, order, data := make([]item, count), binary.NativeEndian, make([]byte, size)
	if !w.read(id, data) {
		return nil
	}
	end := uint64(pageHead + count*element) // of the heads of entries
	if end > uint64(size) {
		w.bad("page %d has too many entries", id)
		return nil
	}
	for i := range all {
		at := pageHead + i*element
		e := data[at:]
		word := func(n int) uint64 { return uint64(order.Uint32(e[4*n:])) }
		place, key, value := word(0), word(1), uint64(0)
		if kind == leafPage {
			place, key, value = word(1), word(2), word(3)
		}
		from := uint64(at) + place
		if from+key+value > uint64(size) || from < end && key > 0 || kind == leafPage && (word(0) != subBucket || value < pageHead) {
			w.bad("entry %d of page %d is not whole", i, id)
			return nil
		}
		k := data[from : from+key]
		all[i] = item{k, order.Uint64(e[8:])}
		if kind == leafPage {
			all[i].child = order.Uint64(data[from+key:])
		}
		if i > 0 && bytes.Compare(all[i-1].key, k) >= 0 || bytes.Compare(k, low) < 0 || high != nil && bytes.Compare(k, high) >= 0 {
			w.bad("the keys of page %d are out of order", id)
			return nil
		}
	}
	return all
}

// below walks a page and what is under it, whose keys lie from low to below high. Top
// is the tree whose leaves hold the buckets. It returns how many levels there are: all
// branches of a tree are equally long.
func (w *walker) below(id uint64, top bool, low, high []byte, depth int) (levels int) {
	kind, count, size := w.page(id)
	switch {
	case kind == 0:
		return 0
	case kind == leafPage && !top:
		return 1
	case kind == leafPage:
		for _, it := range w.items(id, kind, count, size, low, high) {
			if it.child != 0 {
				w.below(it.child, false, nil, nil, 0)
			}
		}
		return 1
	case kind != branchPage || count == 0 || depth > deepest:
		w.bad("page %d is neither branch nor leaf", id)
		return 0
	}
	all := w.items(id, kind, count, size, low, high)
	for i, it := range all {
		end := high
		if i+1 < count {
			end = all[i+1].key
		}
		n := w.below(it.child, top, it.key, end, depth+1)
		if n > 0 && levels > 0 && n != levels {
			w.bad("the branches below page %d are not equally long", id)
		}
		levels = max(levels, n)
	}
	return levels + 1
}

// free makes sure that no page in use is on the list of free pages, which a write
// would overwrite.
func (w *walker) free() {
	if w.freelist == 0xffffffffffffffff || len(w.faults) > 0 {
		return
	}
	kind, count, size := w.page(w.freelist)
	ids := make([]byte, size)
	if kind == 0 || !w.read(w.freelist, ids) {
		return
	}
	ids = ids[pageHead:]
	if count == 0xffff && len(ids) >= 8 {
		count, ids = int(min(binary.NativeEndian.Uint64(ids), w.pages)), ids[8:]
	}
	if kind != listPage || count*8 > len(ids) {
		w.bad("the list of free pages is damaged")
		return
	}
	before := uint64(1)
	for i := range count {
		id := binary.NativeEndian.Uint64(ids[i*8:])
		if id <= before || id >= w.pages || w.inUse(id) {
			w.bad("the list of free pages names page %d, which is not free", id)
			return
		}
		before = id
	}
	if lost := int64(w.pages) - int64(w.count) - int64(count) - 2; lost != 0 {
		w.bad("%d pages are neither used nor free", lost)
	}
}
