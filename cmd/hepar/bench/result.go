package bench

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"hepar/journal"
	"hepar/recipe/measure"
)

// Causes returns what is proposed as the cause of rework and reject: the causes that
// batches of this recipe had, the most frequent first.
func (b *Bench) Causes() ([]string, error) {
	count := map[string]int{"spots": 0, "patchy": 0, "too-light": 0, "flaking": 0}
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

// After names what is left to do for a batch after its run: stock, waste, label.
func (b *Bench) After() []string {
	var list []string
	for _, d := range b.Run.Doses() {
		if slices.ContainsFunc(b.Batch.Uses, func(u journal.Use) bool { return u.Substance == d.Substance }) {
			continue
		}
		stock, err := b.Journal.Shelf(d.Substance)
		if err != nil || len(stock.Containers) == 0 {
			continue
		}
		list = append(list, "off the shelf: hepar stock use "+stock.Containers[0].Number+" '"+measure.Metric.Of(d.Amount, d.Unit)+"' --batch "+b.Batch.Number)
	}
	if b.Sheet.Run != nil {
		volume := strings.ReplaceAll(measure.Metric.Liquid(measure.Liters(b.Sheet.Run.Totals.WasteL)), " ", "")
		list = append(list, "the waste: hepar journal waste "+b.Batch.Number+" --container W-1 --volume "+volume)
	}
	return append(list, "its label: hepar label waste "+b.Batch.Number+" --container W-1")
}
