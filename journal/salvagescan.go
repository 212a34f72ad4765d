package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"slices"
)

// The places of records in the damaged file, by what they are. A place is the
// offset and the length of a record.
const (
	stageEvents     = "events"     // complement of the sequence number, 0 if the tree leads to it, digest -> place, digest before, id
	stageBatches    = "batches"    // id, complement of its last event, digest -> place
	stageContainers = "containers" // the same
	stageRecipes    = "recipes"    // key, 1 if it is only marked as lost -> place
	stageSheets     = "sheets"     // digest of the content, id -> place, 0 if the tree leads to it
	stageClaimed    = "claimed"    // digest of a sheet, id of its key -> nothing; a batch of another id has it
	stageOrphans    = "orphans"    // id -> digest of a sheet that no batch claims
	stageSlugs      = "slugs"      // id, 0 if the tree leads to it -> slug, by the index
	stageNumbers    = "numbers"    // id, 0 if the tree leads to it -> number
	stageGaps       = "gaps"       // sequence number -> gap that an earlier salvage left
	stageLost       = "lost"       // id -> nothing; an earlier salvage found no sheet
	stagePicked     = "picked"     // complement of the sequence number -> place
	stageOf         = "of"         // b or c, id, sequence number -> nothing
	stageIDs        = "ids"        // b or c, id -> nothing
)

// mostRecord is how long a record may be: a sheet that could not be packed.
const mostRecord = maxSheet + 64<<10

// measure finds the size of a page and the pages to which the tree leads.
func (s *salvage) measure() error {
	info, err := s.file.Stat()
	if err != nil {
		return err
	}
	s.size = info.Size()
	s.report.Bytes = s.size
	header, err := readHeader(s.file)
	if err != nil {
		s.report.damage("file", err.Error())
	}
	s.pageSize = header.pageSize
	if s.pageSize > 0 {
		_, first := readHeaderPage(s.file, 0)
		_, second := readHeaderPage(s.file, s.pageSize)
		s.sure = first && second
	}
	if header == (pageHeader{}) {
		s.pageSize = guessPageSize(s.file)
	}
	pages := uint64((s.size + s.pageSize - 1) / s.pageSize)
	s.report.Pages = int(pages)
	s.live = make([]bool, pages)
	if header != (pageHeader{}) {
		header.pages = min(header.pages, uint64(s.size/s.pageSize))
		w := &pageWalk{file: s.file, header: header, seen: s.live, report: s.report.damage}
		w.tree(header.root, 0, 0)
		s.whole = s.sure && s.report.DamageCount == 0
		if s.whole {
			// What the tree does not lead to must be free, or parts of it are of before.
			odd := 0
			free := &pageWalk{file: s.file, header: header, seen: slices.Clone(s.live[:header.pages]), report: func(string, string) { odd++ }}
			free.seen[0], free.seen[1] = true, true
			if header.freelist != noFreelist {
				free.freelist()
			}
			if odd > 0 {
				s.whole = false
				s.report.damage("file", "the pages in use and the list of those that are free do not fit each other")
			}
		}
		s.moment = header.txid
		if p, err := openPlain(s.file); err != nil {
			s.whole = false
			s.report.damage("file", err.Error())
			if p != nil && p.head.of(header.txid) != nil {
				s.live = make([]bool, pages) // the tree is one of before, and leads to pages that were given up since
			}
		}
	}
	return nil
}

// guessPageSize finds the size at which most pages know their own number.
func guessPageSize(file io.ReaderAt) int64 {
	best, most := int64(os.Getpagesize()), 0
	for size := int64(minPageSize); size <= maxPageSize; size *= 2 {
		fit := 0
		for page := range int64(256) {
			var head [pageHeaderSize]byte
			if _, err := file.ReadAt(head[:], page*size); err != nil {
				break
			}
			if page > 0 && binary.NativeEndian.Uint64(head[:]) == uint64(page) {
				fit++
			}
		}
		if fit > most {
			best, most = size, fit
		}
	}
	return best
}

// scan looks at every page of the file.
func (s *salvage) scan() error {
	data := make([]byte, s.pageSize)
	for page := range s.live {
		at := int64(page) * s.pageSize
		n, err := s.file.ReadAt(data, at)
		if err != nil && err != io.EOF {
			s.report.damage(fmt.Sprintf("page %d", page), fmt.Sprintf("it cannot be read: %v", reason(err)))
		}
		if n < pageHeaderSize {
			continue
		}
		own := binary.NativeEndian.Uint64(data) == uint64(page)
		if own || binary.NativeEndian.Uint16(data[8:]) == leafPage {
			if err := s.leaf(at, data[:n], page, 0); err != nil {
				return err
			}
		}
	}
	return nil
}

