package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/page"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/run"
	"hepar/recipe/safety"
)

func sheetCommand(e *env) *verb {
	return command("sheet BATCH", "write the sheet of a saved batch as one page for the wall", at(e, func(p *place) {
		refuse(!p.IsSet("output"), fault.Usagef("--output is required").Try("write --output sheet.html"))
		b := fault.Must(p.journal.Get(p.Args().First()))
		d, r := frozen(b)
		writeSheet(p, d, r, b.Created.Time(), b.Bench)
	}), pageFlags()...)
}

func pageFlags() []option {
	return []option{
		pageFlag("sheet.html", "; never overwrites one"),
		yes("letter", "US Letter instead of A4"),
	}
}

// frozen returns the sheet and the recipe that a batch was saved with.
func frozen(b journal.Batch) (document, *recipe.Recipe) {
	d := document{Sheet: &bath.Sheet{}}
	refuse(len(b.Sheet) == 0 || b.Text == "",
		fault.Failuref("batch %s was logged without a sheet", b.Number).
			Try("use the recipe itself, %s, or plan a batch: hepar prepare %s ... --save", b.Slug, b.Slug))
	err := json.Unmarshal(b.Sheet, &d)
	refuse(err != nil, fault.Damagedf("the sheet of batch %s cannot be read", b.Number).Because(err).Try("run hepar journal verify"))
	r, findings := recipe.Decode(b.Slug+".toml", []byte(b.Text))
	refuse(r == nil, cmp.Or(recipe.Findings(findings).Of("recipe"), error(fault.Failuref("the recipe %s cannot be read", b.Slug))))
	d.Number, d.Order = b.Number, b.Order
	return d, r
}

func writeSheet(p *place, d document, r *recipe.Recipe, planned time.Time, entries []run.Entry) {
	html := fault.Must(page.Sheet(d.Sheet, r, page.Options{Number: d.Number, Order: d.Order, Date: planned.Format("2 January 2006"), Last: d.LastTime, Mixed: run.Replay(entries).MixedAt(), Letter: p.Bool("letter"), Units: p.units}))
	file := p.String("output")
	fault.Check(writeNew(file, html, elsewhere))
	p.show(map[string]any{"file": file, "bytes": len(html)}, func() { p.say("wrote %s: open it in a browser and print it\n", oneLine(file)) })
}

// printSheet prints the batch sheet for a person at the bench: one screen. detail
// adds what the plan rests on and the steps in full.
func printSheet(e *env, u measure.System, d document, r *recipe.Recipe, detail bool) {
	s := d.Sheet
	b := s.Brief(r, u)
	e.say("%s\n", e.heading(when(d.Number != "", "BATCH "+d.Number+"  ")+strings.ToUpper(oneLine(r.Title))))
	e.put("", b.What+wordsIf("; ", d.Order))
	e.putIn(e.alarm, "!! ", b.Capitals...)
	for _, p := range d.Safety {
		e.putIn(e.alarm, "STOP: ", when(p.Level == safety.Stop, p.Text))
	}
	e.put("last time: ", d.LastTime...)
	e.head("WEIGH AND POUR: " + oneLine(b.Bath))
	for i, line := range b.Pour {
		e.put(fmt.Sprintf(" %d. ", i+1), line)
	}
	e.put(" ", b.Ready...)
	printRows(e, s, b, r)
	if b.Verdict != "" {
		e.say("\n%s", wrap("", b.Verdict))
	}
	e.put("discard the bath ", b.Discard)
	e.put("better: ", b.Better)
	if s.Run != nil && s.Run.Measured != nil {
		m := s.Run.Measured
		e.put("time: ", fmt.Sprintf("%s at %s, measured here, %s; the recipe says %s", u.Time(m.Time), u.Temperature(m.At), m.Source, u.Time(measure.Seconds(s.Run.BookS))))
	}
	e.put("assumed: ", when(len(b.Moves) > 0, strings.Join(b.Moves, "; ")+"."))
	e.head("STEPS")
	for i, step := range b.Steps {
		if detail {
			step = stepText(u, r.Steps[i])
		}
		e.put(fmt.Sprintf("%2d  ", i+1), step)
	}
	if len(b.Warnings) > 0 {
		e.head("LOOK OUT")
		e.putIn(e.amber, " ! ", b.Warnings...)
	}
	if detail {
		printDetail(e, u, s, r)
	}
	printWorking(e, u, d)
	next := "hepar review " + cmp.Or(d.Number, r.Slug)
	e.say("\n%s", wrap("", when(!detail, "--detail shows losses, rinses, time and all assumptions. ")+"The SDS and your local rules decide over anything printed here. Before anything is mixed: "+next+"."))
}

