package bench

import (
	"cmp"
	"crypto/rand"
	"maps"
	"slices"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe/bath/run"
	"hepar/recipe/measure"
)

// Causes returns what is proposed as the cause of rework and reject: the causes that
// batches of this recipe had, the most frequent first.
func (b *Bench) Causes() ([]string, error) {
	count := map[string]int{"spots": 0, "patchy": 0, "too-light": 0, "too-dark": 0, "flaking": 0}
	for batch, err := range b.Journal.List(journal.Filter{Recipe: b.Recipe.Slug, Limit: 100}) {
		if err != nil {
			return nil, err
		}
		if batch.Result != nil {
			for name, n := range batch.Causes {
				count[name] += n
			}
		}
	}
	names := slices.SortedFunc(maps.Keys(count), func(a, b string) int { return cmp.Or(cmp.Compare(count[b], count[a]), cmp.Compare(a, b)) })
	return names[:min(len(names), 8)], nil
}

// Judged returns the entries that say of which load the pieces with a cause are, where that is
// known.
func Judged(by string, at time.Time, causes, loads map[string]int) []run.Entry {
	var list []run.Entry
	for _, cause := range slices.Sorted(maps.Keys(loads)) {
		if loads[cause] > 0 && causes[cause] > 0 {
			list = append(list, run.Entry{Key: rand.Text(), Do: run.Judged, By: by, At: at, Load: loads[cause], Pieces: causes[cause], Note: cause})
		}
	}
	return list
}

// Judge writes down [Judged]. Do it before the batch is logged.
func (b *Bench) Judge(causes, loads map[string]int) error {
	for _, e := range Judged(b.By, b.Now(), causes, loads) {
		if err := b.Write(e); err != nil {
			return err
		}
	}
	return nil
}

// Taken returns what the run took from the shelf and nobody has booked: the first jar of
// each substance that holds enough.
func (b *Bench) Taken() []journal.Use {
	var list []journal.Use
	for _, d := range b.Run.Doses() {
		if slices.ContainsFunc(b.Batch.Uses, func(u journal.Use) bool { return u.Substance == d.Substance }) {
			continue
		}
		stock, err := b.Journal.Shelf(d.Substance)
		if err != nil || len(stock.Containers) == 0 {
			continue
		}
		for _, jar := range stock.Containers {
			if !jar.Empty() && jar.Unit == d.Unit && jar.Left >= d.Amount {
				list = append(list, journal.Use{Number: jar.Number, Substance: d.Substance, Amount: d.Amount, Unit: d.Unit})
				break
			}
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

// Book takes off the shelf what the run took.
func (b *Bench) Book(list []journal.Use) error {
	for _, u := range list {
		if _, err := b.Journal.Use(u, b.Batch.Number, b.By); err != nil {
			return err
		}
	}
	return b.Reload()
}

// After names what is left to do for a batch after its run: stock, waste, label.
func (b *Bench) After() []string {
	var list []string
	for _, u := range b.Taken() {
		list = append(list, "off the shelf: hepar stock use "+u.Number+" '"+measure.Metric.Of(u.Amount, u.Unit)+"' --batch "+b.Batch.Number)
	}
	if b.Sheet.Run != nil {
		volume := strings.ReplaceAll(measure.Metric.Liquid(measure.Liters(b.Sheet.Run.Totals.WasteL)), " ", "")
		list = append(list, "the waste: hepar journal waste "+b.Batch.Number+" --container W-1 --volume "+volume)
	}
	return append(list, "its label: hepar label waste "+b.Batch.Number+" --container W-1")
}
