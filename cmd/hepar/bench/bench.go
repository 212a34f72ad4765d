// Package bench puts the run of one batch into words, for every hand on it: the full
// screen and the plain lines of hepar dip, and the page of hepar bench. [Bench.Task] says
// a step, [Bench.Others], [Bench.Cures] and [Bench.Opened] list what can be chosen,
// [Bench.Write] stores what happened. The steps themselves come from package run.
package bench

import (
	"cmp"
	"crypto/rand"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

// Bench is the run of one batch, kept in the journal. The full screen, the plain
// lines and the page of the tablet are three hands on it.
type Bench struct {
	Journal       *journal.Journal
	WithoutReview string
	By            string
	Units         measure.System
	Now           func() time.Time

	Batch  journal.Batch
	Recipe *recipe.Recipe
	Sheet  *bath.Sheet
	Run    *run.Run
}

// Take goes on from the batch as the journal has it now.
func (b *Bench) Take(batch journal.Batch) {
	b.Batch, b.Run = batch, run.New(b.Sheet, b.Recipe, batch.Bench)
}

// Reload reads the batch again: another hand may have written.
func (b *Bench) Reload() error {
	batch, err := b.Journal.Get(b.Batch.ID.String())
	if err == nil {
		b.Take(batch)
	}
	return err
}

// Entry begins an entry with a key of its own.
func (b *Bench) Entry(do string) run.Entry {
	return run.Entry{Key: rand.Text(), Do: do, By: b.By, At: b.Now()}
}

// Of begins an entry about a load. A time of 0 is left out.
func (b *Bench) Of(do string, load, pieces int, took measure.Seconds) run.Entry {
	e := b.Entry(do)
	if e.Load, e.Pieces = load, pieces; took > 0 {
		e.Time = &took
	}
	return e
}

// Since returns the time between two moments, to a tenth of a second.
func Since(from, to time.Time) measure.Seconds {
	return measure.Seconds(to.Sub(from).Round(100 * time.Millisecond).Seconds())
}

// Write stores an entry and goes on from the batch with it. What it returns nil for is
// on the disk.
func (b *Bench) Write(e run.Entry) error {
	batch, err := b.Journal.Bench(b.Batch.ID.String(), e, b.WithoutReview)
	if err == nil {
		b.Take(batch)
	}
	return err
}

// Where says how far the run has come, for whoever takes it up.
func (b *Bench) Where(s run.Step) string {
	if s.Last == nil {
		return fmt.Sprintf("%s of %s, nothing done yet", count(s.Of, b.LoadWord()), b.Batch.Number)
	}
	text := fmt.Sprintf("%s %d of %d; %d done", b.LoadWord(), s.Load, s.Of, s.Done)
	if s.Do == run.Result {
		text = fmt.Sprintf("%d of %s done", s.Done, count(s.Of, b.LoadWord()))
	}
	if outs := b.Run.Loads(); len(outs) > 0 {
		text += ", last one " + outs[len(outs)-1].At.Format("15:04")
	}
	if s.Open != nil {
		text += fmt.Sprintf("; load %d went in at %s and is not written down as out", s.Open.Load, s.Open.At.Format("15:04:05"))
	}
	if s.Stood > 0 {
		text += fmt.Sprintf("; the bath has been standing for %s: read its temperature", b.Units.Time(measure.Seconds(s.Stood.Round(time.Minute).Seconds())))
	}
	return text
}

// LoadWord is what the run goes by: a load, or a coat.
func (b *Bench) LoadWord() string {
	if b.Sheet.Coats != nil {
		return "coat"
	}
	return "load"
}

// Task says a step: a heading to read from afar, and lines that explain it.
func (b *Bench) Task(s run.Step) (head string, lines []string) {
	u, remark := b.Units, nonEmpty(b.Remark(s))
	switch s.Do {
	case run.Mix:
		brief := b.Sheet.Brief(b.Recipe, u)
		lines = append([]string{"! " + brief.Capitals[0], brief.Bath}, brief.Pour...)
		if i := slices.IndexFunc(b.Sheet.Warnings, func(w plan.Warning) bool { return w.Code == "thick-glass" }); i >= 0 {
			lines = append(lines, "! "+b.Sheet.Warnings[i].In(u))
		}
		return "MIX THE BATH", lines
	case run.Read:
		return "READ THE TEMPERATURE", []string{"type what the thermometer shows; it should be about " + wholeC(u, s.At)}
	case run.Act:
		return "BEFORE LOAD " + fmt.Sprint(s.Load), []string{s.Say.In(u)}
	case run.Wait:
		return fmt.Sprintf("WAIT BEFORE COAT %d OF %d", s.Load, s.Of), nil
	case run.Coat:
		head = fmt.Sprintf("COAT %d OF %d", s.Load, s.Of)
		if b.Sheet.Coats == nil {
			head = "DO THE STEPS OF THE SHEET"
		}
		if s.Time > 0 {
			lines = append(lines, "then wait "+u.Time(s.Time))
		}
		return head, append(lines, count(s.Pieces, "piece"))
	case run.Dip:
		if s.Open != nil {
			return fmt.Sprintf("LOAD %d WENT IN AT %s", s.Load, s.Open.At.Format("15:04:05")), []string{"nobody wrote down that it came out: take it out now if it is still in"}
		}
		from := "as planned"
		if s.FromRead {
			from = "reckoned from the last reading"
		}
		if lines = remark; s.Last != nil && s.Last.Do == run.Out {
			lines = append(lines, fmt.Sprintf("load %d into the rinse at once", s.Last.Load))
		}
		lines = append(lines, b.Band(s))
		if s.At > 0 {
			lines = append(lines, fmt.Sprintf("bath %d, about %s, %s", s.Bath, wholeC(u, s.At), from))
		}
		return fmt.Sprintf("LOAD %d OF %d", s.Load, s.Of), lines
	}
	head = "ALL LOADS ARE OUT"
	if pieces, of := b.Run.Dipped(); pieces < of {
		head = fmt.Sprintf("%d OF %d PIECES ARE DONE", pieces, of)
	}
	return head, append(remark, "rinse, neutralise and dry as the sheet says")
}

func nonEmpty(parts ...string) []string {
	return slices.DeleteFunc(parts, func(p string) bool { return p == "" })
}

// Band says from when to when the load of a step is right, and what it looks like then.
func (b *Bench) Band(s run.Step) string {
	text, how := "", ""
	if s.Load >= 1 && s.Load <= len(b.Sheet.Loads) {
		if l := b.Sheet.Loads[s.Load-1]; l.HighS > l.LowS && l.DipS > 0 { // as on the sheet, moved with the dip
			moved := float64(s.Time) / float64(l.DipS)
			text = fmt.Sprintf("may take %.0f to %.0f s", float64(l.LowS)*moved, float64(l.HighS)*moved)
		}
	}
	if b.Recipe.Dip != nil {
		how = b.Recipe.Dip.How()
	}
	return strings.Join(nonEmpty(text, how), "; ")
}

// Remark says that the load that came out last was in for another time than was planned.
func (b *Bench) Remark(s run.Step) string {
	if s.Last == nil || s.Last.Do != run.Out || s.Last.Time == nil {
		return ""
	}
	planned := b.Run.Planned(s.Last.Load)
	if planned == nil || !run.Missed(*s.Last.Time, *planned) {
		return ""
	}
	return fmt.Sprintf("load %d was in for %s and %s was planned: look at it. To take it back or dip it again, choose What else", s.Last.Load, b.Units.Time(*s.Last.Time), b.Units.Time(*planned))
}

// Wrong says why the bath does not do, and what the recipe asks.
func (b *Bench) Wrong(s run.Step) string {
	u, r, at := b.Units, b.Recipe, wholeC(b.Units, s.At)
	switch s.Wrong {
	case "cold":
		return fmt.Sprintf("the bath is at %s; below %s it does not work", at, u.Temperature(cmp.Or(r.Bath.WorksDownTo, r.Bath.Water.From)))
	case "hot":
		return fmt.Sprintf("the bath is at %s; the recipe has %s at most: let it cool", at, u.Temperature(r.Bath.Water.To))
	case "long":
		return fmt.Sprintf("at %s the dip takes %s; the recipe has %s at most", at, u.Time(s.Time), u.Time(measure.Seconds(b.Sheet.Bath.DipToS)))
	}
	return ""
}

// Degree is the unit of temperature of the shop, C or F.
func (b *Bench) Degree() string {
	if b.Units == measure.US {
		return "F"
	}
	return "C"
}

// Degrees returns a temperature in the unit of the shop.
func (b *Bench) Degrees(t measure.Celsius) float64 {
	if b.Units == measure.US {
		return float64(t)*1.8 + 32
	}
	return float64(t)
}

func wholeC(u measure.System, t measure.Celsius) string {
	return u.Temperature(measure.Celsius(int(t + 0.5)))
}

// Next names what follows after a step, in a few words.
func (b *Bench) Next(s run.Step) string {
	for _, e := range b.Sheet.Events {
		if e.AfterLoad == s.Load && s.Do == run.Dip {
			return "then: " + e.In(b.Units)
		}
	}
	rest := b.Run.Rest(b.Now())
	if s.Do == run.Dip && len(rest) > 0 {
		rest = rest[1:]
	}
	if len(rest) == 0 {
		return "then: the result"
	}
	l := rest[0]
	return fmt.Sprintf("then: load %d, %s, about %d s", l.Number, count(l.Pieces, "piece"), l.DipS)
}

// Temperature reads what somebody types for the bath: a bare number is in the unit of
// the shop; comma or point.
func (b *Bench) Temperature(text string) (measure.Celsius, error) {
	text = strings.Replace(strings.TrimSpace(text), ",", ".", 1)
	if !strings.ContainsAny(text, "CcFf") {
		text += " " + b.Degree()
	}
	t, err := measure.ParseTemperature(text)
	if err != nil {
		return 0, err
	}
	return t, run.Entry{Key: "12345678", Do: run.Read, Temperature: &t}.Check()
}

// count puts a number before what it counts.
func count(n int, what string) string { return measure.Counted(n, what, what+"s") }

// Causes returns what is proposed as the cause of rework and reject: the causes that
// batches of this recipe had, the most frequent first.
func (b *Bench) Causes() ([]string, error) {
	count := map[string]int{"spots": 0, "patchy": 0, "too-light": 0, "too-dark": 0, "flaking": 0}
	for batch, err := range b.Journal.List(journal.Filter{Recipe: b.Recipe.Slug, Limit: 100}) {
		if err != nil {
			return nil, err
		}
		if batch.Result == nil {
			continue
		}
		for name, n := range batch.Causes {
			count[name] += n
		}
	}
	names := slices.SortedFunc(maps.Keys(count), func(a, b string) int { return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a, b)) })
	return names[:min(len(names), 8)], nil
}

