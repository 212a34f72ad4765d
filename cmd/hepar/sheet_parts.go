package main

import (
	"fmt"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// printSteps prints the order of the work.
func printSteps(e *env, u measure.System, r *recipe.Recipe) {
	e.say("\n%s\n", e.heading("STEPS"))
	for i, step := range r.Steps {
		e.say("%s", wrap(fmt.Sprintf("  %2d  ", i+1), stepText(u, step)))
	}
}

// stepText says one step in a sentence.
func stepText(u measure.System, s recipe.Step) string {
	text := s.Do
	if s.With != "" {
		text += " with " + substanceName(s.With)
		if s.Concentration.At.PerL > 0 {
			text += " " + rangeText(u, s.Concentration)
		}
	}
	if s.Baths > 1 {
		text += fmt.Sprintf(" in %d tubs one after the other", s.Baths)
	}
	if s.Running {
		text += " in running water"
	}
	if s.HasWater {
		text += " at " + u.Temperature(s.Water.At)
	}
	if s.Time.At > 0 {
		text += " for " + u.Time(s.Time.At)
	}
	for _, extra := range []string{s.How, s.Note} {
		if extra != "" {
			text += "; " + strings.TrimSuffix(extra, ".")
		}
	}
	return text + "."
}

func substanceName(id string) string {
	if s, err := reagent.Find(id); err == nil {
		return s.Name
	}
	return id
}

// rangeText prints a concentration with its range.
func rangeText(u measure.System, c recipe.Range[measure.Concentration]) string {
	text := func(c measure.Concentration) string { return u.Of(c.PerL, c.Unit()) }
	return span(text(c.From), text(c.At), text(c.To))
}

func printRinses(e *env, u measure.System, s *bath.Sheet) {
	if len(s.Rinses) == 0 {
		return
	}
	e.say("\n%s\n", e.heading("RINSES AND HELPERS"))
	t := table{head: []string{"step", "what", "tubs", "each", "in it"}, right: []bool{true, false, true, true}}
	for _, r := range s.Rinses {
		step, volume := "", ""
		if r.Step > 0 {
			step = fmt.Sprint(r.Step)
		}
		if r.VolumeL > 0 {
			volume = u.Liquid(measure.Liters(r.VolumeL))
		}
		if r.Running {
			volume = "running"
		}
		t.add(step, r.Do, fmt.Sprint(r.Baths), volume, helperText(u, r))
	}
	t.write(e.out, "  ")
}

func helperText(u measure.System, r bath.Rinse) string {
	if r.Substance == "" && r.Running && r.RunningLMin > 0 {
		return fmt.Sprintf("water; or running, %s a minute, or %s a minute against the work through %d tubs", u.Liquid(measure.Liters(r.RunningLMin)), u.Liquid(measure.Liters(r.CounterLMin)), r.CounterTubs)
	}
	if r.Substance == "" {
		return "water"
	}
	text := substanceName(r.Substance)
	if r.Grams != nil {
		text = u.Scale(measure.Grams(*r.Grams)) + " of " + text
	}
	if r.LeastGrams != nil {
		text += "; at the least " + u.Of(*r.LeastGrams, "g") + " for the acid"
	}
	if r.Note != "" {
		text += "; " + strings.TrimSuffix(r.Note, ".")
	}
	if r.FoamG > 0 {
		text += "; about " + u.Of(r.FoamG, "g") + " of carbon dioxide foams off"
	}
	return text
}

// printAssumptions lists every figure that nobody gave.
func printAssumptions(e *env, u measure.System, s *bath.Sheet) {
	if len(s.Assumptions) == 0 {
		return
	}
	e.say("\n%s\n", e.heading("ASSUMED, because nobody gave it"))
	for _, a := range s.Assumptions {
		e.say("%s", wrap("  ", a.Name+" "+u.Of(a.Value, a.Unit)+": "+strings.TrimPrefix(strings.TrimPrefix(a.Source, "assumed: "), "assumed, ")))
	}
}

// printWorking keeps the units of the formulas, for which their constants are given.
func printWorking(e *env, u measure.System, d document) {
	e.say("\n%s\n", e.heading("WORKING"))
	if u != measure.Metric {
		e.say("%s", wrap("  ", "In metric units, in which the formulas and their constants are published."))
	}
	for _, w := range d.Working {
		e.say("%s", wrap("  ", w.Name+" = "+w.Formula))
		e.say("%s", wrap("      = ", w.Numbers))
		e.say("%s", wrap("      = ", w.Result))
		e.say("%s", wrap("      from: ", w.Source))
	}
}
