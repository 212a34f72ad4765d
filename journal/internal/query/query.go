// Package query finds, sorts and adds up batches: see Filter, List, Sum. The index only finds candidates: every
// batch is read from its events and looked at itself.
package query

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strings"
	"time"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Filter says which batches and in which order. All that is set must be true. Its zero value is all, newest first.
type Filter struct {
	Recipe string       // slug
	Kind   string       // finish: the kind of the recipe
	Alloy  string       // name
	State  record.State // how far it has come
	Result string       // record.ResultGood, ResultRework or ResultReject; logged batches only
	Cause  string       // of rework or reject; logged batches only
	By     string       // anyone named in an event, in any case of letters
	Lot    string       // of a container it used, in any case of letters
	Waste  string       // container its waste is in, in any case of letters
	From   time.Time    // created at From or later
	To     time.Time    // created before To
	Since  time.Time    // result had at Since or later
	Until  time.Time    // result had before Until
	Text   string       // in an order, a note, a shade, a reason, a title or a number, in any case of letters

	Sort    string // one of Sorts; empty means SortOrder
	Reverse bool   // the other way round
	Offset  int    // leave out so many
	Limit   int    // return at most so many; 0 means all
	Frozen  bool   // with the text of the recipe and the sheet
}

// SortOrder begins with the newest. All other orders rise. Batches that are alike stay in the order of their opening.
const SortOrder = "order"

// sorts are the orders besides SortOrder: how two batches compare.
var sorts = []struct {
	name    string
	compare func(a, b *record.Batch) int
}{
	{"number", func(a, b *record.Batch) int { // "2026-1000" is behind "2026-999"
		x, y := a.Number, b.Number
		return cmp.Or(cmp.Compare(x[:min(4, len(x))], y[:min(4, len(y))]), cmp.Compare(len(x), len(y)), cmp.Compare(x, y))
	}},
	{"created", by(func(b *record.Batch) int64 { return b.Created.Time().UnixMilli() })},
	{"logged", by(func(b *record.Batch) int64 {
		if b.Result == nil {
			return 0
		}
		return b.Result.Logged.Time().UnixMilli()
	})},
	{"recipe", by(func(b *record.Batch) string { return b.Slug })},
	{"alloy", by(func(b *record.Batch) string { return b.Alloy })},
	{"state", by(func(b *record.Batch) int { return slices.Index(record.States(), b.State) })},
	{"pieces", by(func(b *record.Batch) int { return b.Pieces })},
	{"yield", by(func(b *record.Batch) float64 {
		if b.Result == nil || b.Counted() == 0 {
			return -1
		}
		return float64(b.Good) / float64(b.Counted())
	})},
}

func by[T cmp.Ordered](of func(*record.Batch) T) func(a, b *record.Batch) int {
	return func(a, b *record.Batch) int { return cmp.Compare(of(a), of(b)) }
}

// Sorts returns the orders that List knows.
func Sorts() []string {
	names := []string{SortOrder}
	for _, s := range sorts {
		names = append(names, s.name)
	}
	return names
}

// oneOf returns an error if a flag has a word that is none of those there are.
func oneOf[T ~string](word T, flag string, words ...T) error {
	if word == "" || slices.Contains(words, word) {
		return nil
	}
	return fault.Usagef("%q is not known", measure.Clean(string(word))).At(flag).Try("write one of %s", strings.ReplaceAll(strings.Trim(fmt.Sprint(words), "[]"), " ", ", "))
}

// Clean checks the words of a filter and puts them as the index has them.
func (f Filter) Clean() (Filter, error) {
	f.Sort = cmp.Or(f.Sort, SortOrder)
	err := cmp.Or(oneOf(f.State, "--state", record.States()...), oneOf(f.Sort, "--sort", Sorts()...),
		oneOf(f.Result, "--result", record.ResultGood, record.ResultRework, record.ResultReject))
	if err != nil {
		return f, err
	}
	if f.Offset < 0 || f.Limit < 0 {
		return f, fault.Usagef("--limit or --offset is below zero").Try("give 0 or more")
	}
	if !f.From.IsZero() && !f.To.IsZero() && !f.From.Before(f.To) || !f.Since.IsZero() && !f.Until.IsZero() && !f.Since.Before(f.Until) {
		return f, fault.Usagef("the last day is before the first day").Try("put the earlier day first")
	}
	for what, word := range map[string]*string{"recipe": &f.Recipe, "kind": &f.Kind, "alloy": &f.Alloy, "name": &f.By, "lot": &f.Lot, "container": &f.Waste} {
		if *word, err = record.Clean(what, "", *word); err != nil {
			return f, err
		}
	}
	if f.Cause != "" {
		if f.Cause, err = record.CauseName(f.Cause); err != nil {
			return f, err
		}
	}
	f.By, f.Lot, f.Waste, f.Text = record.Fold(f.By), record.Fold(f.Lot), record.FoldContainer(f.Waste), record.Fold(f.Text)
	return f, nil
}

