package safety

import (
	"slices"
	"strings"

	"hepar/recipe/reagent"
)

// agent is a substance as it takes part in the work.
type agent struct {
	id     string
	name   string
	groups []reagent.Group
	known  bool // in the list of substances
	sub    reagent.Substance
	form   string
	gPerL  float64 // as weighed, at most; 0 where not given
	// spoken is true where the substance was read out of the free text of a step.
	spoken bool
}

// in tells whether the agent belongs to any of the groups.
func (a agent) in(groups ...reagent.Group) bool {
	for _, g := range groups {
		if slices.Contains(a.groups, g) {
			return true
		}
	}
	return false
}

// is tells whether the agent is one of the substances named.
func (a agent) is(ids ...string) bool { return slices.Contains(ids, a.id) }

// sulfide tells whether acid frees hydrogen sulfide from it.
func (a agent) sulfide() bool { return a.in(reagent.Sulfide) }

// acid tells whether it is an acid or is used as one.
func (a agent) acid() bool {
	return a.in(reagent.Acid, reagent.OxidizingAcid) || a.is("selenous-acid")
}

// sour tells whether its solution is acid.
func (a agent) sour() bool { return a.acid() || a.in(reagent.AcidSalt) }

// alkaline tells whether it takes acid away. Ammonia counts as well.
func (a agent) alkaline() bool {
	return !a.sour() && !a.sulfide() && a.in(reagent.Caustic, reagent.Alkali, reagent.Ammonia)
}

// heavyLiquid is the density in g/mL that is taken for a liquid whose density is not
// known: 1.4, more than that of the strong polysulfide solutions sold. From memory.
const heavyLiquid = 1.4

// density is that of its form in g/mL.
func (a agent) density() float64 {
	if f, err := a.sub.Form(a.form); err == nil && f.Density > 0 {
		return float64(f.Density)
	}
	return heavyLiquid
}

// perLiter turns a concentration in g/L or mL/L into g/L of what is in the jar.
func (a agent) perLiter(amount float64, unit string) float64 {
	if !(amount > 0 && amount <= 1e6) {
		return 0
	}
	if unit == "mL/L" {
		return amount * a.density()
	}
	return amount
}

// ammoniacal tells whether ammonia comes off it by itself.
func (a agent) ammoniacal() bool { return a.in(reagent.Ammonia) || a.is("ammonium-carbonate") }

// nitrate tells whether heating it gives nitrogen dioxide.
func (a agent) nitrate() bool { return strings.Contains(a.id, "nitrate") }

// lookup finds a substance by its id. One that is not in the list is taken for the
// worst family that its name allows.
func lookup(id, form string) agent {
	if s, err := reagent.Find(id); err == nil {
		a := agent{id: s.ID, name: s.Name, groups: s.Groups, known: true, sub: s, form: form}
		if strings.Contains(form, "vinegar") {
			a.name = form
		}
		return a
	}
	return agent{id: id, name: plain(strings.ReplaceAll(id, "-", " ")), groups: guess(id), form: form}
}

// guess gives the families that the name of an unknown substance points to. The words
// are looked for in the order of how grave a mistake would be.
func guess(id string) []reagent.Group {
	families := []struct {
		group reagent.Group
		words []string
	}{
		{reagent.Sulfide, []string{"sulfide", "sulphide", "liver-of", "hepar", "lime-sulf"}},
		{reagent.Hypochlorite, []string{"hypochlor", "bleach", "chlorine"}},
		{reagent.OxidizingAcid, []string{"nitric", "aqua-fortis", "aqua-regia", "perchloric", "chromic"}},
		{reagent.Acid, []string{"acid", "bisulfate", "bisulphate", "vinegar", "pickle", "lemon", "vitriol"}},
		{reagent.Oxidizer, []string{"chlorate", "manganate", "peroxide", "nitrate", "nitrite", "persul", "percarbonate"}},
		{reagent.Ammonia, []string{"ammonia"}},
		{reagent.AmmoniumSalt, []string{"ammonium"}},
		{reagent.Caustic, []string{"hydroxide", "caustic", "lye"}},
		{reagent.AcidSalt, []string{"ferric", "cupric", "chloride"}},
		{reagent.Alkali, []string{"carbonate", "soda", "borax"}},
	}
	id = strings.ToLower(id)
	var groups []reagent.Group
	for _, f := range families {
		for _, w := range f.words {
			if strings.Contains(id, w) && !slices.Contains(groups, f.group) {
				groups = append(groups, f.group)
			}
		}
	}
	return groups
}
