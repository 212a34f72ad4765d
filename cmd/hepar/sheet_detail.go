package main

import (
	"fmt"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/measure"
)

// printDetail prints what the sheet rests on: what is weighed, heat, losses, rinses,
// the time of the whole job, and every assumption.
func printDetail(e *env, u measure.System, s *bath.Sheet, r *recipe.Recipe) {
	e.say("\n%s\n", e.heading("THE RECIPE"))
	e.say("%s", wrap("  ", fmt.Sprintf("%s, revision %d, %s. %s. From: %s", oneLine(s.Recipe.Slug), s.Recipe.Revision, shortDigest(s.Recipe.Digest), strings.TrimSuffix(r.Look, "."), r.Source)))
	e.say("\n%s\n", e.heading("THE BATH"))
	t := table{right: []bool{false, true}}
	t.add("volume", u.Liquid(measure.Liters(s.Bath.VolumeL)), bathText(u, s))
	t.add("temperature", u.Temperature(measure.Celsius(s.Bath.TemperatureC)), between(u.Temperature(measure.Celsius(s.Bath.FromC)), u.Temperature(measure.Celsius(s.Bath.ToC)))+" to mix at")
	for _, line := range s.Bath.Reagents {
		amount, note := reagentText(u, line)
		t.add(line.Name, amount, note)
	}
	if run := s.Run; run != nil {
		t.add("to hold it", wattsText(run.HoldingWatts), "open; good to a quarter, and less near boiling or lukewarm, where published correlations differ more")
		if run.CoolingPerMin > 0.01 {
			t.add("cools by", u.Degrees(measure.Degrees(run.CoolingPerMin)), "a minute, open and unheated")
		}
		t.add("a load", fmt.Sprint(run.Capacity.Pieces), "pieces, the largest of this plan"+wordsIf("; what bounds a load: ", run.Capacity.Why))
		t.add("strength", measure.Figures(run.LeastStrength*100, 2)+" %", fmt.Sprintf("at the least; of what is lost, air takes %s %%, film %s %%, drag-out %s %%, water added %s %%",
			measure.Figures(run.Shares.AirPercent, 2), measure.Figures(run.Shares.FilmPercent, 2), measure.Figures(run.Shares.DragOutPercent, 2), measure.Figures(run.Shares.WaterPercent, 2)))
		t.add("water, waste", u.Liquid(measure.Liters(run.Totals.WaterL)), u.Liquid(measure.Liters(run.Totals.WasteL))+" of waste: the bath, and every still tub after it")
		if m := s.Match; m != nil && m.OneTimePercent > 0 {
			t.add("at one time", measure.Figures(m.OneTimePercent, 2)+" %", "difference in film if every load had the same dip")
		}
	}
	t.write(e.out, "  ")
	printRinses(e, u, s)
	printWork(e, u, s)
	e.say("\n%s\n", e.heading("AIR, WEAR, WASTE (of the recipe)"))
	g := table{}
	g.add("air", r.Hazards.Ventilation)
	g.add("wear", strings.Join(r.Hazards.PPE, "; "))
	g.add("waste", r.Hazards.Disposal)
	g.write(e.out, "  ")
	printAssumptions(e, u, s)
}

func wattsText(w float64) string {
	if w <= 0 {
		return "nothing"
	}
	return measure.Figures(w, 2) + " W"
}

var limitWords = map[string]string{
	"volume":  "as asked for",
	"vessel":  "limited by the vessel: a quarter of its height stays free",
	"cover":   "limited by depth: each piece covered by ",
	"load":    "for the metal in at once",
	"reagent": "limited by the reagent at hand",
	"bench":   "limited by what a bench carries; give --vessel or --volume",
	"area":    "for the area and the coats",
}

func bathText(u measure.System, s *bath.Sheet) string {
	text := limitWords[s.Bath.LimitedBy]
	if s.Bath.LimitedBy == "cover" {
		text += u.Length(bath.CoverMM)
	}
	return text
}

func reagentText(u measure.System, line bath.ReagentLine) (amount, note string) {
	switch {
	case line.Grams != nil:
		amount = u.Scale(measure.Grams(*line.Grams))
	case line.Milliliters != nil:
		amount = u.Of(*line.Milliliters, "mL")
	}
	var parts []string
	if line.Form != "" {
		parts = append(parts, line.Form)
	}
	if line.PurityPercent > 0 {
		parts = append(parts, given(line.PurityPercent)+" % pure")
	}
	if made := line.Makes(); made.At.PerL > 0 {
		parts = append(parts, "makes "+rangeText(u, made))
	}
	if line.ReadingPercent >= 1 {
		parts = append(parts, "reading +/- "+measure.Figures(line.ReadingPercent, 1)+" %")
	}
	return amount, strings.Join(parts, ", ")
}

// printWork says what the whole job takes.
func printWork(e *env, u measure.System, s *bath.Sheet) {
	w := s.Work
	if w == nil {
		return
	}
	e.say("\n%s\n", e.heading("THE WHOLE JOB"))
	t := table{right: []bool{false, true, true}}
	assumed := false
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
			assumed = true
		}
		t.add(share.Name, u.Labour(measure.Seconds(60*share.Minutes)), cost, note)
	}
	cost := ""
	if w.Cost > 0 {
		cost = measure.Round(w.Cost, 2)
	}
	t.add("together", u.Labour(measure.Seconds(60*w.Minutes)), cost, fmt.Sprintf("%s min a good piece", measure.Figures(w.MinutesPerGood, 2)))
	t.write(e.out, "  ")
	if assumed {
		e.say("%s", wrap("  * ", "nobody timed it here: common practice, no source; set [minutes] in the shop file"))
	}
	if s.StartAdvice != "" {
		e.say("%s", wrap("  ", "Spares: "+s.StartAdvice+"."))
	}
}
