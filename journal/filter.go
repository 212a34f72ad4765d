package journal

import (
	"slices"
	"strings"
	"time"

	"hepar/recipe/fault"
)

// Filter says which batches List gives and in which order. Its zero value is all
// batches, newest first. What is set must all be true of a batch.
type Filter struct {
	Recipe string    // slug
	Kind   string    // finish: the kind of the recipe
	Alloy  string    // name
	State  State     // see Planned and the rest
	Result string    // ResultGood, ResultRework or ResultReject; logged batches only
	Cause  string    // of rework or reject; logged batches only
	By     string    // anyone named in an event, in any case of letters
	Lot    string    // of a container it used, in any case of letters
	Waste  string    // container its waste is in, in any case of letters
	From   time.Time // batches created at From or later
	To     time.Time // batches created before To
	Since  time.Time // results had at Since or later
	Until  time.Time // results had before Until
	Text   string    // in a note, shade, title, alloy, number or order, in any case of letters

	Sort    string // one of Sorts; empty means SortOrder
	Reverse bool   // the other way round
	Offset  int    // leave out so many
	Limit   int    // give at most so many; 0 means all

	Brief  bool // without events
	Frozen bool // with the text of the recipe and the sheet
}

// The orders of List. All rise, only SortOrder begins with the newest; Reverse
// turns each round. Batches that are alike stay in the order of the journal.
const (
	SortOrder   = "order"   // in which batches were opened, newest first
	SortNumber  = "number"  // short number
	SortCreated = "created" // by the clock, whatever it showed
	SortLogged  = "logged"  // time of the result
	SortRecipe  = "recipe"
	SortAlloy   = "alloy"
	SortState   = "state"
	SortPieces  = "pieces"
	SortYield   = "yield" // share of good pieces among those counted
)

// Sorts returns the orders that List knows.
func Sorts() []string {
	return []string{SortOrder, SortNumber, SortCreated, SortLogged, SortRecipe, SortAlloy, SortState, SortPieces, SortYield}
}

// States returns the states of a batch, in the order of the work.
func States() []State { return []State{Planned, Reviewed, Dipped, Logged, Withdrawn} }

// clean checks the words of a filter and puts them as the index has them.
func (f Filter) clean() (Filter, error) {
	if f.State != "" && !slices.Contains(States(), f.State) {
		return f, fault.Usagef("there is no state %q", f.State).Try("name one of planned, reviewed, dipped, logged, withdrawn")
	}
	if f.Result != "" && !slices.Contains([]string{ResultGood, ResultRework, ResultReject}, f.Result) {
		return f, fault.Usagef("there is no result %q", f.Result).Try("name good, rework or reject")
	}
	if f.Sort == "" {
		f.Sort = SortOrder
	}
	if !slices.Contains(Sorts(), f.Sort) {
		return f, fault.Usagef("a list cannot be sorted by %q", f.Sort).Try("name one of %s", strings.Join(Sorts(), ", "))
	}
	if f.Offset < 0 || f.Limit < 0 {
		return f, fault.Usagef("the limit or the offset of the list is below zero").Try("give 0 or more")
	}
	if !f.From.IsZero() && !f.To.IsZero() && !f.From.Before(f.To) {
		return f, fault.Usagef("the list would end before it begins").Try("give a --from that is before --to")
	}
	if !f.Since.IsZero() && !f.Until.IsZero() && !f.Since.Before(f.Until) {
		return f, fault.Usagef("the results would end before they begin").Try("give a day from which that is before the day until which")
	}
	var err error
	for _, word := range []*string{&f.Recipe, &f.Kind, &f.Alloy, &f.By, &f.Lot, &f.Waste} {
		if *word, err = line("word to look for", *word); err != nil {
			return f, err
		}
	}
	if f.Cause != "" {
		if f.Cause, err = causeName(f.Cause); err != nil {
			return f, err
		}
	}
	f.Text = strings.ToLower(strings.TrimSpace(f.Text))
	return f, nil
}

// prefixes gives the parts of the index in which every batch looked for stands.
func (f Filter) prefixes() [][]byte {
	var all [][]byte
	for _, part := range []struct {
		tag   byte
		value string
	}{
		{byLot, foldName(f.Lot)}, {byWaste, foldName(f.Waste)}, {byCause, f.Cause}, {byRecipe, f.Recipe}, {byPerson, foldName(f.By)},
		{byAlloy, f.Alloy}, {byResult, f.Result}, {byState, string(f.State)},
	} {
		// What most batches are is not in the index, for an entry would only cost:
		// matches looks at the batch itself.
		common := part.tag == byState && f.State == Logged || part.tag == byResult && f.Result == ResultGood
		if part.value != "" && !common {
			all = append(all, indexPrefix(part.tag, part.value))
		}
	}
	return all
}

// span gives the ids between which every batch of the dates lies. The time in an
// id is never behind the time of its batch, and at most lag ahead of it.
func (f Filter) span(lagMS uint64) (low, high id) {
	for k := range high {
		high[k] = 0xff
	}
	if !f.From.IsZero() {
		low = boundary(millisOf(f.From), 0)
	}
	if !f.To.IsZero() {
		high = boundary(millisOf(f.To)+lagMS, 0xff)
	}
	return low, high
}

// matches checks what the index does not: the exact dates, the text, and what
// most batches are.
func (f Filter) matches(r *reader, s *standing) (bool, error) {
	created := s.Created.Nanos
	if !f.From.IsZero() && created < f.From.UnixNano() || !f.To.IsZero() && created >= f.To.UnixNano() {
		return false, nil
	}
	if f.State != "" && s.State != f.State {
		return false, nil
	}
	if logged := s.Logged.Nanos; (!f.Since.IsZero() || !f.Until.IsZero()) && !s.HasResult ||
		!f.Since.IsZero() && logged < f.Since.UnixNano() || !f.Until.IsZero() && logged >= f.Until.UnixNano() {
		return false, nil
	}
	if f.Kind != "" {
		if recipe, err := r.recipeBegun(s); err != nil || recipe.Kind != f.Kind {
			return false, err
		}
	}
	if f.Result == ResultGood && (s.State != Logged || !s.HasResult || s.Rework > 0 || s.Reject > 0) {
		return false, nil
	}
	if f.Text == "" {
		return true, nil
	}
	b, _, err := r.replay(s)
	if err != nil {
		return false, err
	}
	recipe, err := r.recipe(b)
	if err != nil {
		return false, err
	}
	texts := []string{b.Plan.Note, recipe.Title, recipe.Slug, b.Plan.Alloy, b.Plan.Number}
	if b.Result != nil {
		texts = append(texts, b.Result.Note, b.Result.Shade)
	}
	return slices.ContainsFunc(texts, func(text string) bool {
		return strings.Contains(strings.ToLower(text), f.Text)
	}), nil
}
