package bath

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/plan"
	drag "hepar/recipe/bath/rinse"
	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// Order is what is asked of a recipe, which is required; a zero field elsewhere was not given.
type Order struct {
	Recipe *recipe.Recipe
	plan.Asked
	Measured *Measured // the dip that came out right here; nil: the recipe's

	Yield      float64 // share that is good at the first go; 0: not given
	Confidence float64 // that enough are good; 0: 0.95
	ByMachine  bool    // relief in a tumbler or on a wheel

	Plate measure.Millimeters // thickness of silver on plated ware

	Have     measure.Grams     // of the limiting reagent at hand, where it is weighed
	HaveML   measure.Liters    // of the limiting reagent at hand, where it is measured
	Supplies map[string]Supply // by substance; under "" what the only reagent of the recipe is

	Anyway bool                        // go on with an alloy that the recipe is not for
	Others func(alloy string) []string // the recipes that are for it; may be nil
	Shop   Shop

	advice   []string  // how many of each kind the yield asks to start
	reagents []shelved // what goes into a bath, as it stands on the shelf
}

// Supply is how a reagent stands on the shelf.
type Supply struct {
	Form    string  // a form of the substance; empty for the one the recipe speaks of
	Percent float64 // purity in percent by mass; 0 where not given
}

// Supplies reads how reagents stand on the shelf, each as SUBSTANCE=FORM or SUBSTANCE=PERCENT, or
// FORM or PERCENT alone of the only one.
func Supplies(forms, purities []string) (map[string]Supply, error) {
	all := map[string]Supply{}
	split := func(pair string) (name, value string) {
		name, value, ok := strings.Cut(pair, "=")
		if !ok {
			name, value = "", pair
		}
		return strings.TrimSpace(name), strings.TrimSpace(value)
	}
	for _, pair := range forms {
		name, form := split(pair)
		if form == "" {
			return nil, fault.Usagef("%q names no form", measure.Clean(pair)).At("--form").Try("write copper-sulfate=anhydrous")
		}
		all[name] = Supply{Form: form, Percent: all[name].Percent}
	}
	for _, pair := range purities {
		name, percent := split(pair)
		share, err := measure.ParseRatio(percent)
		if err != nil || share <= 0 || share > 1 || !strings.Contains(percent, "%") {
			return nil, fault.Usagef("%q is not a purity above 0 and up to 100 %%", measure.Clean(pair)).At("--purity").
				Try("write it in parts of a hundred and with the percent sign, such as 30%%")
		}
		all[name] = Supply{Form: all[name].Form, Percent: share * 100}
	}
	return all, nil
}

// Shop is what the sheet needs to know of the workshop. Zero fields take the
// defaults of [DefaultShop], which are then listed as assumptions.
type Shop struct {
	ReadabilityG measure.Grams   // smallest step of the balance
	CylinderML   float64         // smallest step of the measuring cylinder, mL
	HotWater     measure.Celsius // the hottest water at hand
	ColdWater    measure.Celsius
	heat.Air                     // of the room
	MatchPercent float64         // in place of the window of the recipe, either way, where it is known
	Known        map[string]bool // what was given, by its key in the shop file: "water.hot"

	Pace          float64                       // by hand, s for each piece in and again out; 0: the plan's default
	Drain         measure.MillilitersPerSquareM // 0: poorly drained
	Minutes       yield.Minutes
	LabourPerHour float64            // 0: not given
	PricePerKG    map[string]float64 // of reagents, by substance
}

// DefaultShop is a bench about which nothing is known. Common practice, no
// published source: a balance that reads 0.1 g, a cylinder marked every
// millilitre, a kettle, a cold tap, a warm room.
func DefaultShop() Shop {
	return Shop{ReadabilityG: 0.1, CylinderML: 1, HotWater: 95, ColdWater: 15, Air: heat.Air{Ambient: 20, HumidityPercent: 50}, Drain: drag.Poor}
}