// mostRows is how many rows of loads a sheet shows; --json has all of them.
const mostRows = 120

// printRows prints the loads with a box each, and the actions among them.
func printRows(e *env, s *bath.Sheet, b bath.Brief, r *recipe.Recipe) {
	t := table{head: []string{"", "load", "pieces", "dip time", "bath at", "dip-time range"}, right: []bool{false, true, true, true, true}, mark: "[ ] >> ", paint: e.heading}
	for _, row := range b.Rows[:min(len(b.Rows), mostRows)] {
		if row.Action != "" {
			t.remark(row.Action)
		} else {
			t.add("[ ]", row.Loads, row.Pieces, row.Dip, row.At, row.Band)
		}
	}
	if len(b.Rows) == 0 {
		return
	}
	head := fmt.Sprintf("LOADS (%d)", len(s.Loads))
	if r.Dip != nil {
		head += wordsIf(": ", oneLine(r.Dip.How()))
	}
	e.head(head)
	e.put("", b.OneByOne)
	t.write(e.out, " ")
	if len(b.Rows) > mostRows {
		e.say(" ... --json has all %d loads.\n", len(s.Loads))
	}
}

func printDetail(e *env, u measure.System, s *bath.Sheet, r *recipe.Recipe) {
	e.head("THE RECIPE")
	e.put("  ", fmt.Sprintf("%s, revision %d, %s. %s. From: %s", oneLine(s.Recipe.Slug), s.Recipe.Revision, shortDigest(s.Recipe.Digest), strings.TrimSuffix(r.Look, "."), r.Source))
	t := table{right: []bool{false, true}}
	t.add("volume", u.Liquid(measure.Liters(s.Bath.VolumeL)), s.Bath.Limit(u))
	t.add(either(slices.ContainsFunc(s.Warnings, func(w plan.Warning) bool { return w.Code == "warm-after" }), "warmed to", "mixed at"), u.Temperature(s.Start()), "the recipe has "+measure.Span(u.Temperature(measure.Celsius(s.Bath.FromC)), u.Temperature(measure.Celsius(s.Bath.TemperatureC)), u.Temperature(measure.Celsius(s.Bath.ToC))))
	for _, line := range s.Bath.Reagents {
		grams := textOf(line.Grams, func(g float64) string { return u.Scale(measure.Grams(g)) })
		made, ml := line.Makes(), textOf(line.Milliliters, func(ml float64) string { return u.Of(ml, "mL") })
		t.add(line.Name, cmp.Or(grams, ml), strings.Join(nonEmpty(line.Form, when(line.PurityPercent > 0, atMost(line.PurityPercent, 3)+" % pure"),
			when(made.At.PerL > 0, "makes "+rangeText(u, made)), when(line.ReadingPercent >= 1, "reading +/- "+measure.Figures(line.ReadingPercent, 1)+" %"), line.Source), ", "))
	}
	if run := s.Run; run != nil {
		t.add("heat to hold it", either(run.HoldingWatts > 0, measure.Figures(run.HoldingWatts, 2)+" W", "none"), "open bath; good to a quarter; less certain near boiling or lukewarm, where published correlations differ more")
		if run.CoolingPerMin > 0.01 {
			t.add("cools by", u.Degrees(measure.Degrees(run.CoolingPerMin)), "a minute, open and unheated")
		}
		t.add("a load", fmt.Sprint(run.Capacity.Pieces), "pieces, the largest of this plan"+wordsIf("; limit of a load: ", run.Capacity.Why))
		if run.Law != nil { // else nothing is known of it
			t.add("strength", measure.Figures(run.LeastStrength*100, 2)+" %", fmt.Sprintf("at the lowest; of the loss, air takes %s %%, the colour layer %s %%, drag-out %s %%, water added %s %%",
				measure.Figures(run.Shares.AirPercent, 2), measure.Figures(run.Shares.FilmPercent, 2), measure.Figures(run.Shares.DragOutPercent, 2), measure.Figures(run.Shares.WaterPercent, 2)))
		}
		t.add("water, waste", u.Liquid(measure.Liters(run.Totals.WaterL)), u.Liquid(measure.Liters(run.Totals.WasteL))+" of waste: the bath, and every still tub after it")
		if life := s.BathLife(); life > 0 {
			t.add("discard", u.Time(life), "after mixing: the plan with this bath and 15 min to set up, rounded up to a quarter of an hour; a bath is mixed fresh for each order")
		}
		if m := s.Match; m != nil && m.OneTimePercent > 0 {
			t.add("one dip time for all", measure.Figures(m.OneTimePercent, 2)+" %", "difference in the colour layer, if every load had the dip time of the first")
		}
	}
	t.show(e, "THE BATH")
	t = table{head: []string{"step", "what", "tubs", "each", "in it"}, right: []bool{true, false, true, true}}
	for _, r := range s.Rinses {
		volume := either(r.Running, "running", when(r.VolumeL > 0, u.Liquid(measure.Liters(r.VolumeL))))
		t.add(when(r.Step > 0, fmt.Sprint(r.Step)), r.Do, fmt.Sprint(r.Baths), volume, r.In(u))
	}
	t.show(e, "RINSES AND AUXILIARY BATHS")
	printWork(e, u, s)
	t = table{}
	t.facts("air", r.Hazards.Ventilation, "wear", strings.Join(r.Hazards.PPE, "; "), "waste", r.Hazards.Disposal)
	t.show(e, "AIR, WEAR, WASTE (of the recipe)")
	e.section("ASSUMED, because it was not given", "  ", mapped(s.Assumptions, func(a plan.Assumption) string {
		return a.Name + " " + u.Of(a.Value, a.Unit) + ": " + strings.TrimPrefix(strings.TrimPrefix(a.Source, "assumed: "), "assumed, ")
	})...)
}

