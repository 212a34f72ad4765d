package main

import (
	"fmt"
	"strings"

	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

// printGas prints what could be in the air, and how little it takes.
func printGas(e *env, r safety.Review) {
	if len(r.Gas) == 0 {
		return
	}
	e.say("\n%s\n", e.heading("GAS, ESTIMATED (ppm in the air, without capture)"))
	t := table{head: []string{"gas", "room", "near", "under a lid", "clear after", "if"}, right: []bool{false, true, true, true, true}}
	for _, g := range r.Gas {
		lid, clear := "", ""
		if g.HeadspacePPM != nil {
			lid = measure.Figures(*g.HeadspacePPM, 2)
		}
		if g.ClearMin > 0 {
			clear = measure.Figures(g.ClearMin, 2) + " min"
		}
		t.add(g.Gas, inBand(g.RoomPPM, g.RoomLowPPM, g.RoomHighPPM), inBand(g.NearPPM, g.NearLowPPM, g.NearHighPPM), lid, clear, g.Scenario)
	}
	t.write(e.out, "  ")
	e.say("%s", wrap("  ", "clear after: down to the lowest limit listed, at the soonest, once no more gas comes off; a meter read from outside decides."))
	if len(r.GramsToLimit) > 0 {
		e.say("\n%s\n", e.heading("HOW LITTLE IT TAKES (fully acidified, spread through this room)"))
		t := table{head: []string{"substance", "grams", "brings the room to", "limit"}, right: []bool{false, true, true}}
		for _, g := range r.GramsToLimit {
			t.add(substanceName(g.Substance), measure.Figures(g.Grams, 2), ppm(g.PPM), g.Limit+", "+g.Averaging+" ("+g.Source+"; "+g.Date+")")
		}
		t.write(e.out, "  ")
	}
	if len(r.Limits) > 0 {
		e.say("\n%s\n", e.heading("LIMITS"))
		for _, l := range r.Limits {
			e.say("%s", wrap("  "+l.Gas+": ", l.String()+"; "+l.Cited()))
		}
	}
	for _, f := range r.Airflow {
		e.say("%s", wrap("  air for "+f.Limit+": ", measure.Figures(f.M3H, 2)+" m3/h, "+f.Scenario+"; "+f.Answer))
	}
	if len(r.Inputs) > 0 {
		var parts []string
		for _, in := range r.Inputs {
			parts = append(parts, strings.TrimSpace(fmt.Sprintf("%s %s %s (%s)", in.Name, given(in.Value), in.Unit, in.Source)))
		}
		e.say("%s", wrap("  rests on: ", strings.Join(parts, "; ")))
	}
	if r.Note != "" {
		e.say("%s", e.alarm(wrap("  ", r.Note)))
	}
}

// ppm prints parts per million in air, two figures.
func ppm(x float64) string { return measure.Figures(x, 2) + " ppm" }

// inBand prints ppm: a figure, or the band where only that is known, which deserves one
// figure at each end.
func inBand(middle *float64, low, high float64) string {
	small := func(x float64, figures int) string {
		if x < traceppm {
			return "<" + measure.Plain(traceppm)
		}
		return measure.Figures(x, figures)
	}
	switch {
	case middle != nil:
		return small(*middle, 2)
	case high < traceppm:
		return small(high, 1)
	}
	return small(low, 1) + " to " + small(high, 1)
}

// traceppm is the least that is printed, in ppm: a hundredth of what a meter shows.
const traceppm = 0.001
