package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/urfave/cli/v2"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
)

func dipCommand(e *env) *cli.Command {
	return command("dip BATCH", "run a planned batch at the bench, load by load, timed",
		at(e, func(p *place) { fault.Check(runDip(p)) }),
		yes("done", "write down a run that has been done already"),
		many("load", "NUMBER=TIME@TEMPERATURE: dip time and bath temperature of one load, with --done; may be repeated"),
		text("loads", "FILE: CSV with the columns load, time, temperature, pieces, with --done"),
		text("temperature", "TEMPERATURE: measured bath temperature, for all loads, with --done"),
		text("time", "TIME: the dip time, for all loads, with --done"),
		many("used", "JAR=AMOUNT: amount taken from a jar on the shelf; may be repeated"),
		text("without-review", "REASON: go on without a valid review; the journal keeps the reason"),
		text("by", "NAME: person at the bath"))
}

func runDip(p *place) error {
	for _, flag := range []string{"load", "loads", "temperature", "time"} {
		refuse(p.IsSet(flag) && !p.Bool("done"),
			fault.Usagef("--%s has no effect without --done", flag).Try("add --done to write down a run, or leave --%s out", flag))
	}
	uses := usesFrom(p.Context)
	b := openRun(p)
	cut := false
	switch {
	case p.Bool("done"):
		doneRun(p, b)
	case p.inTTY && p.errTTY:
		cut = screenRun(b)
	default:
		lineRun(p.env, b)
	}
	if len(uses) > 0 {
		fault.Check(b.Book(uses))
	}
	if p.json {
		return p.printJSON(b.Batch)
	}
	noteNobody(p.env, b.Batch)
	endOfRun(p, b, p.Bool("done"))
	if cut {
		return &foundError{exitInterrupted}
	}
	return nil
}

func openRun(p *place) *bench.Bench {
	by := p.String("by")
	if by == "" && p.shop.Person == "" && !p.Bool("done") && p.inTTY && p.errTTY { // the screen cannot ask
		by, _ = p.lines()("who is at the bath? ")
	}
	b := p.bench(p.Args().First(), p.person(by))
	refuse(b.Batch.State == journal.Logged || b.Batch.State == journal.Withdrawn,
		fault.Failuref("batch %s is %s already, so it cannot be dipped", b.Batch.Number, b.Batch.State).
			Try("plan the next one: hepar prepare --like %s --save", b.Batch.Number))
	if b.WithoutReview = p.String("without-review"); b.WithoutReview == "" {
		err, s := b.Batch.Ready(p.now(), b.By), b.Next()
		if err != nil && s.Open != nil { // whatever the review says, the pieces are in the bath
			p.tell("", s.Head+": "+strings.Join(s.Lines[:1], ""))
		}
		fault.Check(err)
	}
	if who := b.Stays(); who != "" && !p.Bool("done") {
		p.tell("", who)
		if p.inTTY && p.errTTY { // or the screen would hide it
			p.lines()("Enter goes on: ")
		}
	}
	return b
}

// screenRun runs the full screen, and tells whether somebody interrupted it.
func screenRun(b *bench.Bench) (cut bool) {
	screen := newDipScreen(b)
	_, err := tea.NewProgram(screen, tea.WithInput(os.Stdin), tea.WithOutput(os.Stderr), tea.WithoutSignalHandler()).Run()
	refuse(err != nil,
		fault.Failuref("the full screen has failed").Because(err).Try("run the same command again; everything written down is kept"))
	for _, entry := range screen.hand { // what was still in hand
		fault.Check(b.Write(entry))
	}
	fault.Check(b.Reload())
	return screen.cut
}

