package main

import (
	"bufio"
	"fmt"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/bath"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func dipCommand(e *env) *cli.Command {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return &cli.Command{
		Name: "dip", Usage: "run a planned batch at the bench, load by load, timed", ArgsUsage: "BATCH",
		Description: `Goes through the loads of a planned batch: shows the pieces and the dip time, counts
down, asks for the temperature, and keeps what was really done. --done writes down a run
without the timer. A batch without a valid review of today cannot be dipped.

EXAMPLES
   hepar dip last
   hepar dip 2026-014 --done --temperature 74C --time 11s --used S-001=8.5g --by Ilse`,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "done", Usage: "write down a run that has been done already"},
			text("temperature", "TEMPERATURE: of the bath as measured, with --done"),
			text("time", "TIME: the dip time, with --done"),
			&cli.StringSliceFlag{Name: "used", Usage: "JAR=AMOUNT: taken off the shelf; may be repeated"},
			text("without-review", "REASON: go on without a valid review; the journal keeps the reason"),
			text("by", "NAME: who does it"),
		},
		Action: func(c *cli.Context) error {
			if err := arguments(c, 1, 1, "the number of a batch"); err != nil {
				return err
			}
			return runDip(e, c)
		},
	}
}

func runDip(e *env, c *cli.Context) error {
	p, err := openPlace(e, c)
	if err != nil {
		return err
	}
	b, err := p.journal.Get(c.Args().First())
	if err != nil {
		return err
	}
	_, sheet, err := frozen(b)
	if err != nil {
		return err
	}
	gate := journal.Gate{WithoutReview: c.String("without-review")}
	if err := b.Ready(e.now()); err != nil && gate.WithoutReview == "" {
		return err
	}
	record := journal.Dip{By: c.String("by"), Started: journal.StampOf(e.now())}
	uses, err := usesFrom(c)
	if err != nil {
		return err
	}
	if c.Bool("done") {
		record.Loads, err = doneLoads(c, sheet)
	} else {
		record.Loads, err = timedLoads(e, p.units, sheet)
	}
	if err != nil {
		return err
	}
	if b, err = p.journal.Dip(b.Number, record, uses, gate); err != nil {
		return err
	}
	if e.json {
		return e.printJSON(b)
	}
	noteNobody(e, b)
	e.say("dipped %s: %d loads; now hepar log %s --good ...\n", b.Number, len(record.Loads), b.Number)
	return nil
}

// usesFrom reads what was taken off the shelf.
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

// doneLoads are the loads of the sheet with one temperature and time for all.
func doneLoads(c *cli.Context, s *bath.Sheet) ([]journal.Load, error) {
	var temperature *measure.Celsius
	var dwell *measure.Seconds
	if c.IsSet("temperature") {
		v, err := measure.ParseTemperature(c.String("temperature"))
		if err != nil {
			return nil, atFlag("temperature", err)
		}
		temperature = &v
	}
	if c.IsSet("time") {
		v, err := positive("time", measure.ParseDuration)(c.String("time"))
		if err != nil {
			return nil, atFlag("time", err)
		}
		dwell = &v
	}
	var loads []journal.Load
	for _, l := range s.Loads {
		t := measure.Seconds(l.DipS)
		load := journal.Load{Number: l.Number, Pieces: l.Pieces, Temperature: temperature, Time: &t}
		if dwell != nil {
			load.Time = dwell
		}
		loads = append(loads, load)
	}
	if len(loads) == 0 {
		loads = []journal.Load{{Number: 1, Pieces: s.Pieces + s.Spares, Temperature: temperature, Time: dwell}}
	}
	return loads, nil
}

// timedLoads runs the loads with a person at the terminal.
func timedLoads(e *env, u measure.System, s *bath.Sheet) ([]journal.Load, error) {
	if !e.inTTY || !e.errTTY {
		return nil, fault.Usagef("there is no terminal to run the timer on").Try("run it at a terminal, or write it down with --done")
	}
	if len(s.Loads) == 0 {
		return nil, fault.Usagef("a brushed or sprayed finish has no loads to time").Try("write it down with --done")
	}
	in := bufio.NewScanner(e.in)
	ask := func(prompt string) (string, bool) {
		e.note("%s", prompt)
		if !in.Scan() {
			return "", false
		}
		return strings.TrimSpace(in.Text()), true
	}
	var loads []journal.Load
	for _, l := range s.Loads {
		answer, ok := ask(fmt.Sprintf("\nload %d of %d: %d pieces, %d s at %s. Enter starts, stop ends the run: ", l.Number, len(s.Loads), l.Pieces, l.DipS, u.Temperature(measure.Celsius(l.TemperatureC))))
		if !ok || answer == "stop" {
			break
		}
		given := countdown(e, time.Duration(l.DipS)*time.Second)
		load := journal.Load{Number: l.Number, Pieces: l.Pieces, Time: &given}
		for {
			answer, ok := ask("temperature of the bath (Enter leaves it out): ")
			if !ok || answer == "" {
				break
			}
			if v, err := measure.ParseTemperature(answer); err == nil {
				load.Temperature = &v
				break
			}
			e.note("write it with its unit: 74 C\n")
		}
		loads = append(loads, load)
	}
	if len(loads) == 0 {
		return nil, fault.Failuref("no load was dipped, so nothing is kept").Try("start again when the bath is ready")
	}
	return loads, nil
}

// countdown runs a dip to its deadline by the monotonic clock, one line on
// standard error, with a bell at the end. It returns the time that really passed. A
// bell is no safety device.
func countdown(e *env, dip time.Duration) measure.Seconds {
	start := time.Now()
	for left := dip; left > 0; left = dip - time.Since(start) {
		e.note("\r  %3d s ", int((left+time.Second-1)/time.Second))
		time.Sleep(min(left, left-left.Truncate(time.Second)+time.Millisecond, time.Second))
	}
	e.note("\r  OUT NOW \a\a\a\n")
	return measure.Seconds(time.Since(start).Round(100 * time.Millisecond).Seconds())
}