func (o *Order) check() error {
	o.Group = cmp.Or(o.Group, 1)
	if err := o.Asked.Check(); err != nil {
		return err
	}
	for _, k := range o.Kinds {
		if alloy := k.Piece.Alloy.Name; !slices.Contains(o.Recipe.Alloys, alloy) && !o.Anyway {
			cure := "it is for " + strings.Join(o.Recipe.Alloys, ", ")
			if o.Others != nil {
				if fit := o.Others(alloy); len(fit) > 0 {
					cure = "for " + alloy + " there is " + strings.Join(fit, ", ")
				}
			}
			return fault.Failuref("the recipe %s is not for %s", o.Recipe.Slug, alloy).At("--alloy").Try("%s; --anyway goes on and marks the sheet", cure)
		}
	}
	if m := o.Shop.MatchPercent; m >= 100 {
		return fault.Usagef("a colour layer %s %% thinner than wanted is none", num(m)).At("--match").Try("give how much thinner or thicker still looks the same, below 100 %%; 10%% is a usual one")
	}
	if o.Confidence > 0 && o.Yield == 0 {
		return fault.Usagef("--confidence has no effect without --yield").Try("add --yield, the share that is good at the first go")
	}
	if o.Have > 0 && o.Volume > 0 {
		return fault.Usagef("both --have and --volume are given").At("--have").
			Try("leave out one: --have sets the volume that the reagent makes")
	}
	ids := mapped(o.Recipe.Bath.Reagents, func(r recipe.Reagent) string { return r.Substance })
	if bare, ok := o.Supplies[""]; ok && len(ids) == 1 {
		named := o.Supplies[ids[0]]
		o.Supplies = map[string]Supply{ids[0]: {cmp.Or(named.Form, bare.Form), cmp.Or(named.Percent, bare.Percent)}}
	}
	for id := range o.Supplies {
		switch all := strings.Join(ids, ", "); {
		case slices.Contains(ids, id):
		case id == "":
			return fault.Usagef("%s weighs %d reagents, and the flag names none of them", o.Recipe.Slug, len(ids)).At("--purity, --form").Try("name the one you mean: --purity %s=85%%, --form %s=FORM; it takes %s", ids[0], ids[0], all)
		default:
			return fault.Usagef("%s does not weigh %q", o.Recipe.Slug, measure.Clean(id)).At("--purity, --form").Try("it takes %s", all)
		}
	}
	if g := o.Shop.ReadabilityG; o.Shop.Known["balance.readability"] && !(g > 0 && g <= 100) {
		return fault.Usagef("a balance that reads to %s is out of range", measure.Metric.Mass(g)).At("--balance").Try("give the smallest step it shows, such as 0.1 g")
	}
	return nil
}

// Prepare scales a recipe to an order. Errors are about what is missing or impossible: a piece
// that does not fit the vessel, a strength that is not known, an alloy it is not for.
func Prepare(o Order) (*Sheet, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	if err := o.spares(); err != nil {
		return nil, err
	}
	r, p := o.Recipe, o.Kinds[0].Piece
	s := &Sheet{
		Recipe: RecipeLine{r.Slug, r.Title, string(r.Kind), r.Revision, r.Digest, r.Source},
		Piece:  pieceLine(p),
		Loads:  []plan.Load{}, Events: []EventLine{}, Rinses: []Rinse{},
		Notes: plan.Notes{Warnings: []plan.Warning{}, Assumptions: []plan.Assumption{}, Working: slices.Clone(p.Working)},
	}
	var sums []string
	for _, k := range o.Kinds {
		s.Pieces, s.Spares, s.MetalAreaDM = s.Pieces+k.Pieces, s.Spares+k.Spares, s.MetalAreaDM+float64(k.Count())*k.Piece.Area.SquareDM()
		sums = append(sums, fmt.Sprintf("(%d + %d) x %s cm2", k.Pieces, k.Spares, num(k.Piece.Area)))
		name := ""
		if len(o.Kinds) > 1 {
			name = k.Name + ": "
			s.Kinds = append(s.Kinds, KindLine{k.Name, k.Pieces, k.Spares, pieceLine(k.Piece)})
		}
		for _, w := range k.Piece.Warnings {
			s.Warn("piece", name, w)
		}
	}
	s.Step("metal area", "(pieces + spares) x area of one piece", "("+strings.Join(sums, " + ")+") / 100", num(s.MetalAreaDM)+" dm2", "arithmetic")
	if !slices.Contains(r.Alloys, p.Alloy.Name) {
		s.Warn("alloy-anyway", "NOT A RECIPE FOR THIS METAL: ", r.Slug, " is written for ", strings.Join(r.Alloys, ", "), ", not for ", p.Alloy.Name,
			". You chose to go on; test one piece first.")
	}
	o.plate(s)
	o.fillShop(s)

	s.Bath.TemperatureC = float64(r.Bath.Water.At)
	s.Bath.FromC, s.Bath.ToC = float64(r.Bath.Water.From), float64(r.Bath.Water.To)
	if r.Dip != nil {
		s.Bath.DipS, s.Bath.DipFromS, s.Bath.DipToS = float64(r.Dip.Time.At), float64(r.Dip.Time.From), float64(r.Dip.Time.To)
	}

	for _, step := range []func(*Sheet) error{o.stocks, o.volume, o.loads, o.water, o.rinses} {
		if err := step(s); err != nil {
			return nil, err
		}
	}
	o.pour(s)
	o.work(s)
	return s, nil
}

