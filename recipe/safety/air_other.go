package safety

import (
	"slices"
	"strings"

	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// What comes off by stoichiometry, in g of gas for each g. From IUPAC 2021 atomic
// weights; each is an upper bound.
const (
	no2PerCopper    = 2 * 46.005 / 63.546   // Cu + 4 HNO3 -> 2 NO2, strong acid: 1.45
	no2PerSilver    = 46.005 / 107.8682     // Ag + 2 HNO3 -> NO2: 0.43
	nh3PerCarbonate = 2 * 17.031 / 96.086   // (NH4)2CO3: 0.35
	nh3PerSulfide   = 2 * 17.031 / 68.138   // (NH4)2S: 0.50
	nh3PerChloride  = 17.031 / 53.489       // NH4Cl with an alkali: 0.32
	nh3PerSulfate   = 2 * 17.031 / 132.134  // (NH4)2SO4 with an alkali: 0.26
	chloraminePer   = 51.473 / 74.4388      // NaOCl + NH3 -> NH2Cl, each g of NaOCl: 0.69
	chlorinePer     = 70.90 / 74.4388       // NaOCl + 2 HCl -> Cl2, each g of NaOCl: 0.95
	no2PerCuNitrate = 2 * 46.005 / 241.599  // Cu(NO3)2.3H2O on hot metal: 0.38
	no2PerFeNitrate = 3 * 46.005 / 403.992  // Fe(NO3)3.9H2O: 0.34
	no2PerBiNitrate = 3 * 46.005 / 485.0674 // Bi(NO3)3.5H2O: 0.28
	no2PerNitrate   = 46.005 / 62.004       // each g of nitrate ion, the most a nitrate can give: 0.74
	so2PerHypo      = 64.058 / 248.1715     // Na2S2O3.5H2O with acid: 0.26
	bleachSpillG    = 100.0                 // g of bleach taken for scale where no amount is known; assumed
)

// otherGases estimates ammonia, nitrogen dioxide, chlorine, chloramine and sulfur dioxide
// where the work could make them, in the room as filled.
func (w work) otherGases(room gas.Room) ([]gas.Estimate, error) {
	var list []gas.Estimate
	var failed error
	add := func(name, code, scenario string, grams, molar float64) {
		if !(grams > 0) {
			return
		}
		limits, err := gas.With(name, w.Limits)
		if err != nil {
			failed = err
			return
		}
		low, _ := gas.Lowest(limits)
		list = append(list, gas.Loss(name, code, scenario, measure.Grams(min(grams, 1e9)), molar, room, low.Value))
	}
	add(gas.Ammonia, "ammonia-all", "all the ammonia of the bath driven off, at most", w.ammonia(), gas.NH3Mass)
	add(gas.Ammonia, "ammonia-alkali", "only with soda, caustic or another alkali in the bath: all the ammonia of its ammonium salts driven off, at most", w.ammoniaBound(), gas.NH3Mass)
	w.nitrous(add)
	bleach, of100 := w.bleach()
	if bleach > 0 {
		scale := ""
		if of100 {
			scale = ", 100 g of it for scale"
		}
		add(gas.Chlorine, "bleach-acid", "acid on the bleach"+scale+", at most", bleach*chlorinePer, gas.Cl2Mass)
		if w.any(func(a agent) bool { return a.in(reagent.Ammonia, reagent.AmmoniumSalt) }) {
			add(gas.Chloramine, "bleach-ammonia", "ammonia on the bleach"+scale+", which must not happen at all", bleach*chloraminePer, gas.ChloramineMass)
		}
	}
	hypo := 0.0
	for _, a := range w.bathAgents() {
		if a.in(reagent.Thiosulfate) {
			hypo += w.inBath(a)
		}
	}
	add(gas.SulfurDioxide, "thiosulfate-acid", "acid on the thiosulfate of the bath, at most", hypo*so2PerHypo, gas.SO2Mass)
	return list, failed
}

// percent is the solute in a form, from 0 to 1; 1 where it is not known.
func (a agent) percent() float64 {
	if f, err := a.sub.Form(a.form); err == nil && f.MassPercent > 0 {
		return f.MassPercent / 100
	}
	return 1
}

// ammonia gives the grams of ammonia that the bath could lose by itself. The salts that
// hold it count where an alkali stands in the bath with them.
func (w work) ammonia() float64 {
	sum := 0.0
	for _, a := range w.bathAgents() {
		grams := w.inBath(a) * a.percent()
		switch {
		case a.is("ammonia"):
			sum += grams
		case a.is("ammonium-carbonate"):
			sum += grams * nh3PerCarbonate
		case a.is("ammonium-sulfide", "ammonium-polysulfide"):
			sum += grams * nh3PerSulfide
		}
	}
	if w.alkaliInBath() {
		sum += w.bound()
	}
	return sum
}

// ammoniaBound gives the grams of ammonia that only an alkali from elsewhere would free.
func (w work) ammoniaBound() float64 {
	if w.alkaliInBath() {
		return 0
	}
	return w.bound()
}

// alkaliInBath tells whether an alkali stands in the bath itself.
func (w work) alkaliInBath() bool { return slices.ContainsFunc(w.bathAgents(), agent.alkaline) }

// bound gives the ammonia, in g, of the salts of the bath that hold it.
func (w work) bound() float64 {
	sum := 0.0
	for _, a := range w.bathAgents() {
		grams := w.inBath(a) * a.percent()
		switch {
		case a.is("ammonium-chloride"):
			sum += grams * nh3PerChloride
		case a.is("ammonium-sulfate"):
			sum += grams * nh3PerSulfate
		}
	}
	return sum
}

// boundAmmonia gives the salts of the bath from which only an alkali frees ammonia; none
// where one stands in the bath with them.
func (w work) boundAmmonia() []agent {
	if w.alkaliInBath() {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(w.bathAgents()), func(a agent) bool {
		return !a.is("ammonium-chloride", "ammonium-sulfate")
	})
}

// nitrous gives nitrogen dioxide from nitric acid on the metal, and from nitrates on
// hot metal. The salts are counted by the gram: nobody roasts a whole bath.
func (w work) nitrous(add func(name, code, scenario string, grams, molar float64)) {
	if w.any(of(reagent.OxidizingAcid)) {
		add(gas.NitrogenDioxide, "nitric-copper-1-g", "one gram of copper dissolved by strong nitric acid", no2PerCopper, gas.NO2Mass)
		if w.Alloy != nil && w.Alloy.Family == "silver" || w.Alloy == nil && slices.ContainsFunc(w.Recipe.Alloys, func(n string) bool { return family(n) == "silver" }) {
			add(gas.NitrogenDioxide, "nitric-silver-1-g", "one gram of silver dissolved by nitric acid", no2PerSilver, gas.NO2Mass)
		}
	}
	for _, a := range w.agents {
		if !a.nitrate() || a.in(reagent.SilverSalt) {
			continue
		}
		yield := no2PerNitrate
		switch a.id {
		case "copper-nitrate":
			yield = no2PerCuNitrate
		case "ferric-nitrate":
			yield = no2PerFeNitrate
		case "bismuth-nitrate":
			yield = no2PerBiNitrate
		}
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

// bleach gives the grams of hypochlorite in the work, and whether 100 g of bleach were
// taken for want of an amount.
func (w work) bleach() (grams float64, scaled bool) {
	for _, a := range w.agents {
		if !a.in(reagent.Hypochlorite) {
			continue
		}
		g := w.inBath(a)
		if !(g > 0) {
			g, scaled = bleachSpillG, true
		}
		grams += g * a.percent()
	}
	return grams, scaled
}
