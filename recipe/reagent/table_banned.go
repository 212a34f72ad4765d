package reagent

import (
	"regexp"
	"strings"
	"sync"
)

// The reasons for which whole families are refused, in plain words.
const (
	whyMercury  = "mercury compounds poison through the skin and the lungs, and the vapour stays in a workshop for years"
	whyArsenic  = "arsenic compounds are poisons that cause cancer, and acid or reducing metal can turn them into deadly arsine gas"
	whyCyanide  = "cyanides kill in small doses, and any acid frees hydrogen cyanide gas; complex cyanides are refused with the family"
	whyChromate = "chromates and dichromates (chromium VI) cause cancer and lasting skin and lung allergy"
	whyLead     = "lead compounds build up in the body and harm the unborn, the nerves and the blood"
	whyFluoride = "fluorides with any acid make hydrofluoric acid, which burns deep without early pain and can stop the heart"
)

// banned are in the table so that a recipe or an old jar that names them is recognised.
func banned() []Substance {
	cyanide := list("H290, H300, H310, H330, H372, H410, EUH032")
	dichromate := list("H272, H301, H312, H314, H317, H330, H334, H335, H340, H350, H360FD, H372, H410")
	all := []Substance{{
		Name: "mercury chloride", CAS: "7487-94-7", Banned: whyMercury, Groups: []Group{HeavyMetal}, HCodes: list("H300, H314, H341, H361f, H372, H410"),
		Names: list("corrosive sublimate, mercuric chloride, bichloride of mercury, perchloride of mercury"), Forms: []Form{solid("crystals", "HgCl2")},
	}, {
		Name: "mercury nitrate", CAS: "10045-94-0", Banned: whyMercury, Groups: []Group{AcidSalt, Nitrate, HeavyMetal}, HCodes: list("H300, H310, H330, H373, H410"),
		Names: list("mercuric nitrate, nitrate of mercury, quicking solution, quick water"), Forms: []Form{solid("anhydrous", "Hg(NO3)2")},
	}, {
		Name: "arsenic trioxide", CAS: "1327-53-3", Banned: whyArsenic, Groups: []Group{HeavyMetal}, HCodes: list("H300, H314, H350, H410"),
		Names: list("white arsenic, arsenious acid, arsenious oxide, arsenic"), Forms: []Form{solid("powder", "As2O3")},
	}, {
		Name: "potassium cyanide", CAS: "151-50-8", Banned: whyCyanide, Groups: []Group{Cyanide}, HCodes: cyanide,
		Names: list("cyanide, cyanide of potash, cyanide of potassium, kcn"), Forms: []Form{solid("crystals", "KCN").frees(0.4150)},
	}, {
		Name: "sodium cyanide", CAS: "143-33-9", Banned: whyCyanide, Groups: []Group{Cyanide}, HCodes: cyanide,
		Names: list("cyanide of sodium, nacn"), Forms: []Form{solid("crystals", "NaCN").frees(0.5515)},
	}, {
		Name: "potassium dichromate", CAS: "7778-50-9", Banned: whyChromate, Groups: []Group{Oxidizer, HeavyMetal}, HCodes: dichromate,
		Names: list("bichromate of potash, potassium bichromate"), Forms: []Form{solid("crystals", "K2Cr2O7")},
	}, {
		Name: "sodium dichromate", CAS: "10588-01-9", Banned: whyChromate, Groups: []Group{Oxidizer, HeavyMetal}, HCodes: dichromate,
		Names: list("sodium bichromate"), Forms: []Form{solid("dihydrate", "Na2Cr2O7.2H2O", "7789-12-0")},
	}, {
		Name: "lead acetate", CAS: "301-04-2", Banned: whyLead, Groups: []Group{HeavyMetal}, HCodes: list("H360Df, H373, H410"),
		Names: list("sugar of lead, acetate of lead"), Forms: []Form{solid("trihydrate", "Pb(C2H3O2)2.3H2O", "6080-56-4")},
	}, {
		Name: "hydrofluoric acid", CAS: "7664-39-3", Banned: whyFluoride, Groups: []Group{Acid, Fluoride}, HCodes: list("H300, H310, H314, H330"),
		Names: list("hydrogen fluoride, glass etching acid"), Forms: []Form{solution("48 %", "HF", 48, 1.15, "density from memory")},
	}, {
		Name: "ammonium bifluoride", CAS: "1341-49-7", Banned: whyFluoride, Groups: []Group{Acid, Fluoride, AmmoniumSalt}, HCodes: list("H301, H314"),
		Names: list("ammonium hydrogen difluoride, glass etching cream"), Forms: []Form{solid("crystals", "NH4HF2")},
	}}
	for i, s := range all {
		all[i].Signal, all[i].Hazards = "Danger", []string{s.Banned}
		all[i].Storage, all[i].Gloves = "not to be stocked: hand an old jar to a licensed collector, unopened", "not to be handled"
	}
	return all
}

// Refused tells whether a substance is refused by its id or name, and why. Beside the table it
// knows the families of mercury, arsenic, cyanide (ferri- and ferrocyanide with it), chromate,
// lead and fluoride by word and by the common formulas. It is no help for free text, where
// "lead" can be a verb.
func Refused(word string) (why string, banned bool) {
	if s := inUse().byID[word]; s.Banned != "" {
		return s.Banned, true
	}
	text := apartOrFree().ReplaceAllString(strings.ToLower(word), " ")
	for _, family := range families() {
		if family.words.MatchString(text) {
			return family.why, true
		}
	}
	return "", false
}

// apartOrFree is what stands between words, and "lead free".
var apartOrFree = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\blead[^a-z0-9]+free\b|[^a-z0-9]+`) })

type family struct {
	why   string
	words *regexp.Regexp
}

// families are what is refused: parts of words, then whole words and formulas.
var families = sync.OnceValue(func() (list []family) {
	for _, f := range [][3]string{
		{whyMercury, `mercur|corrosive sublimate|calomel|cinnabar`, `hg|hgcl2|hg2cl2|hgo|hgs`},
		{whyArsenic, `arsen|orpiment|realgar`, `as2o3|as2o5|as2s3|as4s4`},
		{whyCyanide, `cyanid|cyanogen|hydrocyan|prussiate|prussic`, `kcn|nacn|cucn|agcn|hcn|k3fe|k4fe`},
		{whyChromate, `chromate|chromic acid|chromium trioxide`, `k2cr2o7|na2cr2o7|k2cro4|na2cro4|cro3`},
		{whyLead, `litharge|plumbous|plumbic|plumbate`, `lead|pb|pbo|pbo2|pb3o4|pbso4`},
		{whyFluoride, `fluorid|hydrofluo|fluosilic|fluoborate|fluoroborate`, `hf|naf|nh4hf2|nh4f|khf2|nahf2`},
	} {
		list = append(list, family{f[0], regexp.MustCompile(f[1] + `|\b(` + f[2] + `)\b`)})
	}
	return list
})
