package recipe

// Said is one text of a recipe, in the words of its author.
type Said struct {
	Key  string // "how"
	Text string
	Line int // of its step in the file; 0 where it stands in no step
}

// Texts returns every text of the recipe that a person reads, in the order of the file.
func (r *Recipe) Texts() []Said {
	list := []Said{{"title", r.Title, 0}, {"look", r.Look, 0}, {"vessel", r.Bath.Vessel, 0}}
	for _, g := range r.Bath.Reagents {
		list = append(list, Said{"note", g.Note, 0})
	}
	for _, m := range r.Bath.Mix {
		list = append(list, Said{"how", m.How, m.Line})
	}
	if r.Dip != nil {
		list = append(list, Said{"stop_at", r.Dip.StopAt, 0})
	}
	for _, s := range r.Steps {
		list = append(list, Said{"how", s.How, s.Line}, Said{"note", s.Note, s.Line})
	}
	list = append(list, Said{"ventilation", r.Hazards.Ventilation, 0})
	for _, text := range r.Hazards.PPE {
		list = append(list, Said{"ppe", text, 0})
	}
	list = append(list, Said{"disposal", r.Hazards.Disposal, 0})
	for _, text := range r.Hazards.Notes {
		list = append(list, Said{"notes", text, 0})
	}
	return list
}