// leaf takes the records out of a page, as though it were a leaf: what is none
// gives no record whose checksum fits. Data is the page, or its beginning.
func (s *salvage) leaf(at int64, data []byte, page, nesting int) error {
	if len(data) < pageHeaderSize+elementSize || nesting > mostNestings {
		return nil
	}
	order := binary.NativeEndian
	kind, count := order.Uint16(data[8:]), int(order.Uint16(data[10:]))
	claimed := count
	if kind != leafPage {
		claimed = 0 // whatever is wrong with it is nothing that is lost
	}
	// The first key lies right behind the entries: should the count be wrong.
	count = min(max(count, int(order.Uint32(data[pageHeaderSize+4:])/elementSize)), (len(data)-pageHeaderSize)/elementSize)
	for i := range count {
		start := pageHeaderSize + i*elementSize
		e := data[start : start+elementSize]
		flags, keyLen, valueLen := order.Uint32(e), int64(order.Uint32(e[8:])), int64(order.Uint32(e[12:]))
		from := int64(start) + int64(order.Uint32(e[4:]))
		if keyLen == 0 || keyLen > mostKey || valueLen > mostRecord || at+from+keyLen+valueLen > s.size {
			if i < claimed {
				s.report.damage(fmt.Sprintf("page %d", page), fmt.Sprintf("its entry %d leads out of it", i))
			}
			continue
		}
		entry, err := s.bytes(at, data, from, keyLen+valueLen)
		if err != nil {
			s.report.damage(fmt.Sprintf("page %d", page), fmt.Sprintf("its entry %d cannot be read: %v", i, reason(err)))
			continue
		}
		key, value := entry[:keyLen], entry[keyLen:]
		if len(value) > bucketHead && (flags&bucketFlag != 0 || slices.Contains(bucketNames(), string(key))) {
			err = s.leaf(at+from+keyLen+bucketHead, value[bucketHead:], page, nesting+1)
		} else if flags&bucketFlag == 0 {
			err = s.entry(at+from+keyLen, key, value, page, i < claimed)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// mostKey is how long a key may be: one of the index.
const mostKey = 2 + 2*maxName + 16

// bytes gives bytes of a page, from the file where they lie beyond its beginning.
func (s *salvage) bytes(at int64, data []byte, from, length int64) ([]byte, error) {
	if from+length <= int64(len(data)) {
		return data[from : from+length], nil
	}
	out := make([]byte, length)
	_, err := s.file.ReadAt(out, at+from)
	return out, err
}

// entry puts one entry of a leaf on the stage. What it is follows from the key
// and from what the value can be read as.
func (s *salvage) entry(at int64, key, value []byte, page int, claimed bool) error {
	rank := byte(1)
	if s.live[page] {
		rank = 0
	}
	if tail := len(key) - idSize; tail > 2 && key[tail-1] == 0 && len(value)%idSize == 0 {
		if key[0] != byRecipe {
			return nil
		}
		for _, i := range slices.Collect(slices.Chunk(slices.Concat(key[tail:], value), idSize)) { // a run of ids
			if err := s.stage.put(stageSlugs, append(bytes.Clone(i), rank), key[1:tail-1]); err != nil {
				return err
			}
		}
		return nil
	}
	if len(value) > 0 && len(value)%idSize == 0 && len(key) < idSize {
		number, end, ok := splitNumber(string(key))
		if !ok {
			number, ok = parseContainerNumber(string(key))
		}
		if ok && end == "" && number == string(key) {
			for _, i := range slices.Collect(slices.Chunk(value, idSize)) {
				if err := s.stage.put(stageNumbers, append(bytes.Clone(i), rank), key); err != nil {
					return err
				}
			}
			return nil
		}
	}
	if string(key) == magicKey {
		return nil
	}
	if f := new(fresh); string(key) == freshKey && f.unseal(value) == nil {
		for _, o := range f.of {
			for _, v := range o.put {
				if v[0] != byRecipe {
					continue
				}
				if err := s.stage.put(stageSlugs, append(bytes.Clone(o.batch[:]), rank), v[1:]); err != nil {
					return err
				}
			}
		}
		return nil
	}
	if err := checkRecord(key, value); err != nil {
		if claimed {
			s.report.damage(fmt.Sprintf("page %d", page), fmt.Sprintf("the record %s: %v", keyText(key), err))
		}
		return nil
	}
	return s.stageRecord(placeOf(at, len(value)), key, value, rank)
}

func (s *salvage) stageRecord(where, key, value []byte, rank byte) error {
	digest := sha256.Sum256(value)
	switch {
	case string(key) == aboutKey:
		var about aboutRecord
		if unseal(value, &about) == nil && (s.about == nil || rank == 0) {
			s.about = &about
		}
	case string(key) == headKey:
		var head headRecord
		if unseal(value, &head) != nil {
			return nil
		}
		// Of two header pages one may be newer than the one that is left: then the
		// tree is perhaps that of before the last write, and proves nothing.
		sure := s.sure && (head.Moment == s.moment || head.Moment == 0 && rank == 0)
		if s.head == nil || sure || !s.headLive && head.Seq > s.head.Seq {
			s.head, s.headLive = &head, sure
		}
	case len(key) == len(seqKey(0)):
		e, err := decodeEvent(seqOf(key), value)
		if err != nil {
			var g gapRecord
			if unseal(value, &g) == nil {
				return s.stage.put(stageGaps, key, value)
			}
			if _, err := f1DecodeEvent(key, value); err == nil {
				s.old++
			}
			return nil
		}
		s.top = max(s.top, e.Seq)
		k := append(seqKey(^e.Seq), rank)
		return s.stage.put(stageEvents, append(k, digest[:]...), slices.Concat(where, e.Prev[:], e.ID[:]))
	case len(key) == len(id{}):
		i := id(key)
		if b, err := decodeBatch(i, value); err == nil && len(b.Events) > 0 {
			last := slices.Max(b.Events)
			return s.stage.put(stageBatches, slices.Concat(key, seqKey(^last), digest[:8]), where)
		}
		if c, err := decodeContainer(key, value); err == nil && len(c.Events) > 0 {
			last := c.Events[len(c.Events)-1]
			return s.stage.put(stageContainers, slices.Concat(key, seqKey(^last), digest[:8]), where)
		}
		content, lost, err := openBlob(value)
		if err != nil {
			return nil
		}
		if lost {
			return s.stage.put(stageLost, key, []byte{})
		}
		sum := sha256.Sum256(content)
		if i == (id{}) {
			return nil // the key is damaged; whoever has the sheet knows its digest
		}
		k := slices.Concat(sum[:], key)
		if rank != 0 && s.stage.get(stageSheets, k) != nil {
			return nil
		}
		return s.stage.put(stageSheets, k, append(where, rank))
	case len(key) == len(digest):
		content, lost, err := openBlob(value)
		if err != nil {
			return nil
		}
		if sum := sha256.Sum256(content); !lost && !bytes.Equal(sum[:], key) {
			return nil
		}
		mark := byte(0)
		if lost {
			mark = 1
		}
		return s.stage.put(stageRecipes, append(bytes.Clone(key), mark), where)
	}
	return nil
}

// placeOf writes where a record is.
func placeOf(at int64, length int) []byte {
	return binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint64(nil, uint64(at)), uint32(length))
}

const placeSize = 12

// checkRecord checks what every record has. Those of events and batches are sealed
// under their key.
func checkRecord(key, record []byte) error {
	if _, err := unsealUnder(key, record); err == nil {
		return nil
	}
	end := len(record) - checksumSize
	switch {
	case end < 2:
		return errShort
	case crc32.Checksum(record[:end], castagnoli()) != binary.BigEndian.Uint32(record[end:]):
		return errChecksum
	case record[0] != recordVersion:
		return errNewer
	}
	return nil
}

// fetch reads the record at a place.
func (s *salvage) fetch(where []byte) ([]byte, error) {
	record := make([]byte, binary.BigEndian.Uint32(where[8:]))
	_, err := s.file.ReadAt(record, int64(binary.BigEndian.Uint64(where)))
	return record, err
}

// keyText writes a key so that a person can tell what it is.
func keyText(key []byte) string {
	switch {
	case len(key) == len(seqKey(0)):
		return fmt.Sprintf("event %d", seqOf(key))
	case len(key) == len(id{}):
		return "of " + id(key).String()
	}
	if s := string(key); s == aboutKey || s == headKey || s == freshKey {
		return s
	}
	return fmt.Sprintf("%x", key)
}
