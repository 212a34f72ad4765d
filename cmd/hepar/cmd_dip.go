package main

import (
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	tea "charm.land/bubbletea/v2"
	"github.com/urfave/cli/v2"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func dipCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "dip", Usage: "run a planned batch at the bench, load by load, timed", ArgsUsage: "BATCH",
		Description: `Runs a planned batch: mix, read the temperature, dip load after load, heat or strengthen
the bath where the sheet says so, and enter the result. Each step is in the journal before
the next one comes up. After an interruption the same command goes on at the next load.

Space, Enter and the arrows do everything. The dip time follows the temperature you read.
Without a terminal it asks line by line. --done writes down a run that was done without the
timer: --load for each load, or --time and --temperature as one figure for all. A batch
without a valid review cannot be dipped.

EXAMPLES
   hepar dip last
   hepar dip 2026-014 --done --load 1=12s@71.4C --load 2=13s@69C --by Ilse
   hepar dip 2026-014 --done --temperature 74C --time 11s --used S-001=8.5g --by Ilse`,
		Flags: []cli.Flag{
			yes("done", "write down a run that has been done already"),
			many("load", "NUMBER=TIME@TEMPERATURE of one load, with --done; may be repeated"),
			text("loads", "FILE of CSV with the columns load, time, temperature, pieces, with --done"),
			text("temperature", "TEMPERATURE: of the bath as measured, for all loads, with --done"),
			text("time", "TIME: the dip time, for all loads, with --done"),
			many("used", "JAR=AMOUNT: taken off the shelf; may be repeated"),
			text("without-review", "REASON: go on without a valid review; the journal keeps the reason"),
			text("by", "NAME: who does it"),
		},
		Action: at(e, 1, 1, "the number of a batch", runDip),
	}
}

func runDip(p *place) error {
	for _, flag := range []string{"load", "loads", "temperature", "time"} {
		if p.IsSet(flag) && !p.Bool("done") {
			return fault.Usagef("--%s has no effect without --done", flag).Try("add --done to write down a run, or leave --%s out", flag)
		}
	}
	uses, err := usesFrom(p.Context)
	if err != nil {
		return err
	}
	b, err := openRun(p)
	if err != nil {
		return err
	}
	cut := false
	switch {
	case p.Bool("done"):
		err = doneRun(p.Context, b)
	case p.inTTY && p.errTTY:
		cut, err = screenRun(b)
	default:
		err = lineRun(p.env, b)
	}
	if err == nil && len(uses) > 0 {
		err = bookUses(b, uses)
	}
	if err != nil {
		return err
	}
	if p.json {
		return p.printJSON(b.Batch)
	}
	noteNobody(p.env, b.Batch)
	if err := endOfRun(p, b, p.Bool("done")); err != nil || !cut {
		return err
	}
	return &foundError{exitInterrupted}
}

// openRun opens the run of a batch that may be dipped.
func openRun(p *place) (*bench.Bench, error) {
	by := p.String("by")
	if by == "" && p.shop.Person == "" && !p.Bool("done") && p.inTTY && p.errTTY { // the screen cannot ask
		by, _ = p.lines()("who is at the bath? ")
	}
	b, err := p.bench(p.Args().First(), by)
	if err != nil {
		return nil, err
	}
	if s := b.Batch.State; s == journal.Logged || s == journal.Withdrawn {
		return nil, fault.Failuref("batch %s is %s already, so it cannot be dipped", b.Batch.Number, s).Try("plan the next one: hepar prepare --like %s --save", b.Batch.Number)
	}
	b.WithoutReview = p.String("without-review")
	if b.WithoutReview != "" {
		return b, nil
	}
	return b, b.Batch.Ready(p.now(), p.person(by))
}

// screenRun runs the full screen until the run is over or left. It tells whether somebody
// interrupted it.
func screenRun(b *bench.Bench) (cut bool, err error) {
	screen := newDipScreen(b)
	_, err = tea.NewProgram(screen, tea.WithInput(os.Stdin), tea.WithOutput(os.Stderr), tea.WithoutSignalHandler()).Run()
	if err != nil {
		return false, fault.Failuref("the screen of the run has ended").Because(err).Try("go on with the same command; what was written down is kept")
	}
	for _, entry := range screen.hand { // what was still in hand
		if err := b.Write(entry); err != nil {
			return screen.cut, err
		}
	}
	return screen.cut, b.Reload()
}

