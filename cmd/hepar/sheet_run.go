package main

import (
	"fmt"
	"math"
	"strings"

	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
)

// mostRows is how many rows of loads a sheet shows; --json has all of them.
const mostRows = 120

// printHeat says what the bath loses and how long it stays where it should be.
func printHeat(e *env, u measure.System, s *bath.Sheet) {
	r := s.Run
	if r == nil {
		return
	}
	t := table{right: []bool{false, true}}
	t.add(star(s, "to hold the bath", "room temperature", "surface of the bath"), watts(r.HoldingWattsOpen), "open; "+watts(r.HoldingWattsLid)+" under a lid")
	if r.CoolingPerMin > 0.01 && !r.Held {
		text := "a minute, open and unheated; " + u.Degrees(degrees(r.CoolingLidPerMin)) + " under a lid"
		if r.MinutesInRange > 0 {
			text += "; in range for " + u.Time(measure.Seconds(r.MinutesInRange*60))
		}
		t.add("cools by", u.Degrees(degrees(r.CoolingPerMin)), text)
	}
	e.say("\n%s\n", e.heading("HEAT (estimated, to about a fifth; a thermometer in the bath decides)"))
	t.write(e.out, "  ")
}

// degrees is how much a bath cools; one that the room warms cools by nothing.
func degrees(c float64) measure.Degrees { return measure.Degrees(max(c, 0)) }

func watts(w float64) string {
	if w < 0 {
		return "none"
	}
	return measure.Figures(w, 2) + " W"
}

// printLoads prints the loads with what happens between them. Loads that are alike
// and follow each other share a row.
func printLoads(e *env, u measure.System, s *bath.Sheet) {
	if len(s.Loads) == 0 {
		return
	}
	e.say("\n%s\n", e.heading(loadsHeading(s)))
	t := table{mark: ">> ", head: []string{"load", "pieces", "bath", "at", "bath at", "strength", star(s, "time in the bath", "activation energy"), "band", "after it"},
		right: []bool{true, true, true, true, true, true, true, true}}
	events := s.Events
	for i := 0; i < len(s.Loads); {
		if len(t.rows) == mostRows {
			break
		}
		first, j := s.Loads[i], i+1
		before := func(n int) bool { return len(events) > 0 && events[0].BeforeLoad == n }
		for before(first.Number) { // what comes before the very first load
			events = events[1:]
		}
		for j < len(s.Loads) && !before(s.Loads[j].Number) && alike(u, first, s.Loads[j]) {
			j++
		}
		name := fmt.Sprint(first.Number)
		if j-i > 1 {
			name = fmt.Sprintf("%d to %d", first.Number, s.Loads[j-1].Number)
		}
		t.add(name, fmt.Sprint(first.Pieces), fmt.Sprint(first.Bath), clock(first.StartMin), u.Temperature(measure.Celsius(first.TemperatureC)),
			measure.Figures(first.Strength*100, 2)+" %", secondsText(u, first.DipS),
			fmt.Sprintf("%s to %s s", measure.Round(first.DipLowS, 0), measure.Round(first.DipHighS, 0)), s.Loads[j-1].RinseNote)
		var texts []string
		for j < len(s.Loads) && before(s.Loads[j].Number) {
			texts = append(texts, events[0].Note().In(u))
			events = events[1:]
		}
		t.remark(strings.Join(texts, "; then "))
		i = j
	}
	t.write(e.out, "  ")
	if last := t.rows[len(t.rows)-1][0]; len(t.rows) == mostRows {
		e.say("%s", wrap("  ", fmt.Sprintf("... up to row %s of %d loads; --json has them all.", last, len(s.Loads))))
	}
}

func loadsHeading(s *bath.Sheet) string {
	text := fmt.Sprintf("LOADS (%d", len(s.Loads))
	if r := s.Run; r != nil && r.Capacity.By != "" {
		text += ", " + map[string]string{"area": "limited by the metal that the bath takes", "floor": "limited by what lies in the vessel without touching",
			"rack": "limited by the rack", "hands": "limited by what hands place and take in time", "per-load": "limited by --per-load", "all": "all in one"}[r.Capacity.By]
	}
	return text + ")"
}

// secondsText keeps whole seconds up to two minutes: they are what a hand counts.
func secondsText(u measure.System, s int) string {
	if s > 120 {
		return u.Time(measure.Seconds(s))
	}
	return fmt.Sprintf("%d s", s)
}

// clock is minutes since the first piece went in, as h:mm:ss.
func clock(minutes float64) string {
	sec := int(minutes*60 + 0.5)
	return fmt.Sprintf("%d:%02d:%02d", sec/3600, sec/60%60, sec%60)
}

