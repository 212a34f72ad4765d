package main

import (
	"fmt"
	"slices"
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
		if s.Concentration.At > 0 {
			text += " " + rangeText(s.Concentration.From, s.Concentration.At, s.Concentration.To, s.Unit)
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

func rangeText(from, at, to float64, unit string) string {
	if from == to {
		return given(at) + " " + unit
	}
	return given(at) + " (" + given(from) + " to " + given(to) + ") " + unit
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
			volume = u.Volume(measure.Liters(r.VolumeL))
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
		return fmt.Sprintf("water; or running, %s L/min, or %s L/min against the work through %d tubs", measure.Figures(r.RunningLMin, 2), measure.Figures(r.CounterLMin, 2), r.CounterTubs)
	}
	if r.Substance == "" {
		return "water"
	}
	text := substanceName(r.Substance)
	if r.Grams != nil {
		text = u.Mass(measure.Grams(*r.Grams)) + " of " + text
	}
	if r.LeastGrams != nil {
		text += "; at the least " + u.Mass(measure.Grams(*r.LeastGrams)) + " for the acid"
	}
	if r.Note != "" {
		text += "; " + r.Note
	}
	return text
}

func printWarnings(e *env, s *bath.Sheet) {
	if len(s.Warnings) == 0 {
		return
	}
	e.say("\n%s\n", e.heading("LOOK OUT"))
	for _, w := range s.Warnings {
		e.say("%s", e.amber(wrap("  ! ", w.Text)))
	}
}

// printAssumptions is the footnote to every figure that carries a star.
func printAssumptions(e *env, s *bath.Sheet) {
	if len(s.Assumptions) == 0 {
		return
	}
	e.say("\n%s\n", e.heading("* ASSUMED, because nobody gave it"))
	for _, a := range s.Assumptions {
		e.say("%s", wrap("  ", strings.TrimSpace(fmt.Sprintf("%s %s %s", a.Name, given(a.Value), a.Unit))+": "+strings.TrimPrefix(strings.TrimPrefix(a.Source, "assumed: "), "assumed, ")))
	}
}

// star marks a figure that rests on one of the named assumptions.
func star(s *bath.Sheet, text string, names ...string) string {
	for _, a := range s.Assumptions {
		if slices.Contains(names, a.Name) {
			return text + " *"
		}
	}
	return text
}

func printWorking(e *env, d document) {
	e.say("\n%s\n", e.heading("WORKING"))
	for _, w := range d.Working {
		e.say("%s", wrap("  ", w.Name+" = "+w.Formula))
		e.say("%s", wrap("      = ", w.Numbers))
		e.say("%s", wrap("      = ", w.Result))
		e.say("%s", wrap("      from: ", w.Source))
	}
}
