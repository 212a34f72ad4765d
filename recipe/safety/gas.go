package safety

import (
	"hepar/recipe"
	"hepar/recipe/reagent"
)

// neverMeet names, for each family in the work, what it must never meet: first what of
// it stands in this very recipe.
func (w work) neverMeet(l *list) {
	sulfides := w.those(agent.sulfide)
	sour := w.those(agent.sour)
	if len(sulfides) > 0 {
		text := w.places(sulfides) + " must never meet an acid: no pickle, vinegar, lemon or citric acid, no bisulfate, no iron, copper or ammonium salt that is acid; not in a bath, a rinse, a basket, a sink, a drain or a waste bottle. Nor bleach, peroxide, chlorate, permanganate or a nitrate: heat, fire and more gas."
		if len(sour) > 0 {
			text += " This recipe has " + w.places(sour) + ": separate vessels, tongs, rinses and waste, set apart and labelled."
		}
		l.add(Point{Code: "never-meet-sulfide", Level: Caution, Text: text, Source: appendixV + "; ICSC 1047 (sodium sulfide)"})
	} else if w.Recipe.Kind == recipe.Stop {
		l.add(Point{
			Code: "never-meet-sulfide", Level: Caution, Source: appendixV,
			Text: "the pot that stands behind a sulfide bath holds sulfide: it must never meet an acid, nor a piece wet with one; not in a rinse, a sink, a drain or a waste bottle. Acid in it frees hydrogen sulfide.",
		})
	} else if len(sour) > 0 {
		l.add(Point{
			Code: "never-meet-acid", Level: Caution, Source: appendixV,
			Text: w.places(sour) + " must never meet liver of sulfur or another sulfide, nor pieces coloured by one, nor bleach; not in a rinse, a drain or a waste bottle either. Before a sulfide bath rinse twice, the second time in water with washing soda.",
		})
	}
	if as := w.those(of(reagent.Hypochlorite)); len(as) > 0 {
		l.add(Point{Code: "never-meet-hypochlorite", Level: Caution, Source: "ICSC 0482 (sodium hypochlorite)",
			Text: w.places(as) + " must never meet acid, ammonia, ammonium salts, sulfides, alcohol or acetone."})
	}
	if as := w.those(func(a agent) bool { return a.in(reagent.Ammonia, reagent.AmmoniumSalt) && !a.sulfide() }); len(as) > 0 {
		text := w.places(as) + " must never meet bleach."
		if strong := w.those(func(a agent) bool { return a.in(reagent.Ammonia) && !a.sulfide() }); len(strong) > 0 {
			text += " Keep " + names(strong) + " from silver salts as well, which make an explosive with it on standing."
		}
		l.add(Point{Code: "never-meet-ammonia-bleach", Level: Caution, Source: "state health department warnings on mixing cleaners",
			Text: text})
	}
	if as := w.those(func(a agent) bool { return a.in(reagent.Oxidizer) && !a.nitrate() && !a.in(reagent.Hypochlorite) }); len(as) > 0 {
		l.add(Point{Code: "never-meet-oxidizer-fuel", Level: Caution, Source: chemistry,
			Text: w.places(as) + " must not meet solvents, wax, rags, sulfur, sulfides or strong acid; not in the waste either."})
	}
}

