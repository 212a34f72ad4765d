package plan

// FirstLoad gives the pieces of the first load without planning the rest: what
// the water has to warm when the bath is mixed. Errors are those of [Make].
func FirstLoad(r Run) ([]Part, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	s := settle(r, &Plan{})
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
