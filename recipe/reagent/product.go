package reagent

import (
	"regexp"
	"slices"
	"strings"

	"hepar/recipe/fault"
)

// Product is a substance that the table lacks, as a workshop declares it from the SDS.
type Product struct {
	Name     string   // as on the label
	Families []string // what it is: names of groups, see [Families]
	State    string   // "liquid" or "solid"
	Codes    []string // of section 2 of the sheet, see [ParseCodes]
	Signal   string   // "Danger", "Warning" or empty
	Gas      string   // that acid frees from it; empty where it frees none
	Gloves   string
	Storage  string
	SDS      string // date of the sheet
}

// codeRules say what a hazard code of CLP and GHS asks for: one of some families, or no use at
// all, because nothing in this program covers such a substance.
var codeRules = []struct {
	codes    string
	families []Group
	why      string
}{
	{"H200 H201 H202 H203 H204 H205 H206 H207 H208 H209 H210 H211 H240 H241 H242", nil, "it may explode"},
	{"H250 H251 H252 H260 H261 EUH014 EUH029", nil, "it takes fire by itself or reacts with water"},
	{"H300 H310 H330 EUH032", nil, "small amounts of it, or of the gas that acid frees from it, kill"},
	{"H270 H271 H272", []Group{Oxidizer}, "it feeds a fire"},
	{"H220 H221 H222 H223 H224 H225 H226 H228", []Group{Fuel}, "it burns"},
	{"EUH031", []Group{Sulfide, Hypochlorite, Thiosulfate}, "acid frees a poisonous gas from it"},
	{"H290", []Group{Acid, AcidSalt, Caustic, Sulfide, Hypochlorite, Oxidizer}, "it attacks metals"},
	{"H314", []Group{Acid, AcidSalt, Caustic, Alkali, Ammonia, Sulfide, Hypochlorite, Oxidizer, MetalSalt}, "it burns skin"},
	{"H400 H410 H411", []Group{HeavyMetal, Sulfide, Hypochlorite, Fuel, Ammonia, AmmoniumSalt, Oxidizer, Acid, Caustic, Alkali}, "it kills what lives in water"},
}

// Families returns the words that say what a product is: the groups of what is not banned.
func Families() []string {
	var list []string
	for _, s := range builtin() {
		if s.Banned == "" {
			list = append(list, names(s.Groups)...)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// ParseCodes reads the hazard codes of CLP and GHS: "H225 H319". The error is of kind Usage.
func ParseCodes(text string) ([]string, error) {
	codes := strings.Fields(text)
	form := regexp.MustCompile(`^(H[2-4]\d\d[A-Za-z]{0,2}|EUH\d{3}[A-Za-z]?)$`)
	for _, code := range codes {
		if !form.MatchString(code) {
			return nil, fault.Usagef("%.60q is not a hazard code", code).Try(`copy them from section 2 of the SDS, as in "H225 H319"`)
		}
	}
	return codes, nil
}

// Substance returns the product as a substance. The error is of kind Usage: a name or a family
// that cannot be used, codes that ask for another family, a thing that no recipe may use. What
// the sheet leaves out is taken for the worst: a sulfide frees as much gas as the strongest of
// the table.
func (p Product) Substance() (s Substance, err error) {
	id := plain(p.Name, "-")
	if id == "" || len(words(p.Name)) > 6 {
		return s, fault.Usagef("%.60q is not the name of a product", p.Name).Try("write up to six words, as on the label")
	}
	if why, banned := Refused(p.Name); banned {
		return s, fault.Usagef("%s must not be in a recipe: %.60s", p.Name, why).Try("choose a recipe without it")
	}
	if known, err := Called(p.Name); err == nil {
		return s, fault.Usagef("%.60q is a name of %s already", p.Name, known).Try("use %s in recipes and remove this table", known)
	}
	sold := Form{Name: "as sold", Liquid: p.State == "liquid", Source: "the shop file"}
	s = Substance{
		ID: id, Name: strings.ToLower(p.Name), NoCAS: "a product", Signal: p.Signal, HCodes: p.Codes, GasWithAcid: strings.ToLower(p.Gas), Gloves: p.Gloves,
		Storage: p.Storage, Source: "its SDS of " + p.SDS + ", as the shop file says", Evidence: FromMemory, Hazards: []string{"declared in the shop file: the SDS decides"},
	}
	known := Families()
	for _, word := range p.Families {
		g := Group(strings.ToLower(word))
		if !slices.Contains(known, string(g)) {
			return s, fault.Usagef("%.60q is not a family", word).Try("write one or more of: %s", strings.Join(known, ", "))
		}
		s.Groups = append(s.Groups, g)
	}
	s.Groups = withImplied(s.Groups)
	if s.In(Sulfide) {
		for _, other := range builtin() {
			if other.In(Sulfide) {
				s.GasGramsPerGram = max(s.GasGramsPerGram, other.GasGramsPerGram)
			}
		}
	}
	s.Forms = []Form{sold.frees(s.GasGramsPerGram)}
	return s, s.agree()
}

// agree compares the families of a product with each other, with its codes and its gas.
func (s Substance) agree() error {
	if s.In(Neutral) && len(s.Groups) > 1 {
		return fault.Usagef("family has neutral and others").Try("neutral stands alone: it is in no pair that must not meet")
	}
	for _, code := range s.HCodes {
		for _, rule := range codeRules {
			switch {
			case !slices.Contains(strings.Fields(rule.codes), code):
			case rule.families == nil:
				return fault.Usagef("%s: %s, and hepar has no rules for such a substance", code, rule.why).Try("choose a recipe without it")
			case !slices.ContainsFunc(rule.families, s.In):
				return fault.Usagef("%s says that %s, and family says %s", code, rule.why, strings.Join(names(s.Groups), ", ")).
					Try("add what it is, from sections 3, 7 and 10 of the SDS: %s", strings.Join(names(rule.families), ", "))
			}
		}
	}
	for _, g := range []Group{Sulfide, Hypochlorite, Thiosulfate, Carbonate} {
		if s.In(g) && s.GasWithAcid == "" {
			return fault.Usagef("a %s needs the gas that acid frees from it", g).Try(`write gas_with_acid = "hydrogen sulfide", or the gas that section 10 of the SDS names`)
		}
	}
	return nil
}

// Declare adds products, each from [Product.Substance], to the table. Call it once, after the
// shop file is read and before a recipe is.
func Declare(products []Substance) {
	if len(products) > 0 {
		current.Store(newCatalog(append(slices.Clone(builtin()), products...)))
	}
}

// DeclareCure is what to do about a substance that the table lacks.
const DeclareCure = "declare it with its hazards from the SDS: [[substance]] in the shop file, see hepar shop --template"