func printWork(e *env, u measure.System, s *bath.Sheet) {
	w := s.Work
	if w == nil {
		return
	}
	t := table{right: []bool{false, true, true}}
	assumed, most, cost := false, "", func(x float64) string { return when(x > 0, measure.Round(x, 2)) }
	for _, share := range w.Shares {
		if share.Minutes == 0 && share.Cost == 0 {
			continue
		}
		assumed = assumed || share.Assumed
		if share.Assumed && share.Percent > 40 {
			most = share.Name
		}
		t.add(share.Name, u.Labour(measure.Seconds(60*share.Minutes)), cost(share.Cost), share.Working+when(share.Assumed, " *"))
	}
	t.add("together", u.Labour(measure.Seconds(60*w.Minutes)), cost(w.Cost), fmt.Sprintf("%s min per good piece", measure.Figures(w.MinutesPerGood, 2))+when(assumed, " *"))
	t.show(e, "THE WHOLE JOB")
	e.put("  * ", when(assumed, "not timed here: common practice, no source; set [minutes] in the shop file"+wordsIf(", first for ", most)))
	e.put("  ", when(s.StartAdvice != "", "Spares: "+s.StartAdvice+"."))
}

func stepText(u measure.System, s recipe.Step) string {
	text := s.Do
	if s.With != "" {
		text += " with " + substanceName(s.With)
		text += when(s.Concentration.At.PerL > 0, " "+rangeText(u, s.Concentration))
	}
	text += when(s.Baths > 1, fmt.Sprintf(" in %d tubs one after the other", s.Baths))
	text += when(s.Running, " in running water")
	text += when(s.HasWater, " at "+u.Temperature(s.Water.At))
	text += when(s.Time.At > 0, " for "+u.Time(s.Time.At))
	for _, extra := range []string{s.How, s.Note} {
		text += wordsIf("; ", strings.TrimSuffix(extra, "."))
	}
	return text + "."
}

func substanceName(id string) string {
	if s, err := reagent.Find(id); err == nil {
		return s.Name
	}
	return id
}

func rangeText(u measure.System, c recipe.Range[measure.Concentration]) string {
	text := func(c measure.Concentration) string { return u.Of(c.PerL, c.Unit()) }
	return measure.Span(text(c.From), text(c.At), text(c.To))
}

// printWorking keeps the units of the formulas, for which their constants are given.
func printWorking(e *env, u measure.System, d document) {
	if len(d.Working) == 0 {
		return
	}
	e.head("WORKING")
	e.put("  ", when(u != measure.Metric, "In metric units, in which the formulas and their constants are published."))
	for _, w := range d.Working {
		e.put("  ", w.Name+" = "+w.Formula)
		e.put("      = ", w.Numbers, w.Result)
		e.put("      from: ", w.Source)
	}
}
