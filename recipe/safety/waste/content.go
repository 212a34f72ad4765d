package waste

import (
	"slices"
	"strings"

	"hepar/recipe/bath/kinetics"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// Batch is what went into and through a bath.
type Batch struct {
	Volume   measure.Liters                // of the bath as made up
	Reagents []reagent.Amount              // as weighed and poured
	Area     measure.SquareCM              // of all the metal that went through it; 0 where none or not known
	DragOut  measure.MillilitersPerSquareM // bath that clings to the metal, per area; 0 where not known
	Alloy    metal.Alloy                   // of the pieces; its composition and density are used
}

// The assumptions.
const (
	// FlakedShare is the share of the film that comes off into the bath. Assumed, no source.
	FlakedShare = 0.1
	// DissolvedNM is the depth in nm that a pickle or an acid bath takes off; it depends on
	// the scale. Assumed, no source.
	DissolvedNM = 1000.0
)

// elements are what is looked for: sulfur, then metals.
var elements = []Figure{
	{What: "sulfide as S", Element: "S"}, {What: "silver", Element: "Ag"}, {What: "copper", Element: "Cu"}, {What: "zinc", Element: "Zn"},
	{What: "nickel", Element: "Ni"}, {What: "barium", Element: "Ba"}, {What: "selenium", Element: "Se"}, {What: "bismuth", Element: "Bi"},
	{What: "iron", Element: "Fe"}, {What: "manganese", Element: "Mn"},
}

// most is the largest figure of a batch; beyond it is a slip.
const most = 1e8

// Content estimates what is in the bath after the work.
//
// Sulfide is what acid would free as hydrogen sulfide, counted as sulfur: nothing is taken off
// for air, age or the film on the pieces. Metals are those of the reagents, by formula (IUPAC
// 2021 atomic weights), and those that come off the pieces, by the assumptions.
//
// The volume must be above 0 L; the rest may be 0 but not negative. An error of kind Usage
// names the field, or a drag-out of more than the whole bath.
func Content(b Batch) (Estimate, error) {
	if err := b.check(); err != nil {
		return Estimate{}, err
	}
	c := content{b, Estimate{BathL: b.Volume - b.dragged(), Bath: slices.Clone(elements)}}
	for _, x := range b.Reagents {
		mass, ok := x.Mass()
		if !ok {
			c.notKnown("what " + x.Substance.Name + " adds: its density is not known")
			continue
		}
		c.sulfide(x, mass)
		c.weighedIn(x, float64(mass))
	}
	c.offThePieces()
	c.Bath = slices.DeleteFunc(c.Bath, func(f Figure) bool { return f.Source == "" })
	return c.Estimate, nil
}

func (b Batch) dragged() measure.Liters {
	return measure.Liters(float64(b.Area) / 1e4 * float64(b.DragOut) / 1000) // cm2 to m2, mL to L
}

func (b Batch) check() error {
	figures := []float64{float64(b.Area), float64(b.DragOut)}
	for _, x := range b.Reagents {
		figures = append(figures, x.Shown)
	}
	for _, x := range figures {
		if !(x >= 0 && x <= most) {
			return fault.Usagef("an amount of %g in the bath is out of range", x).Try("give grams, mL, cm2 and mL/m2 from 0 to %g", most)
		}
	}
	if !(b.Volume > b.dragged() && b.Volume <= most) {
		return fault.Usagef("%s L are dragged out of a bath of %s L", measure.Figures(float64(b.dragged()), 3), measure.Figures(float64(b.Volume), 3)).
			Try("check the volume, the area and the drag-out; a bath is topped up long before that")
	}
	return nil
}

type content struct {
	Batch
	Estimate
}

func (c *content) notKnown(text string) {
	if !slices.Contains(c.NotKnown, text) {
		c.NotKnown = append(c.NotKnown, text)
	}
}

// add counts grams of an element, in mg per L of the bath as made up.
func (c *content) add(element string, expected, atMost float64, assumed bool, source string) {
	f := &c.Bath[slices.IndexFunc(c.Bath, func(f Figure) bool { return f.Element == element })]
	if !strings.Contains(f.Source, source) {
		f.Source = strings.TrimPrefix(f.Source+"; "+source, "; ")
	}
	perL := 1000 / float64(c.Volume)
	f.Expected, f.AtMost, f.Assumed = f.Expected+expected*perL, f.AtMost+max(atMost, expected)*perL, f.Assumed || assumed
}

// sulfide adds what acid would free from a substance, counted as sulfur.
func (c *content) sulfide(x reagent.Amount, mass measure.Grams) {
	s, form := x.Substance, x.Shelf
	if !s.In(reagent.Sulfide) || mass == 0 {
		return
	}
	upper, expected, ok := form.GasFreed(mass)
	if !ok {
		c.notKnown("the sulfide of " + s.Name)
		return
	}
	c.add("S", float64(expected)/reagent.H2SPerSulfur, float64(upper)/reagent.H2SPerSulfur, false, "gas freed by acid in excess: "+form.Source)
	if form.StrengthUnknown && x.Percent == 0 {
		c.notKnown("the strength of " + s.Name + " (" + form.Name + "): counted as if it were the solid")
	}
}

func (c *content) weighedIn(x reagent.Amount, grams float64) {
	s, form := x.Substance, x.Shelf
	if form.Formula == "" || form.MassPercent <= 0 {
		if grams > 0 && (s.In(reagent.CopperSalt) || s.In(reagent.SilverSalt) || s.In(reagent.AcidSalt)) {
			c.notKnown("the metal in " + s.Name)
		}
		return
	}
	for _, m := range elements[1:] {
		if share := reagent.MassFraction(form.Formula, m.Element); share*grams > 0 {
			metal := share * form.MassPercent / 100 * grams
			c.add(m.Element, metal, metal, false, "share by formula, IUPAC 2021 atomic weights; all of it still in the bath")
		}
	}
}

// offThePieces adds the metal that comes off, by the assumptions: flakes of film, or salts.
func (c *content) offThePieces() {
	holds := func(groups ...reagent.Group) bool {
		return slices.ContainsFunc(c.Reagents, func(x reagent.Amount) bool { return slices.ContainsFunc(groups, x.Substance.In) })
	}
	sulfide, oxidizing := holds(reagent.Sulfide), holds(reagent.OxidizingAcid)
	acid := oxidizing || holds(reagent.Acid, reagent.AcidSalt)
	if c.Area <= 0 || !sulfide && !acid {
		return
	}
	if len(c.Alloy.Composition) == 0 || !(c.Alloy.Density > 0) {
		c.notKnown("the metal that comes off the pieces: their alloy is not given or its composition not known")
		return
	}
	off := func(element string, nm float64, density measure.GramsPerCM3, share float64, source string) {
		if grams := float64(c.Area) * nm * 1e-7 * float64(density) * share; grams > 0 { // nm to cm
			c.add(element, grams, grams*gas.Factor, true, source)
		}
	}
	if sulfide { // the film is the sulfide of each metal in its share of the alloy
		for element, finish := range map[string]kinetics.Prior{"Ag": kinetics.Silver, "Cu": kinetics.Copper} {
			off(element, kinetics.Silver.Film.NM, finish.Film.Density, reagent.MassFraction(finish.Film.Name, element)*c.Alloy.Composition[element]*FlakedShare,
				"assumed film; density of "+finish.Film.Name+" from memory, composition by IUPAC 2021 atomic weights")
		}
	}
	for _, m := range elements[1:] {
		// Silver is counted for oxidising acids only: common practice, no published source.
		if acid && (m.Element != "Ag" || oxidizing) {
			off(m.Element, DissolvedNM, c.Alloy.Density, c.Alloy.Composition[m.Element], "assumed depth; density and composition of the alloy from the table of metals")
		}
	}
}

// Figure is one element in the bath, in mg/L: both figures finite, not negative, AtMost no
// less.
type Figure struct {
	What             string // "sulfide as S"
	Element          string // "S", "Ag"
	Expected, AtMost float64
	Assumed          bool // rests on an assumption: off by a factor of five either way
	Source           string
}

// Estimate is the outcome.
type Estimate struct {
	BathL    measure.Liters // left in the tank
	Bath     []Figure
	NotKnown []string // what no figure could be given for
}

// Strongest returns the highest figure of each element in several baths: no mixture of them
// and their rinses holds more.
func Strongest(all ...Estimate) Estimate {
	var c content
	for _, e := range all {
		for _, f := range e.Bath {
			i := slices.IndexFunc(c.Bath, func(had Figure) bool { return had.Element == f.Element })
			if i < 0 {
				c.Bath = append(c.Bath, f)
				continue
			}
			had := &c.Bath[i]
			had.Expected, had.AtMost, had.Assumed = max(had.Expected, f.Expected), max(had.AtMost, f.AtMost), had.Assumed || f.Assumed
		}
		for _, text := range e.NotKnown {
			c.notKnown(text)
		}
	}
	return c.Estimate
}

// Lines puts an estimate into words, each line short enough for a label. It never says that
// anything is low, permitted or harmless.
func (e Estimate) Lines() []string {
	var parts, out []string
	for _, f := range e.Bath {
		parts = append(parts, f.String())
	}
	for some := range slices.Chunk(parts, 3) {
		out = append(out, "Estimate, bath before rinses: "+strings.Join(some, "; ")+".")
	}
	for _, x := range e.NotKnown {
		out = append(out, "Not known: "+x+".")
	}
	return append(out, "Estimated, not measured; a figure marked assumed may be off five times either way. Analysis and the local authority decide.")
}

// String returns the figure with its unit: "silver 12 to 60 mg/L (assumed)".
func (f Figure) String() string {
	amount := func(x float64) string { return measure.Figures(x, 2) } // more would claim too much
	text := f.What + " " + amount(f.Expected)
	if f.AtMost > f.Expected {
		text += " to " + amount(f.AtMost)
	}
	text += " mg/L"
	if f.Assumed {
		text += " (assumed)"
	}
	return text
}
