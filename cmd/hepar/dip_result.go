package main

import (
	"bufio"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

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

// countdown runs a dip to its deadline by the monotonic clock, one line on standard
// error, with a bell at the end. It returns the time that really passed. A bell is no
// safety device.
func countdown(e *env, dip measure.Seconds) measure.Seconds {
	start, length := time.Now(), time.Duration(float64(dip)*float64(time.Second))
	for left := length; left > 0; left = length - time.Since(start) {
		e.note("\r  %3d s ", int((left+time.Second-1)/time.Second))
		time.Sleep(min(left, left-left.Truncate(time.Second)+time.Millisecond, time.Second))
	}
	e.note("\r  OUT NOW \a\a\a\n")
	return measure.Seconds(time.Since(start).Round(100 * time.Millisecond).Seconds())
}

// endOfRun says how far the run came; where it is over and somebody can answer, it asks
// for the result and writes it down.
func endOfRun(p *place, b *bench.Bench, done bool) error {
	s, number := b.Run.Next(b.Now()), b.Batch.Number
	if s.Do != run.Result {
		p.say("%s: %s; hepar dip %s goes on\n", number, b.Where(s), number)
		return nil
	}
	pieces, of := b.Run.Dipped()
	p.say("dipped %s: %s, %d of %d pieces\n", number, plural(len(b.Batch.Dip.Loads), b.LoadWord()), pieces, of)
	if pieces != of {
		p.note("note: %d pieces are on the sheet and %d went through the bath\n", of, pieces)
	}
	if done || !p.inTTY {
		p.say("now hepar log %s --good ...\n", number)
	} else {
		loads := map[string]int{}
		result, ok, err := askResult(p.env, b, pieces, loads)
		if err == nil && ok {
			err = b.Judge(result.Causes, loads)
		}
		if err != nil || !ok {
			p.say("no result yet: hepar log %s --good ...\n", number)
			return err
		}
		batch, err := p.journal.Log(number, result, journal.LogOptions{By: b.By, At: p.now(), WithoutReview: b.WithoutReview})
		if err != nil {
			return err
		}
		b.Batch = batch
		p.say("logged %s: %s, %s\n", number, batch.Recipe.Slug, resultText(batch))
		if taken := b.Taken(); len(taken) > 0 {
			if text, ok := p.lines()(fmt.Sprintf("  take off the shelf %s? [Enter: yes, n: no]: ", b.TakenText(taken))); ok && text == "" {
				if err := b.Book(taken); err != nil {
					return err
				}
			}
		}
	}
	for _, line := range b.After() {
		p.say("  %s\n", line)
	}
	return nil
}

// askResult asks how the pieces turned out, and of which load those with a cause are. An end
// of input leaves it for later.
func askResult(e *env, b *bench.Bench, pieces int, loads map[string]int) (r journal.Result, ok bool, err error) {
	ask := e.lines()
	// count asks for a count until it is one; it tells false at the end of the input.
	count := func(what string, usual int) (n int, ok bool) {
		for {
			text, ok := ask(fmt.Sprintf("  %s [%d]: ", what, usual))
			if !ok || text == "" {
				return usual, ok
			}
			if n, err := strconv.Atoi(text); err == nil && n >= 0 && n <= b.Batch.Made() {
				return n, true
			}
			e.note("  write a count from 0 to %d\n", b.Batch.Made())
		}
	}
	for {
		e.note("\nHow did they turn out? Count under the same lamp, beside the reference piece. Ctrl-D leaves it for later.\n")
		if r.Rework, ok = count("rework", 0); ok {
			r.Reject, ok = count("reject", 0)
		}
		if ok {
			r.Good, ok = count("good", max(pieces-r.Rework-r.Reject, 0))
		}
		if sum := r.Good + r.Rework + r.Reject; ok && sum != pieces {
			var text string
			text, ok = ask(fmt.Sprintf("  these are %d pieces and %d were dipped. Enter counts again, keep leaves it so: ", sum, pieces))
			if ok && text != "keep" {
				continue
			}
		}
		if ok && r.Rework+r.Reject > 0 {
			ok, err = askCauses(e, b, ask, &r, loads)
		}
		return r, ok, err
	}
}

// askCauses asks why pieces are not good; the causes of earlier batches are proposed.
func askCauses(e *env, b *bench.Bench, ask func(string) (string, bool), r *journal.Result, loads map[string]int) (bool, error) {
	names, err := b.Causes()
	if err != nil {
		return false, err
	}
	e.note("  causes in use: %s\n", strings.Join(names, ", "))
	r.Causes = map[string]int{}
	for left := r.Rework + r.Reject; left > 0; {
		text, ok := ask(fmt.Sprintf("  cause of %d [Enter: not known], as spots or spots=2: ", left))
		if !ok || text == "" {
			return ok, nil
		}
		if !strings.Contains(text, "=") {
			text += fmt.Sprintf("=%d", left)
		}
		n := 0
		one := journal.Batch{Result: &journal.Result{}}
		f, _ := journal.FieldNamed(causesField)
		err := setField(f, &one, text)
		for _, count := range one.Causes {
			n += count
		}
		if err == nil && n > left {
			err = fault.Usagef("%d pieces are left to give a cause for", left).Try("write a count from 1 to %d", left)
		}
		if err != nil {
			e.note("  %s; %s\n", oneLine(err.Error()), oneLine(fault.CureOf(err)))
			continue
		}
		for cause, count := range one.Causes {
			r.Causes[cause] += count
			if outs := b.Run.Loads(); len(outs) > 1 && b.Sheet.Coats == nil {
				for {
					text, ok := ask("  in which load? [Enter: not known or several]: ")
					load, err := strconv.Atoi(text)
					if err == nil && slices.ContainsFunc(outs, func(o run.Entry) bool { return o.Load == load }) {
						loads[cause] = load
						break
					}
					if !ok || text == "" {
						break
					}
					e.note("  write the number of a load that came out, up to %d\n", outs[len(outs)-1].Load)
				}
			}
		}
		left -= n
	}
	return true, nil
}
