package safety

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// vessel is one place through which the pieces go: the bath, a pickle, a rinse.
type vessel struct {
	step    int    // from 1; 0 where the bath is not among the steps
	do      string // as in the recipe; "bath" where the bath is not among the steps
	bath    bool
	agents  []agent
	rinses  int      // how often the pieces are rinsed here in clean water
	in      string   // the vessel, by the workshop's own name
	things  []string // vessel and tools, likewise
	hottest measure.Celsius
	recipe  *recipe.Recipe
	main    bool // of the recipe that is reviewed, not of a helper
	named   bool // with its recipe, because there are several
	at      int  // place on the whole way, from 0
}

// runningRinse is the still rinses that a running one counts for. Common practice, no source.
const runningRinse = 2

// line returns the vessels of a recipe in order. All that a batch holds goes into the bath.
func line(r *recipe.Recipe, amounts ...reagent.Amount) []vessel {
	var vs []vessel
	bath := vessel{recipe: r, do: "bath", bath: true, hottest: r.Bath.Water.To}
	for _, g := range r.Bath.Reagents {
		bath.put(lookup(g.Substance, g.Form).weighed(g.Concentration.To, amounts))
	}
	for _, in := range amounts { // put passes over what stands there already
		bath.put(lookup(in.Substance.ID, "").weighed(measure.Concentration{}, amounts))
	}
	for i, s := range r.Steps {
		v := vessel{recipe: r, step: i + 1, do: s.Do}
		switch s.Do {
		case "dip", "coat":
			v = bath
			v.step, v.do, v.agents = i+1, s.Do, slices.Clone(bath.agents)
		case "rinse":
			v.rinses = max(s.Baths, 1)
			if s.Running {
				v.rinses += runningRinse - 1
			}
		}
		if s.With != "" {
			v.put(lookup(s.With, "").weighed(s.Concentration.To, nil))
		}
		if s.Do == "pickle" && !v.has(sour) && !v.has(alkaline) { // whatever it is mixed from
			v.put(agent{id: "pickle-acid", name: "the acid of the pickle", groups: []reagent.Group{reagent.Acid}, known: true})
		}
		v.in, v.things, v.hottest = s.In, s.Tools, max(v.hottest, s.Water.To) // 0 where the step has no water
		if s.In != "" {
			v.things = append([]string{s.In}, s.Tools...)
		}
		vs = append(vs, v)
	}
	// A bath that no step names is taken to come first, where what follows meets it.
	if !slices.ContainsFunc(vs, func(v vessel) bool { return v.bath }) {
		vs = slices.Insert(vs, 0, bath)
	}
	return vs
}

func (v *vessel) put(agents ...agent) {
	for _, a := range agents {
		if a.id != "" && !slices.ContainsFunc(v.agents, func(b agent) bool { return b.id == a.id }) {
			v.agents = append(v.agents, a)
		}
	}
}

func (v vessel) has(as func(agent) bool) bool { return slices.ContainsFunc(v.agents, as) }

// String names the vessel for a reader: "step 2 (pickle)".
func (v vessel) String() string {
	text := "the bath"
	if v.step > 0 {
		text = fmt.Sprintf("step %d (%s)", v.step, plain(v.do))
	}
	if v.named {
		text += " of " + plain(v.recipe.Slug)
	}
	return text
}

// washes is the rinses that washing with soap in water is worth: one.
func (v vessel) washes() int {
	if v.do == "degrease" && v.has(func(a agent) bool { return a.id == "detergent" || alkaline(a) }) {
		return 1
	}
	return 0
}

// Held is what an earlier batch had in the vessel of this one.
type Held struct {
	Vessel string // as the shop calls it; empty: by its size alone
	Batch  string
	At     time.Time // when it was used last
	Recipe *recipe.Recipe
}

// VesselHeld is the code of the point on a vessel that held what must not meet the bath.
const VesselHeld = "vessel-held"

// held asks for another vessel, or a scrubbed one, where the last batch in it had what must
// not meet the bath.
func (w work) held(l *list) {
	if w.Held == nil {
		return
	}
	name := cmp.Or(plain(w.Held.Vessel), "a vessel of this size")
	for _, v := range line(w.Held.Recipe) {
		for _, a := range v.agents {
			for _, b := range w.bathAgents() {
				if p := reagent.Gravest(a.groups, b.groups); v.bath && forbids(p) {
					said := fmt.Sprintf("%s held %s in batch %s, %s", name, a.name, w.Held.Batch, w.Held.At.Format(time.DateOnly))
					l.do(VesselHeld, said+": "+p.Why, "this is another vessel, or was scrubbed with washing soda and rinsed since: "+said, p.Source)
				}
			}
		}
	}
}

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

func (a agent) in(groups ...reagent.Group) bool {
	return slices.ContainsFunc(groups, func(g reagent.Group) bool { return slices.Contains(a.groups, g) })
}

// What a substance does, as far as the work cares.
var (
	sulfide = of(reagent.Sulfide) // acid frees hydrogen sulfide from it
	acid    = of(reagent.Acid, reagent.OxidizingAcid)
	sour    = of(reagent.Acid, reagent.OxidizingAcid, reagent.AcidSalt) // its solution is acid
	nitrate = of(reagent.Nitrate)                                       // heat makes nitrogen dioxide of it
)

// ammoniumSulfide is a sulfide that frees ammonia as well.
func ammoniumSulfide(a agent) bool { return sulfide(a) && a.in(reagent.AmmoniumSalt) }

func alkaline(a agent) bool {
	return !sour(a) && !sulfide(a) && a.in(reagent.Caustic, reagent.Alkali, reagent.Ammonia)
}

// stopping takes acid away and keeps traces of sulfide in its solution: the alkaline stop. A
// bicarbonate does not hold the pH that this takes.
func stopping(a agent) bool {
	return alkaline(a) && !a.in(reagent.Bicarbonate, reagent.Ammonia, reagent.Oxidizer, reagent.Hypochlorite)
}

// smelling is a solid that gives off ammonia by itself, ammoniacal anything that does.
func smelling(a agent) bool   { return a.in(reagent.AmmoniumSalt) && a.in(reagent.Carbonate) }
func ammoniacal(a agent) bool { return a.in(reagent.Ammonia) || smelling(a) }

// heavyLiquid is the density in g/mL of a liquid whose density is not known: more than that of
// the strong polysulfide solutions sold. From memory.
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

// weighed returns the agent as the batch holds it, or else as the recipe asks for it: what is
// in the jar, its grams, and the most in a liter of bath.
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

func of(groups ...reagent.Group) func(agent) bool {
	return func(a agent) bool { return a.in(groups...) }
}
