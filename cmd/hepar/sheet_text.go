package main

import (
	"cmp"
	"fmt"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

// printSheet prints the batch sheet for a person at the bench: one screen. detail
// adds what the plan rests on and the steps in full.
func printSheet(e *env, u measure.System, d document, r *recipe.Recipe, detail bool) {
	s := d.Sheet
	b := s.Brief(r, u)
	title := when(d.Number != "", "BATCH "+d.Number+"  ") + strings.ToUpper(oneLine(r.Title))
	e.say("%s\n", e.heading(title))
	e.say("%s", wrap("", b.What+wordsIf("; ", d.Order)))
	for _, line := range d.LastTime {
		e.say("%s", wrap("last time: ", line))
	}
	for _, line := range b.Capitals {
		e.say("%s", e.alarm(wrap("!! ", line)))
	}
	for _, p := range d.Safety {
		if p.Level == safety.Stop {
			e.say("%s", e.alarm(wrap("STOP: ", p.Text)))
		}
	}
	e.say("\n%s\n", e.heading("WEIGH AND POUR: "+oneLine(b.Bath)))
	for i, line := range b.Pour {
		e.say("%s", wrap(fmt.Sprintf(" %d. ", i+1), line))
	}
	if b.InAll != "" {
		e.say("%s", wrap(" ", b.InAll))
	}
	printRows(e, s, b, r)
	if b.Verdict != "" {
		e.say("\n%s", wrap("", b.Verdict))
	}
	if b.Better != "" {
		e.say("%s", wrap("better: ", b.Better))
	}
	if s.Run != nil && s.Run.Measured != nil {
		m := s.Run.Measured
		e.say("%s", wrap("time: ", fmt.Sprintf("%s at %s, measured here, %s; the book says %s", u.Time(m.Time), u.Temperature(m.At), m.Source, u.Time(measure.Seconds(s.Run.BookS)))))
	}
	if len(b.Moves) > 0 {
		e.say("%s", wrap("assumed: ", strings.Join(b.Moves, "; ")+"."))
	}
	e.say("\n%s\n", e.heading("STEPS"))
	for i, step := range b.Steps {
		if detail {
			step = stepText(u, r.Steps[i])
		}
		e.say("%s", wrap(fmt.Sprintf("%2d  ", i+1), step))
	}
	if len(b.Warnings) > 0 {
		e.say("\n%s\n", e.heading("LOOK OUT"))
		for _, w := range b.Warnings {
			e.say("%s", e.amber(wrap(" ! ", w)))
		}
	}
	if detail {
		printDetail(e, u, s, r)
	}
	if len(d.Working) > 0 {
		printWorking(e, u, d)
	}
	next := "hepar review " + cmp.Or(d.Number, r.Slug)
	e.say("\n%s", wrap("", when(!detail, "--detail shows losses, rinses, time and all assumptions. ")+"The SDS and your local rules decide over anything printed here. Before anything is mixed: "+next+"."))
}

// mostRows is how many rows of loads a sheet shows; --json has all of them.
const mostRows = 120

// printRows prints the loads with a box each, and the actions among them.
func printRows(e *env, s *bath.Sheet, b bath.Brief, r *recipe.Recipe) {
	if len(b.Rows) == 0 {
		return
	}
	head := fmt.Sprintf("LOADS (%d)", len(s.Loads))
	if r.Dip != nil && r.Dip.StopAt != "" {
		head += ": stop at " + oneLine(r.Dip.StopAt)
	}
	e.say("\n%s\n", e.heading(head))
	width := [4]int{4, 6, 5, 7}
	for _, row := range b.Rows {
		for i, cell := range []string{row.Loads, row.Pieces, row.Dip, row.At} {
			width[i] = max(width[i], len(cell))
		}
	}
	say := func(box string, cells ...any) {
		format := fmt.Sprintf(" %%s  %%%ds  %%%ds  %%%ds  %%%ds  %%s", width[0], width[1], width[2], width[3])
		e.say("%s\n", strings.TrimRight(fmt.Sprintf(format, append([]any{box}, cells...)...), " "))
	}
	say("   ", "load", "pieces", "dip", "bath at", "may take")
	for i, row := range b.Rows {
		if i == mostRows {
			e.say(" ... --json has all %d loads.\n", len(s.Loads))
			return
		}
		if row.Action != "" {
			e.say("%s", e.heading(wrap(" [ ] >> ", row.Action)))
			continue
		}
		say("[ ]", row.Loads, row.Pieces, row.Dip, row.At, row.Band)
	}
}

// between is a range in brackets, a unit that both ends share at its end only.
func between(from, to string) string {
	if from == to {
		return ""
	}
	number, unit, _ := strings.Cut(from, " ")
	if _, other, _ := strings.Cut(to, " "); other == unit && !strings.ContainsAny(unit, "0123456789(") {
		from = number
	}
	return "(" + from + " to " + to + ")"
}

// given prints a figure as somebody wrote it, and a long one to three figures.
func given(x float64) string { return atMost(x, 3) }

// atMost prints a short figure as it is, and rounds a longer one to so many figures.
func atMost(x float64, figures int) string {
	if text := measure.Plain(x); len(text) <= figures+3 {
		return text
	}
	return measure.Figures(x, figures)
}

func plural(n int, what string) string { return isOrAre(n, what, what+"s") }

func shortDigest(digest string) string { return digest[:min(len(digest), 19)] }

// when returns a text where something holds, and nothing else.
func when(holds bool, text string) string { return either(holds, text, "") }

// either returns the one where something holds, and the other where it does not.
func either[T any](holds bool, one, other T) T {
	if holds {
		return one
	}
	return other
}
