package main

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe/bath"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/shop"
)

func orderFlags() []cli.Flag {
	return slices.Concat(
		group("THE PIECES",
			text("piece", "NAME: a piece of the shop file, instead of the other flags of this group"),
			text("like", "BATCH: everything as in that batch; the flags that are given win"),
			text("save-piece", "NAME: keep this piece in the shop file"),
			text("pieces", "COUNT: good pieces wanted"),
			text("spares", "COUNT: pieces to start on top of those (default 0)"),
			many("kind", "FILE: one or several kinds of piece, instead of the other flags of this group; may be repeated"),
			text("alloy", "METAL: for instance sterling-925"),
			text("shape", "SHAPE: "+strings.Join(metal.Shapes(), ", ")),
			text("diameter", "LENGTH: outside diameter, \"32 mm\" or \"1 1/4 in\""),
			text("thickness", "LENGTH: thickness of a disc or sheet, wall of a tube"),
			text("length", "LENGTH: how long one piece is"),
			text("width", "LENGTH: how wide one piece is"),
			text("height", "LENGTH: how high one piece is"),
			text("inside", "LENGTH: inside diameter of a ring, link or tube"),
			text("wire", "LENGTH: diameter of the wire"),
			text("area", "AREA: the whole surface of one piece, \"12 cm2\", for --shape custom"),
			text("mass", "MASS: one piece, \"31.1 g\" or \"1 ozt\""),
			text("relief", "FACTOR: multiplies the area of stamped or textured pieces, for instance 1.15"),
			text("plate", "LENGTH: thickness of the silver on plated ware, \"5 um\""),
			text("yield", "SHARE: how many are good at the first attempt, \"95 %\"; works out the spares"),
			text("confidence", "SHARE: how sure you want to be of enough good pieces, \"95 %\"; with --yield"),
			yes("anyway", "go on with a metal that the recipe is not for; the sheet is marked"),
		),
		group("BATH AND REAGENTS",
			text("vessel", "VESSEL: its inside, 200x140x90mm or 150x180mm (round), or its name in the shop file"),
			text("volume", "VOLUME: how much bath, \"1.5 L\""),
			text("have", "AMOUNT: what is at hand of the limiting reagent, \"12 g\"; works out the bath that it makes"),
			many("purity", "PERCENT: of the reagent on the shelf, \"30 %\"; where there are several, SUBSTANCE=PERCENT, and once for each"),
			many("form", "FORM: of the reagent on the shelf, gel; where there are several, SUBSTANCE=FORM, and once for each"),
			text("balance", "MASS: smallest step of the balance, \"0.01 g\""),
			text("hot", "TEMPERATURE: the hottest water at hand, \"95 C\""),
			text("cold", "TEMPERATURE: the coldest water at hand, \"15 C\""),
		),
		group("HEAT AND ROOM",
			text("heat", "HEAT: none, kettle, plate or thermostat, with an amount if known: kettle:1.5L, plate:500W (default none)"),
			yes("lid", "a lid covers the bath between loads"),
			text("start", "TEMPERATURE: where the bath starts, chosen if not given"),
			text("air-speed", "SPEED: air over the bath in m/s, 0.4 before a hood that draws well"),
			text("ambient", "TEMPERATURE: the room, \"20 C\""),
			text("humidity", "SHARE: humidity of the room, \"50 %\""),
		),
		group("LOADS",
			text("per-load", "COUNT: the most pieces in the bath at once"),
			text("group", "COUNT: pieces that stay together, 2 for pairs"),
			yes("by-hand", "pieces go in and out one by one, not together in a strainer, a basket or on wires"),
			text("rack", "COUNT: pieces that one rack holds"),
			text("drain", "HABIT: how pieces drain, well, poor or very-poor"),
			text("match", "SHARE: the colour tolerance, the widest spread that still matches, \"10 %\""),
			yes("machine", "relief in a tumbler or on a wheel, not by hand"),
			yes("book", "take the recipe's dip time, not the one measured here"),
			text("explain", "NUMBER: show the working of this load"),
		),
	)
}

// take parses a flag if it is given, and names the flag in an error.
func take[T any](c *cli.Context, name string, parse func(string) (T, error), to *T) error {
	if !c.IsSet(name) {
		return nil
	}
	v, err := parse(c.String(name))
	if err == nil {
		*to = v
	}
	return atFlag(name, err)
}

func atFlag(name string, err error) error {
	f, ok := err.(*fault.Error)
	if err == nil {
		return nil
	}
	if !ok {
		return fault.Usagef("%s", err.Error()).At("--" + name)
	}
	g := *f
	g.Where = "--" + name
	g.Kind = fault.Usage
	return &g
}