// keys are the keys of the index under which every batch looked for stands, the rarer ones first.
func (f Filter) keys() []record.Key {
	var keys []record.Key
	for _, k := range []record.Key{
		{Tag: record.ByLot, Value: f.Lot}, {Tag: record.ByWaste, Value: f.Waste}, {Tag: record.ByCause, Value: f.Cause},
		{Tag: record.ByRecipe, Value: f.Recipe}, {Tag: record.ByPerson, Value: f.By}, {Tag: record.ByResult, Value: f.Result},
		{Tag: record.ByAlloy, Value: f.Alloy}, {Tag: record.ByState, Value: string(f.State)},
	} {
		common := k.Tag == record.ByResult && k.Value == record.ResultGood || k.Tag == record.ByState && k.Value == string(record.StateLogged)
		if k.Value != "" && !common { // what nearly every batch is has no key
			keys = append(keys, k)
		}
	}
	return keys
}

// candidates yields the ids among which the batches are, in the order of their opening or backward.
func (f Filter) candidates(tx *store.Tx, backward bool) iter.Seq[record.ID] {
	low, high := record.ID{}, store.Highest
	if !f.From.IsZero() {
		low = store.Bound(f.From)
	}
	if !f.To.IsZero() {
		high = store.Bound(f.To.Add(time.Millisecond))
	}
	if keys := f.keys(); len(keys) > 0 {
		return tx.Under(keys[0], low, high, backward)
	}
	return tx.Under(record.AllBatches, low, high, backward)
}

// batches yields those of some batches that f asks for.
func (f Filter) batches(ids iter.Seq[record.ID], read func(record.ID) *record.Batch) iter.Seq[*record.Batch] {
	return func(yield func(*record.Batch) bool) {
		for id := range ids {
			if b := read(id); f.matches(b) && !yield(b) {
				return
			}
		}
	}
}

// within says whether a time is from or later, and before to; zero is no bound.
func within(at record.Stamp, from, to time.Time) bool {
	t := at.Time()
	return (from.IsZero() || !t.Before(from)) && (to.IsZero() || t.Before(to))
}

func (f Filter) matches(b *record.Batch) bool {
	lacks := func(k record.Key) bool { return !slices.Contains(b.Keys(), k) }
	return within(b.Created, f.From, f.To) &&
		(f.Since.IsZero() && f.Until.IsZero() || b.Result != nil && within(b.Result.Logged, f.Since, f.Until)) &&
		(f.Kind == "" || f.Kind == b.Recipe.Kind) &&
		(f.State == "" || f.State == b.State) &&
		(f.Result != record.ResultGood || b.State == record.StateLogged && b.Rework+b.Reject == 0) &&
		!slices.ContainsFunc(f.keys(), lacks) &&
		(f.Text == "" || hasText(b, f.Text))
}

func hasText(b *record.Batch, text string) bool {
	texts := []string{b.Number, b.Slug, b.Title, b.Alloy, b.WithoutReview}
	for _, f := range record.Fields() {
		if f.Text && !(f.OfResult && b.Result == nil) {
			texts = append(texts, f.Get(b))
		}
	}
	return slices.ContainsFunc(texts, func(t string) bool { return strings.Contains(strings.ToLower(t), text) })
}

// List returns the batches that f asks for. A word of f that is not known ends the transaction.
func List(tx *store.Tx, f Filter) iter.Seq[*record.Batch] {
	return func(yield func(*record.Batch) bool) {
		f, err := f.Clean()
		fault.Check(err)
		all := f.batches(f.candidates(tx, (f.Sort == SortOrder) != f.Reverse), tx.Batch)
		if i := slices.Index(Sorts(), f.Sort) - 1; i >= 0 {
			all = slices.Values(slices.SortedStableFunc(all, func(a, b *record.Batch) int {
				if f.Reverse {
					a, b = b, a
				}
				return sorts[i].compare(a, b)
			}))
		}
		n := 0
		for b := range all {
			if n++; n <= f.Offset {
				continue
			}
			if f.Frozen {
				tx.Frozen(b)
			}
			if !yield(b) || n-f.Offset == f.Limit {
				return
			}
		}
	}
}
