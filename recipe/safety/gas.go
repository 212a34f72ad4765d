package safety

import (
	"fmt"

	"hepar/recipe"
	"hepar/recipe/measure"
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
		l.add(Point{Code: "never-meet-ammonia-bleach", Level: Caution, Source: "state health department warnings on mixing cleaners",
			Text: w.places(as) + " must never meet bleach; keep it from silver salts as well, which make an explosive with ammonia on standing."})
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
			source += "; yield calculated"
		}
		l.add(Point{Code: "gas-hydrogen-sulfide", Level: Caution, Text: text, Source: source})
		l.add(Point{
			Code: "smell-is-no-detector", Level: Caution,
			Text:   "the nose gives out: hydrogen sulfide dulls the sense of smell from about 50 ppm and takes it away within minutes above about 100 ppm. A meter with its alarm set to the limit you work by, tested that day, is what tells; no reading is a reason to go in.",
			Source: "CCOHS CHEMINFO record of hydrogen sulfide; New Jersey fact sheet 1017",
		})
	}
	if as := w.those(func(a agent) bool { return a.in(reagent.Ammonia) || a.is("ammonium-carbonate") }); len(as) > 0 {
		l.add(Point{Code: "gas-ammonia", Level: Caution, Source: "ICSC 0215 (ammonia solution)",
			Text: "ammonia comes off " + w.places(as) + ", the more the warmer: it bites eyes and lungs. Open the bottle cold and under capture, and pour last."})
	}
	if as := w.those(of(reagent.OxidizingAcid)); len(as) > 0 {
		l.add(Point{Code: "gas-nitrogen-dioxide", Level: Caution, Source: "ICSC 0183 (nitric acid)",
			Text: "nitrogen dioxide, brown, comes off " + w.places(as) + " with metal or anything that burns; harm to the lungs shows hours later."})
	}
	if as := w.those(func(a agent) bool { return a.nitrate() && !a.is("silver-nitrate") }); len(as) > 0 {
		l.add(Point{Code: "nitrates-hot", Level: Caution, Source: "laboratory information profile of cupric nitrate; amounts calculated",
			Text: names(as) + " on metal heated with a torch or above about 115 C gives off nitrogen dioxide, from copper nitrate about 0.4 g for each gram: only under capture at the source or outdoors. Cloths and brushes wetted with it burn once dry: soak them in water."})
	}
	if as := w.those(of(reagent.Hypochlorite)); len(as) > 0 {
		l.add(Point{Code: "gas-chlorine", Level: Caution, Source: "ICSC 0482 (sodium hypochlorite)",
			Text: "chlorine comes off " + w.places(as) + " with any acid, and chloramines with ammonia: neither may happen."})
	}
	if as := w.those(of(reagent.Thiosulfate)); len(as) > 0 {
		l.add(Point{Code: "gas-sulfur-dioxide", Level: Caution, Source: chemistry,
			Text: "sulfur dioxide comes off " + w.places(as) + " with any acid."})
	}
	if as := w.those(named("hydrochloric-acid", "nitric-acid", "acetic-acid", "sodium-bisulfate", "sulfuric-acid", "pickle-acid")); len(as) > 0 {
		l.add(Point{Code: "acid-fumes", Level: Caution, Source: "ICSC 0163, 0183, 0362 and 0363 (acids), from memory",
			Text: "hot or strong acid gives off a biting vapour or mist: " + w.places(as) + ". Keep it no warmer than the recipe asks, and covered while nobody works in it."})
	}
	if as := w.those(of(reagent.Solvent)); len(as) > 0 {
		l.add(Point{Code: "solvent-vapour", Level: Caution, Source: "ICSC cards of acetone, ethanol and isopropanol, from memory",
			Text: "the vapour of " + names(as) + " catches fire at a distance: no torch, hotplate or spark near, and air moving through."})
	}
}

// freed gives the hydrogen sulfide that acid would free from the whole bath, or from each
// liter of it, by the upper yield of each substance.
func (w work) freed() string {
	total, whole := 0.0, len(w.ReagentG) > 0
	for _, g := range w.Recipe.Bath.Reagents {
		a := lookup(g.Substance, g.Form)
		if !a.sulfide() || !a.known {
			continue
		}
		yield, density := a.sub.GasGramsPerGram, 0.0
		if f, err := a.sub.Form(g.Form); err == nil {
			density = float64(f.Density)
			if f.GasUpper > 0 {
				yield = f.GasUpper
			}
		}
		grams := float64(w.ReagentG[g.Substance])
		if !whole {
			grams = g.Concentration.To
			if g.Unit == "mL/L" {
				grams *= density
			}
			if w.Bath > 0 {
				grams *= float64(w.Bath)
			}
		}
		total += grams * yield
	}
	if !(total > 0) || total > 1e9 {
		return ""
	}
	from := "each liter of this bath"
	if whole || w.Bath > 0 {
		from = "the bath of this batch"
	}
	ppm := total * 1000 / roomM3 / mgPerM3PerPPM
	return fmt.Sprintf("Fully acidified, %s would free up to %s g of it. Mixed evenly into a closed room of 30 m3 that would be about %s ppm, right within a factor of five at best, and far more near the bench: only a meter tells.",
		from, measure.Figures(total, 2), measure.Figures(ppm, 2))
}

// roomM3 is the small workshop that the review takes for scale, 30 m3: an example, not
// a figure of any room.
const roomM3 = 30.0

// mgPerM3PerPPM turns ppm of hydrogen sulfide into mg/m3 at 25 C and 101.325 kPa:
// 34.08/24.45. Source: footnote to 29 CFR 1910.1000 Table Z-1 (molar volume 24.45 L).
const mgPerM3PerPPM = 1.394
