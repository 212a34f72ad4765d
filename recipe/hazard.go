package recipe

func (t table) together(reagents []Reagent, where []table) {}
