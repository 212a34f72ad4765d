package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/shop"
)

// orderFlags returns the flags that describe pieces and bath.
func orderFlags() []cli.Flag {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return slices.Concat(
		group("THE PIECES",
			text("piece", "NAME: a piece of the shop file, instead of the other flags of this group"),
			text("like", "BATCH: everything as in that batch; the flags that are given win"),
			text("save-piece", "NAME: keep this piece in the shop file"),
			text("pieces", "COUNT: good pieces wanted"),
			text("spares", "COUNT: pieces to start on top of those (default 0)"),
			&cli.StringSliceFlag{Name: "kind", Usage: "FILE: one or several kinds of piece, instead of the other flags of this group; may be repeated"},
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
			&cli.BoolFlag{Name: "anyway", Usage: "go on with a metal that the recipe is not for; the sheet is marked"},
		),
		group("BATH AND REAGENTS",
			text("vessel", "VESSEL: its inside, 200x140x90mm or 150x180mm (round), or its name in the shop file"),
			text("volume", "VOLUME: how much bath, \"1.5 L\""),
			text("have", "AMOUNT: what is at hand of the limiting reagent, \"12 g\"; works out the bath that it makes"),
			&cli.StringSliceFlag{Name: "purity", Usage: "PERCENT: of the reagent on the shelf, \"30 %\"; where there are several, SUBSTANCE=PERCENT, and once for each"},
			&cli.StringSliceFlag{Name: "form", Usage: "FORM: of the reagent on the shelf, gel; where there are several, SUBSTANCE=FORM, and once for each"},
			text("balance", "MASS: smallest step of the balance, \"0.01 g\""),
			text("hot", "TEMPERATURE: the hottest water at hand, \"95 C\""),
			text("cold", "TEMPERATURE: the coldest water at hand, \"15 C\""),
		),
		group("HEAT AND ROOM",
			text("heat", "HEAT: none, kettle, plate or thermostat, with an amount if known: kettle:1.5L, plate:500W (default none)"),
			&cli.BoolFlag{Name: "lid", Usage: "a lid covers the bath between loads"},
			text("start", "TEMPERATURE: where the bath starts, chosen if not given"),
			text("air-speed", "SPEED: air over the bath in m/s, 0.4 before a hood that draws well"),
			text("ambient", "TEMPERATURE: the room, \"20 C\""),
			text("humidity", "SHARE: humidity of the room, \"50 %\""),
		),
		group("LOADS",
			text("per-load", "COUNT: the most pieces in the bath at once"),
			text("group", "COUNT: pieces that stay together, 2 for pairs"),
			&cli.BoolFlag{Name: "by-hand", Usage: "pieces go in and out one by one, not together in a strainer, a basket or on wires"},
			text("rack", "COUNT: pieces that one rack holds"),
			text("drain", "HABIT: how pieces drain, well, poor or very-poor"),
			text("match", "SHARE: the colour tolerance, the widest spread that still matches, \"10 %\""),
			&cli.BoolFlag{Name: "machine", Usage: "relief in a tumbler or on a wheel, not by hand"},
			&cli.BoolFlag{Name: "book", Usage: "take the recipe's dip time, not the one measured here"},
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
	if err != nil {
		return atFlag(name, err)
	}
	*to = v
	return nil
}

// atFlag names the flag that an error is of.
func atFlag(name string, err error) error {
	f, ok := err.(*fault.Error)
	if !ok {
		return fault.Usagef("%s", err.Error()).At("--" + name)
	}
	g := *f
	g.Where = "--" + name
	g.Kind = fault.Usage
	return &g
}

func countUpTo(most int) func(string) (int, error) {
	return func(text string) (int, error) { return measure.ParseCount(text, 0, most) }
}

// piece reads the shape and dimensions.
func pieceFrom(c *cli.Context) (metal.Piece, error) {
	alloy, err := metal.Find(c.String("alloy"))
	if err != nil {
		return metal.Piece{}, atFlag("alloy", err)
	}
	shape := c.String("shape")
	if shape == "" {
		shape = "custom" // its area is all that is said
	}
	var d metal.Dimensions
	for name, to := range map[string]*measure.Millimeters{
		"diameter": &d.Diameter, "thickness": &d.Thickness, "length": &d.Length, "width": &d.Width,
		"height": &d.Height, "inside": &d.Inside, "wire": &d.Wire,
	} {
		if err := take(c, name, positive(name, measure.ParseLength), to); err != nil {
			return metal.Piece{}, err
		}
	}
	if err := take(c, "area", positive("area", measure.ParseArea), &d.Area); err != nil {
		return metal.Piece{}, err
	}
	if err := take(c, "mass", positive("mass", func(text string) (measure.Grams, error) { return metal.ParseMass(text, alloy) }), &d.Mass); err != nil {
		return metal.Piece{}, err
	}
	if err := take(c, "relief", positive("relief", measure.ParseRatio), &d.Relief); err != nil {
		return metal.Piece{}, err
	}
	return metal.New(shape, alloy, d)
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
func orderFrom(c *cli.Context, s shop.Shop) (bath.Order, error) {
	o := bath.Order{Shop: s.Bath, Anyway: c.Bool("anyway")}
	o.Rack, o.Heat = s.Rack, s.Heat
	if s.ByHand {
		o.Transfer = plan.ByHand
	}
	kinds := len(c.StringSlice("kind")) > 0
	if missing := missingFlags(c); len(missing) > 0 && !kinds {
		return o, missingFault(missing)
	}
	var err error
	steps := []func() error{
		func() error { return takeKinds(c, &o) },
		func() error { return take(c, "pieces", atLeastOne, &o.Pieces) },
		func() error { return take(c, "spares", countUpTo(bath.MostPieces), &o.Spares) },
		func() error { return take(c, "per-load", atLeastOne, &o.PerLoad) },
		func() error { return take(c, "group", atLeastOne, &o.Group) },
		func() error {
			if !kinds {
				o.Piece, err = pieceFrom(c)
			}
			return err
		},
		func() error { return take(c, "plate", positive("plate", measure.ParseLength), &o.Plate) },
		func() error { return take(c, "volume", positive("bath", measure.ParseVolume), &o.Volume) },
		func() error { return takeVessel(c, s, &o) },
		func() error { return takeHave(c, &o) },
		func() error { return takeSupplies(c, &o) },
		func() error { return takeShop(c, &o.Shop) },
		func() error { return takeRun(c, &o) },
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return o, err
		}
	}
	return o, nil
}

func atLeastOne(text string) (int, error) { return measure.ParseCount(text, 1, bath.MostPieces) }

// takeVessel reads the vessel; one of the shop file brings its lid and heater along.
func takeVessel(c *cli.Context, s shop.Shop, o *bath.Order) error {
	if !c.IsSet("vessel") {
		return nil
	}
	name := c.String("vessel")
	if v, ok := s.Vessels[name]; ok {
		o.Vessel, o.Lid = &v.Vessel, v.Lid
		o.Shop.Borosilicate = v.Material == "borosilicate"
		if v.HeaterW > 0 {
			o.Heat = plan.Heat{Kind: plan.Plate, Watts: v.HeaterW}
		}
		return nil
	}
	v, err := bath.ParseVessel(name)
	if err != nil {
		if names := keys(s.Vessels); len(names) > 0 && !strings.ContainsAny(name, "0123456789") {
			return fault.Usagef("the shop file has no vessel %q", measure.Clean(name)).At("--vessel").Try("it has %s; or write its inside, 200x140x90mm", strings.Join(names, ", "))
		}
		return atFlag("vessel", err)
	}
	o.Vessel = &v
	return nil
}

func keys[T any](m map[string]T) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// takeHave reads --have, a mass or, for a reagent that is measured, a volume.
func takeHave(c *cli.Context, o *bath.Order) error {
	if !c.IsSet("have") {
		return nil
	}
	text := c.String("have")
	grams, err := positive("reagent", measure.ParseMass)(text)
	if err == nil {
		o.Have = grams
		return nil
	}
	liters, errVolume := positive("reagent", measure.ParseVolume)(text)
	if errVolume != nil {
		return atFlag("have", err)
	}
	o.HaveML = liters
	return nil
}

func takeSupplies(c *cli.Context, o *bath.Order) error {
	o.Supplies = map[string]bath.Supply{}
	for _, pair := range c.StringSlice("form") {
		name, form := substanceAnd(pair)
		if form == "" {
			return fault.Usagef("%q names no form", measure.Clean(pair)).At("--form").Try("write copper-sulfate=anhydrous")
		}
		s := o.Supplies[name]
		s.Form = form
		o.Supplies[name] = s
	}
	for _, pair := range c.StringSlice("purity") {
		name, percent := substanceAnd(pair)
		ratio, err := measure.ParseRatio(percent)
		if err != nil {
			return atFlag("purity", err)
		}
		if !strings.Contains(percent, "%") {
			return fault.Usagef("%q has no percent sign", measure.Clean(pair)).At("--purity").Try("write %s%%", measure.Clean(pair))
		}
		if ratio <= 0 || ratio > 1 {
			return fault.Usagef("a purity of %s", measure.Clean(percent)).At("--purity").Try("give more than 0 %% and at most 100 %%")
		}
		s := o.Supplies[name]
		s.Percent = ratio * 100
		o.Supplies[name] = s
	}
	return nil
}

// substanceAnd cuts SUBSTANCE=VALUE; without a substance, the value is of the only reagent.
func substanceAnd(pair string) (substance, value string) {
	substance, value, ok := strings.Cut(pair, "=")
	if !ok {
		return "", strings.TrimSpace(pair)
	}
	return strings.TrimSpace(substance), strings.TrimSpace(value)
}

func takeShop(c *cli.Context, s *bath.Shop) error {
	known := map[string]bool{}
	for k, v := range s.Known {
		known[k] = v
	}
	s.Known = known
	for _, f := range []struct {
		flag, key string
		to        *measure.Celsius
	}{{"hot", "hot-water", &s.HotWater}, {"cold", "cold-water", &s.ColdWater}, {"ambient", "ambient", &s.Ambient}} {
		if c.IsSet(f.flag) {
			if err := take(c, f.flag, measure.ParseTemperature, f.to); err != nil {
				return err
			}
			known[f.key] = true
		}
	}
	if c.IsSet("balance") {
		if err := take(c, "balance", positive("balance", measure.ParseMass), &s.ReadabilityG); err != nil {
			return err
		}
		known["balance"] = true
	}
	return nil
}

// missingFlags returns what an order lacks, all of it.
func missingFlags(c *cli.Context) []string {
	var missing []string
	for _, name := range []string{"pieces", "alloy"} {
		if !c.IsSet(name) {
			missing = append(missing, "--"+name)
		}
	}
	if !c.IsSet("shape") && !c.IsSet("area") {
		missing = append(missing, "--shape with its dimensions")
	}
	return missing
}

func missingFault(missing []string) error {
	verb := "is"
	if len(missing) > 1 {
		verb = "are"
	}
	list := strings.Join(missing[:len(missing)-1], ", ")
	if list != "" {
		list += " and "
	}
	return fault.Usagef("%s%s %s required", list, missing[len(missing)-1], verb).
		Try("write --pieces 60 --alloy sterling-925 --shape disc --diameter 24mm --thickness 1.6mm; or --piece NAME, --like BATCH, --kind FILE")
}
