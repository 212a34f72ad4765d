package plan

import "math"

// split is how the sets of each kind are spread over a number of loads: an even
// share of each kind in every load, and what remains dealt out like cards, each
// kind going on where the last one stopped. No two loads differ by more than one
// set in all.
type split struct {
	loads int
	each  []int // sets of a lot in every load
	rest  []int // loads that get one more
	from  []int // the first of these
}

func (s *filled) split(loads int) split {
	d := split{loads: loads, each: make([]int, len(s.Lots)), rest: make([]int, len(s.Lots)), from: make([]int, len(s.Lots))}
	next := 0
	for i, l := range s.Lots {
		sets := l.Pieces / s.Group
		d.each[i], d.rest[i], d.from[i] = sets/loads, sets%loads, next
		next = (next + d.rest[i]) % loads
	}
	return d
}

// sets is how many sets of a lot go into a load; both count from 0.
func (d *split) sets(load, lot int) int {
	after := load - d.from[lot]
	if after < 0 {
		after += d.loads
	}
	if after < d.rest[lot] {
		return d.each[lot] + 1
	}
	return d.each[lot]
}

// fits reports whether every load keeps every limit.
func (d *split) fits(limits []limit) bool {
	loads := d.loads
	if len(d.each) == 1 {
		loads = 1 // the first load is the largest
	}
	for load := range loads {
		for _, l := range limits {
			sum := 0.0
			for lot := range d.each {
				sum += float64(d.sets(load, lot)) * l.use[lot]
			}
			if sum > 1+slack {
				return false
			}
		}
	}
	return true
}

// spread finds the least number of loads, and the limit that asks for it.
func (s *filled) spread(limits []limit) (split, string) {
	total := 0
	for _, l := range s.Lots {
		total += l.Pieces / s.Group
	}
	least, by := 1, "all"
	for _, l := range limits {
		sum := 0.0
		for i, lot := range s.Lots {
			sum += float64(lot.Pieces/s.Group) * l.use[i]
		}
		need := int(math.Ceil(sum - slack*math.Max(1, sum)))
		if len(s.Lots) == 1 && l.use[0] > 0 {
			each := max(1, int(math.Floor(1/l.use[0]+slack)))
			need = (total + each - 1) / each
		}
		if need > least {
			least, by = need, l.name
		}
	}
	for n, tried := min(least, total), 0; ; tried++ {
		d := s.split(n)
		if n >= total || d.fits(limits) {
			return d, by
		}
		if by == "all" {
			by = limits[0].name
		}
		n++
		if tried > 32 { // kinds that go together badly: no use creeping
			n += n / 20
		}
		n = min(n, total)
	}
}

// report tells how many pieces a load may hold by each limit.
func (s *filled) report(limits []limit, by string) Capacity {
	c := Capacity{By: by}
	total, sets := 0, 0.0
	for _, l := range s.Lots {
		total += l.Pieces
		sets += float64(l.Pieces / s.Group)
	}
	for _, l := range limits {
		use := 0.0 // of a mean set
		for i, lot := range s.Lots {
			use += float64(lot.Pieces/s.Group) / sets * l.use[i]
		}
		if use <= 0 {
			continue
		}
		pieces := int(min(math.Floor(1/use+slack), MostPieces)) * s.Group
		switch l.name {
		case "area":
			c.Area = pieces
		case "floor", "rack":
			c.Floor = pieces
		case "hands":
			c.Hands = pieces
		case "per-load":
			c.PerLoad = pieces
		}
	}
	return c
}

// FirstLoad returns the pieces of the first load without planning the rest: what
// the water has to warm when the bath is mixed. Errors are those of [Make].
func FirstLoad(r Run) ([]Part, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	s := fill(r, &Plan{})
	limits, err := s.limits()
	if err != nil {
		return nil, err
	}
	d, _ := s.spread(limits)
	var parts []Part
	for lot := range s.Lots {
		if sets := d.sets(0, lot); sets > 0 {
			parts = append(parts, Part{Lot: lot, Pieces: sets * s.Group})
		}
	}
	return parts, nil
}
