package safety

import (
	"cmp"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/reagent"
)

// emergency returns the three lines that come first and stay in sight.
func (w work) emergency() []string {
	long := "for at least 15 minutes"
	if w.sulfidic() || w.any(of(reagent.Caustic, reagent.Ammonia, reagent.Hypochlorite)) {
		long = "for 30 minutes"
	}
	return []string{
		"Gas, or a person falls: go out, upwind, shut the door, call the emergency number. Do not go back in without breathing apparatus.",
		"Eyes: rinse at once " + long + ", lids open, contact lenses out if that is easy; call for help. Skin: rinse with water, take the clothes off.",
		"No breath: use a bag or a pocket mask, never mouth to mouth. Swallowed: rinse the mouth, do not cause vomiting, call poison control with the SDS in hand.",
	}
}

type rule struct {
	code, text, source string
	when               func(work) bool
}

func holds(as func(agent) bool) func(work) bool {
	return func(w work) bool { return w.any(as) }
}

func has(groups ...reagent.Group) func(work) bool { return holds(of(groups...)) }

func step(do ...string) func(work) bool {
	return func(w work) bool {
		return slices.ContainsFunc(w.vessels, func(v vessel) bool { return slices.Contains(do, v.do) })
	}
}

// said tells whether a step names one of the words, in its text or among its tools.
func said(words ...string) func(work) bool {
	return func(w work) bool {
		return slices.ContainsFunc(w.Recipe.Steps, func(s recipe.Step) bool {
			text := strings.ToLower(strings.Join(append(s.Tools, s.How, s.Note, s.With), " "))
			return slices.ContainsFunc(words, func(word string) bool { return strings.Contains(text, word) })
		})
	}
}

func person(is func(Person) bool) func(work) bool {
	return func(w work) bool { return slices.ContainsFunc(w.Persons, is) }
}

