package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath/coupon"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

func couponCommand(e *env) *cli.Command {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return &cli.Command{
		Name: "coupon", Usage: "plan a stepped test strip that finds the dip time of this bath", ArgsUsage: "RECIPE",
		Description: `Plans a strip of the same metal as the pieces. You lower it or draw it out in steps, so
that its zones get dip times around the expected one. Afterwards, --zone names the zone
with the wanted shade, and --save keeps the reading in the journal.

EXAMPLES
   hepar coupon silver-black --temperature 72C
   hepar coupon silver-black --temperature 72C --zone 3 --alloy sterling-925 --save`,
		Flags: []cli.Flag{
			text("zones", "COUNT: zones of the strip (default 5)"),
			text("ratio", "FACTOR: from each zone to the next (default 1.5)"),
			text("length", "LENGTH: the part that goes in (default 60 mm, or 2 1/2 in)"),
			text("time", "TIME: the expected dip time (default: the recipe's)"),
			text("temperature", "TEMPERATURE: of the bath (default: the recipe's)"),
			text("zone", "NUMBER: the zone that came out right; 0 if all are too light"),
			text("alloy", "METAL: of the strip; required with --save"),
			&cli.BoolFlag{Name: "save", Usage: "keep the reading in the journal"},
			text("by", "NAME: who read it"),
		},
		Action: at(e, 1, 1, "the name of a recipe", func(c *cli.Context, p *place) error { return runCoupon(e, c, p) }),
	}
}

func runCoupon(e *env, c *cli.Context, p *place) error {
	r, err := p.recipe(c.Args().First())
	if err != nil {
		return err
	}
	switch {
	case r.Dip == nil:
		return fault.Failuref("%s is brushed or sprayed, so it has no dip time", r.Slug).Try("try coats on a piece of the same metal")
	case r.Kind == recipe.Pickle || r.Kind == recipe.Stop:
		return fault.Failuref("%s makes no colour that a strip could show", r.Slug).Try("leave the pieces in as long as the recipe says")
	}
	if err := stripMetal(c, r); err != nil {
		return err
	}
	zones, ratio, length, at, expected := 5, 1.5, coupon.UsualLength(p.units), r.Bath.Water.At, r.Dip.Time.At
	for _, read := range []func() error{
		func() error {
			return take(c, "zones", func(s string) (int, error) { return measure.ParseCount(s, 2, coupon.MostZones) }, &zones)
		},
		func() error { return take(c, "ratio", measure.ParseRatio, &ratio) },
		func() error { return take(c, "length", positive("length", measure.ParseLength), &length) },
		func() error { return take(c, "temperature", measure.ParseTemperature, &at) },
	} {
		if err := read(); err != nil {
			return err
		}
	}
	if err := coupon.CheckBath(at); err != nil {
		return err
	}
	if c.IsSet("time") {
		if err := take(c, "time", positive("time", measure.ParseDuration), &expected); err != nil {
			return err
		}
	} else {
		expected = kinetics.Law{T0: expected, At: r.Bath.Water.At, Strength: 1, Prior: kinetics.Silver}.Time(at, 1)
	}
	strip, err := coupon.Plan(p.units, expected, ratio, zones, length)
	if err != nil {
		return err
	}
	strip.Outside(at, r.Bath.Water.From, r.Bath.Water.To)
	if c.IsSet("zone") {
		return readCoupon(e, c, p, r, strip, at)
	}
	if c.Bool("save") {
		return fault.Usagef("--save has no effect without --zone").Try("add --zone with the number of the zone that came out right")
	}
	if e.json {
		return e.printJSON(strip)
	}
	printStrip(e, p.units, r, strip, at)
	return nil
}