func pieceLine(p metal.Piece) PieceLine {
	return PieceLine{p.Shape, p.Alloy.Name, float64(p.Area), float64(p.Mass), p.Volume.Milliliters(), float64(p.Thickness)}
}

func (o *Order) fillShop(s *Sheet) {
	d := DefaultShop()
	shop, take := &o.Shop, s.Default
	take((*float64)(&shop.ReadabilityG), shop.Known["balance.readability"], float64(d.ReadabilityG), "balance readability", "g")
	take(&shop.CylinderML, shop.Known["balance.cylinder"], d.CylinderML, "measuring cylinder step", "mL")
	take((*float64)(&shop.HotWater), shop.Known["water.hot"], float64(d.HotWater), "hot water", "C")
	take((*float64)(&shop.ColdWater), shop.Known["water.cold"], float64(d.ColdWater), "cold water", "C")
	take(&shop.HumidityPercent, shop.Known["room.humidity"], d.HumidityPercent, "humidity of the room", "%")
	take((*float64)(&shop.Ambient), shop.Known["room.temperature"], float64(d.Ambient), "room temperature", "C")
	if hooded := strings.Contains(strings.Join(Capitals(o.Recipe), " "), "HOOD ON"); hooded && !o.Recipe.Kind.Coated() {
		take(&shop.SpeedMS, shop.Known["heat.air_speed"] || shop.Known["room.hood"] || shop.SpeedMS > 0, heat.Hood, "air over the bath, for the hood is on", "m/s")
	}
	if !o.Recipe.Kind.Coated() {
		take((*float64)(&shop.Drain), shop.Known["drain.habit"], float64(d.Drain), "liquid that clings to the pieces", "mL/m2")
	}
}

// Silver turned to sulfide: 100 nm of Ag2S takes about 60 nm of silver (from the
// molar masses and the densities 10.49 and 7.23 g/cm3; the latter from memory).
const silverPerFilm = 0.60

// PlateMost is the strongest bath for thin plate (Henley: 45 grains to the quart, 3.08 g/L).
const PlateMost measure.GramsPerLiter = 3.1

func (o *Order) plate(s *Sheet) {
	r, um, film := o.Recipe, float64(o.Plate)*1000, kinetics.Silver.Film.NM
	eaten := silverPerFilm * film / 1000
	if um > 0 {
		s.Step("silver taken by the film", "0.60 x film thickness",
			fmt.Sprintf("0.60 x %g nm", film), num(eaten)+" um of "+num(um)+" um plate", "molar masses; film thickness assumed")
		s.Assume("film of a full black", film, "nm", "assumed")
	}
	switch {
	case um > 0 && !r.Plated:
		s.Warn("plate", "This recipe is not written for plated ware. A strong bath lifts thin silver in scales: use one marked for plate, at most ", PlateMost,
			". The colour layer itself may take about ", measure.Figures(eaten, 2), " um of the ", measure.Figures(um, 3), " um of silver.")
	case um > 0 && eaten > 0.2*um:
		s.Warn("plate", "The plate is thin: a full black may take about ", measure.Figures(eaten, 2), " um of its ", measure.Figures(um, 3), " um. Stop early and do not relieve with abrasives.")
	case um == 0 && r.Plated:
		s.Warn("plate-unknown", "The thickness of the silver plate is not given. Below 1 um a full black can eat through it: ask the plater and give --plate, and test one piece first.")
	}
}
