package reagent

import (
	"regexp"
	"slices"
	"strings"

	"hepar/recipe/fault"
)

// Product is a substance that the table lacks, as a workshop declares it from the safety
// data sheet.
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

// implied says which groups a member of a group is in as well.
var implied = map[Group][]Group{
	OxidizingAcid: {Acid}, OrganicAcid: {Acid}, Hydrochloric: {Acid}, Sulfuric: {Acid},
	StrongOxidizer: {Oxidizer}, Chlorate: {Oxidizer, StrongOxidizer}, Permanganate: {Oxidizer, StrongOxidizer}, Peroxide: {Oxidizer}, Nitrate: {Oxidizer},
	Bicarbonate: {Carbonate, Alkali}, Solvent: {Fuel}, Ketone: {Solvent, Fuel}, SilverSalt: {MetalSalt, HeavyMetal}, CopperSalt: {MetalSalt, HeavyMetal},
}

// withImplied returns groups and those that they imply, each once.
func withImplied(groups []Group) []Group {
	var all []Group
	for _, g := range groups {
		for _, g := range append([]Group{g}, implied[g]...) {
			if !slices.Contains(all, g) {
				all = append(all, g)
			}
		}
	}
	return all
}

// codeRules say what a hazard code of CLP and GHS asks for: one of some families, or no
// use at all, because nothing in this program covers such a substance.
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

// Families returns the words that say what a product is.
func Families() []string {
	list := []string{string(Neutral)}
	for _, p := range pairs() {
		list = append(list, string(p.A), string(p.B))
	}
	for g := range implied {
		for _, g := range withImplied([]Group{g}) {
			list = append(list, string(g))
		}
	}
	slices.Sort(list)
	unwanted := []string{string(Metal), string(Cyanide), string(Fluoride)}
	return slices.DeleteFunc(slices.Compact(list), func(family string) bool { return slices.Contains(unwanted, family) })
}

// ParseCodes reads the hazard codes of CLP and GHS: "H225 H319". The error is of kind Usage.
func ParseCodes(text string) ([]string, error) {
	codes := strings.Fields(text)
	form := regexp.MustCompile(`^(H[2-4]\d\d[A-Za-z]{0,2}|EUH\d{3}[A-Za-z]?)$`)
	for _, code := range codes {
		if !form.MatchString(code) {
			return nil, fault.Usagef("%q is no hazard code", clip(code)).Try(`copy them from section 2 of the SDS, as in "H225 H319"`)
		}
	}
	return codes, nil
}

// Substance returns the product as a substance. The error is of kind Usage if the name or a
// family is not usable, if the codes ask for another family, or if no recipe may use such a
// thing. What the sheet does not say is taken for the worst: a sulfide
// frees as much gas as the strongest of the table.
func (p Product) Substance() (Substance, error) {
	none := Substance{}
	id := plain(p.Name)
	if id == "" || len(words(p.Name)) > 6 {
		return none, fault.Usagef("%q is no name of a product", clip(p.Name)).Try("write up to six words, as on the label")
	}
	if why, banned := Refused(p.Name); banned {
		return none, fault.Usagef("%s may be in no recipe: %s", clip(p.Name), why).Try("choose a recipe without it")
	}
	if known, err := Called(p.Name); err == nil {
		return none, fault.Usagef("%q is a name of %s already", clip(p.Name), known).Try("use %s in recipes and take this table away", known)
	}
	s := Substance{
		ID: id, Name: strings.ToLower(p.Name), NoCAS: "a product", Signal: p.Signal, HCodes: p.Codes, GasWithAcid: strings.ToLower(p.Gas), Gloves: p.Gloves,
		Storage: p.Storage, Source: "its SDS of " + p.SDS + ", as the shop file says", Evidence: FromMemory, Hazards: []string{"declared in the shop file: the SDS decides"},
		Forms: []Form{{Name: "as sold", Liquid: p.State == "liquid", Source: "the shop file"}},
	}
	for _, word := range p.Families {
		g := Group(strings.ToLower(word))
		if !slices.Contains(Families(), string(g)) {
			return none, fault.Usagef("%q is no family", clip(word)).Try("write one or more of: %s", strings.Join(Families(), ", "))
		}
		s.Groups = append(s.Groups, g)
	}
	s.Groups = withImplied(s.Groups)
	if s.In(Neutral) && len(s.Groups) > 1 {
		return none, fault.Usagef("family has neutral and %s", without(s.Groups, Neutral)).Try("neutral stands alone: it is in no pair that must not meet")
	}
	if err := s.agree(); err != nil {
		return none, err
	}
	if s.In(Sulfide) {
		for _, other := range builtin() {
			if other.In(Sulfide) {
				s.GasGramsPerGram = max(s.GasGramsPerGram, other.GasGramsPerGram)
			}
		}
		s.Forms[0].GasUpper, s.Forms[0].GasExpected = s.GasGramsPerGram, s.GasGramsPerGram
	}
	return s, nil
}

// agree compares the codes and the gas of a product with its families.
func (s Substance) agree() error {
	for _, code := range s.HCodes {
		for _, rule := range codeRules {
			if !slices.Contains(strings.Fields(rule.codes), code) {
				continue
			}
			if rule.families == nil {
				return fault.Usagef("%s: %s, and hepar has no rules for such a substance", code, rule.why).Try("choose a recipe without it")
			}
			if !slices.ContainsFunc(rule.families, s.In) {
				return fault.Usagef("%s says that %s, and family says %s", code, rule.why, without(s.Groups)).
					Try("add what it is, from sections 3, 7 and 10 of the SDS: %s", without(rule.families))
			}
		}
	}
	for _, g := range []Group{Sulfide, Hypochlorite, Thiosulfate, Carbonate} {
		if s.In(g) && s.GasWithAcid == "" {
			return fault.Usagef("a %s without the gas that acid frees from it", g).Try(`write gas_with_acid = "hydrogen sulfide", or the gas that section 10 of the SDS names`)
		}
	}
	return nil
}

func without(groups []Group, left ...Group) string {
	var names []string
	for _, g := range groups {
		if !slices.Contains(left, g) {
			names = append(names, string(g))
		}
	}
	return strings.Join(names, ", ")
}

// GroupsOf returns the groups of all substances and group words that a text names.
func GroupsOf(text string) (groups []Group) {
	for _, m := range Named(text) {
		if s, err := Find(m.ID); err == nil {
			groups = append(groups, s.Groups...)
		} else {
			groups = append(groups, Group(m.ID))
		}
	}
	return groups
}

// Declare adds the products of a workshop to the table. Call it once, after the shop file is
// read and before a recipe is; each must come from [Product.Substance].
func Declare(products []Substance) {
	if len(products) > 0 {
		current.Store(newCatalog(append(slices.Clone(builtin()), products...)))
	}
}

// DeclareCure is what to do about a substance that the table lacks.
const DeclareCure = "declare it with its hazards from the SDS: [[substance]] in the shop file, see hepar shop --template"
