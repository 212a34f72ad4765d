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
		if token == "lead" && i+1 < len(tokens) && tokens[i+1] == "free" {
			continue
		}
		if why := refusedWords[token]; why != "" {
			return why, true
		}
	}
	return "", false
}

// refusedWords are whole words and formulas of the families.
var refusedWords = map[string]string{
	"lead": whyLead, "pb": whyLead, "pbo": whyLead, "pbo2": whyLead, "pb3o4": whyLead, "pbso4": whyLead,
	"hg": whyMercury, "hgcl2": whyMercury, "hg2cl2": whyMercury, "hgo": whyMercury, "hgs": whyMercury,
	"as2o3": whyArsenic, "as2o5": whyArsenic, "as2s3": whyArsenic, "as4s4": whyArsenic,
	"kcn": whyCyanide, "nacn": whyCyanide, "cucn": whyCyanide, "agcn": whyCyanide, "hcn": whyCyanide, "k3fe": whyCyanide, "k4fe": whyCyanide,
	"k2cr2o7": whyChromate, "na2cr2o7": whyChromate, "k2cro4": whyChromate, "na2cro4": whyChromate, "cro3": whyChromate,
	"hf": whyFluoride, "naf": whyFluoride, "nh4hf2": whyFluoride, "nh4f": whyFluoride, "khf2": whyFluoride, "nahf2": whyFluoride,
}