func alike(u measure.System, a, b plan.Load) bool {
	return a.Pieces == b.Pieces && a.Bath == b.Bath && a.DipS == b.DipS && a.RinseNote == b.RinseNote &&
		u.Temperature(measure.Celsius(a.TemperatureC)) == u.Temperature(measure.Celsius(b.TemperatureC)) &&
		measure.Figures(a.Strength, 2) == measure.Figures(b.Strength, 2)
}

// printMatch says how well the pieces will match, and what would help.
func printMatch(e *env, u measure.System, s *bath.Sheet) {
	m, r := s.Match, s.Run
	if m == nil {
		return
	}
	e.say("\n%s\n", e.heading("MATCH (spread of the time given against the time needed, all pieces)"))
	t := table{right: []bool{false, true}}
	t.add(star(s, "at one fixed time", "activation energy"), measure.Figures(m.FixedSpreadPercent, 2)+" %", fmt.Sprintf("%d s for every load", m.FixedS))
	how := "each load its own time"
	if m.OneTime {
		how = "no other times do better"
	}
	t.add(star(s, "with this plan", "activation energy", "placing one piece"), measure.Figures(m.PlannedSpreadPercent, 2)+" %", how+fmt.Sprintf("; whole seconds cost %s %%, hands %s %%, cooling within a load %s %%",
		measure.Figures(m.RoundingPercent, 2), measure.Figures(m.HandsPercent, 2), measure.Figures(m.DriftPercent, 2)))
	t.add("the run takes", clock(r.Totals.Minutes), fmt.Sprintf("h:mm:ss from the first piece in; %s with %s of %s; water for baths and the rinse behind them %s, waste from them %s",
		plural(r.Totals.Baths, "bath"), reagentTotal(u, r.Totals), s.Bath.Reagents[0].Name, u.Liquid(measure.Liters(r.Totals.WaterL)), u.Liquid(measure.Liters(r.Totals.WasteL))))
	if r.Shares.Ends != "" {
		t.add("strength lost", measure.Figures(r.Shares.LostPerBath*100, 2)+" %", fmt.Sprintf("of each bath, most of it by %s (age %s %%, drag-out %s %%, film %s %%, thinning %s %%)",
			r.Shares.Ends, measure.Figures(r.Shares.AgePercent, 2), measure.Figures(r.Shares.DragOutPercent, 2), measure.Figures(r.Shares.FilmPercent, 2), measure.Figures(r.Shares.DilutionPercent, 2)))
	}
	t.write(e.out, "  ")
	printHelp(e, u, s)
}

func printHelp(e *env, u measure.System, s *bath.Sheet) {
	if len(s.Help) == 0 {
		return
	}
	e.say("\n%s\n", e.heading("WHAT WOULD HELP (one change at a time, the best match first)"))
	t := table{head: []string{"match", "time", "reagent", "loads", "what"}, right: []bool{true, true, true, true}}
	for _, l := range s.Help {
		t.add(measure.Figures(l.SpreadPercent, 2)+" %", signed(l.ByMinutes, measure.Figures(math.Abs(l.ByMinutes), 2)+" min"), signed(l.ByReagent, u.Of(math.Abs(l.ByReagent), s.Run.Totals.ReagentUnit)), fmt.Sprint(l.Loads), l.In(u))
	}
	t.write(e.out, "  ")
}

// reagentTotal is the limiting reagent of all baths.
func reagentTotal(u measure.System, t plan.Totals) string {
	return u.Of(t.Reagent, t.ReagentUnit)
}

func plural(n int, what string) string {
	return isOrAre(n, what, what+"s")
}

// signed gives the size of a change its sign.
func signed(x float64, size string) string {
	switch {
	case measure.Round(x, 1) == measure.Round(0, 1):
		return "same"
	case x > 0:
		return "+" + size
	}
	return "-" + size
}

// printWork says what the whole job takes.
func printWork(e *env, u measure.System, s *bath.Sheet) {
	w := s.Work
	if w == nil {
		return
	}
	e.say("\n%s\n", e.heading("THE WHOLE JOB"))
	t := table{right: []bool{false, true, true}}
	for _, share := range w.Shares {
		if share.Minutes == 0 && share.Cost == 0 {
			continue
		}
		cost := ""
		if share.Cost > 0 {
			cost = measure.Round(share.Cost, 2)
		}
		note := share.Working
		if share.Assumed {
			note += " *"
		}
		t.add(share.Name, u.Time(measure.Seconds(60*share.Minutes)), cost, note)
	}
	t.add("together", u.Time(measure.Seconds(60*w.Minutes)), costText(w.Cost), fmt.Sprintf("%s min a good piece", measure.Figures(w.MinutesPerGood, 2)))
	t.write(e.out, "  ")
	if s.StartAdvice != "" {
		e.say("%s", wrap("  ", "Spares: "+s.StartAdvice+"."))
	}
}

func costText(cost float64) string {
	if cost == 0 {
		return ""
	}
	return measure.Round(cost, 2)
}
