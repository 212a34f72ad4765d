package waste

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hepar/recipe/bath/kinetics"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// The assumptions, and the films they speak of.
const (
	// FlakedShare is the share of the film that comes off into the bath. Assumed, no source.
	FlakedShare = 0.1
	// DissolvedNM is the metal that a pickle or an acid bath takes off, as a depth in nm.
	// Assumed, no source: it depends on the scale that is to come off.
	DissolvedNM = 1000.0
)

// metals are the elements that are looked for, with their names.
func metals() []struct{ symbol, name string } {
	return []struct{ symbol, name string }{
		{"Ag", "silver"}, {"Cu", "copper"}, {"Zn", "zinc"}, {"Ni", "nickel"}, {"Ba", "barium"},
		{"Se", "selenium"}, {"Bi", "bismuth"}, {"Fe", "iron"}, {"Mn", "manganese"},
	}
}

// bounds of a batch; beyond them it is a slip.
const (
	mostLiters   = 1e5
	mostGrams    = 1e7
	mostArea     = 1e8 // cm2
	mostDragOut  = 1e5 // mL/m2
	mostReagents = 50
)

// Content estimates what is in the bath after the work and in the rinses behind it.
//
// Sulfide is what acid would free as hydrogen sulfide, counted as sulfur: nothing is
// taken off for air, age or the film on the pieces. Metals are those of the reagents, by
// formula, and those that come off the pieces, by the assumptions. What is dragged out
// goes into the rinses at the strength of the bath.
//
// The volume must be above 0 L; the rest may be 0 but not negative. An error of kind Usage
// names the field, or a drag-out of more than the whole bath.
func Content(b Batch) (Estimate, error) {
	b.Assume = b.Assume.filled()
	dragged := float64(b.Area) / 1e4 * float64(b.DragOut) / 1000 // cm2 to m2, mL to L
	if err := b.check(dragged); err != nil {
		return Estimate{}, err
	}
	e := Estimate{BathL: float64(b.Volume) - dragged}
	r := content{volume: float64(b.Volume), e: &e}
	var has families
	for _, x := range b.Reagents {
		has.add(x.Substance)
		mass, ok := x.Mass()
		if !ok {
			r.notKnown("what " + x.Substance.Name + " adds: its density is not known")
			continue
		}
		r.sulfide(x, mass)
		r.weighedIn(x.Substance, x.Shelf, mass)
	}
	r.offThePieces(b, has)
	e.Bath = r.figures()
	if b.Rinses > 0 && dragged > 0 {
		e.RinseL = float64(b.Rinses) + dragged
		share := dragged / e.RinseL
		for _, f := range e.Bath {
			f.Working = fmt.Sprintf("(%s) x %s L dragged out / %s L", f.Working, figures(dragged), figures(e.RinseL))
			f.Expected, f.AtMost = f.Expected*share, f.AtMost*share
			e.Rinse = append(e.Rinse, f)
		}
	} else {
		e.RinseL = float64(b.Rinses)
	}
	return e, nil
}

func (a Assume) filled() Assume {
	pick := func(given, standard float64) float64 {
		if given == 0 {
			return standard
		}
		return given
	}
	return Assume{pick(a.FilmNM, kinetics.Silver.Film.NM), pick(a.FlakedShare, FlakedShare), pick(a.DissolvedNM, DissolvedNM)}
}

func (b Batch) check(dragged float64) error {
	if !(b.Volume > 0 && b.Volume <= mostLiters) {
		return fault.Usagef("a bath of %g L", float64(b.Volume)).Try("give the volume of the bath, above zero")
	}
	if len(b.Reagents) > mostReagents {
		return fault.Usagef("%d reagents in one bath", len(b.Reagents)).Try("give at most %d", mostReagents)
	}
	for _, x := range b.Reagents {
		if !(x.Shown >= 0 && x.Shown <= mostGrams) {
			return fault.Usagef("%g %s of %s", x.Shown, x.Unit(), measure.Clean(x.Substance.ID)).Try("give what went into the bath, zero or more")
		}
	}
	for _, x := range []struct {
		name      string
		is, most  float64
		unit, fix string
	}{
		{"metal", float64(b.Area), mostArea, "cm2", "the area of all pieces"},
		{"drag-out", float64(b.DragOut), mostDragOut, "mL/m2", "a figure such as 80 mL/m2"},
		{"rinse water", float64(b.Rinses), mostLiters, "L", "what is collected"},
		{"film", b.Assume.FilmNM, 1e5, "nm", "a thickness such as 200 nm"},
		{"film that comes off, as a share,", b.Assume.FlakedShare, 1, "", "a share from 0 to 1"},
		{"metal dissolved", b.Assume.DissolvedNM, 1e7, "nm", "a depth such as 1000 nm"},
	} {
		if !(x.is >= 0 && x.is <= x.most) {
			return fault.Usagef("%s of %g %s", x.name, x.is, x.unit).Try("give %s, zero or more", x.fix)
		}
	}
	if dragged >= float64(b.Volume) {
		return fault.Usagef("%s L are dragged out of a bath of %s L", figures(dragged), figures(float64(b.Volume))).
			Try("check the area and the drag-out; a bath is topped up long before that")
	}
	return nil
}

// families tells what sort of bath it is.
type families struct{ sulfide, acid, oxidizing bool }

func (h *families) add(s reagent.Substance) {
	h.sulfide = h.sulfide || s.In(reagent.Sulfide)
	h.acid = h.acid || s.In(reagent.Acid) || s.In(reagent.AcidSalt)
	h.oxidizing = h.oxidizing || s.In(reagent.OxidizingAcid)
}

// content gathers the grams of each element.
type content struct {
	volume float64
	parts  []part
	e      *Estimate
}

// part is what one source gives of one element, in g.
type part struct {
	element, name    string
	expected, atMost float64
	assumed          bool
	working, source  string
}

// figures sums the parts of each element, in mg per L of the bath as made up.
func (r *content) figures() []Figure {
	var out []Figure
	for _, p := range r.parts {
		i := slices.IndexFunc(out, func(f Figure) bool { return f.Element == p.element })
		if i < 0 {
			out, i = append(out, Figure{What: p.name, Element: p.element}), len(out)
		}
		f := &out[i]
		f.Expected += p.expected * 1000 / r.volume
		f.AtMost += max(p.atMost, p.expected) * 1000 / r.volume
		f.Assumed = f.Assumed || p.assumed
		f.Working = strings.TrimPrefix(f.Working+" + "+p.working, " + ")
		if !strings.Contains(f.Source, p.source) {
			f.Source = strings.TrimPrefix(f.Source+"; "+p.source, "; ")
		}
	}
	for i := range out {
		out[i].Working = fmt.Sprintf("(%s) / %s L", out[i].Working, figures(r.volume))
	}
	slices.SortStableFunc(out, func(a, b Figure) int { return cmp.Compare(rank(a.Element), rank(b.Element)) })
	return out
}

// rank puts sulfide first, then the metals in the order of [metals].
func rank(element string) int {
	return slices.IndexFunc(metals(), func(m struct{ symbol, name string }) bool { return m.symbol == element })
}

func (r *content) notKnown(text string) {
	if !slices.Contains(r.e.NotKnown, text) {
		r.e.NotKnown = append(r.e.NotKnown, text)
	}
}

func (r *content) assume(name string, value float64, unit string) {
	r.e.Assumptions = append(r.e.Assumptions, gas.In(name, value, unit, "assumed, no published source"))
}

func figures(x float64) string { return measure.Figures(x, 3) }
