package reagent

// atomicWeight holds the abridged standard atomic weights of the elements in
// g/mol. Source: IUPAC 2021 (Prohaska et al., Pure Appl. Chem. 94, 2022); those
// below the line are from memory of the same work.
var atomicWeight = map[string]float64{
	"Ag": 107.8682, "Al": 26.9815384, "Au": 196.96657, "B": 10.81, "Bi": 208.9804, "Br": 79.904,
	"C": 12.011, "Ca": 40.078, "Cd": 112.414, "Cl": 35.45, "Co": 58.933194, "Cr": 51.9961,
	"Cu": 63.546, "F": 18.998403162, "Fe": 55.845, "H": 1.008, "Hg": 200.592, "I": 126.90447,
	"K": 39.0983, "Mg": 24.305, "Mn": 54.938043, "N": 14.007, "Na": 22.98976928, "Ni": 58.6934,
	"O": 15.999, "P": 30.973761998, "Pb": 207.2, "S": 32.06, "Sb": 121.76, "Se": 78.971,
	"Si": 28.085, "Sn": 118.71, "Zn": 65.38,

	// From memory.
	"As": 74.921595, "Ba": 137.327, "Ge": 72.630, "In": 114.818, "Li": 6.94, "Pd": 106.42,
	"Pt": 195.084, "Rh": 102.90549, "Sr": 87.62, "Te": 127.60, "Ti": 47.867,
}
