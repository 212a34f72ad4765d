package query

import (
	"cmp"
	"runtime"
	"slices"
	"sync/atomic"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// Group is the sum of batches that have something in common. Counts of pieces, causes and means are of logged
// batches only; withdrawn ones count in Batches and Withdrawn alone.
type Group struct {
	Per           string          `json:"per"` // what was summed by; empty if the sum is of all
	Key           string          `json:"key"` // what they have in common
	Batches       int             `json:"batches"`
	Logged        int             `json:"logged"`
	Withdrawn     int             `json:"withdrawn"`
	WithoutReview int             `json:"without_review"` // logged or dipped without a valid review
	Pieces        int             `json:"pieces"`         // wanted, without spares
	Spares        int             `json:"spares"`
	Good          int             `json:"good"`
	Rework        int             `json:"rework"`
	Reject        int             `json:"reject"`
	Missing       int             `json:"missing"` // started and not counted
	Yield         *float64        `json:"yield"`   // share of good pieces among those counted; null if none is counted
	Causes        map[string]int  `json:"causes"`
	Means         map[string]Mean `json:"means"` // of the figures of the result, by their JSON key
}

// Mean is the mean of a figure and its range.
type Mean struct {
	Batches int     `json:"batches"` // in which it was measured
	Mean    float64 `json:"mean"`
	Least   float64 `json:"least"`
	Most    float64 `json:"most"`
}

// and returns the mean of what two means are of.
func (m Mean) and(o Mean) Mean {
	if m.Batches == 0 {
		return o
	}
	n := m.Batches + o.Batches
	return Mean{n, m.Mean + (o.Mean-m.Mean)*float64(o.Batches)/float64(n), min(m.Least, o.Least), max(m.Most, o.Most)}
}

// pers are what Sum can group by: the values of a batch.
var pers = []struct {
	name   string
	values func(b *record.Batch) []string
}{
	{"recipe", func(b *record.Batch) []string { return []string{b.Slug} }},
	{"kind", func(b *record.Batch) []string { return []string{b.Recipe.Kind} }},
	{"alloy", func(b *record.Batch) []string { return []string{b.Alloy} }},
	{"month", func(b *record.Batch) []string { return []string{b.Created.Time().Format("2006-01")} }},
	{"year", func(b *record.Batch) []string { return []string{b.Created.Time().Format("2006")} }},
	{"state", func(b *record.Batch) []string { return []string{string(b.State)} }},
	{"person", (*record.Batch).People},
}

// Pers returns the words that Sum knows.
func Pers() (names []string) {
	for _, p := range pers {
		names = append(names, p.name)
	}
	return names
}

// sumPart is how many batches are added up at a time, so that the result is the same on any number of processors.
const sumPart = 1000

// Sum counts and adds up the batches that f asks for, in any order and without limit: all in one group, or with per,
// one of Pers, a group for each value. A batch counts for everyone named in it. Each processor reads parts of them.
func Sum(tx *store.Tx, f Filter, per string) []Group {
	fault.Check(oneOf(per, "--per", Pers()...))
	f.Sort, f.Offset, f.Limit, f.Frozen = "", 0, 0, false
	f, err := f.Clean()
	fault.Check(err)
	parts := slices.Collect(slices.Chunk(slices.Collect(f.candidates(tx, true)), sumPart))
	sums := make([]map[string]*Group, len(parts))
	var next atomic.Int64
	add := func(tx *store.Tx) error {
		for i := int(next.Add(1)) - 1; i < len(parts); i = int(next.Add(1)) - 1 {
			sums[i] = f.sum(tx, parts[i], per)
		}
		return nil
	}
	others := min(runtime.GOMAXPROCS(0), len(parts)) - 1
	errs := make(chan error, max(others, 0))
	for range others {
		go func() { errs <- tx.Beside(add) }()
	}
	fault.Check(add(tx))
	for range others {
		fault.Check(<-errs)
	}
	groups := map[string]*Group{}
	if per == "" {
		groups[""] = newGroup(per, "") // of no batch as well
	}
	for _, sum := range sums {
		for at, g := range sum {
			if groups[at] == nil {
				groups[at] = newGroup(per, g.Key)
			}
			groups[at].join(g)
		}
	}
	out := make([]Group, 0, len(groups))
	for _, g := range groups {
		if n := g.Good + g.Rework + g.Reject; n > 0 {
			share := float64(g.Good) / float64(n)
			g.Yield = &share
		}
		out = append(out, *g)
	}
	slices.SortFunc(out, func(a, b Group) int {
		state := func(g Group) int { return slices.Index(record.States(), record.State(g.Key)) }
		return cmp.Or(cmp.Compare(state(a), state(b)), cmp.Compare(a.Key, b.Key))
	})
	return out
}

func newGroup(per, key string) *Group {
	return &Group{Per: per, Key: key, Causes: map[string]int{}, Means: map[string]Mean{}}
}

// sum adds up those of some batches that f asks for.
func (f Filter) sum(tx *store.Tx, ids []record.ID, per string) map[string]*Group {
	groups := map[string]*Group{}
	keys := func(*record.Batch) []string { return []string{""} }
	if i := slices.Index(Pers(), per); i >= 0 {
		keys = pers[i].values
	}
	read := tx.Unnumbered
	if f.Text != "" { // which may be a number
		read = tx.Batch
	}
	for b := range f.batches(slices.Values(ids), read) {
		had := map[*Group]bool{}
		for _, key := range keys(b) {
			at := key
			if per == "person" { // named as the newest batch has it
				at = record.Fold(key)
			}
			if groups[at] == nil {
				groups[at] = newGroup(per, key)
			}
			if g := groups[at]; !had[g] {
				g.join(groupOf(b))
				had[g] = true
			}
		}
	}
	return groups
}

// groupOf is the sum of one batch.
func groupOf(b *record.Batch) *Group {
	g := &Group{Batches: 1}
	if b.State == record.StateWithdrawn {
		g.Withdrawn = 1
		return g
	}
	if b.WithoutReview != "" {
		g.WithoutReview = 1
	}
	if b.State != record.StateLogged || b.Result == nil {
		return g
	}
	g.Logged, g.Pieces, g.Spares, g.Good, g.Rework, g.Reject, g.Missing = 1, b.Pieces, b.Spares, b.Good, b.Rework, b.Reject, *b.Missing
	g.Causes, g.Means = b.Causes, map[string]Mean{}
	for _, f := range record.Fields() {
		if x, had := f.Figure(b); had {
			g.Means[f.JSON] = Mean{1, x, x, x}
		}
	}
	return g
}

func (g *Group) counts() []*int {
	return []*int{&g.Batches, &g.Logged, &g.Withdrawn, &g.WithoutReview, &g.Pieces, &g.Spares, &g.Good, &g.Rework, &g.Reject, &g.Missing}
}

// join adds what another group has.
func (g *Group) join(o *Group) {
	counts := g.counts()
	for i, n := range o.counts() {
		*counts[i] += *n
	}
	for cause, n := range o.Causes {
		g.Causes[cause] += n
	}
	for figure, mean := range o.Means {
		g.Means[figure] = g.Means[figure].and(mean)
	}
}