// lineRun runs with plain lines: an empty line does what the step asks.
func lineRun(e *env, b *bench.Bench) {
	in, s := e.lines(), b.Next()
	e.note("%s: %s\n", b.Batch.Number, s.Where)
	for ; s.Do != run.Result; s = b.Next() {
		e.note("\n%s\n", s.Head)
		switch s.Do {
		case run.Dip:
			e.note("  %s for %s\n", plural(s.Pieces, "piece"), b.Units.Time(s.Time))
		case run.Wait:
			e.note("  %s; an empty line goes on now\n", b.Units.Time(s.Time))
		}
		e.tell("  ", s.Lines...)
		e.tell("  ", when(s.Why != "", s.Why+"; write "+strings.Join(append([]string{"fresh"}, choiceWords(s.First)...), " or ")+
			" when it is done, or write a temperature; an empty line dips anyway"))
		said, ok := in("> ")
		if !ok {
			return
		}
		if err := fault.Caught(func() { answer(e, b, s, said) }); err != nil {
			refuse(fault.KindOf(err) != fault.Usage, err)
			e.tell("  ", errorText(err))
		}
	}
}

func choiceWords(list []run.Choice) []string {
	return nonEmpty(mapped(list, func(c run.Choice) string { return c.Word })...)
}

// answer takes one line: empty, a temperature, or the word of a choice.
func answer(e *env, b *bench.Bench, s run.Step, text string) {
	choices := append(s.Others, s.First...)
	word, rest, _ := strings.Cut(text, " ")
	i := slices.IndexFunc(choices, func(c run.Choice) bool { return c.Word != "" && c.Word == word })
	var entry run.Entry
	switch {
	case text == "" && s.Plain != nil:
		entry = *s.Plain
	case text == "" && s.Do == run.Dip:
		refuse(s.Open != nil, fault.Usagef("load %d went in, and the time it came out is not written down", s.Load).
			Try("write out and the dip time, as in out 12s; or write undo if the load never went in"))
		fault.Check(b.Write(*run.Of(run.In, s.Load, s.Pieces, s.Time)))
		entry = *run.Of(run.Out, s.Load, s.Pieces, countdown(e, s.Time))
	case i < 0:
		at, err := b.Temperature(text)
		refuse(err != nil, fault.Usagef("%q is neither a temperature nor one of the words %s", measure.Clean(text), strings.Join(choiceWords(choices), ", ")).
			Try("write a temperature such as 71.5, or one of the words; an empty line confirms a step that asks for no temperature"))
		entry = *run.Keyed(run.Entry{Do: run.Read, Temperature: &at})
	default:
		if entry = *choices[i].Entry; choices[i].Why != nil {
			entry.Note = rest
		} else if choices[i].Ask == run.AskClock {
			entry.Time, entry.Note = new(fault.Must(measure.ParseDuration(rest))), "written down afterwards"
		}
	}
	fault.Check(b.Write(entry))
}

const oneFigure = "one figure for all loads"

// doneRun writes down a run that was done without the timer, all or nothing: the loads of
// --load and --loads, or those of the sheet with one figure for all.
func doneRun(p *place, b *bench.Bench) {
	one, given, planned := p.IsSet("temperature") || p.IsSet("time"), p.IsSet("load") || p.IsSet("loads"), b.Run.Plan
	refuse(one && given, fault.Usagef("--load is for one load, --time and --temperature are for all loads").Try("leave out --load, or leave out the other two"))
	var loads []run.Entry
	add := func(where, number, time, at, pieces string) { // where: the flag, and the line of its file
		e := run.Keyed(run.Entry{Do: run.Out, By: b.By})
		fault.Check(atFlag(where, fault.Caught(func() {
			load, err := measure.ParseCount(number, 1, len(planned))
			refuse(err != nil, fault.Usagef("there is no load %s: the sheet has %s", measure.Clean(number), plural(len(planned), "load")).Try("use the load numbers of the sheet"))
			if e.Load, e.Pieces = load, planned[load-1].Pieces; pieces != "" {
				e.Pieces = fault.Must(atLeastOne(pieces))
			}
			if at != "" {
				e.Temperature = new(fault.Must(b.Temperature(at)))
			}
			if time != "" {
				e.Time = new(fault.Must(positive("time", measure.ParseDuration)(time)))
			}
		})))
		if one && len(planned) > 1 {
			e.Note = oneFigure
		} else if dip := planned[e.Load-1].DipS; !given && dip > 0 && time == "" {
			e.Time, e.Note = new(measure.Seconds(dip)), "the time of the sheet"
		}
		if far, wrong := run.Far(p.units, b.Recipe, b.Sheet.Loads, e.Temperature, e.Time); far != "" && (!one || e.Load == 1) {
			p.tell("note: ", fmt.Sprintf("load %d: %s; if that is a slip, the figures of the result count: hepar log %s --good ... --%s ...", e.Load, far, b.Batch.Number, strings.Join(wrong, " ... --")))
		}
		loads = append(loads, *e)
	}
	for _, text := range p.StringSlice("load") {
		number, rest, ok := strings.Cut(text, "=")
		time, at, _ := strings.Cut(rest, "@")
		refuse(!ok, fault.Usagef("%q is not NUMBER=TIME@TEMPERATURE", measure.Clean(text)).At("--load").Try("write 1=12s@71.4C"))
		add("load", number, time, at, "")
	}
	if p.IsSet("loads") {
		file := p.String("loads")
		in := source(p.env, file)
		defer in.Close()
		rows, err := run.ReadTable(in, file)
		fault.Check(atFlag("loads", err))
		for i, row := range rows {
			add(fmt.Sprintf("loads %s, line %d", oneLine(file), i+2), row.Load, row.Time, row.Temperature, row.Pieces)
		}
	}
	for i := range either(given, 0, len(planned)) {
		add("time", fmt.Sprint(i+1), p.String("time"), p.String("temperature"), "")
	}
	fault.Check(b.Journal.Update(func(tx *journal.Tx) error {
		for _, entry := range loads {
			b.Take(fault.Must(tx.Bench(b.Batch.ID.String(), entry, b.WithoutReview)))
		}
		return nil
	}))
}

