// Package demo makes up a workshop with two years of batches. Everything in it is invented. The dip-time model made
// batches.csv, with chance errors; its columns are those of an export, and later, the share of the way to the next
// batch. The same call of Write always makes the same journal.
package demo

import (
	"embed"
	"encoding/csv"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipes"
)

var (
	//go:embed files
	files embed.FS
	//go:embed batches.csv
	table string
)

// Folder is what [Write] made.
type Folder struct {
	Shop, Recipes, Journal string // paths
	Batches                int
}

// Write fills dir, which must be empty or not there yet, with the made-up workshop: shop file, recipes, a
// journal of n batches that ends at end. Watch: see journal.Options.
func Write(dir string, n int, end time.Time, watch func(events int)) (f Folder, err error) {
	f = Folder{Shop: filepath.Join(dir, "shop.toml"), Recipes: filepath.Join(dir, "recipes"), Journal: filepath.Join(dir, "journal.db")}
	err = fault.Caught(func() {
		entries, err := os.ReadDir(dir)
		fault.Need(len(entries) == 0, fault.Failuref("the folder %s is not empty", measure.Clean(dir)).Try("name a new folder; the demo overwrites nothing"))
		if err == nil || errors.Is(err, fs.ErrNotExist) {
			inner, _ := fs.Sub(files, "files") // is there
			err = os.CopyFS(dir, inner)
		}
		fault.Need(err == nil, fault.Failuref("the folder %s cannot be filled", measure.Clean(dir)).Because(err).Try("name a new folder in a place with room, where you may write"))
		made := batches(f.Recipes)
		clock, start := end, end.AddDate(-2, 0, 0)
		step := end.Sub(start) / time.Duration(n)
		j := journal.At(f.Journal, journal.Options{Now: func() time.Time { return clock }, Watch: watch})
		fault.Check(j.Rebuild(func(copy *journal.Journal) (err error) { // interrupted, it leaves no half-made journal
			for f.Batches < n && err == nil {
				err = copy.Update(func(tx *journal.Tx) error {
					for range min(500, n-f.Batches) { // in one transaction: quick, and not too large
						made[f.Batches%len(made)].put(tx, start.Add(step*time.Duration(f.Batches)), step, &clock)
						f.Batches++
					}
					return nil
				})
			}
			return err
		}))
	})
	return f, err
}

type batch struct {
	journal.Batch
	later    float64 // of the way to the next batch
	reviewed bool    // else it is logged with a reason to go without
}

func batches(recipesDir string) (all []batch) {
	library, _, err := recipe.Load(recipes.FS, recipesDir)
	fault.Check(err)
	rows := fault.Must(csv.NewReader(strings.NewReader(table)).ReadAll())
	known := map[string]*recipe.Recipe{}
	for _, row := range rows[1:] {
		cell := func(name string) string { return row[slices.Index(rows[0], name)] }
		r := known[cell("recipe")]
		if r == nil {
			r = fault.Must(library.Get(cell("recipe")))
			known[r.Slug] = r
		}
		b := batch{reviewed: cell("reviewed") == "true", later: fault.Must(strconv.ParseFloat(cell("later"), 64))}
		b.Plan = journal.Plan{By: cell("by"), Shape: "disc",
			Recipe: journal.Recipe{Slug: r.Slug, Title: r.Title, Kind: string(r.Kind), Revision: r.Revision, Digest: r.Digest, Text: r.Text}}
		b.Result = &journal.Result{}
		for _, f := range journal.Fields() {
			if slices.Contains(rows[0], f.Name) {
				fault.Check(f.Set(&b.Batch, cell(f.Name)))
			}
		}
		b.Spares = b.Pieces / 25
		all = append(all, b)
	}
	return all
}

// put writes one batch as its days would have been: planned, reviewed, run.
func (b batch) put(tx *journal.Tx, from time.Time, step time.Duration, clock *time.Time) {
	at := from.Add(time.Duration(b.later * float64(step))).Truncate(min(time.Minute, max(step/60, time.Second)))
	now := func(t time.Time) { *clock, tx.Now = t, t }
	now(at)
	p := b.Plan
	p.Created = journal.StampOf(at)
	made := fault.Must(tx.Create(p, nil))
	midnight := time.Date(at.Year(), at.Month(), at.Day(), 23, 59, 0, 0, at.Location())
	took := min(3*time.Hour, step*9/20, max(midnight.Sub(at), 0)) // a review holds until midnight
	o := journal.LogOptions{By: p.By, At: at.Add(took)}
	if b.reviewed {
		now(at.Add(min(20*time.Minute, took/2)))
		fault.Must(tx.Review(made.Number, journal.Review{By: p.By, Digest: p.Digest, Points: []string{"acid-sulfide", "ventilation", "sds"}}))
	} else {
		o.WithoutReview = "same bath as the batch before, reviewed that morning"
	}
	now(o.At)
	fault.Must(tx.Log(made.Number, *b.Result, o))
}
