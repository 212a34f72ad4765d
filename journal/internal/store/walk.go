package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"os"
	"sort"
)

// A short walk over the pages before the store opens a file. The store trusts its
// pages: a file shorter than its header says kills a process that reads it through
// the map, and a branch that leads back above itself sends it down without end.
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
	first, ok0 := readHeaderAt(file, 0)
	second, ok1 := header{}, false
	for size := int64(minPage); size <= maxPage && !ok1; size *= 2 {
		second, ok1 = readHeaderAt(file, size)
	}
	newer := first
	if !ok0 || ok1 && second.txid > first.txid {
		newer = second
	}
	switch {
	case !ok0 && !ok1:
		return header{}, noJournal("it does not begin like a journal")
	case newer.pages > uint64(info.Size()/newer.pageSize):
		return newer, badPage("it is shorter than its header says")
	case !ok0 || !ok1:
		return newer, badPage("one of its two header pages is damaged")
	case first.pageSize != second.pageSize || max(first.txid, second.txid)-min(first.txid, second.txid) != 1:
		return newer, badPage("its two header pages are not of the last two writes")
	}
	return newer, nil
}

type walker struct {
	file *os.File
	header
	whole  bool     // look into leaves as well
	used   []uint64 // a bit for each page in use
	count  uint64   // of the pages in use
	faults []error  // what is wrong; the walk goes on

	row    []leaf            // the leaves of the tree that is walked
	leaves map[string][]leaf // those of each bucket
}

// leaf is a page of entries, of which the first is not below low.
type leaf struct {
	id  uint64
	low []byte
}

// walk looks at the pages of a file: the headers, every branch, and that no page is
// used twice; with whole the leaves and the order of all keys as well. Without whole
// it reads some hundred pages of a large file. It returns the leaves by bucket: see
// guard.
func walk(file *os.File, whole bool) (leaves map[string][]leaf, err error) {
	h, err := readHeader(file)
	if err != nil {
		return nil, err
	}
	w := walkTree(file, h, whole)
	w.free()
	if len(w.faults) > 0 {
		return nil, w.faults[0]
	}
	return w.leaves, nil
}

func walkTree(file *os.File, h header, whole bool) *walker {
	w := &walker{file: file, header: h, whole: whole, used: make([]uint64, h.pages/64+1), leaves: map[string][]leaf{}}
	w.below(h.root, true, nil, nil, 0)
	return w
}

