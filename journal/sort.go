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

func (r *reader) place(b *batchRecord, order string) (place, error) {
	p := place{id: b.ID}
	switch order {
	case SortRecipe:
		recipe, err := r.recipe(b)
		if err != nil {
			return p, err
		}
		p.word = recipe.Slug
	case SortAlloy:
		p.word = b.Plan.Alloy
	case SortState:
		p.figure = float64(slices.Index(States(), b.State))
	case SortNumber:
		p.word = b.Plan.Number[:min(5, len(b.Plan.Number))] // "2026-"; the rest may outgrow its three digits
		p.figure = float64(numberOf(b.Plan.Number))
	case SortCreated:
		p.figure = float64(b.Plan.Created.Nanos)
	case SortPieces:
		p.figure = float64(b.Plan.Pieces)
	case SortLogged:
		if b.Result != nil {
			p.figure = float64(b.Result.At.Nanos)
		}
	case SortYield:
		p.figure = -1 // what is not logged yet comes before the worst
		if b.Result != nil {
			p.figure = float64(b.Result.Good) / float64(max(1, b.Result.Good+b.Result.Rework+b.Result.Reject))
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
	err := j.pages(gather, func(r *reader, b *batchRecord) (keep, more bool, err error) {
		p, err := r.place(b, f.Sort)
		places = append(places, p)
		if f.Limit > 0 && len(places) > 2*most+1024 {
			slices.SortFunc(places, compare)
			places = places[:most]
		}
		return false, true, err
	}, nil)
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
				b, err := r.batch(p.id)
				if err != nil {
					return err
				}
				out, err := r.public(b, detail{events: !f.Brief, frozen: f.Frozen})
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
