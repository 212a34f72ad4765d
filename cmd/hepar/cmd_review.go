package main

import (
	"cmp"
	"fmt"
	"os"
	"strings"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/safety"
	"hepar/recipe/safety/gas"
	"hepar/recipe/safety/page"
)

func reviewCommand(e *env) *verb {
	sub := &safety.Subject{}
	return command("review RECIPE|BATCH", "go through the safety steps before any finishing",
		func(c *call) { runReview(openPlace(e, c), sub) },
		append([]option{
			text("acknowledge", "NAME: the person who has done and read all of it"),
			text("alloy", "METAL: metal of the pieces, if you review a recipe and not a batch"),
			yes("air", "show the estimates of gas, the exposure limits, and how few grams reach a limit"),
			yes("sources", "show where each point comes from"),
			pageFlag("review.html", ", a page to hang up"),
		}, safetyFlags(e, sub)...)...)
}

func runReview(p *place, sub *safety.Subject) {
	r, sheet, batch := p.named()
	alloy, err := metal.Find(cmp.Or(batch.Alloy, p.String("alloy")))
	refuse(batch.Number == "" && p.IsSet("alloy"), atFlag("alloy", err))
	if *sub = subject(r, nil, sheet); err == nil {
		sub.Alloy = &alloy
	}
	p.tell("note: ", when(batch.State == journal.Logged || batch.State == journal.Withdrawn, fmt.Sprintf("batch %s is %s already", batch.Number, batch.State)))
	takeSafety(p, sub)
	readFlags(p.Context)
	sub.Second = p.shop.Full(sub.Second)
	refuse(sub.Room.Outdoors && p.IsSet("air-changes"),
		fault.Usagef("outdoors there are no air changes").At("--air-changes").Try("leave it out, or give the volume of the room"))
	sub.Before, sub.After = recipesFrom(p, "before"), recipesFrom(p, "after")
	review := fault.Must(safety.Assess(*sub))
	given := batch.Review
	if given != nil && (len(given.Stops)+len(review.Stops()) > 0 || sub.Answers != safety.Answers{} || p.IsSet("acknowledge")) {
		given = nil
	}
	if p.IsSet("output") {
		fault.Check(writeNew(p.String("output"), reviewPage(*sub, batch, given), elsewhere))
	}
	if given != nil && p.IsSet("output") {
		p.show(review, func() {
			p.say("wrote %s: the review of %s by %s; for a new review leave --output out\n", oneLine(p.String("output")), given.At.Day(), oneLine(given.By))
		})
		return
	}
	asks := !p.json && p.inTTY && p.outTTY && !p.IsSet("acknowledge") && len(review.Stops()) == 0
	p.show(review, func() { printReview(p, *sub, review, !asks) })
	by := p.shop.Full(strings.TrimSpace(p.String("acknowledge")))
	if asks {
		p.flush() // what is to be read stands there before the first question
		by, review = fault.Must2(askReview(p, sub, review))
	}
	if stop := safety.Refused(review.Points); stop != nil {
		if batch.Review != nil && batch.State != journal.Logged && batch.State != journal.Withdrawn { // what it had is taken back
			fault.Must(p.journal.Review(batch.Number, journal.Review{By: by, At: journal.StampOf(p.now()), Digest: batch.Recipe.Digest, Points: []string{}, Stops: review.Stops()}))
		}
		fault.Check(stop)
	}
	if by == "" && !p.IsSet("acknowledge") {
		p.note("%s", when(!p.json, "not acknowledged: run this at a terminal, or add --acknowledge NAME and the measured values\n"))
		return
	}
	kept := fault.Must(bench.Reviewed(by, p.now(), *sub, review))
	lacks := review.Lacking()
	refuse(len(lacks) > 0, fault.Safetyf("the review lacks these answers: %s", strings.Join(lacks, ", ")).Try("add --%s", strings.Join(lacks, " ..., --")+" ..."))
	p.tell("note: ", sub.Remarks(by, p.now())...)
	if batch.Number == "" {
		p.note("read by %s and not kept: a review belongs to a batch. Plan one with hepar prepare --save, then review it\n", oneLine(by))
		return
	}
	fault.Must(p.journal.Review(batch.Number, kept))
	if p.IsSet("output") { // in place of the page without it
		fault.Check(os.WriteFile(p.String("output"), reviewPage(*sub, batch, &kept), 0o600))
	}
	p.note("batch %s is reviewed: %d points, acknowledged by %s; valid until midnight\n", batch.Number, len(review.Confirm), oneLine(by))
}

func subjectOf(b journal.Batch) safety.Subject {
	d, r := frozen(b)
	sub := subject(r, nil, d.Sheet)
	if a, err := metal.Find(b.Alloy); err == nil {
		sub.Alloy = &a
	}
	return sub
}

