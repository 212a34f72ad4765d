package safety

import (
	"cmp"
	"slices"
	"strings"

	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// What comes off by stoichiometry, in g of gas for each g. From IUPAC 2021 atomic
// weights; each is an upper bound.
const (
	no2PerCopper  = 2 * 46.005 / 63.546 // Cu + 4 HNO3 -> 2 NO2, strong acid: 1.45
	no2PerSilver  = 46.005 / 107.8682   // Ag + 2 HNO3 -> NO2: 0.43
	nh3PerSulfide = 2 * 17.031 / 68.138 // (NH4)2S: 0.50
	chloraminePer = 51.473 / 74.4388    // NaOCl + NH3 -> NH2Cl, each g of NaOCl: 0.69
	chlorinePer   = 70.90 / 74.4388     // NaOCl + 2 HCl -> Cl2, each g of NaOCl: 0.95
	no2PerNitrate = 46.005 / 62.004     // each g of nitrate ion, the most a nitrate can give: 0.74
	so2PerHypo    = 64.058 / 248.1715   // Na2S2O3.5H2O with acid: 0.26
	bleachSpillG  = 100.0               // g of bleach taken for scale where no amount is known; assumed
)

// otherGases estimates ammonia, nitrogen dioxide, chlorine, chloramine and sulfur dioxide
// where the work could make them, in the room as filled.
func (w work) otherGases(room gas.Room) []gas.Estimate {
	var list []gas.Estimate
	add := func(name, code, scenario string, grams, molar float64) {
		if grams > 0 {
			low, _ := gas.Lowest(w.limits(name))
			list = append(list, gas.Loss(name, code, scenario, measure.Grams(min(grams, 1e9)), molar, room, low.Value))
		}
	}
	if e, ok := w.ammoniaPlanned(room); ok {
		list = append(list, e)
	}
	free, bound := w.ammonia()
	add(gas.Ammonia, "ammonia-all", "all the ammonia of the plan's baths driven off, at most", free, gas.NH3Mass)
	add(gas.Ammonia, "ammonia-alkali", "only with soda, caustic or another alkali in the bath: all the ammonia of its ammonium salts driven off, at most", bound, gas.NH3Mass)
	w.nitrous(add)
	bleach, hypo, scale := 0.0, 0.0, ""
	for _, a := range w.agents {
		switch grams := w.inPlan(a); {
		case a.in(reagent.Hypochlorite):
			if !(grams > 0) {
				grams, scale = bleachSpillG, ", 100 g of it for scale"
			}
			bleach += grams * a.percent()
		case a.in(reagent.Thiosulfate):
			hypo += grams * max(a.jar.GasUpper, so2PerHypo*a.percent())
		}
	}
	add(gas.Chlorine, "bleach-acid", "acid on the bleach"+scale+", at most", bleach*chlorinePer, gas.Cl2Mass)
	if w.any(of(reagent.Ammonia, reagent.AmmoniumSalt)) {
		add(gas.Chloramine, "bleach-ammonia", "ammonia on the bleach"+scale+", which must not happen at all", bleach*chloraminePer, gas.ChloramineMass)
	}
	add(gas.SulfurDioxide, "thiosulfate-acid", "acid on all the thiosulfate of the work, at most", hypo, gas.SO2Mass)
	return list
}

// percent is the solute in a form, from 0 to 1; 1 where it is not known.
func (a agent) percent() float64 {
	if a.jar.MassPercent > 0 {
		return a.jar.MassPercent / 100
	}
	return 1
}

// nitrogenAs returns the g of a gas with one nitrogen, of that molar mass in g/mol, that
// the nitrogen in a g of the pure form makes, and otherwise where no formula is known.
func (a agent) nitrogenAs(molar, otherwise float64) float64 {
	if f, err := a.sub.Form(a.jar.Name); err == nil {
		if share := reagent.MassFraction(f.Formula, "N"); share > 0 {
			return share * molar / 14.007
		}
	}
	return otherwise
}

// copperBound is the mol of ammonia that a mol of copper binds: 4, as the blue complex.
// General chemistry, from memory.
const copperBound = 4

// ammoniaPlanned estimates a bath that gives off ammonia, as it is used.
func (w work) ammoniaPlanned(room gas.Room) (gas.Estimate, bool) {
	var high, bound float64
	for _, a := range w.bathAgents() {
		grams := w.inBath(a) * a.percent()
		f, err := a.sub.Form(a.jar.Name)
		switch {
		case a.ammoniacal():
			high += grams * a.nitrogenAs(gas.NH3Mass, nh3PerSulfide)
		case a.in(reagent.CopperSalt) && err == nil:
			bound += grams * reagent.MassFraction(f.Formula, "Cu") / 63.546 * copperBound * gas.NH3Mass
		}
	}
	liters, _ := w.liters()
	b := gas.AmmoniaBath{LowG: measure.Grams(max(high-bound, high/20)), HighG: measure.Grams(min(high, 1e9)), Volume: liters, Temperature: cmp.Or(w.BathC, w.Recipe.Bath.Water.At), Surface: w.surface()}
	return b.Planned(room)
}

// ammonia returns the grams that the baths of the plan could lose by themselves, and those
// that their salts hold until an alkali from elsewhere frees them.
func (w work) ammonia() (free, bound float64) {
	agents := w.bathAgents()
	alkali := slices.ContainsFunc(agents, agent.alkaline)
	for _, a := range agents {
		grams := w.inPlan(a) * a.percent() * a.nitrogenAs(gas.NH3Mass, nh3PerSulfide)
		switch salt := a.known && a.in(reagent.AmmoniumSalt); {
		case a.ammoniacal(), salt && alkali:
			free += grams
		case salt:
			bound += grams
		}
	}
	return free, bound
}

// nitrous returns nitrogen dioxide from nitric acid on the metal, and from nitrates on
// hot metal. The salts are counted by the gram: nobody roasts a whole bath.
func (w work) nitrous(add func(name, code, scenario string, grams, molar float64)) {
	if w.any(of(reagent.OxidizingAcid)) {
		add(gas.NitrogenDioxide, "nitric-copper-1-g", "one gram of copper dissolved by strong nitric acid", no2PerCopper, gas.NO2Mass)
		if slices.Contains(families(w.Recipe, w.Alloy), "silver") {
			add(gas.NitrogenDioxide, "nitric-silver-1-g", "one gram of silver dissolved by nitric acid", no2PerSilver, gas.NO2Mass)
		}
	}
	for _, a := range w.agents {
		if !a.nitrate() || a.in(reagent.SilverSalt) {
			continue
		}
		yield := a.nitrogenAs(gas.NO2Mass, no2PerNitrate)
		add(gas.NitrogenDioxide, codeOf(a.id)+"-hot-1-g", "one gram of "+a.name+" on metal hot from a torch", yield, gas.NO2Mass)
	}
}

// codeOf keeps of an id what a code may have.
func codeOf(id string) string {
	return strings.Map(func(r rune) rune {
		if r == '-' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, strings.ToLower(id))
}