func countUpTo(least, most int) func(string) (int, error) {
	return func(text string) (int, error) { return measure.ParseCount(text, least, most) }
}

func atLeastOne(text string) (int, error) { return measure.ParseCount(text, 1, job.MostPieces) }

func pieceFrom(c *cli.Context) metal.Piece {
	var alloy metal.Alloy
	fault.Check(take(c, "alloy", metal.Find, &alloy))
	var d metal.Dimensions
	length := func(name string, to *measure.Millimeters) error {
		return take(c, name, positive(name, measure.ParseLength), to)
	}
	fault.Check(cmp.Or(length("diameter", &d.Diameter), length("thickness", &d.Thickness), length("length", &d.Length), length("width", &d.Width),
		length("height", &d.Height), length("inside", &d.Inside), length("wire", &d.Wire),
		take(c, "area", positive("area", measure.ParseArea), &d.Area),
		take(c, "mass", positive("mass", func(text string) (measure.Grams, error) { return metal.ParseMass(text, alloy) }), &d.Mass),
		take(c, "relief", positive("relief", measure.ParseRatio), &d.Relief)))
	return fault.Must(metal.New(cmp.Or(c.String("shape"), "custom"), alloy, d)) // custom: its area is all that is said
}

// positive returns a parser that refuses zero and less. name says what the value is.
func positive[T ~float64](name string, parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		if err == nil && v <= 0 {
			err = fault.Usagef("%q is not above zero", measure.Clean(text)).Try("give a %s above zero", name)
		}
		return v, err
	}
}

// orderFrom reads an order. The caller sets the recipe.
func orderFrom(p *place) bath.Order {
	c, s := p.Context, p.shop
	o := bath.Order{Shop: s.Bath, Anyway: c.Bool("anyway")}
	o.Rack, o.Heat = s.Rack, s.Heat
	if s.ByHand || c.Bool("by-hand") {
		o.Transfer = plan.ByHand
	}
	o.Kinds = takeKinds(c)
	fault.Check(cmp.Or(take(c, "per-load", atLeastOne, &o.PerLoad), take(c, "group", atLeastOne, &o.Group),
		take(c, "plate", positive("plate", measure.ParseLength), &o.Plate), take(c, "volume", positive("bath", measure.ParseVolume), &o.Volume), takeVessel(c, s, &o), takeHave(c, &o)))
	takeSupplies(c, &o)
	takeShop(c, &o.Shop)
	o.Lid, o.ByMachine = o.Lid || c.Bool("lid"), c.Bool("machine")
	fault.Check(cmp.Or(take(c, "humidity", share(100), &o.Shop.HumidityPercent), take(c, "match", share(100), &o.Shop.MatchPercent),
		take(c, "yield", share(1), &o.Yield), take(c, "confidence", share(1), &o.Confidence),
		take(c, "rack", atLeastOne, &o.Rack), take(c, "explain", atLeastOne, &o.Explain),
		take(c, "heat", plan.ParseHeat, &o.Heat), take(c, "start", measure.ParseTemperature, &o.Start),
		take(c, "air-speed", parseSpeed, &o.Shop.AirSpeed), take(c, "drain", rinse.Habit, &o.Shop.Drain)))
	return o
}

// takeVessel reads the vessel; one of the shop file brings its lid and heater along.
func takeVessel(c *cli.Context, s shop.Shop, o *bath.Order) error {
	name := c.String("vessel")
	if v, ok := s.Vessels[name]; ok {
		o.Vessel, o.Lid = v.Vessel, v.Lid
		o.Shop.Borosilicate = v.Material == "borosilicate"
		if v.HeaterW > 0 {
			o.Heat = plan.Heat{Kind: plan.Plate, Watts: v.HeaterW}
		}
		return nil
	}
	err := take(c, "vessel", plan.ParseVessel, &o.Vessel)
	if names := keys(s.Vessels); err != nil && len(names) > 0 && !strings.ContainsAny(name, "0123456789") {
		return fault.Usagef("the shop file has no vessel %q", measure.Clean(name)).At("--vessel").Try("it has %s; or write its inside, 200x140x90mm", strings.Join(names, ", "))
	}
	return err
}

func keys[T any](m map[string]T) []string { return slices.Sorted(maps.Keys(m)) }

// takeHave reads --have, a mass or, for a reagent that is measured, a volume.
func takeHave(c *cli.Context, o *bath.Order) error {
	err := take(c, "have", positive("reagent", measure.ParseMass), &o.Have)
	if err != nil && take(c, "have", positive("reagent", measure.ParseVolume), &o.HaveML) == nil {
		return nil
	}
	return err
}

