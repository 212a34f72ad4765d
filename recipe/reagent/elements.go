package reagent

// atomicWeight returns the abridged standard atomic weight of an element in
// g/mol, and false for an element that is not in the table. Source: IUPAC 2021
// (Prohaska et al., Pure Appl. Chem. 94, 2022), for the elements of the first
// list; those of the second list are from memory of the same work.
func atomicWeight(symbol string) (float64, bool) {
	switch symbol {
	case "Ag":
		return 107.8682, true
	case "Al":
		return 26.9815384, true
	case "Au":
		return 196.96657, true
	case "B":
		return 10.81, true
	case "Bi":
		return 208.9804, true
	case "Br":
		return 79.904, true
	case "C":
		return 12.011, true
	case "Ca":
		return 40.078, true
	case "Cd":
		return 112.414, true
	case "Cl":
		return 35.45, true
	case "Co":
		return 58.933194, true
	case "Cr":
		return 51.9961, true
	case "Cu":
		return 63.546, true
	case "F":
		return 18.998403162, true
	case "Fe":
		return 55.845, true
	case "H":
		return 1.008, true
	case "Hg":
		return 200.592, true
	case "I":
		return 126.90447, true
	case "K":
		return 39.0983, true
	case "Mg":
		return 24.305, true
	case "Mn":
		return 54.938043, true
	case "N":
		return 14.007, true
	case "Na":
		return 22.98976928, true
	case "Ni":
		return 58.6934, true
	case "O":
		return 15.999, true
	case "P":
		return 30.973761998, true
	case "Pb":
		return 207.2, true
	case "S":
		return 32.06, true
	case "Sb":
		return 121.76, true
	case "Se":
		return 78.971, true
	case "Si":
		return 28.085, true
	case "Sn":
		return 118.71, true
	case "Zn":
		return 65.38, true
	}
	return rarerWeight(symbol)
}

func rarerWeight(symbol string) (float64, bool) {
	switch symbol {
	case "As":
		return 74.921595, true
	case "Ba":
		return 137.327, true
	case "Ge":
		return 72.630, true
	case "In":
		return 114.818, true
	case "Li":
		return 6.94, true
	case "Pd":
		return 106.42, true
	case "Pt":
		return 195.084, true
	case "Rh":
		return 102.90549, true
	case "Sr":
		return 87.62, true
	case "Te":
		return 127.60, true
	case "Ti":
		return 47.867, true
	}
	return 0, false
}
