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
func endOfRun(e *env, p *place, b *bench.Bench, done bool) error {
	s := b.Run.Next(b.Now())
	if s.Do != run.Result {
		e.say("%s: %s; hepar dip %s goes on\n", b.Batch.Number, b.Where(s), b.Batch.Number)
		return nil
	}
	pieces, of := b.Run.Dipped()
	e.say("dipped %s: %s, %d of %d pieces\n", b.Batch.Number, plural(len(b.Batch.Dip.Loads), b.LoadWord()), pieces, of)
	if pieces != of {
		e.note("note: %d pieces are on the sheet and %d went through the bath\n", of, pieces)
	}
	if done || !e.inTTY {
		e.say("now hepar log %s --good ...\n", b.Batch.Number)
		nextSteps(e, b)
		return nil
	}
	loads := map[string]int{}
	result, ok, err := askResult(e, b, pieces, loads)
	if err == nil && ok {
		err = b.Judge(result.Causes, loads)
	}
	if err != nil || !ok {
		e.say("no result yet: hepar log %s --good ...\n", b.Batch.Number)
		return err
	}
	batch, err := p.journal.Log(b.Batch.Number, result, journal.LogOptions{By: b.By, At: e.now(), WithoutReview: b.Gate.WithoutReview})
	if err != nil {
		return err
	}
	b.Batch = batch
	e.say("logged %s: %s, %s\n", batch.Number, batch.Recipe.Slug, resultText(batch))
	if taken := b.Taken(); len(taken) > 0 {
		if text, ok := e.lines()(fmt.Sprintf("  take off the shelf %s? [Enter: yes, n: no]: ", b.TakenText(taken))); ok && text == "" {
			if err := b.Book(taken); err != nil {
				return err
			}
		}
	}
	nextSteps(e, b)
	return nil
}

// askResult asks how the pieces turned out, and of which load those with a cause are. An end
// of input leaves it for later.
func askResult(e *env, b *bench.Bench, pieces int, loads map[string]int) (journal.Result, bool, error) {
	ask := e.lines()
	for {
		r := journal.Result{Good: pieces}
		e.note("\nHow did they turn out? Count under the same lamp, beside the reference piece. Ctrl-D leaves it for later.\n")
		for _, count := range []struct {
			what string
			at   *int
		}{{"rework", &r.Rework}, {"reject", &r.Reject}, {"good", &r.Good}} {
			if count.what == "good" {
				r.Good = max(pieces-r.Rework-r.Reject, 0)
			}
			for {
				text, ok := ask(fmt.Sprintf("  %s [%d]: ", count.what, *count.at))
				if !ok {
					return r, false, nil
				}
				if text == "" {
					break
				}
				if n, err := strconv.Atoi(text); err == nil && n >= 0 && n <= b.Batch.Made() {
					*count.at = n
					break
				}
				e.note("  write a count from 0 to %d\n", b.Batch.Made())
			}
		}
		if sum := r.Good + r.Rework + r.Reject; sum != pieces {
			text, ok := ask(fmt.Sprintf("  these are %d pieces and %d were dipped. Enter counts again, keep leaves it so: ", sum, pieces))
			if !ok {
				return r, false, nil
			}
			if text != "keep" {
				continue
			}
		}
		if bad := r.Rework + r.Reject; bad > 0 {
			if ok, err := askCauses(e, b, ask, &r, bad, loads); !ok || err != nil {
				return r, false, err
			}
		}
		return r, true, nil
	}
}

// askCauses asks why pieces are not good; the causes of earlier batches are proposed.
func askCauses(e *env, b *bench.Bench, ask func(string) (string, bool), r *journal.Result, bad int, loads map[string]int) (bool, error) {
	names, err := b.Causes()
	if err != nil {
		return false, err
	}
	e.note("  causes in use: %s\n", strings.Join(names, ", "))
	r.Causes = map[string]int{}
	for left := bad; left > 0; {
		text, ok := ask(fmt.Sprintf("  cause of %d [Enter: not known], as spots or spots=2: ", left))
		if !ok {
			return false, nil
		}
		if text == "" {
			break
		}
		name, count, counted := strings.Cut(text, "=")
		n := left
		if counted {
			n, _ = strconv.Atoi(strings.TrimSpace(count))
		}
		holder := journal.Batch{Result: &journal.Result{}}
		f, _ := journal.FieldNamed(causesField)
		fixed, err := f.Parse(fmt.Sprintf("%s=%d", strings.TrimSpace(name), n))
		if err == nil && (n < 1 || n > left) {
			err = fault.Usagef("%d pieces are left to give a cause for", left).Try("write a count from 1 to %d", left)
		}
		if err == nil {
			err = f.Set(&holder, fixed)
		}
		if err != nil {
			e.note("  %s; %s\n", oneLine(err.Error()), oneLine(fault.CureOf(err)))
			continue
		}
		for cause, n := range holder.Causes {
			r.Causes[cause] += n
			left -= n
			if outs := b.Run.Loads(); len(outs) > 1 && b.Sheet.Coats == nil {
				text, _ := ask("  in which load? [Enter: not known or several]: ")
				if load, err := strconv.Atoi(text); err == nil && slices.ContainsFunc(outs, func(o run.Entry) bool { return o.Load == load }) {
					loads[cause] = load
				}
			}
		}
	}
	return true, nil
}

// nextSteps names what is left to do for a batch.
func nextSteps(e *env, b *bench.Bench) {
	for _, line := range b.After() {
		e.say("  %s\n", line)
	}
}
