package journal

import (
	"iter"

	bolt "go.etcd.io/bbolt"
)

// A list is read in pages, and the file is let go between them, so that a slow
// reader (a pager, a pipe) never keeps a writer waiting. The first page is small
// for a quick first row.
const (
	firstPage = 64
	wholePage = 256
	mostPage  = 2048
	mostBytes = 1 << 20 // of stored records in a page
)

// List gives the batches that f asks for, without their frozen recipes and
// sheets unless f.Frozen is set. A batch added meanwhile may or may not be
// among them; none is given twice. After an error it ends.
func (j *Journal) List(f Filter) iter.Seq2[Batch, error] {
	return func(yield func(Batch, error) bool) {
		f, err := f.clean()
		if err == nil {
			if f.Sort == SortOrder {
				err = j.inOrder(f, func(b Batch) bool { return yield(b, nil) })
			} else {
				err = j.sorted(f, func(b Batch) bool { return yield(b, nil) })
			}
		}
		if err != nil {
			yield(Batch{}, err)
		}
	}
}

// Count gives the number of batches that f asks for, leaving Offset and Limit aside.
func (j *Journal) Count(f Filter) (int, error) {
	f, err := f.clean()
	if err != nil {
		return 0, err
	}
	n := 0
	f.Sort, f.Offset, f.Limit = SortOrder, 0, 0
	err = j.pages(f, func(*reader, *standing) (keep, more bool, err error) { n++; return false, true, nil }, nil, nil)
	return n, err
}

// inOrder gives batches in the order of the journal.
func (j *Journal) inOrder(f Filter, yield func(Batch) bool) error {
	var page []Batch
	return j.pages(f, counted(f), func(r *reader, s *standing) (size int, err error) {
		b, err := r.read(s, detail{events: !f.Brief, frozen: f.Frozen})
		page = append(page, b)
		return 512 + len(b.Note) + len(b.Sheet) + len(b.Recipe.Text), err
	}, func() bool {
		for _, b := range page {
			if !yield(b) {
				return false
			}
		}
		clear(page)
		page = page[:0]
		return true
	})
}

// counted keeps what offset and limit say.
func counted(f Filter) func(*reader, *standing) (keep, more bool, err error) {
	skip, left := f.Offset, f.Limit
	return func(*reader, *standing) (keep, more bool, err error) {
		if skip > 0 {
			skip--
			return false, true, nil
		}
		left--
		return true, left != 0, nil
	}
}

// pages walks the batches of f in the order of the journal. For each, take says
// whether to keep it and whether to go on. What is kept goes to keep, which says how
// many bytes it takes, and give is called while the file is free, and says whether
// to go on.
func (j *Journal) pages(f Filter, take func(*reader, *standing) (keep, more bool, err error), keep func(*reader, *standing) (int, error), give func() bool) error {
	var last id
	started, size := false, firstPage
	if f.Limit > 0 { // what fits in one page is read in one
		size = max(size, min(f.Offset+f.Limit, wholePage))
	}
	for more := true; more; size = min(size*2, mostPage) {
		seen, kept, bytes := 0, 0, 0
		more = false // until the page turns out to be full
		ended := false
		err := j.read(func(tx *bolt.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			head, err := readHead(tx)
			if err != nil {
				return err
			}
			low, high := f.span(head.LagMS)
			down := !f.Reverse
			if started && down {
				high = last
			} else if started {
				low = last
			}
			s, err := newScan(r, f.prefixes(), low, high, down)
			if err != nil {
				return err
			}
			var now standing
			return s.each(func(i id) (bool, error) {
				if started && i == last {
					return true, nil
				}
				if seen >= size*4 || kept >= size || bytes >= mostBytes {
					more = true
					return false, nil
				}
				seen++
				if err := s.standing(r, i, &now); err != nil {
					return false, err
				}
				last = i
				if ok, err := f.matches(r, &now); err != nil || !ok {
					return true, err
				}
				wanted, goOn, err := take(r, &now)
				if err == nil && wanted {
					n := 0
					n, err = keep(r, &now)
					kept++
					bytes += n
				}
				ended = !goOn
				return goOn, err
			})
		})
		if err != nil {
			return err
		}
		started = started || seen > 0
		if give != nil && !give() || ended {
			return nil
		}
	}
	return nil
}
