package journal

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Mean is the mean of a figure and how far it ranged. With N 0 the others say nothing.
type Mean struct {
	N                 int // batches in which it was measured
	Mean, Least, Most float64
}

// Group is what a sum makes of the batches that have something in common. The
// counts of pieces, the causes and the means are of logged batches only; Withdrawn
// batches count in Batches and in nothing else.
type Group struct {
	Key       string // what they have in common; empty where the sum is of all
	Batches   int
	Logged    int
	Withdrawn int
	Pieces    int // wanted, without spares
	Spares    int
	Good      int
	Rework    int
	Reject    int
	Missing   int            // went in and were not counted
	Causes    map[string]int // pieces by cause
	Celsius   Mean           // temperature of the bath
	Seconds   Mean           // time of a piece in the bath
}

// Yield is the share of good pieces among those counted, from 0 to 1; false where
// none is counted.
func (g Group) Yield() (float64, bool) {
	counted := g.Good + g.Rework + g.Reject
	if counted == 0 {
		return 0, false
	}
	return float64(g.Good) / float64(counted), true
}

// What Sum can group by.
const (
	ByRecipe = "recipe"
	ByKind   = "kind" // of the recipe
	ByAlloy  = "alloy"
	ByMonth  = "month" // "2026-03", in which they were created, at the bench
	ByYear   = "year"
	ByState  = "state"
	ByPerson = "person" // anyone named in an event: a batch may count for several
)

// SumBys returns the words that Sum knows.
func SumBys() []string {
	return []string{ByRecipe, ByKind, ByAlloy, ByMonth, ByYear, ByState, ByPerson}
}

// Sum counts and adds up the batches that f asks for, leaving Sort, Offset and
// Limit aside: all in one group, or with by one of SumBys a group for each value,
// in the order of the values. A person is named as their last batch has it.
func (j *Journal) Sum(f Filter, by string) ([]Group, error) {
	f, err := f.clean()
	if err != nil {
		return nil, err
	}
	if by != "" && !slices.Contains(SumBys(), by) {
		return nil, fault.Usagef("a sum cannot be by %q", measure.Clean(by)).Try("name one of %s", strings.Join(SumBys(), ", "))
	}
	f.Sort, f.Offset, f.Limit, f.Reverse = SortOrder, 0, 0, true
	if by != ByPerson {
		return j.sum(f, by)
	}
	names, err := j.people(f.By)
	if err != nil {
		return nil, err
	}
	var all []Group
	for _, name := range names {
		one := f
		one.By = name
		// Whoever is asked for must be in the batch as well.
		groups, err := j.sum(one, "")
		if err != nil {
			return nil, err
		}
		if groups[0].Batches > 0 {
			if groups[0].Key, err = j.written(name); err != nil {
				return nil, err
			}
			all = append(all, groups[0])
		}
	}
	return all, nil
}

// written gives a name as its last batch has it, since the index has it in lower case.
func (j *Journal) written(name string) (string, error) {
	for b, err := range j.List(Filter{By: name, Limit: 1}) {
		if err != nil {
			return "", err
		}
		for _, e := range b.Events {
			if foldName(e.By) == name {
				return e.By, nil
			}
		}
	}
	return name, nil
}

// people gives the names of all people as the index has them, or the one asked for.
func (j *Journal) people(only string) (names []string, err error) {
	if only != "" {
		return []string{foldName(only)}, nil
	}
	err = j.read(func(tx *bolt.Tx) error {
		r, err := newReader(tx)
		if err == nil {
			names, err = r.valuesOf(byPerson)
		}
		return err
	})
	return names, err
}

// sum goes through the batches of f once.
func (j *Journal) sum(f Filter, by string) ([]Group, error) {
	groups := map[string]*adder{}
	var last *adder
	lastKey := ""
	err := j.pages(f, func(r *reader, s *standing) (keep, more bool, err error) {
		key, err := r.groupKey(s, by, lastKey)
		if err != nil {
			return false, false, err
		}
		if last == nil || key != lastKey {
			if last = groups[key]; last == nil {
				last = &adder{Group: Group{Key: key, Causes: map[string]int{}}}
				groups[key] = last
			}
			lastKey = key
		}
		last.add(s)
		return false, true, nil
	}, nil, nil)
	if err != nil {
		return nil, err
	}
	if by == "" && len(groups) == 0 {
		groups[""] = &adder{Group: Group{Causes: map[string]int{}}}
	}
	var all []Group
	for _, a := range groups {
		all = append(all, a.group())
	}
	order := func(g Group) int {
		if by == ByState {
			return slices.Index(States(), State(g.Key))
		}
		return 0
	}
	slices.SortFunc(all, func(a, b Group) int { return cmp.Or(order(a)-order(b), strings.Compare(a.Key, b.Key)) })
	return all, nil
}

// groupKey says to which group a batch belongs; last is the key of the batch before,
// given back where it is the same.
func (r *reader) groupKey(s *standing, by, last string) (string, error) {
	switch by {
	case ByRecipe, ByKind:
		recipe, err := r.recipeBegun(s)
		if err != nil {
			return "", err
		}
		if by == ByKind {
			return recipe.Kind, nil
		}
		return recipe.Slug, nil
	case ByAlloy:
		if string(s.Alloy) == last {
			return last, nil
		}
		return string(s.Alloy), nil
	case ByMonth:
		return s.Created.Time().Format("2006-01"), nil
	case ByYear:
		return s.Created.Time().Format("2006"), nil
	case ByState:
		return string(s.State), nil
	}
	return "", nil
}

// adder adds up a group.
type adder struct {
	Group
	causes           map[string]*int
	celsius, seconds figures
}

// figures adds up a figure by Neumaier's method, so that a million small steps do
// not wear off the last digits.
type figures struct {
	n           int
	sum, lost   float64
	least, most float64
}

func (f *figures) add(x float64) {
	if math.IsNaN(x) {
		return
	}
	if f.n == 0 {
		f.least, f.most = x, x
	}
	f.n++
	f.least, f.most = min(f.least, x), max(f.most, x)
	total := f.sum + x
	if math.Abs(f.sum) >= math.Abs(x) {
		f.lost += (f.sum - total) + x
	} else {
		f.lost += (x - total) + f.sum
	}
	f.sum = total
}

func (f *figures) mean() Mean {
	if f.n == 0 {
		return Mean{}
	}
	return Mean{N: f.n, Mean: (f.sum + f.lost) / float64(f.n), Least: f.least, Most: f.most}
}

func (a *adder) add(s *standing) {
	a.Batches++
	switch {
	case s.State == Withdrawn:
		a.Withdrawn++
		return
	case s.State != Logged || !s.HasResult:
		return
	}
	a.Logged++
	a.Pieces += s.Pieces
	a.Spares += s.Spares
	a.Good += s.Good
	a.Rework += s.Rework
	a.Reject += s.Reject
	a.Missing += max(0, s.Pieces+s.Spares-s.Good-s.Rework-s.Reject)
	a.celsius.add(s.Celsius)
	a.seconds.add(s.Seconds)
	s.eachCause(a.cause)
}

func (a *adder) cause(name []byte, pieces int) {
	n := a.causes[string(name)]
	if n == nil {
		n = new(int)
		if a.causes == nil {
			a.causes = map[string]*int{}
		}
		a.causes[string(name)] = n
	}
	*n += pieces
}

func (a *adder) group() Group {
	g := a.Group
	for _, name := range slices.Sorted(maps.Keys(a.causes)) {
		g.Causes[name] = *a.causes[name]
	}
	g.Celsius, g.Seconds = a.celsius.mean(), a.seconds.mean()
	return g
}
