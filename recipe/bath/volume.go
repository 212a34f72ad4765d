package bath

import (
	"cmp"
	"fmt"

	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

const (
	// BenchLiters is the largest bath proposed where neither a vessel nor a volume
	// is given: what one person fills, carries and watches. Assumed.
	BenchLiters measure.Liters = 5
	// ProposedLoad is the metal in a liter for which a bath is proposed where the recipe
	// gives no limit, in dm2/L. Assumed; it limits no load.
	ProposedLoad = 2.0
	// largestVessel is what no bench holds, so that a slip of the unit is more likely. Common
	// practice, no source.
	largestVessel measure.Liters = 100
)

func (o *Order) volume(s *Sheet) error {
	if o.Recipe.Kind.Coated() {
		return o.coatVolume(s)
	}
	areaDM := s.MetalAreaDM / float64(o.Count()) // of a piece, mean over the kinds
	maxLoad := float64(o.Recipe.Bath.MaxLoad)
	reason := "load limit: recipe"
	if maxLoad == 0 {
		maxLoad, reason = ProposedLoad, "assumed, only to propose a bath"
	}
	atOnce := o.Count()
	if o.PerLoad > 0 {
		atOnce = min(atOnce, o.PerLoad)
	}
	need := measure.Liters(float64(atOnce) * areaDM / maxLoad)
	s.Step("bath to propose, for all pieces at once or the loads asked for", "pieces x area / load limit",
		fmt.Sprintf("%d x %s dm2 / %s dm2/L", atOnce, num(areaDM), num(maxLoad)), num(need)+" L", reason)
	least := measure.Liters(float64(o.Group) * areaDM / maxLoad)

	v, by, err := o.given(s, need, "load")
	if err != nil {
		return err
	}
	if o.Vessel.Height > 0 {
		if v, by, err = o.inVessel(s, v, by); err != nil {
			return err
		}
	} else if by == "load" && v > BenchLiters && o.PerLoad == 0 {
		v, by = BenchLiters, "bench"
		s.Assume("largest bath on a bench", float64(BenchLiters), "L", "assumed; give --vessel, --volume or --per-load")
	}
	if v < least && o.Recipe.Bath.MaxLoad > 0 {
		what := "one piece"
		if o.Group > 1 {
			what = fmt.Sprintf("one set of %d", o.Group)
		}
		s.Warn("bath-small", "The bath of ", v, " is smaller than the ", least, " that ", what, " needs at ", measure.SquareDMPerLiter(maxLoad),
			": each load has more metal than the recipe allows, so the bath weakens and cools faster.")
	}
	s.Bath.VolumeL, s.Bath.LimitedBy, s.Bath.Vessel = float64(v), by, o.Vessel
	if eats := o.holding(reagent.Sulfide, reagent.Acid, reagent.OxidizingAcid); o.Vessel.Wall().Bare && eats != "" {
		s.Warn("bare-metal", "The vessel is of bare ", o.Vessel.Material, ": ", eats, " attacks it and spoils the finish. The recipe asks for ",
			cmp.Or(measure.Clean(o.Recipe.Bath.Vessel), "none by name: take glass, glazed ware or a plastic that bears the heat"), ".")
	}
	if o.Vessel.Height > 0 {
		s.Bath.DepthMM = float64(o.Vessel.Depth(v))
		if usable := o.Vessel.Usable(); usable > largestVessel {
			s.Warn("vessel-large", "The vessel holds ", usable, " to its fill line: check that its sizes are in mm.")
		}
		if tall := float64(o.Kinds[0].Piece.Extent[0]); tall > 0 && s.Bath.DepthMM < tall {
			s.Warn("shallow", "In ", measure.Millimeters(s.Bath.DepthMM), " of bath a piece of ", measure.Millimeters(tall), " lies flat; to hang it, take more bath, --volume, or a narrower vessel.")
		}
	}
	return nil
}

// Limit says what the volume comes from.
func (m Mix) Limit(u measure.System) string {
	return map[string]string{
		"volume":  "as asked for",
		"vessel":  "limited by the vessel: a quarter of its height stays free",
		"cover":   "limited by depth: each piece covered by " + u.Length(plan.CoverMM),
		"load":    "proposed for this much metal; --volume gives another",
		"reagent": "limited by the reagent at hand",
		"bench":   "limited by what a bench carries; give --vessel or --volume",
		"area":    "for the area and the coats",
	}[m.LimitedBy]
}

// given is the bath that the order names or the reagent at hand makes, else what is needed.
func (o *Order) given(s *Sheet, need measure.Liters, by string) (measure.Liters, string, error) {
	switch {
	case o.Have > 0 || o.HaveML > 0:
		v, err := o.fromHand(s)
		return v, "reagent", err
	case o.Volume > 0:
		return o.Volume, "volume", nil
	}
	return need, by, nil
}

// inVessel fits a volume into the vessel: enough to cover the piece, at most to the fill line.
func (o *Order) inVessel(s *Sheet, v measure.Liters, by string) (measure.Liters, string, error) {
	vessel, extent := o.Vessel, o.Kinds[0].Piece.Extent
	depth, ok := vessel.Stand(extent)
	known := extent[0] > 0
	if known && !ok {
		side := func(i int) string { return measure.Figures(float64(extent[i]), 3) }
		return 0, "", fault.Failuref("a piece of %s x %s x %s mm does not fit the vessel under %s of liquid with a quarter of the height free",
			side(0), side(1), side(2), measure.Metric.Length(plan.CoverMM)).At("--vessel").
			Try("take a larger or taller vessel; this one holds %s to its fill line", measure.Metric.Volume(vessel.Usable()))
	}
	usable := vessel.Usable()
	s.Step("vessel to the fill line", "floor x height x 0.75",
		fmt.Sprintf("%s cm2 x %s mm x 0.75", num(vessel.FloorCM2()), num(vessel.Height)), num(usable)+" L", "a quarter of the height kept free: common practice, no source")
	if by == "volume" || by == "reagent" {
		if v > usable*1.0001 {
			if by == "reagent" {
				s.Warn("reagent-over", "The reagent at hand would make ", v, ", more than the vessel holds (", usable, " to the fill line). Leave the rest in its jar.")
				return usable, "vessel", nil
			}
			return 0, "", fault.Failuref("%s of bath does not fit the vessel, which holds %s with a quarter of its height free",
				measure.Metric.Volume(v), measure.Metric.Volume(usable)).At("--volume").Try("lower --volume or take a larger vessel")
		}
		if known && v < vessel.At(depth) {
			s.Warn("cover", v, " is ", vessel.Depth(v), " deep in this vessel; a piece needs ", depth, " to be covered by ", plan.CoverMM, ".")
		}
		return v, by, nil
	}
	if !known {
		s.Warn("extent-unknown", "The size of a piece is not known, so its fit in the vessel is not checked. See that it is covered by ", plan.CoverMM, " of liquid.")
	}
	cover := vessel.At(depth)
	if known {
		s.Step("depth to cover a piece", "height of the piece as it stands + 20 mm",
			fmt.Sprintf("%s mm", num(depth)), num(cover)+" L", "20 mm of cover: common practice, no source")
	}
	switch {
	case v > usable:
		return usable, "vessel", nil
	case v < cover:
		return cover, "cover", nil
	}
	return v, by, nil
}

func (o *Order) coatVolume(s *Sheet) error {
	c := o.Recipe.Coats
	areaM2 := s.MetalAreaDM / 100
	coats := int(c.Number.At + 0.5)
	perCoat := areaM2 * float64(c.Spread.At)
	v, by := measure.Liters(perCoat*float64(coats)/1000), "area"
	s.Step("solution for the coats", "area x coats x spread",
		fmt.Sprintf("%s m2 x %d x %s mL/m2", num(areaM2), coats, num(c.Spread.At)), num(v)+" L", "coats and spread: recipe")
	need := v
	v, by, err := o.given(s, need, by)
	if err != nil {
		return err
	}
	if v < need {
		s.Warn(by+"-short", v, " of solution is too little; all pieces with ", coats, " coats need ", need, ".")
	}
	s.Bath.VolumeL, s.Bath.LimitedBy = float64(v), by
	s.Coats = &CoatsLine{Number: coats, FromNumber: int(c.Number.From + 0.5), ToNumber: int(c.Number.To + 0.5),
		SpreadMLM2: float64(c.Spread.At), WaitS: float64(c.Wait.At), PerCoatML: perCoat,
		PerPieceML: perCoat / float64(o.Count())}
	s.Warn("coat-loss", "Brush, pot and overspray keep some of the solution: nothing is added for that here, so mix a little more if the pot is large.")
	return nil
}
