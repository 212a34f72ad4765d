package safety

import (
	"slices"
	"strings"

	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// agent is a substance as it takes part in the work.
type agent struct {
	id     string
	name   string
	groups []reagent.Group
	known  bool // in the list of substances
	sub    reagent.Substance
	jar    reagent.Form // as it stands on the shelf; zero where not known
	gPerL  float64      // of what is in the jar, at most; 0 where not given
	grams  float64      // of what is in the jar, in the bath of this batch; 0 where not known
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
	return a.in(reagent.Acid, reagent.OxidizingAcid)
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

// mass returns the grams of an amount; a liquid of unknown density counts as a heavy one.
func mass(a reagent.Amount) float64 {
	g, ok := a.Mass()
	if !ok {
		g = measure.Grams(a.Shown * heavyLiquid)
	}
	if !(g > 0 && g <= 1e9) {
		return 0
	}
	return float64(g)
}

// weighed returns the agent as the batch holds it, or else as the recipe asks for it:
// what is in the jar, its grams, and the most in a liter of bath.
func (a agent) weighed(most measure.Concentration, amounts []reagent.Amount) agent {
	for _, in := range amounts {
		if in.Substance.ID == a.id {
			a.jar, a.grams, a.gPerL = in.Shelf, mass(in), mass(in.For(most, 1))
			return a
		}
	}
	if stock, err := reagent.NewStock(a.sub, a.jar.Name, "", 0, most.ByVolume); err == nil {
		a.gPerL = mass(stock.For(most, 1))
	}
	return a
}

// stopping tells whether its solution keeps traces of sulfide in it and takes acid away:
// the alkaline stop. A bicarbonate does not hold the pH that this takes.
func (a agent) stopping() bool {
	return a.alkaline() && !a.in(reagent.Bicarbonate, reagent.Ammonia, reagent.Oxidizer, reagent.Hypochlorite)
}

// ammoniacal tells whether ammonia comes off it by itself.
func (a agent) ammoniacal() bool { return a.in(reagent.Ammonia) || a.smelling() }

// smelling tells whether it is a solid that gives off ammonia by itself.
func (a agent) smelling() bool { return a.in(reagent.AmmoniumSalt) && a.in(reagent.Carbonate) }

// nitrate tells whether heating it gives nitrogen dioxide.
func (a agent) nitrate() bool { return a.in(reagent.Nitrate) }

// lookup finds a substance by its id. One that is not in the list is a stop.
func lookup(id, form string) agent {
	if s, err := reagent.Find(id); err == nil {
		a := agent{id: s.ID, name: s.Name, groups: s.Groups, known: true, sub: s}
		if f, err := s.Form(form); err == nil {
			a.jar = f
		}
		if strings.Contains(form, "vinegar") {
			a.name = form
		}
		return a
	}
	return agent{id: id, name: plain(strings.ReplaceAll(id, "-", " "))}
}

// of returns a test for the groups.
func of(groups ...reagent.Group) func(agent) bool {
	return func(a agent) bool { return a.in(groups...) }
}
