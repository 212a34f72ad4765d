package query

import (
	"cmp"
	"slices"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
)

// Group is what a sum makes of the batches that have something in common. Counts
// of pieces, causes and means are of logged batches only; withdrawn batches count
// in Batches and in nothing else.
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

func (m *Mean) add(x float64) {
	if m.Batches == 0 {
		m.Least, m.Most = x, x
	}
	m.Batches++
	m.Mean += (x - m.Mean) / float64(m.Batches)
	m.Least, m.Most = min(m.Least, x), max(m.Most, x)
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

// Sum counts and adds up the batches that f asks for, leaving Sort, Offset and
// Limit aside: all in one group, or with per one of Pers a group for each value, in
// the order of the values. A batch counts for everyone named in it.
func Sum(tx *store.Tx, f Filter, per string) []Group {
	keys := func(*record.Batch) []string { return []string{""} }
	store.Must(oneOf(per, "--per", Pers()))
	if i := slices.Index(Pers(), per); i >= 0 {
		keys = pers[i].values
	}
	f.Sort, f.Offset, f.Limit, f.Frozen = "", 0, 0, false
	groups := map[string]*Group{}
	group := func(at, key string) *Group {
		if groups[at] == nil {
			groups[at] = &Group{Per: per, Key: key, Causes: map[string]int{}, Means: map[string]Mean{}}
		}
		return groups[at]
	}
	if per == "" {
		group("", "") // of no batch as well
	}
	for b := range List(tx, f) {
		had := map[*Group]bool{}
		for _, key := range keys(b) {
			at := key
			if per == "person" { // named as the newest batch has it
				at = record.Fold(key)
			}
			if g := group(at, key); !had[g] {
				g.add(b)
				had[g] = true
			}
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
		if per == "state" {
			order := func(g Group) int { return slices.Index(record.States(), record.State(g.Key)) }
			return cmp.Compare(order(a), order(b))
		}
		return cmp.Compare(a.Key, b.Key)
	})
	return out
}

func (g *Group) add(b *record.Batch) {
	g.Batches++
	if b.State == record.StateWithdrawn {
		g.Withdrawn++
		return
	}
	if b.WithoutReview != "" {
		g.WithoutReview++
	}
	if b.State != record.StateLogged || b.Result == nil {
		return
	}
	g.Logged++
	g.Pieces += b.Pieces
	g.Spares += b.Spares
	g.Good += b.Good
	g.Rework += b.Rework
	g.Reject += b.Reject
	g.Missing += b.Missing()
	for cause, n := range b.Causes {
		g.Causes[cause] += n
	}
	for _, f := range record.Fields() {
		if f.Figure == nil {
			continue
		}
		if x, had := f.Figure(b); had {
			m := g.Means[f.JSON]
			m.add(x)
			g.Means[f.JSON] = m
		}
	}
}