// Reviewed returns a review that somebody has done as the journal keeps it: what was
// confirmed, measured and named, and the room; nothing of the health of a person. It refuses
// a name that is none, or that is the second person's as well.
func Reviewed(by string, now time.Time, sub safety.Subject, r safety.Review) (journal.Review, error) {
	out := journal.Review{By: by, At: journal.StampOf(now), Digest: sub.Recipe.Digest, Answers: map[string]string{}, Inputs: map[string]string{}}
	if by == "" || by != measure.Clean(by) {
		return out, fault.Usagef("the name is empty or is not plain text").Try("write the name of the person who has done and read all of it")
	}
	if strings.EqualFold(by, sub.Second) {
		return out, fault.Usagef("the second person is %s, who does the review", by).Try("name somebody else, who stays within call")
	}
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
	return out, nil
}

// Log writes down how a batch turned out, and of which load the pieces with a cause are
// where that is known, or nothing.
func Log(j *journal.Journal, ref string, r journal.Result, loads map[string]int, o journal.LogOptions) (batch journal.Batch, err error) {
	if batch, err = j.Get(ref); err != nil { // Update would make a new journal
		return batch, err
	}
	err = j.Update(func(tx *journal.Tx) error {
		for _, cause := range slices.Sorted(maps.Keys(loads)) {
			if loads[cause] < 1 || r.Causes[cause] < 1 {
				continue
			}
			e := run.Entry{Key: rand.Text(), Do: run.Judged, By: o.By, At: o.At, Load: loads[cause], Pieces: r.Causes[cause], Note: cause}
			if _, err := tx.Bench(ref, e, ""); err != nil {
				return err
			}
		}
		batch, err = tx.Log(ref, r, o)
		return err
	})
	return batch, err
}

