package reagent

// Statement returns the standard hazard statement of a GHS code, and false for a
// code that the table does not know. Source: the statements of the Globally
// Harmonized System, annex 3, and of the CLP regulation, annex III, from memory;
// the wording on the maker's SDS and label decides.
func Statement(code string) (string, bool) {
	text := statement(code)
	return text, text != ""
}

func statement(code string) string {
	switch code {
	case "H225":
		return "Highly flammable liquid and vapour"
	case "H226":
		return "Flammable liquid and vapour"
	case "H228":
		return "Flammable solid"
	case "H271":
		return "May cause fire or explosion; strong oxidiser"
	case "H272":
		return "May intensify fire; oxidiser"
	case "H290":
		return "May be corrosive to metals"
	case "H300":
		return "Fatal if swallowed"
	case "H301":
		return "Toxic if swallowed"
	case "H302":
		return "Harmful if swallowed"
	case "H304":
		return "May be fatal if swallowed and enters airways"
	case "H310":
		return "Fatal in contact with skin"
	case "H311":
		return "Toxic in contact with skin"
	case "H312":
		return "Harmful in contact with skin"
	case "H314":
		return "Causes severe skin burns and eye damage"
	case "H315":
		return "Causes skin irritation"
	case "H317":
		return "May cause an allergic skin reaction"
	case "H318":
		return "Causes serious eye damage"
	case "H319":
		return "Causes serious eye irritation"
	case "H330":
		return "Fatal if inhaled"
	case "H331":
		return "Toxic if inhaled"
	case "H332":
		return "Harmful if inhaled"
	case "H334":
		return "May cause allergy or asthma symptoms or breathing difficulties if inhaled"
	case "H335":
		return "May cause respiratory irritation"
	case "H336":
		return "May cause drowsiness or dizziness"
	case "H340":
		return "May cause genetic defects"
	case "H341":
		return "Suspected of causing genetic defects"
	case "H350":
		return "May cause cancer"
	case "H360FD":
		return "May damage fertility; may damage the unborn child"
	case "H360Df":
		return "May damage the unborn child; suspected of damaging fertility"
	case "H361d":
		return "Suspected of damaging the unborn child"
	case "H361f":
		return "Suspected of damaging fertility"
	case "H372":
		return "Causes damage to organs through prolonged or repeated exposure"
	case "H373":
		return "May cause damage to organs through prolonged or repeated exposure"
	case "H400":
		return "Very toxic to aquatic life"
	case "H410":
		return "Very toxic to aquatic life with long lasting effects"
	case "H411":
		return "Toxic to aquatic life with long lasting effects"
	case "H412":
		return "Harmful to aquatic life with long lasting effects"
	case "EUH031":
		return "Contact with acids liberates toxic gas"
	case "EUH032":
		return "Contact with acids liberates very toxic gas"
	case "EUH066":
		return "Repeated exposure may cause skin dryness or cracking"
	case "EUH071":
		return "Corrosive to the respiratory tract"
	}
	return ""
}