func usesFrom(c *cli.Context) (out []journal.Use) {
	for _, pair := range c.StringSlice("used") {
		jar, text, ok := strings.Cut(pair, "=")
		refuse(!ok, fault.Usagef("%q is not JAR=AMOUNT", measure.Clean(pair)).At("--used").Try("write S-001=8.5g"))
		amount, unit, err := amountFrom(text)
		fault.Check(atFlag("used", err))
		out = append(out, journal.Use{Number: jar, Amount: amount, Unit: unit})
	}
	return out
}

// lines asks line by line on standard error. It tells false at the end of the input.
func (e *env) lines() func(prompt string) (string, bool) {
	in := bufio.NewScanner(e.in)
	return func(prompt string) (string, bool) {
		e.note("%s", prompt)
		if !in.Scan() {
			return "", false
		}
		return strings.TrimSpace(measure.Clean(in.Text())), true
	}
}

// countdown runs a dip to its deadline by the monotonic clock, with a bell at the end, and
// returns the time that passed. A bell is no safety device.
func countdown(e *env, dip measure.Seconds) measure.Seconds {
	start, length := time.Now(), time.Duration(float64(dip)*float64(time.Second))
	for left := length; left > 0; left = length - time.Since(start) {
		e.note("\r  %3d s ", int((left+time.Second-1)/time.Second))
		time.Sleep(min(left, left-left.Truncate(time.Second)+time.Millisecond, time.Second))
	}
	e.note("\r  OUT NOW \a\a\a\n")
	return bench.Since(start, time.Now())
}

// endOfRun says how far the run came; where it is over, it asks for the result.
func endOfRun(p *place, b *bench.Bench, done bool) {
	s, number := b.Next(), b.Batch.Number
	if s.Do != run.Result {
		p.say("%s%s: %s; to go on: hepar dip %s\n", when(s.Open != nil, "TAKE THE PIECES OUT NOW. "), number, s.Where, number)
		return
	}
	loads, pieces, of := b.Run.Dipped()
	p.say("dipped %s: %s, %d of %d pieces\n", number, plural(loads, b.Run.Word), pieces, of)
	p.note("%s", when(pieces != of, fmt.Sprintf("note: %d pieces are on the sheet and %d went through the bath\n", of, pieces)))
	if !done && p.inTTY {
		askLog(p, b, journal.LogOptions{WithoutReview: b.WithoutReview})
		return
	}
	p.say("next: hepar log %s --good ...\n", number)
	offTheShelf(p, b)
	p.put("  ", b.After()...)
}

