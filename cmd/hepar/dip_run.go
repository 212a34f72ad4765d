package main

import (
	"crypto/rand"
	"fmt"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/run"
	"hepar/recipe/measure"
)

// benchRun is the run of one batch, kept in the journal. The full screen, the plain
// lines and the page of the tablet are three hands on it.
type benchRun struct {
	journal *journal.Journal
	gate    journal.Gate
	by      string
	units   measure.System
	now     func() time.Time

	batch  journal.Batch
	recipe *recipe.Recipe
	sheet  *bath.Sheet
	run    *run.Run
}

// take goes on from the batch as the journal has it now.
func (b *benchRun) take(batch journal.Batch) {
	b.batch, b.run = batch, run.New(b.sheet, b.recipe, batch.Bench)
}

// reload reads the batch again: another hand may have written.
func (b *benchRun) reload() error {
	batch, err := b.journal.Get(b.batch.ID.String())
	if err == nil {
		b.take(batch)
	}
	return err
}

// entry begins an entry with a key of its own.
func (b *benchRun) entry(do string) run.Entry {
	return run.Entry{Key: rand.Text(), Do: do, By: b.by, At: b.now()}
}

// write stores an entry and goes on from the batch with it. What it returns nil for is
// on the disk.
func (b *benchRun) write(e run.Entry) error {
	batch, err := b.journal.Bench(b.batch.ID.String(), e, b.gate)
	if err == nil {
		b.take(batch)
	}
	return err
}

// where says how far the run has come, for whoever takes it up.
func (b *benchRun) where(s run.Step) string {
	if s.Last == nil {
		return fmt.Sprintf("%s of %s, nothing done yet", plural(s.Of, b.loadWord()), b.batch.Number)
	}
	text := fmt.Sprintf("%s %d of %d; %d done", b.loadWord(), s.Load, s.Of, s.Done)
	if s.Do == run.Result {
		text = fmt.Sprintf("%d of %s done", s.Done, plural(s.Of, b.loadWord()))
	}
	if outs := b.run.Loads(); len(outs) > 0 {
		text += ", last one " + outs[len(outs)-1].At.Format("15:04")
	}
	if s.Stood > 0 {
		text += fmt.Sprintf("; the bath has been standing for %s: read its temperature", b.units.Time(measure.Seconds(s.Stood.Round(time.Minute).Seconds())))
	}
	return text
}

func (b *benchRun) loadWord() string {
	if b.sheet.Coats != nil {
		return "coat"
	}
	return "load"
}

// task says a step: a heading to read from afar, and lines that explain it.
func (b *benchRun) task(s run.Step) (head string, lines []string) {
	u := b.units
	switch s.Do {
	case run.Mix:
		brief := b.sheet.Brief(b.recipe, u)
		return "MIX THE BATH", append([]string{brief.Bath}, brief.Pour...)
	case run.Read:
		return "READ THE TEMPERATURE", []string{"it should be about " + wholeC(u, s.At)}
	case run.Act:
		return "BEFORE LOAD " + fmt.Sprint(s.Load), []string{s.Say.In(u)}
	case run.Wait:
		return fmt.Sprintf("WAIT BEFORE COAT %d OF %d", s.Load, s.Of), nil
	case run.Coat:
		head = fmt.Sprintf("COAT %d OF %d", s.Load, s.Of)
		if b.sheet.Coats == nil {
			head = "DO THE STEPS OF THE SHEET"
		}
		if s.Time > 0 {
			lines = append(lines, "then wait "+u.Time(s.Time))
		}
		return head, append(lines, plural(s.Pieces, "piece"))
	case run.Dip:
		from := "as planned"
		if s.FromRead {
			from = "by the last reading"
		}
		head = fmt.Sprintf("LOAD %d OF %d", s.Load, s.Of)
		if s.At > 0 {
			lines = append(lines, fmt.Sprintf("bath %d, %s %s", s.Bath, wholeC(u, s.At), from))
		}
		return head, lines
	}
	pieces, of := b.run.Dipped()
	head = "ALL LOADS ARE OUT"
	if pieces < of {
		head = fmt.Sprintf("%d OF %d PIECES ARE DONE", pieces, of)
	}
	return head, []string{"rinse, neutralise and dry as the sheet says"}
}

// wrong says why the bath does not do, and what the recipe asks.
func (b *benchRun) wrong(s run.Step) string {
	u, r := b.units, b.recipe
	at := u.Temperature(measure.Celsius(roundC(s.At)))
	switch s.Wrong {
	case "cold":
		low := r.Bath.WorksDownTo
		if low == 0 {
			low = r.Bath.Water.From
		}
		return fmt.Sprintf("the bath is at %s; below %s it does not work", at, u.Temperature(low))
	case "hot":
		return fmt.Sprintf("the bath is at %s; the recipe has %s at most: let it cool", at, u.Temperature(r.Bath.Water.To))
	case "long":
		return fmt.Sprintf("at %s the dip takes %s; the recipe has %s at most", at, u.Time(s.Time), u.Time(measure.Seconds(b.sheet.Bath.DipToS)))
	}
	return ""
}

func roundC(t measure.Celsius) measure.Celsius { return measure.Celsius(int(t + 0.5)) }

func wholeC(u measure.System, t measure.Celsius) string { return u.Temperature(roundC(t)) }

// next names what follows after a step, in a few words.
func (b *benchRun) next(s run.Step) string {
	for i, e := range b.sheet.Events {
		if e.AfterLoad == s.Load && s.Do == run.Dip {
			return fmt.Sprintf("then: %s", b.sheet.Events[i].Note().In(b.units))
		}
	}
	rest := b.run.Rest(b.now())
	if s.Do == run.Dip && len(rest) > 0 {
		rest = rest[1:]
	}
	if len(rest) == 0 {
		return "then: the result"
	}
	l := rest[0]
	return fmt.Sprintf("then: load %d, %s, about %d s", l.Number, plural(l.Pieces, "piece"), l.DipS)
}

// temperature reads what somebody types for the bath: a bare number is in the unit of
// the shop; comma or point.
func (b *benchRun) temperature(text string) (measure.Celsius, error) {
	text = strings.Replace(strings.TrimSpace(text), ",", ".", 1)
	if !strings.ContainsAny(text, "CcFf") {
		unit := " C"
		if b.units == measure.US {
			unit = " F"
		}
		text += unit
	}
	t, err := measure.ParseTemperature(text)
	if err != nil {
		return 0, err
	}
	read := run.Entry{Key: "12345678", Do: run.Read, Temperature: &t}
	return t, read.Check()
}

// cure says what a cure is, for a list to choose from.
func (b *benchRun) cure(do string) string { return b.run.Cure(do).In(b.units) }

// acted is the entry for something done to the bath that the sheet does not have.
func (b *benchRun) acted(do string) run.Entry {
	e := b.entry(run.Acted)
	e.Action = do
	return e
}

// reasons to leave out a load or to stop: chosen, because a glove types nothing.
func skipReasons() []string {
	return []string{"the pieces are not here", "they are done already", "the bath does not do", "another reason"}
}

// freshBath is the action whose old bath goes to its waste.
const freshBath = plan.FreshBath