// lineRun runs with plain lines: an empty line does what the step asks.
func lineRun(e *env, b *bench.Bench) error {
	in := e.lines()
	e.note("%s\n", b.Where(b.Run.Next(b.Now())))
	for {
		s := b.Run.Next(b.Now())
		if s.Do == run.Result {
			return nil
		}
		head, lines := b.Task(s)
		e.note("\n%s\n", head)
		if s.Do == run.Dip {
			e.note("  %s for %s\n", plural(s.Pieces, "piece"), b.Units.Time(s.Time))
		}
		if s.Do == run.Wait {
			e.note("  %s; an empty line goes on now\n", b.Units.Time(s.Time))
		}
		for _, line := range lines {
			e.note("%s", wrap("  ", oneLine(line)))
		}
		if s.Wrong != "" {
			e.note("%s", wrap("  ", b.Wrong(s)+"; write fresh or "+strings.Join(b.Run.Cures(s.Wrong), ", ")+" once it is done, a temperature, or an empty line to dip anyway"))
		}
		said, ok := in("> ")
		if !ok {
			return nil
		}
		if err := answer(e, b, s, said); err != nil {
			if fault.KindOf(err) != fault.Usage {
				return err
			}
			e.note("%s", wrap("  ", oneLine(err.Error()+"; "+fault.CureOf(err))))
		}
	}
}

// answer takes one line: empty, a temperature, or a word.
func answer(e *env, b *bench.Bench, s run.Step, text string) error {
	word, rest, _ := strings.Cut(text, " ")
	entry := b.Entry(run.Skipped)
	entry.Note = rest
	switch {
	case text == "" && s.Do == run.Dip:
		return dipLine(e, b, s)
	case text == "":
		plain, ok := b.Plain(s)
		if !ok {
			return fault.Usagef("a temperature is needed").Try("write it, 71.5, or none where there is no thermometer")
		}
		entry = plain
	case word == "none" && s.Do == run.Read:
		entry = b.Entry(run.Read)
	case word == "skip" && s.Do == run.Act:
		entry.Event = s.Event
	case word == "skip":
		entry.Load = s.Load
	case word == "stop":
		entry.Do = run.Stopped
	case word == "undo" && s.Last != nil:
		entry.Do, entry.Undoes = run.Undone, s.Last.Key
	case word == "again" && s.Done > 0:
		outs := b.Run.Loads()
		entry.Do, entry.Load = run.Again, outs[len(outs)-1].Load
	case word == "out" && s.Open != nil:
		given, err := measure.ParseDuration(rest)
		if err != nil {
			return err
		}
		entry.Do, entry.Load, entry.Pieces, entry.Time, entry.Note = run.Out, s.Load, s.Open.Pieces, &given, "written down afterwards"
	case word == "fresh":
		entry = b.Acted(plan.FreshBath)
	case word == "reheat" || word == "pour-hot":
		entry = b.Acted(word)
	default:
		at, err := b.Temperature(text)
		if err != nil {
			return fault.Usagef("%q is neither a temperature nor one of the words skip, stop, undo, again, out, fresh, none", measure.Clean(text)).Try("write 71.5, a word, or nothing to do what is asked")
		}
		entry.Do, entry.Note, entry.Temperature = run.Read, "", &at
	}
	return b.Write(entry)
}

// dipLine times a load on plain lines.
func dipLine(e *env, b *bench.Bench, s run.Step) error {
	if s.Open != nil {
		return fault.Usagef("load %d went in at %s and nobody wrote down when it came out", s.Load, s.Open.At.Format("15:04:05")).
			Try("write out and its time, out 12s, or undo where it never went in")
	}
	in := b.Entry(run.In)
	in.Load, in.Pieces = s.Load, s.Pieces
	if s.Time > 0 {
		in.Time = &s.Time
	}
	if err := b.Write(in); err != nil {
		return err
	}
	given := countdown(e, s.Time)
	out := b.Entry(run.Out)
	out.Load, out.Pieces, out.Time = s.Load, s.Pieces, &given
	return b.Write(out)
}

// oneFigure is the note of loads that were written down with one figure for all.
const oneFigure = "one figure for all loads"

// doneRun writes down a run that was done without the timer, all or nothing.
func doneRun(c *cli.Context, b *bench.Bench) error {
	loads, err := doneLoads(c, b)
	if err != nil {
		return err
	}
	return b.Journal.Update(func(tx *journal.Tx) error {
		for _, entry := range loads {
			batch, err := tx.Bench(b.Batch.ID.String(), entry, b.WithoutReview)
			if err != nil {
				return err
			}
			b.Take(batch)
		}
		return nil
	})
}

// doneLoads reads the loads from --load and --loads, or takes those of the sheet with
// one figure for all.
func doneLoads(c *cli.Context, b *bench.Bench) ([]run.Entry, error) {
	var loads []run.Entry
	add := func(number int, at, given string, pieces int) error {
		e, err := doneLoad(b, number, at, given, pieces)
		loads = append(loads, e)
		return err
	}
	one := c.IsSet("temperature") || c.IsSet("time")
	if one && (c.IsSet("load") || c.IsSet("loads")) {
		return nil, fault.Usagef("--load says each load by itself, --time and --temperature all at once").Try("use the one or the other")
	}
	for _, text := range c.StringSlice("load") {
		number, rest, ok := strings.Cut(text, "=")
		given, at, _ := strings.Cut(rest, "@")
		n, err := strconv.Atoi(strings.TrimSpace(number))
		if !ok || err != nil {
			return nil, fault.Usagef("%q is not NUMBER=TIME@TEMPERATURE", measure.Clean(text)).At("--load").Try("write 1=12s@71.4C")
		}
		if err := add(n, at, given, 0); err != nil {
			return nil, atFlag("load", err)
		}
	}
	if c.IsSet("loads") {
		if err := loadTable(c.String("loads"), add); err != nil {
			return nil, err
		}
	}
	if len(loads) > 0 {
		return loads, nil
	}
	var t measure.Celsius
	if err := take(c, "temperature", b.Temperature, &t); err != nil {
		return nil, err
	}
	n := loadsOf(b)
	for i := range n {
		if err := add(i+1, c.String("temperature"), c.String("time"), 0); err != nil {
			return nil, atFlag("time", err)
		}
		if e := &loads[i]; n > 1 && one {
			e.Note = oneFigure
		} else if len(b.Sheet.Loads) > 0 && !c.IsSet("time") {
			t := measure.Seconds(b.Sheet.Loads[i].DipS)
			e.Time, e.Note = &t, "the time of the sheet"
		}
	}
	return loads, nil
}

