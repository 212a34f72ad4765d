// Package demo makes up a workshop: Fernholm Medals, three people, a few
// customers, two recipes of their own and two years of batches. Everything in it
// is invented; the batches follow the program's own dip-time model with a fixed
// seed, so that the same call always makes the same journal.
//
// Call Write to fill a folder; Batches returns the batches alone.
package demo

import (
	"iter"
	"math"
	"math/rand/v2"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/measure"
)

// Seed is the seed of the made-up batches.
const Seed = 20240917

// Entry is one made-up batch with its result.
type Entry struct {
	At       time.Time
	Plan     journal.Plan
	Result   journal.Result
	Reviewed bool          // else it is logged with a reason to go without
	Took     time.Duration // from the plan to the result: three hours, or less where batches follow closely
}

// job is something the made-up workshop does again and again.
type job struct {
	slug   string
	alloys []string
	share  int // how often, against the others
	pieces []int
}

var jobs = []job{
	{"fernholm-token-black", []string{"sterling-925", "fine-999"}, 9, []int{40, 60, 100, 200}},
	{"silver-black", []string{"sterling-925", "fine-999", "britannia-958"}, 5, []int{24, 50, 120}},
	{"fernholm-copper-brown", []string{"copper-c110"}, 4, []int{20, 36, 80}},
	{"bronze-light-brown", []string{"bronze-c220"}, 2, []int{12, 30}},
	{"brass-black-ammoniacal", []string{"brass-c230"}, 1, []int{16, 25}},
}

var (
	people    = []string{"Ilse Tamm", "Ilse Tamm", "Marek Oja", "Runa Fern"}
	customers = []string{"Saltholm Rowing Club", "Harrow Lane School", "Ferry Museum", "Tollgate Brewery", "stock", "stock"}
)

// Finder returns the recipe that a slug names.
type Finder func(slug string) (*recipe.Recipe, error)

// Batches makes n batches that end at the given time and reach two years back. It
// stops at the first recipe that cannot be found.
func Batches(seed uint64, n int, end time.Time, find Finder) iter.Seq2[Entry, error] {
	return func(yield func(Entry, error) bool) {
		rng := rand.New(rand.NewPCG(seed, seed^0x9e3779b97f4a7c15))
		total := 0
		for _, j := range jobs {
			total += j.share
		}
		start := end.AddDate(-2, 0, 0)
		step := end.Sub(start) / time.Duration(max(n, 1))
		tick := time.Minute
		if step < time.Hour {
			tick = time.Second
		}
		for i := range n {
			pick, j := rng.IntN(total), 0
			for pick >= jobs[j].share {
				pick -= jobs[j].share
				j++
			}
			r, err := find(jobs[j].slug)
			if err != nil {
				yield(Entry{}, err)
				return
			}
			at := start.Add(step*time.Duration(i) + time.Duration(rng.Int64N(int64(step)/2+1))).Truncate(tick)
			e := entry(rng, jobs[j], r, at)
			e.Took = min(3*time.Hour, step*9/20)
			if !yield(e, nil) {
				return
			}
		}
	}
}

// entry makes up one batch: somebody mixes a bath a little off, dips for the time
// they are used to, and the further the film is from the wanted one, the more
// pieces come out too light or too dark.
func entry(rng *rand.Rand, j job, r *recipe.Recipe, at time.Time) Entry {
	pieces := j.pieces[rng.IntN(len(j.pieces))]
	b := journal.Plan{
		Recipe: journal.Recipe{Slug: r.Slug, Title: r.Title, Kind: string(r.Kind), Revision: r.Revision, Digest: r.Digest, Text: r.Text},
		Alloy:  j.alloys[rng.IntN(len(j.alloys))], Shape: "disc", Pieces: pieces, Spares: pieces / 25,
		By: people[rng.IntN(len(people))], Order: customers[rng.IntN(len(customers))],
	}
	water := r.Bath.Water.At
	temperature := water + measure.Celsius(rng.NormFloat64()*3)
	strength := math.Exp(rng.NormFloat64() * 0.08)
	needed := kinetics.Law{T0: r.Dip.Time.At, At: water, Strength: 1, Prior: kinetics.Silver}.Time(temperature, strength)
	given := measure.Seconds(math.Max(1, math.Round(float64(r.Dip.Time.At)*math.Exp(rng.NormFloat64()*0.12))))
	off := math.Log(float64(given / needed))
	miss := 1 - math.Exp(-off*off*1.5)
	made := pieces + b.Spares
	res := journal.Result{Causes: map[string]int{}, Temperature: &temperature, Time: &given}
	rounded := measure.Celsius(math.Round(float64(temperature)*10) / 10)
	res.Temperature = &rounded
	for range made {
		switch x := rng.Float64(); {
		case x < miss*0.8:
			res.Rework++
			if off < 0 {
				res.Causes["too-light"]++
			} else {
				res.Causes["too-dark"]++
			}
		case x < miss*0.8+0.012:
			res.Rework++
			res.Causes["spots"]++
		case x < miss*0.8+0.018:
			res.Reject++
			res.Causes["scratched"]++
		default:
			res.Good++
		}
	}
	res.Shade = shade(off)
	return Entry{At: at, Plan: b, Result: res, Reviewed: rng.IntN(10) > 0}
}

// shade puts the film against the wanted one in a word.
func shade(off float64) string {
	switch {
	case off < -0.35:
		return "light"
	case off < -0.15:
		return "a little light"
	case off > 0.35:
		return "dark, dull"
	case off > 0.15:
		return "a little dark"
	}
	return "right"
}