// printReview prints the review; with confirm unset the list is left to the questions.
func printReview(p *place, sub safety.Subject, r safety.Review, confirm bool) {
	e, sources := p.env, p.Bool("sources")
	line := func(first, text, source string) {
		e.put(first, text)
		e.put("      ", when(sources, "source: "+source))
	}
	e.say("%s\n", e.alarm("IF SOMETHING GOES WRONG"))
	e.putIn(e.alarm, " ! ", r.Emergency...)
	for _, point := range r.Points {
		if point.Level == safety.Stop {
			e.say("\n%s", e.alarm(wrap("STOP ", point.Text)))
			line("     ", when(point.Cure != "", "Do: "+strings.TrimSuffix(point.Cure, ".")+"."), point.Source)
		}
	}
	if confirm {
		e.head("DONE BEFORE THE WORK")
		for i, q := range r.Confirm {
			line(fmt.Sprintf("%2d  ", i+1), confirmation(q), q.Source)
		}
	}
	e.head("READ ONCE")
	for _, said := range r.Read {
		line(" - ", said.Text, said.Source)
	}
	e.put(" - ", "The author's own notes: hepar recipe show "+sub.Recipe.Slug+". Estimates of gas: --air. Sources: --sources.")
	if p.Bool("air") {
		printGas(e, r)
	}
	if sources && len(r.Substances) > 0 {
		e.head("SUBSTANCES (family defaults; your own SDS decides)")
		for _, said := range r.Substances {
			line(" - ", said.Text, said.Source)
		}
	}
	e.say("\n")
}

// confirmation is one line to confirm, with its value or the room for it.
func confirmation(q safety.Confirmation) string {
	return either(q.Ask == "", q.Text, strings.TrimSuffix(q.Text, ".")+": "+cmp.Or(q.Answer, "______"))
}

// askReview asks for each confirmation in turn; Enter confirms nothing, and what cannot be or is a stop is asked again.
// It returns the name and the review with the answers, which go into the subject too; or the stop that was left at.
func askReview(p *place, sub *safety.Subject, r safety.Review) (string, safety.Review, error) {
	in, me, stopped := p.lines(), p.person(""), "no name"
	name, ok := "", false
	for again := true; again; {
		typed, more := in("Your name" + wordsIf(", or Enter for ", me) + ": ")
		name = p.shop.Full(cmp.Or(typed, me))
		err := sub.Sign(name)
		ok = more && name != "" && strings.ToLower(typed) != "n" && strings.ToLower(typed) != "no"
		if again = ok && err != nil; again {
			p.tell("     ", errorText(err))
		}
	}
	var stop safety.Review
	for i := 0; ok && name != ""; {
		if i == len(r.Confirm) {
			return name, r, nil
		}
		q, at := r.Confirm[i], fmt.Sprintf("%2d of %d  ", i+1, len(r.Confirm))
		stopped = "stopped at " + strings.TrimSpace(at)
		prompt := when(i > 0, ", b for back") + ": "
		prompt = either(q.Ask == "", "  y, n to stop", either(q.Answer == "", "  value, n to stop", "  "+q.Answer+": y or another value, n to stop")) + prompt
		answer, more := in(wrap(at, q.Text) + prompt)
		low := strings.ToLower(answer)
		switch yes := low == "y" || low == "yes"; {
		case !more || low == "n" || low == "no":
			ok = false
		case low == "b" || low == "back":
			i = max(i-1, 0)
		case yes && (q.Ask == "" || q.Answer != ""):
			i++
		case q.Ask == "" || yes || answer == "":
			p.tell("     ", either(q.Ask == "", "y says that it is done, n stops", "it is missing: write it"))
		default:
			answer = either(q.Ask == "second", p.shop.Full(answer), answer)
			before, after := sub.Answers, r
			err := cmp.Or(sub.Answer(q.Ask, answer, p.now()), sub.Sign(name))
			if err == nil {
				after, err = safety.Assess(*sub)
			}
			if err = cmp.Or(err, safety.Refused(after.Points)); err != nil {
				stop, sub.Answers = after, before
				p.tell("     ", errorText(err))
				continue
			}
			p.tell("     ", when(q.Ask == "sds", sub.OldSheet(p.now())))
			r, stop = after, after
			i++
		}
	}
	if len(stop.Stops()) > 0 {
		stop.Confirm = r.Confirm
		return name, stop, nil
	}
	return "", r, fault.Failuref("the review is not acknowledged: %s", stopped).Try("complete it, then start again")
}

// reviewPage is the review to print, with the answers, name and day of one that was given.
func reviewPage(sub safety.Subject, b journal.Batch, given *journal.Review) []byte {
	var g page.Given
	if given != nil {
		g = page.Given{By: given.By, At: given.At.Time(), Points: given.Points, Answers: given.Answers, Room: given.Inputs["room"]}
	}
	return fault.Must(page.Review(sub, b.Number, b.Order, g))
}

