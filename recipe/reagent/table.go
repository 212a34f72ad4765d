package reagent

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"hepar/recipe/fault"
)

// catalog is a list of substances, sorted by id, and their names with those of the groups.
type catalog struct {
	list   []Substance
	byID   map[string]Substance
	names  []name            // sorted
	owners map[string]string // by name as [join] returns it: an id, a group, or nothing
}

// current is the catalog in use: the built-in one, unless [Declare] has added to it.
var current atomic.Pointer[catalog]

func newCatalog(list []Substance) *catalog {
	c := &catalog{slices.Clone(list), make(map[string]Substance, len(list)), make([]name, 0, 10*len(list)), make(map[string]string, 10*len(list))}
	slices.SortFunc(c.list, func(a, b Substance) int { return cmp.Compare(a.ID, b.ID) })
	add := func(called, id string) {
		text, stem := join(words(called))
		c.names, c.owners[stem] = append(c.names, name{text, id}), id
	}
	for word, group := range groupWords {
		add(word, string(group))
	}
	for _, s := range list {
		c.byID[s.ID] = s
		for _, called := range append([]string{s.ID, s.Name}, s.Names...) {
			add(called, s.ID)
		}
	}
	slices.SortFunc(c.names, func(a, b name) int { return cmp.Compare(a.text, b.text) })
	return c
}

func inUse() *catalog {
	if current.Load() == nil {
		current.CompareAndSwap(nil, newCatalog(builtin()))
	}
	return current.Load()
}

// builtin is the list that comes with the program, built when first asked for.
var builtin = sync.OnceValue(func() []Substance {
	list := slices.Concat(sulfides(), alkalis(), acids(), salts(), oxidizers(), shopGoods(), banned())
	for i := range list {
		list[i].complete()
	}
	return list
})

const (
	noDrain     = "poisons water: no drain without leave of the local authority"
	solventFire = "catches fire from a flame across the room; the vapour creeps along the bench; no torch, no hot plate"
)

// shared is what the members of a group have in common. What the entry of a substance says
// comes first, then the first of its groups; the hazards add up.
var shared = []struct {
	group                         Group
	gas, storage, gloves, hazards string
}{
	{Sulfide, hydrogenSulfide, awayFromAcid, "nitrile, neoprene or butyl gauntlets; " + checkChart,
		"any acid, even vinegar or a film of pickle, frees hydrogen sulfide, which kills; the nose stops smelling it"},
	{Hypochlorite, "chlorine", "", "", ""},
	{Thiosulfate, "sulfur dioxide", "", "", ""},
	{Carbonate, carbonDioxide, "", "", "foams with acids: little by little, in a vessel with room"},
	{Cyanide, "hydrogen cyanide", "", "", ""},
	{Solvent, "", flammables, "", "never with nitric acid, permanganate, chlorate, peroxide or bleach, nor in one waste bottle with them"},
	{Acid, "", acidShelf, rubber, "frees hydrogen sulfide from any sulfide bath, rinse or waste: rinse well and keep the two apart; frees chlorine from bleach"},
	{Oxidizer, "", awayFromFuel, "nitrile", ""},
	{Nitrate, "", "", "", "brown nitrogen dioxide when it is heated on hot metal; paper and cloth wetted with it catch fire easily once dry"},
	{AcidSalt, "", "", "nitrile", "its solution is acid enough to free hydrogen sulfide from a sulfide bath"},
	{AmmoniumSalt, "", "", "nitrile", "caustic soda frees ammonia from it; bleach makes chloramine of it"},
	{Alkali, "", "", "nitrile", ""},
	{Neutral, "", "dry", "any", ""},
	{Fuel, "", "", "any", ""},
}

// complete fills in what an entry of the table leaves out, see [Substance].
func (s *Substance) complete() {
	s.ID = cmp.Or(s.ID, strings.ReplaceAll(s.Name, " ", "-"))
	s.Groups = withImplied(s.Groups)
	var hazards []string
	for _, g := range shared {
		if s.In(g.group) {
			s.GasWithAcid, s.Storage, s.Gloves = cmp.Or(s.GasWithAcid, g.gas), cmp.Or(s.Storage, g.storage), cmp.Or(s.Gloves, g.gloves)
			if g.hazards != "" && s.Banned == "" {
				hazards = append(hazards, g.hazards)
			}
		}
	}
	s.Hazards = append(hazards, s.Hazards...)
	switch {
	case s.NoCAS == aBlend:
		s.Source = cmp.Or(s.Source, "typical blend, from memory")
	case s.Signal == "":
		s.Source = cmp.Or(s.Source, "not classified, from memory")
	}
	s.Source, s.Evidence = cmp.Or(s.Source, annexVI), cmp.Or(s.Evidence, FromMemory)
	if s.Forms == nil {
		s.Forms = []Form{unknownStrength("as sold", 0, "a blend: the label decides")}
	}
	for _, f := range s.Forms {
		s.GasGramsPerGram = max(s.GasGramsPerGram, f.GasUpper)
	}
}

// All returns every substance, the banned ones too, sorted by id. The slices inside are
// shared: do not change them.
func All() []Substance { return slices.Clone(inUse().list) }

// Find returns the substance of an id; a banned one too: look at its Banned field. An unknown
// id is an error of kind Usage that names the nearest ids.
func Find(id string) (Substance, error) {
	if s, ok := inUse().byID[id]; ok {
		return s, nil
	}
	return Substance{}, unknown(id)
}

// unknown is the error for a word that is no substance, with the nearest ids.
func unknown(word string) error {
	err := fault.Usagef("unknown substance %.60q", word)
	near := nearest(word)
	if len(near) == 0 {
		return err.Try("write the id of a substance, such as liver-of-sulfur; or " + DeclareCure)
	}
	return err.Try("did you mean %s? If it is another thing, "+DeclareCure, strings.Join(near, " or "))
}

// Form returns the form of a name, in any letter case, and the default form for "". An unknown
// name is an error of kind Usage that lists the forms there are.
func (s Substance) Form(name string) (Form, error) {
	if len(s.Forms) == 0 {
		return Form{}, fault.Usagef("%s has no forms", s.ID).Try("choose a substance of the table")
	}
	if name == "" {
		return s.Forms[0], nil
	}
	names := make([]string, len(s.Forms))
	for i, f := range s.Forms {
		if strings.EqualFold(f.Name, strings.TrimSpace(name)) {
			return f, nil
		}
		names[i] = `"` + f.Name + `"`
	}
	return Form{}, fault.Usagef("%s has no form %.60q", s.ID, name).
		Try("write one of %s, or leave the form out for the first", strings.Join(names, ", "))
}