// loadsOf is how many loads or coats the sheet of a run has.
func loadsOf(b *bench.Bench) int {
	if b.Sheet.Coats != nil {
		return max(b.Sheet.Coats.Number, 1)
	}
	return max(len(b.Sheet.Loads), 1)
}

// doneLoad is one load as it was done. No pieces means those of the sheet.
func doneLoad(b *bench.Bench, number int, at, given string, pieces int) (run.Entry, error) {
	e := b.Entry(run.Out)
	e.Load, e.Pieces = number, pieces
	if of := loadsOf(b); number < 1 || number > of {
		return e, fault.Usagef("there is no load %d: the sheet has %d", number, of).Try("number the loads as on the sheet")
	}
	if pieces == 0 {
		if e.Pieces = b.Sheet.Pieces + b.Sheet.Spares; len(b.Sheet.Loads) > 0 {
			e.Pieces = b.Sheet.Loads[number-1].Pieces
		}
	}
	if at != "" {
		t, err := b.Temperature(at)
		if err != nil {
			return e, err
		}
		e.Temperature = &t
	}
	if given != "" {
		t, err := positive("time", measure.ParseDuration)(given)
		if err != nil {
			return e, err
		}
		e.Time = &t
	}
	return e, nil
}

// loadTable reads a small table of loads, its columns by their headings.
func loadTable(file string, add func(number int, at, given string, pieces int) error) error {
	bad := func(line int, what string) error {
		return fault.Usagef("%s, line %d: %s", measure.Clean(file), line, what).At("--loads").Try("give the columns load, time, temperature, pieces: 1,12 s,71.4 C,6")
	}
	f, err := os.Open(file)
	if err != nil {
		return fault.Failuref("%s cannot be read", measure.Clean(file)).At("--loads").Because(err).Try("name a file of CSV")
	}
	defer f.Close()
	r := csv.NewReader(io.LimitReader(f, 1<<20))
	r.TrimLeadingSpace = true
	column := map[string]int{}
	for line := 1; ; line++ {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			if line < 3 {
				return bad(line, "there is no load")
			}
			return nil
		}
		if err != nil {
			return bad(line, oneLine(err.Error()))
		}
		if line == 1 {
			for i, name := range row {
				column[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\ufeff")))] = i
			}
			if _, ok := column["load"]; !ok {
				return bad(line, "there is no column load")
			}
			continue
		}
		cell := func(name string) string {
			if i, ok := column[name]; ok {
				return strings.TrimSpace(row[i])
			}
			return ""
		}
		number, err := strconv.Atoi(cell("load"))
		if err != nil {
			return bad(line, fmt.Sprintf("%q is not the number of a load", measure.Clean(cell("load"))))
		}
		pieces := 0
		if text := cell("pieces"); text != "" {
			if pieces, err = strconv.Atoi(text); err != nil || pieces < 1 {
				return bad(line, fmt.Sprintf("%q is not a number of pieces", measure.Clean(text)))
			}
		}
		if err := add(number, cell("temperature"), cell("time"), pieces); err != nil {
			return bad(line, oneLine(err.Error()))
		}
	}
}

func usesFrom(c *cli.Context) ([]journal.Use, error) {
	var out []journal.Use
	for _, pair := range c.StringSlice("used") {
		jar, amount, ok := strings.Cut(pair, "=")
		if !ok {
			return nil, fault.Usagef("%q is not JAR=AMOUNT", measure.Clean(pair)).At("--used").Try("write S-001=8.5g")
		}
		use := journal.Use{Number: jar}
		var err error
		if use.Amount, use.Unit, err = amountFrom(amount); err != nil {
			return nil, atFlag("used", err)
		}
		out = append(out, use)
	}
	return out, nil
}

func bookUses(b *bench.Bench, uses []journal.Use) error {
	err := b.Journal.Update(func(tx *journal.Tx) error {
		for _, use := range uses {
			if _, err := tx.Use(use, b.Batch.ID.String(), b.By); err != nil {
				return err
			}
		}
		return nil
	})
	return cmp.Or(err, b.Reload())
}