func printGas(e *env, r safety.Review) {
	if len(r.Gas) == 0 {
		return
	}
	t := table{head: []string{"gas", "room", "near", "under a lid", "clear after", "if"}, right: []bool{false, true, true, true, true}}
	for _, g := range r.Gas {
		lid := textOf(g.HeadspacePPM, func(x float64) string { return gas.Text(x, 2) })
		clear := when(g.ClearMin > 0, measure.Figures(g.ClearMin, 2)+" min")
		t.add(g.Gas, gas.Band(g.RoomPPM, g.RoomLowPPM, g.RoomHighPPM), gas.Band(g.NearPPM, g.NearLowPPM, g.NearHighPPM), lid, clear, g.Scenario)
	}
	t.show(e, "GAS, ESTIMATED (ppm in the air, without capture)")
	e.put("  ", "clear after: the shortest time until the gas is down to the lowest limit listed, once no more gas comes off. A meter read from outside decides.")
	t = table{head: []string{"substance", "grams", "brings the room to", "limit"}, right: []bool{false, true, true}}
	for _, g := range r.GramsToLimit {
		t.add(substanceName(g.Substance), measure.Figures(g.Grams, 2), measure.Figures(g.PPM, 2)+" ppm", g.Limit+", "+g.Averaging+" ("+g.Source+"; "+g.Date+")")
	}
	t.show(e, "GRAMS THAT REACH A LIMIT (fully acidified, spread through this room)")
	e.section("LIMITS", "  - ", mapped(r.Limits, func(l gas.Limit) string { return l.Gas + ": " + l.String() + "; " + l.Cited() })...)
	for _, f := range r.Airflow {
		e.put("  air for "+f.Limit+": ", measure.Figures(f.M3H, 2)+" m3/h, "+f.Scenario+"; "+f.Answer)
	}
	e.put("  based on: ", strings.Join(mapped(r.Inputs, func(in gas.Input) string {
		return fmt.Sprintf("%s %s %s (%s)", in.Name, atMost(in.Value, 3), in.Unit, in.Source)
	}), "; "))
	e.putIn(e.alarm, "  ", r.Note)
}

func safetyFlags(e *env, sub *safety.Subject) []option {
	answer := func(name, usage string) option {
		return does(name, usage, func(text string) error { return sub.Answer(name, text, e.now()) })
	}
	list := func(text string) ([]string, error) { return words(text), nil }
	return group("ROOM, PIECES AND PEOPLE",
		does("room", "VOLUME: the room, \"32 m3\", or outdoors", sub.Room.Read),
		value("air-changes", "NUMBER: air changes an hour, as measured", measure.Number("", 0.01, 200, "write a plain number such as 100"), &sub.Room.AirChangesPerHour),
		answer("ph", "NUMBER: pH of the sulfide bath at its working temperature, as measured"),
		answer("capture", "WORD: how gas is caught at its source: "+strings.Join(safety.Captures(), ", ")),
		answer("meter", "PPM: alarm setting of the gas meter, tested today"),
		answer("second", "NAME: the second person, within call"),
		answer("sds", "DATE: date of the safety data sheet (SDS) that was read, 2025-04-30"),
		value("with", "LIST: what the pieces have: "+strings.Join(safety.Withs(), ", "), list, &sub.With),
		value("shared", "LIST: what acid and sulfide work share: "+strings.Join(safety.Shares(), ", "), list, &sub.Shared),
		text("before", "RECIPES: recipes that the pieces go through before this one, in order, separated by commas"),
		text("after", "RECIPES: recipes that the pieces go through afterwards"),
		text("person", "NAME: a worker of the shop file, or NAME=no-smell,pregnant,lungs,alone,new"),
	)
}

// takeSafety puts into a subject what the shop file says, and who is at the bench: a flag adds to
// what the shop file says of a worker and takes nothing away.
func takeSafety(p *place, sub *safety.Subject) {
	sub.Room, sub.Limits, sub.DragOutMLM2, sub.People, sub.Held = p.shop.Room, p.shop.Limits, float64(p.shop.Bath.Drain), p.shop.People, p.held(sub.Vessel)
	text := cmp.Or(p.String("person"), p.shop.Person)
	if text == "" {
		return
	}
	name, flags, _ := strings.Cut(text, "=")
	person := p.shop.Worker(name)
	fault.Check(atFlag("person", person.Apply(words(flags))))
	sub.Persons = append(sub.Persons, person)
}

func recipesFrom(p *place, flag string) []*recipe.Recipe {
	return mapped(words(p.String(flag)), func(slug string) *recipe.Recipe {
		r, err := p.recipe(slug)
		fault.Check(atFlag(flag, err))
		return r
	})
}

func words(list string) []string {
	return nonEmpty(mapped(strings.Split(list, ","), strings.TrimSpace)...)
}
