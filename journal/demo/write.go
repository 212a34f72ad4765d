package demo

import (
	"embed"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipes"
)

//go:embed files
var files embed.FS

// Folder is what [Write] made.
type Folder struct {
	Shop, Recipes, Journal string // paths
	Batches                int
}

// perTransaction is how many batches are written at a time: enough to be quick,
// few enough that nobody waits long for the file.
const perTransaction = 500

// Write fills dir with the made-up workshop: shop file, recipes, a journal of n
// batches that ends at end. The folder must be empty or not there yet: nothing
// of anybody's is overwritten. told is called with the count from time to time.
func Write(dir string, n int, end time.Time, told func(done int)) (Folder, error) {
	f := Folder{Shop: filepath.Join(dir, "shop.toml"), Recipes: filepath.Join(dir, "recipes"), Journal: filepath.Join(dir, "journal.db")}
	entries, err := os.ReadDir(dir)
	switch {
	case err == nil && len(entries) > 0:
		return f, fault.Failuref("the folder %s is not empty", measure.Clean(dir)).Try("name a new folder; the demo overwrites nothing")
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return f, fault.Failuref("the folder %s cannot be used", measure.Clean(dir)).Because(err).Try("name a new folder")
	}
	if err := os.MkdirAll(f.Recipes, 0o700); err != nil {
		return f, fault.Failuref("the folder %s cannot be made", measure.Clean(dir)).Because(err).Try("name a place you may write to")
	}
	for name, to := range map[string]string{
		"shop.toml":                  f.Shop,
		"fernholm-token-black.toml":  filepath.Join(f.Recipes, "fernholm-token-black.toml"),
		"fernholm-copper-brown.toml": filepath.Join(f.Recipes, "fernholm-copper-brown.toml"),
	} {
		text, err := files.ReadFile("files/" + name)
		if err != nil {
			return f, err
		}
		if err := os.WriteFile(to, text, 0o600); err != nil { // the folder is new
			return f, fault.Failuref("%s cannot be written", measure.Clean(to)).Because(err).Try("see that there is room on the disk")
		}
	}
	library, _, err := recipe.Load(recipes.FS, f.Recipes)
	if err != nil {
		return f, err
	}
	clock := end
	j := journal.At(f.Journal, journal.Options{Now: func() time.Time { return clock }})
	err = j.Rebuild(func(copy *journal.Journal) error { // interrupted, it leaves no half-made journal
		f.Batches, err = fill(copy, n, end, &clock, library, told)
		return err
	})
	return f, err
}

// fill writes the batches, some hundred to a transaction.
func fill(j *journal.Journal, n int, end time.Time, clock *time.Time, library *recipe.Library, told func(int)) (int, error) {
	found := map[string]*recipe.Recipe{}
	find := func(slug string) (*recipe.Recipe, error) {
		if r := found[slug]; r != nil {
			return r, nil
		}
		r, err := library.Get(slug)
		found[slug] = r
		return r, err
	}
	var waiting []Entry
	done := 0
	flush := func() error {
		err := j.Update(func(tx *journal.Tx) error {
			for _, e := range waiting {
				*clock = e.At
				tx.Now = *clock
				if err := put(tx, e, clock); err != nil {
					return err
				}
			}
			return nil
		})
		done += len(waiting)
		waiting = waiting[:0]
		if told != nil && err == nil {
			told(done)
		}
		return err
	}
	for e, err := range Batches(Seed, n, end, find) {
		if err != nil {
			return done, err
		}
		if waiting = append(waiting, e); len(waiting) == perTransaction {
			if err := flush(); err != nil {
				return done, err
			}
		}
	}
	return done, flush()
}

// noReview is why one batch in ten was not reviewed.
const noReview = "same bath as the batch before, reviewed that morning"

// put writes one batch as its days would have been: planned, reviewed, run.
func put(tx *journal.Tx, e Entry, clock *time.Time) error {
	e.Plan.Created = journal.StampOf(e.At)
	b, err := tx.Create(e.Plan, nil)
	if err != nil {
		return err
	}
	midnight := time.Date(e.At.Year(), e.At.Month(), e.At.Day(), 23, 59, 0, 0, e.At.Location())
	o := journal.LogOptions{By: e.Plan.By, At: e.At.Add(min(e.Took, max(midnight.Sub(e.At), 0)))} // a review holds until midnight
	if e.Reviewed {
		*clock = e.At.Add(min(20*time.Minute, o.At.Sub(e.At)/2))
		tx.Now = *clock
		if _, err := tx.Review(b.Number, journal.Review{By: e.Plan.By, Digest: e.Plan.Digest, Points: []string{"acid-sulfide", "ventilation", "sds"}}); err != nil {
			return err
		}
	} else {
		o.WithoutReview = noReview
	}
	*clock = o.At
	tx.Now = *clock
	_, err = tx.Log(b.Number, e.Result, o)
	return err
}
