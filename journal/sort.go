package journal

import (
	"cmp"
	"slices"

	bolt "go.etcd.io/bbolt"
)

// place is what a batch is sorted by: a word or a figure, then its id.
type place struct {
	word   string
	figure float64
	id     id
}

func (a place) compare(b place) int {
	return cmp.Or(cmp.Compare(a.word, b.word), cmp.Compare(a.figure, b.figure), a.id.compare(b.id))
}

// words keeps one copy of each word that many batches share.
type words map[string]string

func (w words) of(b []byte) string {
	if known, ok := w[string(b)]; ok {
		return known
	}
	w[string(b)] = string(b)
	return w[string(b)]
}

func (r *reader) place(s *standing, order string, known words) (place, error) {
	p := place{id: s.ID}
	switch order {
	case SortRecipe:
		recipe, err := r.recipeBegun(s)
		if err != nil {
			return p, err
		}
		p.word = recipe.Slug
	case SortAlloy:
		p.word = known.of(s.Alloy)
	case SortState:
		p.figure = float64(slices.Index(States(), s.State))
	case SortNumber:
		p.figure = float64(s.Year)*1e10 + float64(s.Count) // below 2^53
	case SortCreated:
		p.figure = float64(s.Created.millis())
	case SortPieces:
		p.figure = float64(s.Pieces)
	case SortLogged:
		if s.HasResult {
			p.figure = float64(s.Logged.millis())
		}
	case SortYield:
		p.figure = -1 // what is not logged yet comes before the worst
		if s.HasResult {
			p.figure = float64(s.Good) / float64(max(1, s.Good+s.Rework+s.Reject))
		}
	}
	return p, nil
}

// numberOf gives the counting part of a short number.
func numberOf(number string) (n int) {
	for _, c := range number[min(5, len(number)):] {
		n = n*10 + int(c-'0')
	}
	return n
}

// sorted gives batches in an order other than that of the journal: it first
// gathers what to sort by, keeping no more than the limit needs, and then reads
// the batches themselves page by page.
func (j *Journal) sorted(f Filter, yield func(Batch) bool) error {
	var places []place
	compare := place.compare
	if f.Reverse {
		compare = func(a, b place) int { return b.compare(a) }
	}
	most := f.Offset + f.Limit
	gather := f
	gather.Reverse = true // of the order of the journal: oldest first
	known := words{}
	err := j.pages(gather, func(r *reader, s *standing) (keep, more bool, err error) {
		p, err := r.place(s, f.Sort, known)
		places = append(places, p)
		if f.Limit > 0 && len(places) > 2*most+1024 {
			slices.SortFunc(places, compare)
			places = places[:most]
		}
		return false, true, err
	}, nil, nil)
	if err != nil {
		return err
	}
	slices.SortFunc(places, compare)
	places = places[min(f.Offset, len(places)):]
	if f.Limit > 0 {
		places = places[:min(f.Limit, len(places))]
	}
	for part := range slices.Chunk(places, firstPage) {
		var page []Batch
		err := j.read(func(tx *bolt.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			for _, p := range part {
				var s standing
				if err := r.standing(p.id, &s); err != nil {
					return err
				}
				out, err := r.read(&s, detail{events: !f.Brief, frozen: f.Frozen})
				if err != nil {
					return err
				}
				page = append(page, out)
			}
			return nil
		})
		if err != nil {
			return err
		}
		for _, b := range page {
			if !yield(b) {
				return nil
			}
		}
	}
	return nil
}
