package main

import (
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
		Description: `Shows what to do if something goes wrong, at most ten things to do or to measure before
the work, and what to read once. At a terminal it asks for each: y where it is done, the
value where one is measured; Enter confirms nothing. --acknowledge NAME with the values as
flags says the same from a script. A review belongs to one batch and its people, and holds
until midnight. What must not be is refused with exit status 3, and takes an earlier review
of the batch back.

EXAMPLES
   hepar review silver-black
   hepar review last --acknowledge "Ilse Tamm" --ph 10.5 --capture hood --meter 5 \
         --second "Marek Oja" --sds 2025-04-30`,
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "acknowledge", Usage: "NAME: the person who has done and read all of it"},
			&cli.StringFlag{Name: "alloy", Usage: "METAL: of the pieces, if you review a recipe rather than a batch"},
			&cli.BoolFlag{Name: "air", Usage: "show the estimates of gas, the limits, and how little it takes"},
			&cli.BoolFlag{Name: "sources", Usage: "show where each point comes from"},
			&cli.StringFlag{Name: "output", Usage: "HTML file to write: a page to hang up"},
		}, safetyFlags()...),
		Action: at(e, 1, 1, "a recipe or the number of a batch", func(c *cli.Context, p *place) error { return runReview(e, c, p) }),
	}
}

func runReview(e *env, c *cli.Context, p *place) error {
	batch, sub, err := reviewed(e, c, p)
	if err != nil {
		return err
	}
	if err := takeSafety(c, p, &sub); err != nil {
		return err
	}
	review, err := safety.Assess(sub)
	if err != nil {
		return err
	}
	if c.IsSet("output") {
		if err := writeReview(c.String("output"), sub, review); err != nil {
			return err
		}
	}
	asks := !e.json && e.inTTY && e.outTTY && !c.IsSet("acknowledge") && len(review.Stops()) == 0
	if e.json {
		err = e.printJSON(review)
	} else {
		printReview(e, c, sub, review, !asks)
	}
	if err != nil {
		return err
	}
	by := strings.TrimSpace(c.String("acknowledge"))
	if asks {
		if by, sub, review, err = askReview(e, sub, review); err != nil {
			return err
		}
	}
	if stop := safety.Refused(review.Points); stop != nil {
		if err := takeBack(p, batch, by, review); err != nil {
			return err
		}
		return stop
	}
	switch {
	case c.IsSet("acknowledge") && (by == "" || by != measure.Clean(by)):
		return fault.Usagef("the name is empty or is not plain text").At("--acknowledge").Try("write the name of the person who has done and read all of it")
	case by != "" && strings.EqualFold(by, sub.Second):
		return fault.Usagef("the second person is %s, who does the review", oneLine(by)).At("--second").Try("name somebody else, who stays within call")
	case by == "":
		if !e.json {
			e.note("not acknowledged: run this at a terminal, or add --acknowledge NAME and what was measured\n")
		}
		return nil
	}
	if lacks := review.Lacking(); len(lacks) > 0 {
		return fault.Safetyf("the review lacks what was measured or named: %s", strings.Join(lacks, ", ")).Try("add --%s", strings.Join(lacks, " ..., --")+" ...")
	}
	if batch == nil {
		e.note("read by %s; only a batch keeps its review: plan one with hepar prepare --save, then review it\n", oneLine(by))
		return nil
	}
	if _, err := p.journal.Review(batch.Number, kept(p, by, sub, review)); err != nil {
		return err
	}
	e.note("batch %s is reviewed: %d points, acknowledged by %s; it holds until midnight\n", batch.Number, len(review.Confirm), oneLine(by))
	return nil
}

// reviewed finds what is to be reviewed: a recipe, or a batch with its frozen sheet.
func reviewed(e *env, c *cli.Context, p *place) (*journal.Batch, safety.Subject, error) {
	ref := c.Args().First()
	if _, err := p.recipe(ref); err != nil && !isBatch(ref) {
		return nil, safety.Subject{}, err
	} else if err != nil {
		b, err := p.journal.Get(ref)
		if err != nil {
			return nil, safety.Subject{}, err
		}
		if b.State == journal.Logged || b.State == journal.Withdrawn {
			e.note("note: batch %s is %s already\n", b.Number, b.State)
		}
		sub, _, err := frozen(b)
		return &b, sub, err
	}
	r, err := p.recipe(ref)
	if err != nil {
		return nil, safety.Subject{}, err
	}
	sub := safety.Subject{Recipe: r}
	if c.IsSet("alloy") {
		a, err := metal.Find(c.String("alloy"))
		if err != nil {
			return nil, sub, atFlag("alloy", err)
		}
		sub.Alloy = &a
	}
	return nil, sub, nil
}

// takeBack writes down that a review found a stop, where the batch had one to go on with.
func takeBack(p *place, batch *journal.Batch, by string, r safety.Review) error {
	if batch == nil || batch.Review == nil || batch.State == journal.Logged || batch.State == journal.Withdrawn {
		return nil
	}
	_, err := p.journal.Review(batch.Number, journal.Review{By: by, At: journal.StampOf(p.env.now()), Digest: batch.Recipe.Digest, Points: []string{}, Stops: r.Stops()})
	return err
}