// Taken returns what the run took from the shelf and nobody has booked: the first jar of
// each substance that holds enough.
func (b *Bench) Taken() []journal.Use {
	var list []journal.Use
	for _, d := range b.Run.Doses() {
		booked := slices.ContainsFunc(b.Batch.Uses, func(u journal.Use) bool { return u.Substance == d.Substance })
		jars, _ := b.Journal.ListContainers(journal.ContainerFilter{Substance: d.Substance})
		holds := func(jar journal.Container) bool { return !jar.Empty() && jar.Unit == d.Unit && jar.Left >= d.Amount }
		if i := slices.IndexFunc(jars, holds); i >= 0 && !booked {
			list = append(list, journal.Use{Number: jars[i].Number, Substance: d.Substance, Amount: d.Amount, Unit: d.Unit})
		}
	}
	return list
}

// TakenText says what would be booked: "8.5 g from S-001".
func (b *Bench) TakenText(list []journal.Use) string {
	var parts []string
	for _, u := range list {
		parts = append(parts, b.Units.Of(u.Amount, u.Unit)+" from "+u.Number)
	}
	return strings.Join(parts, ", ")
}

// Book takes off the shelf what the run took, all or nothing.
func (b *Bench) Book(list []journal.Use) error {
	err := b.Journal.Update(func(tx *journal.Tx) error {
		for _, u := range list {
			if _, err := tx.Use(u, b.Batch.ID.String(), b.By); err != nil {
				return err
			}
		}
		return nil
	})
	return cmp.Or(err, b.Reload())
}

// After names what is left to do for a batch after its run: stock, waste, label.
func (b *Bench) After() []string {
	var list []string
	for _, u := range b.Taken() {
		list = append(list, "off the shelf: hepar stock use "+u.Number+" '"+measure.Metric.Of(u.Amount, u.Unit)+"' --batch "+b.Batch.Number)
	}
	if b.Sheet.Run != nil {
		volume := strings.ReplaceAll(measure.Metric.Liquid(measure.Liters(b.Sheet.Run.Totals.WasteL)), " ", "")
		list = append(list, "the waste, all baths and the still tubs after them: hepar journal waste "+b.Batch.Number+" --container W-1 --volume "+volume)
	}
	return append(list, "its label: hepar label waste "+b.Batch.Number+" --container W-1 --output W-1.html")
}
