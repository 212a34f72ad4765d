package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/safety"
)

func reviewCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "review", Usage: "go through the safety steps before any finishing", ArgsUsage: "RECIPE|BATCH",
		Description: `Goes through what could hurt somebody in this recipe or batch, point by point. At a
terminal it asks about each point; --acknowledge NAME confirms all of them and records
the name. A batch keeps its review in the journal; a valid review is of the same day. A
recipe that brings acid to a sulfide is refused with exit status 3.

EXAMPLES
   hepar review silver-black
   hepar review last --room "32 m3" --air-changes 2 --acknowledge "Ilse Tamm"`,
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "acknowledge", Usage: "NAME: the person who has read every point"},
			&cli.StringFlag{Name: "alloy", Usage: "METAL: of the pieces, if you review a recipe rather than a batch"},
		}, safetyFlags()...),
		Action: at(e, 1, 1, "a recipe or the number of a batch", func(c *cli.Context, p *place) error { return runReview(e, c, p) }),
	}
}

func runReview(e *env, c *cli.Context, p *place) error {
	ref := c.Args().First()
	var batch *journal.Batch
	var sub safety.Subject
	if _, err := p.recipe(ref); err != nil && !isBatch(ref) {
		return err
	} else if err != nil {
		b, err := p.journal.Get(ref)
		if err != nil {
			return err
		}
		if b.State == journal.Logged || b.State == journal.Withdrawn {
			e.note("note: batch %s is %s already\n", b.Number, b.State)
		}
		batch = &b
		if sub, _, err = frozen(b); err != nil {
			return err
		}
	} else {
		r, err := p.recipe(ref)
		if err != nil {
			return err
		}
		sub = safety.Subject{Recipe: r}
		if c.IsSet("alloy") {
			a, err := metal.Find(c.String("alloy"))
			if err != nil {
				return atFlag("alloy", err)
			}
			sub.Alloy = &a
		}
	}
	if err := takeSafety(c, p, &sub); err != nil {
		return err
	}
	review, err := safety.Assess(sub)
	if err != nil {
		return err
	}
	if e.json {
		if err := e.printJSON(review); err != nil {
			return err
		}
	} else {
		printEmergency(e, review)
	}
	if err := safety.Refused(review.Points); err != nil {
		if !e.json {
			printPoints(e, review.Points)
		}
		return err
	}
	by, err := acknowledge(e, c, review)
	if err != nil || by == "" {
		return err
	}
	if batch == nil {
		e.note("read by %s; only a batch keeps its review: plan one with hepar prepare --save, then review it\n", oneLine(by))
		return nil
	}
	codes := make([]string, len(review.Points))
	for i, point := range review.Points {
		codes[i] = point.Code
	}
	if _, err := p.journal.Review(batch.Number, journal.Review{By: by, At: journal.StampOf(e.now()), Digest: batch.Recipe.Digest, Points: codes}); err != nil {
		return err
	}
	e.note("batch %s is reviewed: %d points, acknowledged by %s\n", batch.Number, len(codes), oneLine(by))
	return nil
}

// frozen returns what a saved batch was made from: its frozen recipe and sheet.
func frozen(b journal.Batch) (safety.Subject, *bath.Sheet, error) {
	if b.Recipe.Text == "" {
		return safety.Subject{}, nil, fault.Failuref("batch %s was logged without a sheet, so there is nothing to review", b.Number).
			Try("review the recipe itself: hepar review %s", b.Recipe.Slug)
	}
	r, findings := recipe.Decode(b.Recipe.Slug+".toml", []byte(b.Recipe.Text))
	if r == nil {
		return safety.Subject{}, nil, fromFindings(b.Recipe.Slug, findings)
	}
	if len(b.Sheet) == 0 {
		return safety.Subject{}, nil, fault.Failuref("batch %s was logged without a sheet", b.Number).Try("use the recipe itself: %s", b.Recipe.Slug)
	}
	var sheet bath.Sheet
	if err := json.Unmarshal(b.Sheet, &sheet); err != nil {
		return safety.Subject{}, nil, fault.Damagedf("the sheet of batch %s cannot be read", b.Number).Because(err).Try("run hepar journal verify")
	}
	sub := subject(r, nil, &sheet)
	if a, err := metal.Find(b.Alloy); err == nil {
		sub.Alloy = &a
	}
	return sub, &sheet, nil
}

func printEmergency(e *env, r safety.Review) {
	e.say("%s\n", e.alarm("IF SOMETHING GOES WRONG"))
	for _, line := range r.Emergency {
		e.say("%s", e.alarm(wrap("  * ", line)))
	}
	e.say("\n")
}

func printPoint(e *env, n int, p safety.Point) {
	level := strings.ToUpper(string(p.Level))
	text := wrap(fmt.Sprintf("%3d  %s: ", n, level), p.Text)
	switch p.Level {
	case safety.StopLevel:
		text = e.alarm(text)
	case safety.CorrectFirst:
		text = e.amber(text)
	}
	e.say("%s%s", text, wrap("       source: ", p.Source))
}

func printPoints(e *env, points []safety.Point) {
	for i, p := range points {
		printPoint(e, i+1, p)
	}
}

// printReview prints the points, then the estimates behind them.
func printReview(e *env, r safety.Review) {
	printPoints(e, r.Points)
	printGas(e, r)
}

// acknowledge prints the points and asks for them to be confirmed: all at once with
// the flag, one by one on a terminal, not at all if nobody can answer. It returns the
// name of the person, or the empty string if the points were only printed.
func acknowledge(e *env, c *cli.Context, review safety.Review) (string, error) {
	if c.IsSet("acknowledge") {
		by := strings.TrimSpace(c.String("acknowledge"))
		if by == "" || by != measure.Clean(by) {
			return "", fault.Usagef("the name is empty or is not plain text").At("--acknowledge").Try("write the name of the person who has read every point")
		}
		if !e.json {
			printReview(e, review)
		}
		return by, nil
	}
	if e.json {
		return "", nil
	}
	if !e.inTTY || !e.outTTY {
		printReview(e, review)
		e.note("not acknowledged: run this at a terminal, or add --acknowledge NAME\n")
		return "", nil
	}
	name, err := askPoints(e, review.Points)
	if err == nil {
		printGas(e, review)
	}
	return name, err
}

func askPoints(e *env, points []safety.Point) (string, error) {
	in := bufio.NewScanner(e.in)
	ask := func(prompt string) (string, bool) {
		e.say("%s", prompt)
		if e.flush() != nil || !in.Scan() {
			return "", false
		}
		return strings.TrimSpace(measure.Clean(in.Text())), true
	}
	name, ok := ask("Your name: ")
	if !ok || name == "" {
		return "", fault.Failuref("the review is not acknowledged: no name").Try("start again when you have time to read it")
	}
	for i, p := range points {
		printPoint(e, i+1, p)
		for {
			answer, ok := ask("     type yes if this is so, no to stop: ")
			answer = strings.ToLower(answer)
			if !ok || answer == "no" || answer == "n" {
				return "", fault.Failuref("the review stopped at point %d of %d and is not acknowledged", i+1, len(points)).
					Try("put this point right, then start again")
			}
			if answer == "yes" {
				break
			}
		}
	}
	return name, nil
}
