package reagent

// Statement returns the standard hazard statement of a GHS code, and false for an unknown one.
// Source: Globally Harmonized System, annex 3, and CLP regulation, annex III, from memory; the
// SDS and label of the maker decide.
func Statement(code string) (string, bool) {
	text, ok := statements[code]
	return text, ok
}

var statements = map[string]string{
	"EUH031": "Contact with acids liberates toxic gas",
	"EUH032": "Contact with acids liberates very toxic gas",
	"EUH066": "Repeated exposure may cause skin dryness or cracking",
	"EUH071": "Corrosive to the respiratory tract",
	"H225":   "Highly flammable liquid and vapour",
	"H226":   "Flammable liquid and vapour",
	"H228":   "Flammable solid",
	"H271":   "May cause fire or explosion; strong oxidiser",
	"H272":   "May intensify fire; oxidiser",
	"H290":   "May be corrosive to metals",
	"H300":   "Fatal if swallowed",
	"H301":   "Toxic if swallowed",
	"H302":   "Harmful if swallowed",
	"H304":   "May be fatal if swallowed and enters airways",
	"H310":   "Fatal in contact with skin",
	"H311":   "Toxic in contact with skin",
	"H312":   "Harmful in contact with skin",
	"H314":   "Causes severe skin burns and eye damage",
	"H315":   "Causes skin irritation",
	"H317":   "May cause an allergic skin reaction",
	"H318":   "Causes serious eye damage",
	"H319":   "Causes serious eye irritation",
	"H330":   "Fatal if inhaled",
	"H331":   "Toxic if inhaled",
	"H332":   "Harmful if inhaled",
	"H334":   "May cause allergy or asthma symptoms or breathing difficulties if inhaled",
	"H335":   "May cause respiratory irritation",
	"H336":   "May cause drowsiness or dizziness",
	"H340":   "May cause genetic defects",
	"H341":   "Suspected of causing genetic defects",
	"H350":   "May cause cancer",
	"H351":   "Suspected of causing cancer",
	"H360Df": "May damage the unborn child; suspected of damaging fertility",
	"H360FD": "May damage fertility; may damage the unborn child",
	"H361d":  "Suspected of damaging the unborn child",
	"H361f":  "Suspected of damaging fertility",
	"H370":   "Causes damage to organs",
	"H372":   "Causes damage to organs through prolonged or repeated exposure",
	"H373":   "May cause damage to organs through prolonged or repeated exposure",
	"H400":   "Very toxic to aquatic life",
	"H410":   "Very toxic to aquatic life with long lasting effects",
	"H411":   "Toxic to aquatic life with long lasting effects",
	"H412":   "Harmful to aquatic life with long lasting effects",
}
