package journal

import (
	"encoding/binary"
	"hash/fnv"
	"io"
	"os"
)

// The store's own header pages, read here before the store maps the file,
// because a file shorter than its header claims kills a process that reads it
// through the map. Offsets are those of bbolt's file format version 2.
const (
	boltMagic      = 0xED0CDAED
	boltVersion    = 2
	pageHeaderSize = 16
	metaSize       = 64
	headerPage     = 0x04
	minPageSize    = 512
	maxPageSize    = 1 << 20
)

// pageHeader is one of the two header pages.
type pageHeader struct {
	pageSize int64
	root     uint64
	freelist uint64
	pages    uint64 // high water mark: every page in use is below it
	txid     uint64
}

// readHeaderPage reads the header page at offset; ok is false where it is not sound.
func readHeaderPage(r io.ReaderAt, offset int64) (h pageHeader, ok bool) {
	var page [pageHeaderSize + metaSize]byte
	if _, err := r.ReadAt(page[:], offset); err != nil {
		return h, false
	}
	meta := page[pageHeaderSize:]
	order := binary.NativeEndian
	sum := fnv.New64a()
	sum.Write(meta[:56])
	if order.Uint32(meta) != boltMagic || order.Uint32(meta[4:]) != boltVersion || order.Uint64(meta[56:]) != sum.Sum64() {
		return h, false
	}
	h = pageHeader{
		pageSize: int64(order.Uint32(meta[8:])),
		root:     order.Uint64(meta[16:]),
		freelist: order.Uint64(meta[32:]),
		pages:    order.Uint64(meta[40:]),
		txid:     order.Uint64(meta[48:]),
	}
	// A header written over the other would bring back the journal of before.
	own := order.Uint64(page[:]) == uint64(min(offset, 1)) && order.Uint16(page[8:])&headerPage != 0
	fits := own && h.pageSize >= minPageSize && h.pageSize <= maxPageSize && h.pageSize&(h.pageSize-1) == 0 &&
		h.pages >= 4 && h.pages < 1<<40 && h.root >= 2 && h.root < h.pages
	return h, fits
}

// headerTrouble says what is wrong with the start of a file.
type headerTrouble string

func (t headerTrouble) Error() string { return string(t) }

const (
	notAStore   headerTrouble = "it does not begin like a journal"
	oneHeader   headerTrouble = "one of its two header pages is damaged"
	cutShort    headerTrouble = "it is shorter than its header says"
	zeroLength  headerTrouble = "it is empty"
	oddPageSize headerTrouble = "its two header pages disagree"
)

// readHeader reads both header pages and gives the newer. With oneHeader and
// cutShort the header it could read comes along.
func readHeader(file *os.File) (pageHeader, error) {
	info, err := file.Stat()
	if err != nil {
		return pageHeader{}, err
	}
	if info.Size() == 0 {
		return pageHeader{}, zeroLength
	}
	first, ok0 := readHeaderPage(file, 0)
	var second pageHeader
	ok1 := false
	if ok0 {
		second, ok1 = readHeaderPage(file, first.pageSize)
	} else {
		for size := int64(minPageSize); size <= maxPageSize && !ok1; size *= 2 {
			second, ok1 = readHeaderPage(file, size)
			ok1 = ok1 && second.pageSize == size
		}
	}
	newer := first
	if !ok0 || ok1 && second.txid > first.txid {
		newer = second
	}
	switch {
	case !ok0 && !ok1:
		return newer, notAStore
	case newer.pages > uint64(info.Size()/newer.pageSize):
		return newer, cutShort
	case !ok0 || !ok1:
		return newer, oneHeader
	case first.pageSize != second.pageSize:
		return newer, oddPageSize
	}
	return newer, nil
}
