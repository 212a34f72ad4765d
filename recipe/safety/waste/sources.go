package waste

import (
	"fmt"

	"hepar/recipe/bath/kinetics"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// sulfide adds what acid would free from a substance, counted as sulfur.
func (r *content) sulfide(x reagent.Amount, mass measure.Grams) {
	s, form := x.Substance, x.Shelf
	if !s.In(reagent.Sulfide) || mass == 0 {
		return
	}
	upper, expected, err := reagent.GasFreed(s, form, mass)
	if err != nil {
		r.notKnown("the sulfide of " + s.Name)
		return
	}
	r.parts = append(r.parts, part{
		element: "S", name: "sulfide, counted as sulfur",
		expected: float64(expected) / reagent.H2SPerSulfur, atMost: float64(upper) / reagent.H2SPerSulfur,
		working: fmt.Sprintf("%s g of %s (%s) x %s to %s g H2S/g / %s", figures(float64(mass)), s.Name, form.Name,
			figures(float64(expected/mass)), figures(float64(upper/mass)), figures(reagent.H2SPerSulfur)),
		source: "gas freed by acid in excess: " + form.Source,
	})
	if form.StrengthUnknown && x.Percent == 0 {
		r.notKnown("the strength of " + s.Name + " (" + form.Name + "): counted as if it were the solid")
	}
}

// weighedIn adds the metals of a substance, by its formula.
func (r *content) weighedIn(s reagent.Substance, form reagent.Form, mass measure.Grams) {
	metallic := s.In(reagent.CopperSalt) || s.In(reagent.SilverSalt) || s.In(reagent.AcidSalt)
	if form.Formula == "" || form.MassPercent <= 0 {
		if metallic && mass > 0 {
			r.notKnown("the metal in " + s.Name)
		}
		return
	}
	for _, m := range metals() {
		share, err := reagent.MassFraction(form.Formula, m.symbol)
		if err != nil || share == 0 || mass == 0 {
			continue
		}
		share *= form.MassPercent / 100
		grams := share * float64(mass)
		r.parts = append(r.parts, part{
			element: m.symbol, name: m.name, expected: grams, atMost: grams,
			working: fmt.Sprintf("%s g of %s x %s", figures(float64(mass)), form.Formula, figures(share)),
			source:  "share by formula, IUPAC 2021 atomic weights; all of it still in the bath",
		})
	}
}

// offThePieces adds the metal that comes off: as flakes of film in a sulfide bath, as
// salts in an acid one. Both rest on assumptions.
func (r *content) offThePieces(b Batch, has families) {
	if b.Area <= 0 || !has.sulfide && !has.acid && !has.oxidizing {
		return
	}
	if len(b.Alloy.Composition) == 0 || !(b.Alloy.Density > 0) {
		r.notKnown("the metal that comes off the pieces: their alloy is not given or its composition not known")
		return
	}
	if has.sulfide {
		r.assume("film on the pieces", b.Assume.FilmNM, "nm")
		r.assume("share of the film that comes off", b.Assume.FlakedShare, "")
		r.flakes(b, "Ag", "silver", kinetics.Silver.Film)
		r.flakes(b, "Cu", "copper", kinetics.Copper.Film)
	}
	if has.acid || has.oxidizing {
		r.assume("metal dissolved, as a depth", b.Assume.DissolvedNM, "nm")
		for _, m := range metals() {
			share := b.Alloy.Composition[m.symbol]
			// Silver is counted for oxidising acids only: common practice, no published source.
			if share <= 0 || m.symbol == "Ag" && !has.oxidizing {
				continue
			}
			grams := float64(b.Area) * b.Assume.DissolvedNM * 1e-7 * float64(b.Alloy.Density) * share
			r.off(m.symbol, m.name, grams, fmt.Sprintf("%s cm2 x %s nm of %s x %s g/cm3 x %s %s assumed dissolved",
				figures(float64(b.Area)), figures(b.Assume.DissolvedNM), b.Alloy.Name, figures(float64(b.Alloy.Density)), figures(share), m.symbol),
				"assumed depth; density and composition of the alloy from the table of metals")
		}
	}
}

// flakes adds the metal in the film that comes off. The film is taken for the sulfide of
// each metal in its share of the alloy.
func (r *content) flakes(b Batch, element, name string, film kinetics.Film) {
	share := b.Alloy.Composition[element]
	inFilm, err := reagent.MassFraction(film.Name, element)
	if share <= 0 || err != nil {
		return
	}
	grams := float64(b.Area) * b.Assume.FilmNM * 1e-7 * float64(film.Density) * inFilm * share * b.Assume.FlakedShare
	r.off(element, name, grams, fmt.Sprintf("%s cm2 x %s nm of %s x %s g/cm3 x %s %s x %s of the alloy x %s assumed to come off",
		figures(float64(b.Area)), figures(b.Assume.FilmNM), film.Name, figures(float64(film.Density)), figures(inFilm), element, figures(share), figures(b.Assume.FlakedShare)),
		"assumed film; density of "+film.Name+" from memory, composition by IUPAC 2021 atomic weights")
}

// off adds an assumed part with its factor.
func (r *content) off(element, name string, grams float64, working, source string) {
	if grams <= 0 {
		return
	}
	r.parts = append(r.parts, part{
		element: element, name: name, expected: grams, atMost: grams * gas.Factor, assumed: true, working: working, source: source,
	})
}