// askLog asks for the result of a run that is over, and writes it down.
func askLog(p *place, b *bench.Bench, o journal.LogOptions) {
	_, pieces, _ := b.Run.Dipped()
	var result journal.Result
	var ofLoad map[string]int
	if err := fault.Caught(func() { result, ofLoad = askResult(p.env, b, pieces) }); err != nil {
		p.say("no result yet: hepar log %s asks for it\n", b.Batch.Number)
		refuse(!errors.Is(err, io.EOF), err)
		return
	}
	o.By, o.At = b.By, cmp.Or(o.At, p.now())
	b.Batch = bench.Log(p.journal, b.Batch.Number, result, ofLoad, o)
	p.say("logged %s: %s, %s\n", b.Batch.Number, b.Batch.Recipe.Slug, resultText(b.Batch))
	noteOdd(p, b.Batch)
	offTheShelf(p, b)
	p.put("  ", b.After()...)
}

// offTheShelf asks at a terminal whether what the run took is to be booked.
func offTheShelf(p *place, b *bench.Bench) {
	if taken, text := b.Taken(); len(taken) > 0 && p.inTTY {
		if said, ok := p.lines()(fmt.Sprintf("  book off the shelf: %s? [Enter: yes, n: no]: ", text)); ok && said == "" {
			fault.Check(b.Book(taken))
		}
	}
}

// askResult asks how the pieces turned out, and of which load those with a cause are. The end
// of the input, which stops the asking with [io.EOF], leaves it for later.
func askResult(e *env, b *bench.Bench, pieces int) (r journal.Result, loads map[string]int) {
	in := e.lines()
	ask := func(prompt string) string {
		text, ok := in(prompt)
		refuse(!ok, io.EOF)
		return text
	}
	until := func(prompt string, take func(string)) { // take takes the answer, or it is empty
		for text := ask(prompt); text != ""; text = ask(prompt) {
			err := fault.Caught(func() { take(text) })
			if err == nil {
				return
			}
			e.note("  %s\n", errorText(err))
		}
	}
	count := func(what string, to *int) {
		until(fmt.Sprintf("  %s [%d]: ", what, *to), func(text string) { *to = fault.Must(measure.ParseCount(text, 0, b.Batch.Made())) })
	}
	for counted := false; !counted; {
		r = journal.Result{}
		e.note("\nHow did they turn out? Count under the same lamp, beside the reference piece.\n")
		e.tell("", "The result is recorded after the last question. Ctrl-D leaves it for later: hepar log "+b.Batch.Number+" asks again.")
		count("rework", &r.Rework)
		count("reject", &r.Reject)
		r.Good = max(pieces-r.Rework-r.Reject, 0)
		count("good", &r.Good)
		sum := r.Good + r.Rework + r.Reject
		counted = sum == pieces || ask(fmt.Sprintf("  the counts add up to %d pieces, and %d were dipped. Press Enter to count again, or write keep: ", sum, pieces)) == "keep"
	}
	bad := r.Rework + r.Reject
	if bad == 0 {
		return r, nil
	}
	e.note("  causes in use: %s\n", strings.Join(b.Causes(), ", "))
	until(fmt.Sprintf("  causes of the %d [Enter: not known], as spots, or as spots=2, patchy=1: ", bad), func(text string) {
		one, n := journal.Batch{Result: &journal.Result{}}, 0
		f, _ := journal.Named(journal.Fields(), causesField)
		fault.Check(f.Set(&one, run.AllOf(text, bad)))
		for _, count := range one.Causes {
			n += count
		}
		refuse(n > bad, fault.Usagef("%d pieces have a cause and %d are not good", n, bad).Try("write counts that add up to %d or less", bad))
		r.Causes = one.Causes
	})
	if outs := b.Run.Loads(); len(r.Causes) > 0 && len(outs) > 1 && b.Sheet.Coats == nil {
		until("  in which load? [Enter: not known or several], as spots=4: ", func(text string) {
			of := fault.Must(run.LoadsOf(words(text), r.Causes))
			for _, load := range of {
				refuse(!slices.ContainsFunc(outs, func(o run.Entry) bool { return o.Load == load }),
					fault.Usagef("load %d did not come out", load).Try("write the number of a load that came out, up to %d", outs[len(outs)-1].Load))
			}
			loads = of
		})
	}
	return r, loads
}
