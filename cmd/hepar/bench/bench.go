// Package bench is the run of one batch in the journal, for every hand on it: the full
// screen and the plain lines of hepar dip, and the page of hepar bench. [Bench.Next] is what
// to do and what can be chosen, from package run; [Bench.Write] stores what happened.
package bench

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
	"hepar/recipe/safety"
)

// Bench is the run of one batch, kept in the journal.
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
	b.Batch, b.Run = batch, run.New(b.Sheet, b.Recipe, b.Units, batch.Bench)
}

// Next says what to do now.
func (b *Bench) Next() run.Step { return b.Run.Next(b.Now()) }

// Reload reads the batch again: another hand may have written.
func (b *Bench) Reload() error {
	batch, err := b.Journal.Get(b.Batch.ID.String())
	if err == nil {
		b.Take(batch)
	}
	return err
}

// Since returns the time between two moments, to a tenth of a second.
func Since(from, to time.Time) measure.Seconds {
	return measure.Seconds(to.Sub(from).Round(100 * time.Millisecond).Seconds())
}

// Write stores an entry of the person at the bench, and goes on from the batch with it. When
// it returns nil, the entry is on the disk.
func (b *Bench) Write(e run.Entry) error {
	if err := b.Run.Follows(e); err != nil {
		return err
	}
	e.By = b.By
	batch, err := b.Journal.Bench(b.Batch.ID.String(), e, b.WithoutReview)
	if err == nil {
		b.Take(batch)
	}
	return err
}

// Stays says who stays within call where the second person of the review has taken over, see [safety.Stays].
func (b *Bench) Stays() string {
	r, by := b.Batch.Review, b.By
	if b.Run.Last != nil {
		by = cmp.Or(by, b.Run.Last.By)
	}
	if r == nil || b.Next().Do == run.Result {
		return ""
	}
	return safety.Stays(by, r.By, r.Answers["second"])
}

// Degree is the unit of temperature of the shop, C or F.
func (b *Bench) Degree() string {
	_, unit, _ := strings.Cut(b.Units.Temperature(0), " ")
	return unit
}

// Temperature reads a typed temperature of the bath: a bare number is in the unit of
// the shop; comma and point both mark decimals.
func (b *Bench) Temperature(text string) (measure.Celsius, error) {
	text = strings.Replace(strings.TrimSpace(text), ",", ".", 1)
	if !strings.ContainsAny(text, "CcFf") {
		text += " " + b.Degree()
	}
	t, err := measure.ParseTemperature(text)
	return t, cmp.Or(err, run.Keyed(run.Entry{Do: run.Read, Temperature: &t}).Check())
}

// Causes returns what is proposed as the cause of rework and reject: the causes that
// batches of this recipe had, the most frequent first. It stops the action at an error.
func (b *Bench) Causes() []string {
	count := map[string]int{"spots": 0, "patchy": 0, "too-light": 0, "too-dark": 0, "flaking": 0}
	for batch, err := range b.Journal.List(journal.Filter{Recipe: b.Recipe.Slug, State: journal.Logged, Limit: 100}) {
		fault.Check(err)
		for name, n := range batch.Causes {
			count[name] += n
		}
	}
	names := slices.SortedFunc(maps.Keys(count), func(a, b string) int { return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a, b)) })
	return names[:min(len(names), 8)]
}

// Reviewed returns a review that somebody has done as the journal keeps it: what was
// confirmed, measured and named, and the room; nothing of the health of a person. It refuses a
// name that [safety.Subject.Sign] does.
func Reviewed(by string, now time.Time, sub safety.Subject, r safety.Review) (journal.Review, error) {
	out := journal.Review{By: by, At: journal.StampOf(now), Digest: sub.Recipe.Digest, Answers: map[string]string{}, Inputs: map[string]string{}}
	if err := sub.Sign(by); err != nil {
		return out, err
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
// where that is known, or nothing. It stops the action at an error.
func Log(j *journal.Journal, ref string, r journal.Result, loads map[string]int, o journal.LogOptions) (batch journal.Batch) {
	fault.Must(j.Get(ref)) // Update would make a new journal
	fault.Check(j.Update(func(tx *journal.Tx) error {
		for _, cause := range slices.Sorted(maps.Keys(loads)) {
			e := run.Entry{Do: run.Judged, By: o.By, At: o.At, Load: loads[cause], Pieces: r.Causes[cause], Note: cause}
			if e.Load > 0 && e.Pieces > 0 {
				fault.Must(tx.Bench(ref, *run.Keyed(e), ""))
			}
		}
		batch = fault.Must(tx.Log(ref, r, o))
		return nil
	}))
	return batch
}

// Taken returns what the run took from the shelf and is not booked yet, from the first jar
// of each substance that holds enough, and a text for it: "8.5 g from S-001".
func (b *Bench) Taken() (list []journal.Use, text string) {
	for _, d := range b.Run.Doses() {
		booked := slices.ContainsFunc(b.Batch.Uses, func(u journal.Use) bool { return u.Substance == d.Substance })
		jars, _ := b.Journal.ListContainers(journal.ContainerFilter{Substance: d.Substance})
		holds := func(jar journal.Container) bool { return !jar.Empty() && jar.Unit == d.Unit && jar.Left >= d.Amount }
		if i := slices.IndexFunc(jars, holds); i >= 0 && !booked {
			list = append(list, journal.Use{Number: jars[i].Number, Substance: d.Substance, Amount: d.Amount, Unit: d.Unit})
			text += ", " + b.Units.Of(d.Amount, d.Unit) + " from " + jars[i].Number
		}
	}
	return list, strings.TrimPrefix(text, ", ")
}

// Book takes off the shelf what the run took, all or nothing.
func (b *Bench) Book(list []journal.Use) error {
	err := b.Journal.Update(func(tx *journal.Tx) error {
		for _, u := range list {
			fault.Must(tx.Use(u, b.Batch.ID.String(), b.By))
		}
		return nil
	})
	return cmp.Or(err, b.Reload())
}

// Drum names a waste container for each recipe: acid and sulfide never share one.
func (b *Bench) Drum() string { return "W-" + b.Batch.Slug }

// Untaken names what is left to take off the shelf.
func (b *Bench) Untaken() (list []string) {
	taken, _ := b.Taken()
	for _, u := range taken {
		list = append(list, "book off the shelf: hepar stock use "+u.Number+" '"+measure.Metric.Of(u.Amount, u.Unit)+"' --batch "+b.Batch.Number)
	}
	return list
}

// After names what is left to do for a batch after its run: stock, waste, label.
func (b *Bench) After() []string {
	list := b.Untaken()
	drum := b.Drum()
	if len(b.Batch.Waste) > 0 {
		drum = b.Batch.Waste[len(b.Batch.Waste)-1].Container
	} else if waste := b.Run.Waste(); waste > 0 {
		volume := strings.ReplaceAll(measure.Metric.Liquid(waste), " ", "")
		list = append(list, "record the waste of all baths and of the still rinse tubs: hepar journal waste "+b.Batch.Number+" --container "+drum+" --volume "+volume)
	}
	return append(list, "print its label: hepar label waste "+b.Batch.Number+" --container "+drum+" --output "+drum+".html")
}
