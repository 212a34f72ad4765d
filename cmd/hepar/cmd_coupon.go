package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath/coupon"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

func couponCommand(e *env) *verb {
	return command("coupon RECIPE", "plan a stepped test strip that finds the dip time of this bath", at(e, runCoupon),
		text("zones", "COUNT: zones of the strip (default 5)"),
		text("ratio", "FACTOR: dip time of each zone divided by that of the next (default 1.5)"),
		text("length", "LENGTH: part of the strip that goes into the bath (default 60 mm, or 2 1/2 in)"),
		text("time", "TIME: the expected dip time (default: the recipe's)"),
		text("temperature", "TEMPERATURE: bath temperature (default: the recipe's)"),
		text("zone", "NUMBER: the zone that came out right; 0 if all are too light"),
		text("alloy", "METAL: metal of the strip; required with --save"),
		yes("save", "keep the reading in the journal"),
		text("by", "NAME: person who read the strip"))
}

func runCoupon(p *place) {
	r := fault.Must(p.recipe(p.Args().First()))
	refuse(r.Dip == nil, fault.Failuref("%s is brushed or sprayed, so it has no dip time", r.Slug).Try("try coats on a piece of the same metal"))
	refuse(r.Kind == recipe.Pickle || r.Kind == recipe.Stop,
		fault.Failuref("%s makes no colour, so a test strip shows nothing", r.Slug).Try("leave the pieces in as long as the recipe says"))
	var alloy metal.Alloy
	c, zones, ratio, length, at := p.Context, 5, 1.5, coupon.UsualLength(p.units), r.Bath.Water.At
	fault.Check(take(c, "alloy", metal.Find, &alloy))
	refuse(alloy.Name != "" && !slices.Contains(r.Alloys, alloy.Name), // its dip time would fit no piece
		fault.Failuref("the recipe %s is not for %s", r.Slug, alloy.Name).At("--alloy").
			Try("it is for %s; use a strip of the same metal as the pieces", strings.Join(r.Alloys, ", ")))
	fault.Check(cmp.Or(take(c, "zones", countUpTo(2, coupon.MostZones), &zones), take(c, "ratio", measure.ParseRatio, &ratio),
		take(c, "length", positive("length", measure.ParseLength), &length), take(c, "temperature", measure.ParseTemperature, &at)))
	expected := kinetics.Law{T0: r.Dip.Time.At, At: r.Bath.Water.At, Strength: 1, Prior: kinetics.Silver}.Time(at, 1)
	fault.Check(cmp.Or(coupon.CheckBath(at), take(c, "time", positive("time", measure.ParseDuration), &expected)))
	strip := fault.Must(coupon.Plan(p.units, expected, ratio, zones, length))
	strip.Outside(at, r.Bath.Water.From, r.Bath.Water.To)
	refuse(p.Bool("save") && !p.IsSet("zone"), fault.Usagef("--save has no effect without --zone").Try("add --zone with the number of the zone that came out right"))
	if p.IsSet("zone") {
		readCoupon(p, r, alloy, strip, at)
	} else {
		p.show(strip, func() { printStrip(p.env, p.units, r, strip, at) })
	}
}

func printStrip(e *env, u measure.System, r *recipe.Recipe, s *coupon.Strip, at measure.Celsius) {
	e.say("%s\n", e.heading("STEPPED TEST STRIP FOR "+strings.ToUpper(r.Slug)))
	e.say("%s", wrap("", fmt.Sprintf("Expected dip time: %s at %s (estimated from the recipe; the strip decides). Use the same metal with the same surface, cleaned like the pieces.",
		u.Time(measure.Seconds(s.ExpectedS)), u.Temperature(at))))
	t := table{head: []string{"zone", "from the end", "in the bath", "of expected time"}, right: []bool{true, true, true, true}}
	for _, z := range s.Zones {
		t.add(fmt.Sprint(z.Number), u.Ruler(measure.Millimeters(z.FromMM))+" to "+u.Ruler(measure.Millimeters(z.ToMM)), fmt.Sprintf("%d s", z.DipS), measure.Figures(z.TimesNormal*100, 2)+" %")
	}
	e.say("\n")
	t.write(e.out, "  ")
	said := func(cue coupon.Cue) string { return cue.In(u) }
	e.section("LOWER IT IN STEPS", "  ", mapped(s.Lower, said)...)
	e.section("OR DRAW IT OUT IN STEPS", "  ", mapped(s.Draw, said)...)
	e.section("WRITE DOWN", "  - ", s.WriteDown...)
	e.putIn(e.amber, "  ! ", mapped(s.Notes, func(n measure.Note) string { return n.In(u) })...)
	e.say("\n%s", wrap("", "To keep the reading, run hepar coupon "+r.Slug+" again with the same flags and --zone NUMBER --alloy METAL --save. "+
		"Go through the safety steps first: hepar review "+r.Slug+"."))
}

func readCoupon(p *place, r *recipe.Recipe, alloy metal.Alloy, s *coupon.Strip, at measure.Celsius) {
	var zone int
	fault.Check(take(p.Context, "zone", countUpTo(0, coupon.MostZones+1), &zone))
	readings := fault.Must(s.Read(zone))
	var words []string
	result := journal.Result{Good: 1, Temperature: &at, Shade: "none right"}
	for _, reading := range readings {
		words = append(words, fmt.Sprintf("%d s %s", reading.DipS, reading.Verdict))
		if reading.Verdict == "right" {
			result.Time, result.Shade = new(measure.Seconds(reading.DipS)), "right"
		}
	}
	said := strings.Join(words, ", ")
	if p.Bool("save") {
		refuse(alloy.Name == "",
			fault.Usagef("--alloy is required with --save").Try("name the metal of the strip: another metal has another dip time"))
		result.Note = "test strip: " + said
		b := fault.Must(p.journal.LogNew(journal.Plan{Alloy: alloy.Name, Shape: "coupon", Pieces: 1, Order: "coupon", Recipe: frozenRecipe(r)}, result, journal.LogOptions{WithoutReview: "a test strip"}))
		p.note("saved as batch %s\n", b.Number)
	}
	p.show(map[string]any{"recipe": r.Slug, "temperature_c": at, "readings": readings}, func() {
		p.say("%s at %s: %s\n", r.Slug, p.units.Temperature(at), said)
	})
}