// kept is the review as the journal keeps it: what was confirmed, measured and named, and
// the room; nothing of the health of a person.
func kept(p *place, by string, sub safety.Subject, r safety.Review) journal.Review {
	out := journal.Review{By: by, At: journal.StampOf(p.env.now()), Digest: sub.Recipe.Digest, Answers: map[string]string{}, Inputs: map[string]string{}}
	for _, c := range r.Confirm {
		out.Points = append(out.Points, c.Code)
		if c.Ask != "" {
			out.Answers[c.Ask] = c.Answer
		}
	}
	if v := sub.Room.VolumeM3; v > 0 {
		out.Inputs["room"] = measure.Plain(v) + " m3"
	}
	if sub.Alloy != nil {
		out.Inputs["alloy"] = sub.Alloy.Name
	}
	return out
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

// printReview prints the review as it is read: what to do in an emergency, the stops, what
// to confirm, what to read once. With confirm unset the list is left to the questions.
func printReview(e *env, c *cli.Context, sub safety.Subject, r safety.Review, confirm bool) {
	sources := c.Bool("sources")
	source := func(text string) {
		if sources {
			e.say("%s", wrap("      ", "source: "+text))
		}
	}
	e.say("%s\n", e.alarm("IF SOMETHING GOES WRONG"))
	for _, line := range r.Emergency {
		e.say("%s", e.alarm(wrap(" ! ", line)))
	}
	for _, p := range r.Points {
		if p.Level == safety.Stop {
			e.say("\n%s%s", e.alarm(wrap("STOP ", p.Text)), wrap("     ", sentenceOf(p.Cure)))
			source(p.Source)
		}
	}
	if confirm {
		e.say("\n%s\n", e.heading("DONE BEFORE THE WORK"))
		for i, q := range r.Confirm {
			e.say("%s", wrap(fmt.Sprintf("%2d  ", i+1), confirmation(q)))
			source(q.Source)
		}
	}
	e.say("\n%s\n", e.heading("READ ONCE"))
	for _, line := range r.Read {
		e.say("%s", wrap(" - ", line.Text))
		source(line.Source)
	}
	e.say("%s", wrap(" - ", "The author's own notes: hepar recipe show "+sub.Recipe.Slug+". Estimates of gas: --air. Sources: --sources."))
	if c.Bool("air") {
		printGas(e, r)
	}
	if sources && len(r.Substances) > 0 {
		e.say("\n%s\n", e.heading("SUBSTANCES (family defaults; your own SDS decides)"))
		for _, line := range r.Substances {
			e.say("%s", wrap(" - ", line.Text))
			source(line.Source)
		}
	}
	e.say("\n")
}

// confirmation is one line to confirm, with its value or the room for it.
func confirmation(q safety.Confirmation) string {
	if q.Ask == "" {
		return q.Text
	}
	return strings.TrimSuffix(q.Text, ".") + ": " + orElse(q.Answer, "______")
}

func sentenceOf(text string) string {
	if text == "" {
		return ""
	}
	return "Do: " + strings.TrimSuffix(text, ".") + "."
}

// askReview asks for each confirmation in turn. Enter confirms nothing; y does where
// nothing is measured. It returns the name, and the subject and review with the answers.
func askReview(e *env, sub safety.Subject, r safety.Review) (string, safety.Subject, safety.Review, error) {
	in := e.lines()
	fail := func(what string) error {
		return fault.Failuref("the review is not acknowledged: %s", what).Try("put it right, then start again")
	}
	name, ok := in("Your name: ")
	if !ok || name == "" {
		return "", sub, r, fail("no name")
	}
	for i := 0; i < len(r.Confirm); i++ {
		q := r.Confirm[i]
		for {
			prompt := "  [y/n] "
			if q.Ask != "" {
				prompt = "  value, n to stop: "
			}
			answer, ok := in(wrap(fmt.Sprintf("%2d of %d  ", i+1, len(r.Confirm)), q.Text) + prompt)
			low := strings.ToLower(answer)
			if !ok || low == "n" || low == "no" {
				return "", sub, r, fail(fmt.Sprintf("stopped at %d of %d", i+1, len(r.Confirm)))
			}
			if q.Ask == "" {
				if low == "y" || low == "yes" {
					break
				}
				continue
			}
			if answer == "" {
				continue
			}
			if err := sub.Answer(q.Ask, answer, e.now()); err != nil {
				e.note("     %s; %s\n", oneLine(err.Error()), oneLine(fault.CureOf(err)))
				continue
			}
			again, err := safety.Assess(sub)
			if err != nil {
				return "", sub, r, err
			}
			if r = again; len(r.Stops()) > 0 {
				return name, sub, r, nil
			}
			break
		}
	}
	return name, sub, r, nil
}
