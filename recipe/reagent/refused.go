package reagent

import "strings"

// The reasons for which whole families are refused, in plain words.
const (
	whyMercury  = "mercury compounds poison through the skin and the lungs, and the vapour stays in a workshop for years"
	whyArsenic  = "arsenic compounds are poisons that cause cancer, and acid or reducing metal can turn them into deadly arsine gas"
	whyCyanide  = "cyanides kill in small doses, and any acid frees hydrogen cyanide gas; complex cyanides are refused with the family"
	whyChromate = "chromates and dichromates (chromium VI) cause cancer and lasting skin and lung allergy"
	whyLead     = "lead compounds build up in the body and harm the unborn, the nerves and the blood"
	whyFluoride = "fluorides with any acid make hydrofluoric acid, which burns deep without early pain and can stop the heart"
)

// Refused tells whether a substance is refused by its name, and why. It knows
// the families of mercury, arsenic, cyanide (ferri- and ferrocyanide with it),
// chromate, lead and fluoride by word and by the common formulas. It is meant
// for ids and names, not for free text, where "lead" can be a verb.
func Refused(word string) (why string, banned bool) {
	text := strings.ToLower(word)
	for _, family := range []struct {
		parts []string
		why   string
	}{
		{[]string{"mercur", "corrosive sublimate", "corrosive-sublimate", "calomel", "cinnabar"}, whyMercury},
		{[]string{"arsen", "orpiment", "realgar"}, whyArsenic},
		{[]string{"cyanid", "cyanogen", "hydrocyan", "prussiate", "prussic"}, whyCyanide},
		{[]string{"chromate", "chromic acid", "chromic-acid", "chromium trioxide", "chromium-trioxide"}, whyChromate},
		{[]string{"litharge", "plumbous", "plumbic", "plumbate"}, whyLead},
		{[]string{"fluorid", "hydrofluo", "fluosilic", "fluoborate", "fluoroborate"}, whyFluoride},
	} {
		for _, part := range family.parts {
			if strings.Contains(text, part) {
				return family.why, true
			}
		}
	}
	tokens := strings.FieldsFunc(text, func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	for i, token := range tokens {
		switch token {
		case "lead":
			if i+1 < len(tokens) && tokens[i+1] == "free" {
				continue
			}
			return whyLead, true
		case "pb", "pbo", "pbo2", "pb3o4", "pbso4":
			return whyLead, true
		case "hg", "hgcl2", "hg2cl2", "hgo", "hgs":
			return whyMercury, true
		case "as2o3", "as2o5", "as2s3", "as4s4":
			return whyArsenic, true
		case "kcn", "nacn", "cucn", "agcn", "hcn", "k3fe", "k4fe":
			return whyCyanide, true
		case "k2cr2o7", "na2cr2o7", "k2cro4", "na2cro4", "cro3":
			return whyChromate, true
		case "hf", "naf", "nh4hf2", "nh4f", "khf2", "nahf2":
			return whyFluoride, true
		}
	}
	return "", false
}
