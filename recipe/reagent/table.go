package reagent

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"hepar/recipe/fault"
)

// catalog is a list of substances, sorted by id, and their names.
type catalog struct {
	list  []Substance
	names func() map[string][]name
}

// current is the catalog in use: the built-in one, unless [Declare] has added to it.
var current atomic.Pointer[catalog]

func newCatalog(list []Substance) *catalog {
	list = slices.Clone(list)
	slices.SortFunc(list, func(a, b Substance) int { return cmp.Compare(a.ID, b.ID) })
	return &catalog{list, sync.OnceValue(func() map[string][]name { return namesOf(list) })}
}

func inUse() *catalog {
	if current.Load() == nil {
		current.CompareAndSwap(nil, newCatalog(builtin()))
	}
	return current.Load()
}

func table() []Substance { return inUse().list }

func names() map[string][]name { return inUse().names() }

// builtin is the list that comes with the program. It is built when first asked for, so
// that a command that needs no substance pays nothing for it.
var builtin = sync.OnceValue(func() []Substance {
	list := slices.Concat(sulfides(), alkalis(), acids(), salts(), oxidizers(), shopGoods(), banned())
	for i := range list {
		list[i].complete()
	}
	return list
})

// shared is what the members of a group have in common, unless the entry of a substance
// says otherwise. Of several groups the first counts.
var shared = []struct {
	group                Group
	gas, storage, gloves string
}{
	{Sulfide, hydrogenSulfide, awayFromAcid, "nitrile, neoprene or butyl gauntlets; " + checkChart},
	{Hypochlorite, "chlorine", "", ""},
	{Thiosulfate, "sulfur dioxide", "", ""},
	{Carbonate, carbonDioxide, "", ""},
	{Cyanide, "hydrogen cyanide", "", ""},
	{Solvent, "", flammables, ""},
	{Acid, "", acidShelf, "neoprene or butyl, thick nitrile against splashes only; " + checkChart},
	{Oxidizer, "", awayFromFuel, "nitrile"},
	{AcidSalt, "", "", "nitrile"},
	{AmmoniumSalt, "", "", "nitrile"},
	{Alkali, "", "", "nitrile"},
	{Neutral, "", "dry", "any"},
	{Fuel, "", "", "any"},
}

// complete fills in what an entry of the table leaves out, see [Substance].
func (s *Substance) complete() {
	s.ID = cmp.Or(s.ID, strings.ReplaceAll(s.Name, " ", "-"))
	s.Groups = withImplied(s.Groups)
	for _, g := range shared {
		if s.In(g.group) {
			s.GasWithAcid, s.Storage, s.Gloves = cmp.Or(s.GasWithAcid, g.gas), cmp.Or(s.Storage, g.storage), cmp.Or(s.Gloves, g.gloves)
		}
	}
	s.Source, s.Evidence = cmp.Or(s.Source, annexVI), cmp.Or(s.Evidence, FromMemory)
	for _, f := range s.Forms {
		s.GasGramsPerGram = max(s.GasGramsPerGram, f.GasUpper)
	}
}

// All returns every substance, sorted by id, the banned ones among them. The
// slices inside are shared: do not change them.
func All() []Substance { return slices.Clone(table()) }

// Find returns the substance with the given id. An unknown id is an error of
// kind Usage that names the nearest ids. A banned substance is found: look at
// its Banned field.
func Find(id string) (Substance, error) {
	list := table()
	i, ok := slices.BinarySearchFunc(list, id, func(s Substance, id string) int {
		return cmp.Compare(s.ID, id)
	})
	if ok {
		return list[i], nil
	}
	return Substance{}, unknown(id)
}

// unknown is the error for a word that is no substance, with the nearest ids.
func unknown(word string) error {
	err := fault.Usagef("unknown substance %q", clip(word))
	near := nearest(word)
	if len(near) == 0 {
		return err.Try("write the id of a substance, such as liver-of-sulfur; or " + DeclareCure)
	}
	return err.Try("did you mean %s? If it is another thing, "+DeclareCure, strings.Join(near, " or "))
}

// Form returns the named form, and the default form for an empty name. Letter
// case does not count. An unknown name is an error of kind Usage that lists the
// forms there are.
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
	return Form{}, fault.Usagef("%s has no form %q", s.ID, clip(name)).
		Try("write one of %s, or leave the form out for the first", strings.Join(names, ", "))
}

// clip keeps a word from a file short enough for a message.
func clip(text string) string {
	const most = 60
	for i := range text {
		if i >= most {
			return text[:i] + "..."
		}
	}
	return text
}