func printStrip(e *env, u measure.System, r *recipe.Recipe, s *coupon.Strip, at measure.Celsius) {
	e.say("%s\n", e.heading("STEPPED TEST STRIP FOR "+strings.ToUpper(r.Slug)))
	e.say("%s", wrap("", fmt.Sprintf("Expected %s at %s (estimated from the recipe; the strip decides). Use the same metal with the same surface, cleaned like the pieces.",
		u.Time(measure.Seconds(s.ExpectedS)), u.Temperature(at))))
	t := table{head: []string{"zone", "from the end", "in the bath", "of the expected"}, right: []bool{true, true, true, true}}
	for _, z := range s.Zones {
		t.add(fmt.Sprint(z.Number), u.Ruler(measure.Millimeters(z.FromMM))+" to "+u.Ruler(measure.Millimeters(z.ToMM)), fmt.Sprintf("%d s", z.DipS), measure.Figures(z.TimesNormal*100, 2)+" %")
	}
	e.say("\n")
	t.write(e.out, "  ")
	for _, way := range []struct {
		title string
		cues  []coupon.Cue
	}{{"LOWER IT IN STEPS", s.Lower}, {"OR DRAW IT OUT IN STEPS", s.Draw}} {
		e.say("\n%s\n", e.heading(way.title))
		for _, cue := range way.cues {
			e.say("  %s\n", cue.In(u))
		}
	}
	e.say("\n%s\n", e.heading("WRITE DOWN"))
	for _, line := range s.WriteDown {
		e.say("%s", wrap("  - ", line))
	}
	for _, n := range s.Notes {
		e.say("%s", e.amber(wrap("  ! ", n.In(u))))
	}
	e.say("\n%s", wrap("", "To keep the reading, run hepar coupon "+r.Slug+" again with the same flags and --zone NUMBER --alloy METAL --save. "+
		"Go through the safety steps first: hepar review "+r.Slug+"."))
}

// stripMetal refuses a strip of a metal that the recipe is not for: its dip time would
// fit no piece.
func stripMetal(c *cli.Context, r *recipe.Recipe) error {
	if !c.IsSet("alloy") {
		return nil
	}
	alloy, err := metal.Find(c.String("alloy"))
	if err != nil {
		return atFlag("alloy", err)
	}
	if !slices.Contains(r.Alloys, alloy.Name) {
		return fault.Failuref("the recipe %s is not for %s", r.Slug, alloy.Name).At("--alloy").Try("it is for %s; use a strip of the same metal as the pieces", strings.Join(r.Alloys, ", "))
	}
	return nil
}

// readCoupon prints and keeps the readings that follow from the right zone.
func readCoupon(e *env, c *cli.Context, p *place, r *recipe.Recipe, s *coupon.Strip, at measure.Celsius) error {
	var zone int
	if err := take(c, "zone", countUpTo(coupon.MostZones+1), &zone); err != nil {
		return err
	}
	readings, err := s.Read(zone)
	if err != nil {
		return err
	}
	var words []string
	for _, reading := range readings {
		words = append(words, fmt.Sprintf("%d s %s", reading.DipS, reading.Verdict))
	}
	if c.Bool("save") {
		b, err := saveCoupon(c, p, r, readings, at, strings.Join(words, ", "))
		if err != nil {
			return err
		}
		e.note("kept as %s\n", b.Number)
	}
	if e.json {
		return e.printJSON(map[string]any{"recipe": r.Slug, "temperature_c": at, "readings": readings})
	}
	e.say("%s at %s: %s\n", r.Slug, p.units.Temperature(at), strings.Join(words, ", "))
	return nil
}

func saveCoupon(c *cli.Context, p *place, r *recipe.Recipe, readings []coupon.Reading, at measure.Celsius, words string) (journal.Batch, error) {
	if !c.IsSet("alloy") {
		return journal.Batch{}, fault.Usagef("--alloy is required with --save").Try("name the metal of the strip: another metal has another dip time")
	}
	alloy, err := metal.Find(c.String("alloy"))
	if err != nil {
		return journal.Batch{}, atFlag("alloy", err)
	}
	result := journal.Result{Good: 1, Temperature: &at, Note: "test strip: " + words, Shade: "none right"}
	for _, reading := range readings {
		if reading.Verdict == "right" {
			t := measure.Seconds(reading.DipS)
			result.Time, result.Shade = &t, "right"
		}
	}
	return p.journal.LogNew(journal.Plan{By: c.String("by"), Alloy: alloy.Name, Shape: "coupon", Pieces: 1, Order: "coupon",
		Recipe: frozenRecipe(r)}, result, journal.LogOptions{WithoutReview: "a test strip"})
}