// rules are the lines to read, in the order of the work: one or two sentences each, and no two
// that contradict each other in one review.
var rules = []rule{
	{"smell", "Smell is no detector: hydrogen sulfide deadens the nose within minutes above about 100 ppm. Only the meter counts.", "CCOHS CHEMINFO record of hydrogen sulfide; New Jersey fact sheet 1017", work.sulfidic},
	{"gas-burns", "Hydrogen sulfide burns, from 4 percent in air: no flame at a lid, a drum or a bath that has turned acid.", "ICSC 0165 (hydrogen sulfide), from memory", work.sulfidic},
	{"lid", "Gas gathers under a lid, far above the room: lift it under the capture, away from you, face to the side.", "equilibrium over water (Millero 1988; Sander 2023), calculated", func(w work) bool { return w.bathHas(sulfide) }},
	{"hydrogen", "Metal in the hot bath gives off hydrogen: no flame, a wide open vessel, and never a closed can for the waste.", chemistry, func(w work) bool { return slices.Contains(w.Recipe.Hazards.Gas, hydrogen) }},
	{"ph-falls", "A bath loses about one unit of pH between 25 and 75 C: read it hot. Bicarbonate does not keep the pH up; washing soda does.", "Millero 1988, calculated", func(w work) bool { return w.sulfidic() && !w.selfAlkaline() && w.Recipe.Bath.Water.To > 30 }},
	{"own-alkali", "Ammonium sulfide gives off gas all the time: cold, lid on between baskets. Alkali in it frees ammonia.", practice, work.selfAlkaline},
	{"ammonia", "Open and pour ammonia cold, under the capture, in the order of the sheet; put its cap back on at once.", "ICSC 0215 (ammonia solution)", holds(func(a agent) bool {
		return a.in(reagent.Ammonia) && !sulfide(a)
	})},
	{"carbonate-smells", "Ammonium carbonate smells of ammonia as a solid: open and weigh it under the capture.", practice, holds(smelling)},
	{"ammonium-alkali", "Soda or any other alkali frees ammonia from ammonium salts: rinse one off before the other.", chemistry, func(w work) bool {
		return w.any(of(reagent.AmmoniumSalt)) && !w.any(of(reagent.Ammonia)) && w.any(of(reagent.Alkali, reagent.Caustic))
	}},
	{"season-cracking", "Stressed brass cracks in ammonia, days later: anneal bent, drawn or spun pieces first.", "season cracking of brass, general metallurgy, from memory", func(w work) bool {
		return (w.any(of(reagent.Ammonia)) || w.any(smelling)) && slices.Contains(families(w.Recipe, w.Alloy), "brass")
	}},
	{"acid-into-water", "Acid goes into water, slowly, never water into acid.", chemistry, has(reagent.Acid, reagent.OxidizingAcid)},
	{"pickle", "Tongs, wire and baskets in a pickle are copper, plastic or wood, never steel. Hot, it gives off acid mist: do not lean over it, and cover it when you leave.", practice, holds(acid)},
	{"quench", "Never put red-hot metal into pickle: it spits acid. Let it cool in water or air first.", practice, func(w work) bool { return w.any(acid) && step("heat")(w) }},
	{"nitric", "Nitric fume harms the lungs hours later, without pain first. Nitric waste never meets solvent, oil or rag, and its cap is vented.", "ICSC 0183 (nitric acid)", has(reagent.OxidizingAcid)},
	{"nitrates", "Nitrates on hot metal give off brown fume, which harms the lungs hours later; cloths wetted with them burn once dry: soak them in water.", "laboratory profile of copper nitrate", holds(nitrate)},
	{"bleach", "Bleach frees chlorine with acid and chloramine with ammonia. Vented cap.", "ICSC 0482 (sodium hypochlorite)", has(reagent.Hypochlorite)},
	{"silver-salt", "Silver salts stain skin black and explode when they are kept with ammonia. Waste the same day, apart.", "histology laboratory safety pages", has(reagent.SilverSalt)},
	{"copper-salt", "Copper salts harm when swallowed and kill what lives in water: no dust, no drain.", "CLP Annex VI, from memory", has(reagent.CopperSalt, reagent.HeavyMetal)},
	{"thiosulfate", "Acid frees sulfur dioxide from thiosulfate.", chemistry, has(reagent.Thiosulfate)},
	{"caustic", "Caustic goes into cold water, little by little; it gets hot and spits.", chemistry, has(reagent.Caustic)},
	{"solvent", "Solvent vapour catches fire at a distance: while it is open no flame, hot plate or spark in the room, air moving at the floor.", "ICSC cards of acetone and ethanol, from memory", has(reagent.Solvent)},
	{"oil-rags", "Rags with linseed or another drying oil heat up by themselves: spread them flat outdoors or soak them in water.", "fire service advice on oily rags, from memory", holds(dryingOil)},
	{"hot-bath", "The bath scalds and steams: steady wide vessel, cables and sleeves clear, mixed in the order of the sheet, never boiling, never unwatched.", practice, func(w work) bool { return w.Recipe.Bath.Water.To >= scalding }},
	{"spray", "Do not breathe spray mist: use a booth, or work outdoors with the wind from behind and no person downwind.", practice, func(w work) bool { return w.Recipe.Kind == recipe.Sprayed }},
	{"torch", "With a flame: extinguisher at hand, the capture on before the metal is hot, no lacquer or solvent until it is cold.", practice, step("heat")},
	{"dust", "Do not breathe dust from pumice and buffing: work wet, or with dust capture. No sand in a blaster: it is silica.", "OSHA silica standard 29 CFR 1910.1053", said("pumice", "blast", "abras", "wheel", "sand", "brass brush")},
	{"ultrasonic", "An ultrasonic tank takes water with detergent, no ammonia and no solvent, and no stones that crack.", practice, said("ultrasonic")},
	{"hollow", "Hollow pieces hold liquid and spit when warmed: vent hole first, flush long, dry warm.", practice, func(w work) bool { return w.tubes() || w.having(trapping) != "" }},
	{"enamel", "Enamel and glass crack between hot and cold: warm and cool them slowly, or keep them out.", practice, func(w work) bool { return w.having(glass|cracks) != "" }},
	{"no-smell", "A helper without a sense of smell has no warning at all: that person wears the meter.", practice, person(func(p Person) bool { return p.NoSmell })},
	{"pregnant", "Pregnant or nursing: ask the doctor with the SDS before this work.", practice, person(func(p Person) bool { return p.Pregnant })},
	{"lungs", "With asthma or weak lungs these gases act sooner: ask the doctor before this work.", practice, person(func(p Person) bool { return p.Lungs })},
	{"new", "New to this work: do the first batch together with a person who knows it.", practice, person(func(p Person) bool { return p.New })},
	{"gloves", "Gloves: those the SDS names, and no latex: it lets sulfide through. Wash your hands before eating; no food at the bench.", practice, work.sulfidic},
	{"gloves", "Gloves: those the SDS names. Wash your hands before eating; no food at the bench.", practice, func(w work) bool { return !w.sulfidic() }},
	{"waste-sulfide", "Bath and its rinses go into a labelled drum that never held acid. Never neutralise a sulfide bath with acid.", appendixV, work.leavesSulfide},
	{"waste-acid", "Used pickle carries copper: a drum of its own, apart from sulfide, cap on loosely until it is quiet.", practice, func(w work) bool { return w.any(acid) && !w.leavesSulfide() }},
	{"waste", "Ask the local authority what may go where. The SDS decides over every line here.", hazcom, func(w work) bool { return true }},
}

func (w work) read() []Line {
	var out []Line
	for _, r := range rules {
		if r.when(w) {
			out = append(out, Line{r.code, r.text, r.source})
		}
	}
	return out
}

// dryingOil tells whether rags with it heat up and take fire by themselves.
func dryingOil(a agent) bool { return a.in(reagent.Fuel) && strings.HasSuffix(a.name, " oil") }

func (w work) substances() []Line {
	list := []Line{}
	for _, a := range w.agents {
		if a.sub.ID == "" {
			continue
		}
		codes := strings.TrimSpace(a.sub.Signal + " " + strings.Join(a.sub.HCodes, " "))
		if codes == "" {
			codes = "none in the family default, which is no reason to skip the data sheet"
		}
		text := strings.TrimRight(a.name+": "+strings.Join(a.sub.Hazards, "; "), ". :") + ". Codes: " + codes + "; take them from your own SDS."
		if a.sub.Evidence != reagent.Opened {
			text += " Not verified here (" + a.sub.Evidence + ")."
		}
		if a.sub.Storage != "" {
			text += " Store: " + strings.TrimSuffix(a.sub.Storage, ".") + "."
		}
		if a.sub.Gloves != "" {
			text += " Gloves: " + strings.TrimSuffix(a.sub.Gloves, ".") + "."
		}
		list = append(list, Line{"substance-" + a.id, plain(text), cmp.Or(a.sub.Source, practice)})
	}
	return list
}