func takeSupplies(c *cli.Context, o *bath.Order) {
	o.Supplies = map[string]bath.Supply{}
	for _, flag := range []string{"form", "purity"} {
		for _, pair := range c.StringSlice(flag) {
			name, value, ok := strings.Cut(pair, "=")
			if !ok {
				name, value = "", pair // of the only reagent
			}
			name, value = strings.TrimSpace(name), strings.TrimSpace(value)
			s := o.Supplies[name]
			if flag == "purity" {
				percent, err := parsePurity(value, pair)
				fault.Check(atFlag(flag, err))
				s.Percent = percent
			} else if s.Form = value; value == "" {
				fault.Check(fault.Usagef("%q names no form", measure.Clean(pair)).At("--form").Try("write copper-sulfate=anhydrous"))
			}
			o.Supplies[name] = s
		}
	}
}

// parsePurity reads the percentage of a purity, which is written as in pair.
func parsePurity(percent, pair string) (float64, error) {
	ratio, err := measure.ParseRatio(percent)
	switch {
	case err != nil:
		return 0, err
	case !strings.Contains(percent, "%"):
		return 0, fault.Usagef("%q has no percent sign", measure.Clean(pair)).Try("write it in parts of a hundred, such as 30%%")
	case ratio <= 0 || ratio > 1:
		return 0, fault.Usagef("a purity of %s", measure.Clean(percent)).Try("give more than 0 %% and at most 100 %%")
	}
	return ratio * 100, nil
}

// takeShop reads what of the shop's settings is said for this order, and marks it as known.
func takeShop(c *cli.Context, s *bath.Shop) {
	known := map[string]bool{}
	maps.Copy(known, s.Known)
	for flag, key := range map[string]string{"hot": "hot-water", "cold": "cold-water", "ambient": "ambient", "balance": "balance", "humidity": "humidity", "match": "match", "drain": "drain"} {
		known[key] = known[key] || c.IsSet(flag)
	}
	s.Known = known
	fault.Check(cmp.Or(take(c, "hot", measure.ParseTemperature, &s.HotWater), take(c, "cold", measure.ParseTemperature, &s.ColdWater),
		take(c, "ambient", measure.ParseTemperature, &s.Ambient), take(c, "balance", positive("balance", measure.ParseMass), &s.ReadabilityG)))
}

// checkNeeded says what an order lacks, all of it.
func checkNeeded(c *cli.Context) {
	missing := nonEmpty(when(!c.IsSet("pieces"), "--pieces"), when(!c.IsSet("alloy"), "--alloy"), when(!c.IsSet("shape") && !c.IsSet("area"), "--shape with its dimensions"))
	if last := len(missing) - 1; last >= 0 {
		list := strings.Join(missing[:last], ", ") + when(last > 0, " and ") + missing[last]
		fault.Check(fault.Usagef("%s %s required", list, either(last > 0, "are", "is")).
			Try("write --pieces 60 --alloy sterling-925 --shape disc --diameter 24mm --thickness 1.6mm; or --piece NAME, --like BATCH, --kind FILE"))
	}
}

// share returns a parser of a share above zero, as so many parts of the whole.
func share(whole float64) func(string) (float64, error) {
	return func(text string) (float64, error) {
		part, err := measure.ParseRatio(text)
		if err == nil && part <= 0 {
			err = fault.Usagef("%q is not above zero", measure.Clean(text)).Try("write it like \"50 %%\"")
		}
		return part * whole, err
	}
}

func parseSpeed(text string) (float64, error) {
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "m/s"))
	x, err := measure.ParseRatio(number)
	if err != nil || x < 0 || x > 5 || strings.ContainsAny(number, "%:") {
		return 0, fault.Usagef("%q is not a speed in m/s", measure.Clean(text)).Try("write 0.4 before a hood that draws well, 0 in still air")
	}
	return x, nil
}

// takeKinds reads the kinds of piece: the files of --kind, or the one kind that flags describe.
func takeKinds(c *cli.Context) (kinds []job.Kind) {
	files := c.StringSlice("kind")
	if len(files) == 0 {
		checkNeeded(c)
		var k job.Kind
		fault.Check(cmp.Or(take(c, "pieces", atLeastOne, &k.Pieces), take(c, "spares", countUpTo(0, job.MostPieces), &k.Spares)))
		k.Piece = pieceFrom(c)
		return []job.Kind{k}
	}
	for _, flag := range []string{"pieces", "spares", "alloy", "shape", "diameter", "thickness", "length", "width", "height", "inside", "wire", "area", "mass", "relief"} {
		refuse(c.IsSet(flag), fault.Usagef("--%s has no effect beside --kind", flag).Try("leave it out, or describe one kind of piece by flags alone"))
	}
	for _, file := range files {
		kinds = append(kinds, fault.Must(job.Read(file))...)
	}
	return kinds
}