// gases says which gases could come off and from what.
func (w work) gases(l *list) {
	if as := w.those(agent.sulfide); len(as) > 0 {
		text := "hydrogen sulfide could come off " + w.places(as) + ": at once where any acid gets in, slowly from a bath that is hot, old or below pH 10, and at the surface when powder or lumps meet damp."
		source := appendixV + "; ICSC 1047"
		if sum := w.freed(); sum != "" {
			text += " " + sum
			source += "; yield calculated from atomic weights"
		}
		l.add(Point{Code: "gas-hydrogen-sulfide", Level: Caution, Text: text, Source: source})
		l.add(Point{
			Code: "smell-is-no-detector", Level: Caution,
			Text:   "the nose gives out: hydrogen sulfide dulls the sense of smell from about 50 ppm and takes it away within minutes above about 100 ppm. Smell is no detector, neither when it is there nor when it is gone: only a meter tells, and no reading is a reason to go in.",
			Source: "CCOHS CHEMINFO record of hydrogen sulfide; New Jersey fact sheet 1017",
		})
	}
	if as := w.those(agent.ammoniacal); len(as) > 0 {
		open := ""
		if liquid := w.those(of(reagent.Ammonia)); len(liquid) > 0 {
			open += " Open the bottle of " + names(liquid) + " cold and under capture, and pour last."
		}
		if w.any(agent.smelling) {
			open += " Ammonium carbonate is a solid that smells of ammonia: open its jar under capture, weigh quickly, close it at once."
		}
		l.add(Point{Code: "gas-ammonia", Level: Caution, Source: "ICSC 0215 (ammonia solution)",
			Text: "ammonia comes off " + w.places(as) + ", the more the warmer: it bites eyes and lungs." + open + w.told("ammonia-all")})
	}
	if as := w.boundAmmonia(); len(as) > 0 {
		l.add(Point{Code: "gas-ammonia-alkali", Level: Caution, Source: "ammonium salts with an alkali, " + chemistry + "; amounts calculated",
			Text: names(as) + number(as, " gives", " give") + " off ammonia only when soda, caustic or another alkali gets in: none of these in the bath, its rinse or its waste, nor on the pieces." + w.told("ammonia-alkali")})
	}
	if as := w.those(of(reagent.OxidizingAcid)); len(as) > 0 {
		l.add(Point{Code: "gas-nitrogen-dioxide", Level: Caution, Source: "ICSC 0183 (nitric acid)",
			Text: "nitrogen dioxide, brown, comes off " + w.places(as) + " with metal or anything that burns; harm to the lungs shows hours later." + w.told("nitric-copper-1-g")})
	}
	if as := w.those(func(a agent) bool { return a.nitrate() && !a.in(reagent.SilverSalt) }); len(as) > 0 {
		l.add(Point{Code: "nitrates-hot", Level: Caution, Source: "laboratory information profile of cupric nitrate; amounts calculated",
			Text: names(as) + " on metal heated with a torch or above about 115 C" + number(as, " gives", " give") + " off nitrogen dioxide, from copper nitrate about 0.4 g for each gram: only under capture at the source or outdoors. Cloths and brushes wetted with " + number(as, "it", "them") + " burn once dry: soak them in water." + w.told(codeOf(as[0].id)+"-hot-1-g")})
	}
	if as := w.those(of(reagent.Hypochlorite)); len(as) > 0 {
		l.add(Point{Code: "gas-chlorine", Level: Caution, Source: "ICSC 0482 (sodium hypochlorite)",
			Text: "chlorine comes off " + w.places(as) + " with any acid, and chloramines with ammonia, for which no limit was found: they must not be made at all." + w.told("bleach-acid") + w.told("bleach-ammonia")})
	}
	if as := w.those(of(reagent.Thiosulfate)); len(as) > 0 {
		l.add(Point{Code: "gas-sulfur-dioxide", Level: Caution, Source: chemistry,
			Text: "sulfur dioxide comes off " + w.places(as) + " with any acid." + w.told("thiosulfate-acid")})
	}
	if as := w.those(agent.biting); len(as) > 0 {
		l.add(Point{Code: "acid-fumes", Level: Caution, Source: "ICSC 0163, 0183, 0362 and 0363 (acids), from memory",
			Text: "hot or strong acid gives off a biting vapour or mist: " + w.places(as) + ". Keep it no warmer than the recipe asks, and covered while nobody works in it."})
	}
	if as := w.those(of(reagent.Solvent)); len(as) > 0 {
		l.add(Point{Code: "solvent-vapour", Level: Caution, Source: "ICSC cards of acetone, ethanol and isopropanol, from memory",
			Text: "the vapour of " + names(as) + " catches fire at a distance: no torch, hotplate or spark near, and air moving through."})
	}
}