// Live walks a file of so many bytes that may be damaged in any way, and tells what
// is wrong. It returns which places of the file lie on pages to which its newer
// header still leads, and the transaction of that header; 0 if a later one may be lost.
func Live(file *os.File, size int64, told func(error)) (live func(offset int64) bool, tx uint64) {
	h, wrong := readHeader(file)
	if wrong != nil {
		told(wrong)
	} else {
		tx = h.txid
	}
	if h.pages == 0 {
		return func(int64) bool { return false }, 0
	}
	h.pages = min(h.pages, uint64(size/h.pageSize)+1)
	w := walkTree(file, h, true)
	for _, fault := range w.faults {
		told(fault)
	}
	return func(offset int64) bool {
		id := uint64(offset / h.pageSize)
		return id < h.pages && w.inUse(id)
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

// page reads a page and claims it. It returns no data if the page is bad.
func (w *walker) page(id uint64) (data []byte, kind uint16, count int) {
	if !w.claim(id) {
		return nil, 0, 0
	}
	var head [pageHead]byte
	if _, err := w.file.ReadAt(head[:], int64(id)*w.pageSize); err != nil {
		w.bad("page %d cannot be read: %v", id, err)
		return nil, 0, 0
	}
	order := binary.NativeEndian
	if got := order.Uint64(head[:]); got != id {
		w.used[id/64] &^= 1 << (id % 64)
		w.bad("page %d calls itself page %d", id, got)
		return nil, 0, 0
	}
	over := uint64(order.Uint32(head[12:]))
	size := int64(over+1) * w.pageSize
	if id+over >= w.pages || size > 4*maxFrame {
		w.bad("page %d runs over the end", id)
		return nil, 0, 0
	}
	for next := id + 1; next <= id+over; next++ {
		if !w.claim(next) {
			return nil, 0, 0
		}
	}
	data = make([]byte, size)
	if _, err := w.file.ReadAt(data, int64(id)*w.pageSize); err != nil {
		w.bad("page %d cannot be read: %v", id, err)
		return nil, 0, 0
	}
	return data, order.Uint16(head[8:]), int(order.Uint16(head[10:]))
}

type item struct {
	key, value []byte // the value of a leaf
	child      uint64 // of a branch
	bucket     bool   // the value is a bucket
}

// items returns the entries of a page, whose keys rise from low to below high; none if
// one of them is bad.
func (w *walker) items(id uint64, data []byte, kind uint16, count int, low, high []byte) []item {
	all, order := make([]item, count), binary.NativeEndian
	if pageHead+count*element > len(data) {
		w.bad("page %d has too many entries", id)
		return nil
	}
	for i := range all {
		at := pageHead + i*element
		e := data[at:]
		word := func(n int) uint64 { return uint64(order.Uint32(e[4*n:])) }
		from, size, value := word(0), word(1), uint64(0)
		if kind == leafPage {
			from, size, value = word(1), word(2), word(3)
			all[i].bucket = word(0) == subBucket
		} else {
			all[i].child = order.Uint64(e[8:])
		}
		from += uint64(at)
		end := from + size + value
		if end > uint64(len(data)) || from < uint64(pageHead+count*element) && size > 0 || kind == leafPage && word(0)&^subBucket != 0 {
			w.bad("entry %d of page %d is not whole", i, id)
			return nil
		}
		k := data[from : from+size]
		all[i].key, all[i].value = k, data[from+size:end]
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
	data, kind, count := w.page(id)
	switch {
	case data == nil:
		return 0
	case kind == leafPage:
		w.row = append(w.row, leaf{id, low})
		if w.whole || top {
			for _, it := range w.items(id, data, kind, count, low, high) {
				w.entry(id, it, top)
			}
		}
		return 1
	case kind != branchPage || count == 0 || depth > deepest:
		w.bad("page %d is neither branch nor leaf", id)
		return 0
	}
	all := w.items(id, data, kind, count, low, high)
	for i, it := range all {
		end := high
		if i+1 < count {
			end = all[i+1].key
		}
		if levels == 1 && !w.whole && !top { // beside a leaf: guard reads its head before the store does
			w.claim(it.child)
			w.row = append(w.row, leaf{it.child, it.key})
			continue
		}
		n := w.below(it.child, top, it.key, end, depth+1)
		if n > 0 && levels > 0 && n != levels {
			w.bad("the branches below page %d are not equally long", id)
		}
		levels = max(levels, n)
	}
	return levels + 1
}

// entry looks at an entry of a leaf. Those of the top are buckets and have trees of
// their own; a small one lies in the entry itself.
func (w *walker) entry(id uint64, it item, top bool) {
	switch {
	case it.bucket != top:
		w.bad("an entry of page %d is not whole", id)
	case top && len(it.value) < pageHead:
		w.bad("the bucket %q is cut short", it.key)
	case top:
		if root := binary.NativeEndian.Uint64(it.value); root != 0 {
			w.row = nil
			w.below(root, false, nil, nil, 0)
			w.leaves[string(it.key)] = w.row
		}
	}
}

// free makes sure that no page in use is on the list of free pages, which a write
// would overwrite.
func (w *walker) free() {
	if w.freelist == 0xffffffffffffffff {
		return
	}
	data, kind, count := w.page(w.freelist)
	if data == nil {
		return
	}
	ids := data[pageHead:]
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
	if lost := int64(w.pages) - int64(w.count) - int64(count) - 2; w.whole && lost != 0 {
		w.bad("%d pages are neither used nor free", lost)
	}
}

// guard reads the heads of leaves just before the store does. If a branch lay in the
// place of a leaf (an earlier write to the same page), the store would go down it
// without end.
type guard struct {
	file     *os.File
	pageSize int64
	leaves   map[string][]leaf
	read     map[uint64]bool
}

// near reads the heads of the leaf of a bucket in which a key would be and of those
// beside it. It ends the transaction if one is no leaf.
func (g *guard) near(bucket string, key []byte) {
	if g == nil {
		return
	}
	row := g.leaves[bucket]
	n := sort.Search(len(row), func(i int) bool { return bytes.Compare(row[i].low, key) > 0 }) // the one after
	for _, l := range row[max(0, n-2):min(len(row), n+1)] {
		if g.read[l.id] {
			continue
		}
		var head [pageHead]byte
		_, err := g.file.ReadAt(head[:], int64(l.id)*g.pageSize)
		if err != nil || binary.NativeEndian.Uint64(head[:]) != l.id || binary.NativeEndian.Uint16(head[8:]) != leafPage {
			Must(badPage("page %d is no leaf", l.id))
		}
		g.read[l.id] = true
	}
}
