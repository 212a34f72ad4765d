package journal

import (
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"time"

	bolt "go.etcd.io/bbolt"
)

// pageFile gives the pages of a file by reading it, without the store: for files
// that the store should not touch, and while another lock than its own is held.
type pageFile struct {
	file     io.ReaderAt
	pageSize int64
	pages    uint64
}

func (p pageFile) load(page uint64) ([]byte, error) {
	if page < 2 || page >= p.pages {
		return nil, fmt.Errorf("%w: something leads to page %d, which does not exist", errPages, page)
	}
	data := make([]byte, p.pageSize)
	if _, err := p.file.ReadAt(data, int64(page)*p.pageSize); err != nil {
		return nil, fmt.Errorf("page %d cannot be read: %w", page, err)
	}
	if got := binary.NativeEndian.Uint64(data); got != page {
		return nil, fmt.Errorf("%w: page %d calls itself page %d", errPages, page, got)
	}
	extra := uint64(binary.NativeEndian.Uint32(data[12:]))
	if extra == 0 {
		return data, nil
	}
	if extra >= p.pages-page {
		return nil, fmt.Errorf("%w: page %d claims to go on beyond the end", errPages, page)
	}
	all := make([]byte, int64(extra+1)*p.pageSize)
	if _, err := p.file.ReadAt(all, int64(page)*p.pageSize); err != nil {
		return nil, fmt.Errorf("page %d cannot be read: %w", page, err)
	}
	return all, nil
}

// plain is a journal read without the store, as it stands at the moment.
type plain struct {
	header pageHeader
	all    *tree // the buckets
	about  aboutRecord
	head   headRecord
}

// openPlain reads the two records that say what a journal is and how far it has come.
func openPlain(file *os.File) (*plain, error) {
	p := &plain{}
	var err error
	if p.header, err = readHeader(file); err != nil {
		return nil, err
	}
	if p.all, err = openTree(pageFile{file, p.header.pageSize, p.header.pages}, p.header.root); err != nil {
		return nil, err
	}
	meta, err := p.bucket(metaBucket)
	if err != nil {
		return nil, err
	}
	if value, err := meta.get([]byte(magicKey)); err != nil || string(value) != magic {
		return nil, fmt.Errorf("%w: it is a store of another program", errTangled)
	}
	if err := p.record(meta, aboutKey, &p.about); err != nil {
		return nil, err
	}
	if err := p.record(meta, headKey, &p.head); err != nil {
		return p, err
	}
	return p, p.head.of(p.header.txid)
}

func (p *plain) bucket(name string) (*tree, error) {
	b, err := p.all.bucket([]byte(name))
	if err == nil && b == nil {
		err = fmt.Errorf("%w: %s", errNoBucket, name)
	}
	return b, err
}

func (p *plain) record(b *tree, key string, v any) error {
	value, err := b.get([]byte(key))
	if err != nil {
		return err
	}
	return unseal(value, v)
}

// peek reads what a file says it is, without a lock: for files at rest.
func peek(path string) (*plain, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return openPlain(file)
}

// snapshot writes the journal as it stands to the new file out and gives what it
// is. The journal is held while the bytes are copied, which takes the time held,
// and not while they are made durable.
func (j *Journal) snapshot(out *os.File) (p *plain, held time.Duration, err error) {
	sink := &sink{out: out}
	err = j.session(false, func(db *bolt.DB) error {
		begun := time.Now()
		defer func() { held = time.Since(begun) }()
		return db.View(func(tx *bolt.Tx) error {
			_, err := tx.WriteTo(sink)
			return err
		})
	})
	if sink.err != nil { // of the copy, and not of the journal
		return nil, held, noRoom(out.Name(), sink.err)
	}
	if err != nil {
		return nil, held, err
	}
	if err := out.Sync(); err != nil {
		return nil, held, noRoom(out.Name(), err)
	}
	if p, err = openPlain(out); err != nil {
		return nil, held, j.damaged("%v", err)
	}
	return p, held, nil
}

// sink remembers that writing to it failed.
type sink struct {
	out *os.File
	err error
}

func (s *sink) Write(b []byte) (int, error) {
	n, err := s.out.Write(b)
	if err != nil {
		s.err = err
	}
	return n, err
}
