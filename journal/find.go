package journal

import (
	"fmt"
	"iter"
	"strconv"
	"strings"

	"github.com/oklog/ulid/v2"

	"hepar/journal/internal/query"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// leastPrefix is how many characters of an id are asked for.
const leastPrefix = 6

// Get reads one batch with its events, the text of its recipe and its sheet. Ref is
// its number ("2026-014"), that of this year in short ("14"), "last" for the newest
// that is not withdrawn, or the beginning of its id, six characters or more.
func (j *Journal) Get(ref string) (Batch, error) {
	return look(j, func(tx *Tx) Batch {
		b := tx.find(ref)
		tx.Frozen(b)
		return *b
	})
}

func (tx *Tx) find(ref string) *Batch {
	ref = strings.ToUpper(strings.TrimSpace(ref))
	if ref == "LAST" {
		return tx.newest()
	}
	if n, err := strconv.ParseUint(ref, 10, 32); err == nil && len(ref) < leastPrefix {
		ref = fmt.Sprintf("%d-%03d", tx.Now.Year(), n)
	}
	if number, end, ok := splitNumber(ref); ok {
		return tx.numbered(number, end)
	}
	low, err := ulid.ParseStrict(ref + strings.Repeat("0", max(0, len(ID{}.String())-len(ref))))
	if err != nil || len(ref) < leastPrefix {
		must(fault.Usagef("%q is neither the number of a batch nor the beginning of an id", measure.Clean(ref)).
			Try("write a number as in 2026-014 or 14, the word last, or at least %d characters of the id", leastPrefix))
	}
	var found []ID
	for id := range tx.All(low, store.Highest, false) {
		if !strings.HasPrefix(id.String(), ref) {
			break
		}
		if found = append(found, id); len(found) == 2 {
			must(fault.Usagef("%q is the beginning of more than one id: %s and %s at least", ref, found[0], found[1]).
				Try("give more of the id, or the number"))
		}
	}
	if found == nil {
		must(unknown(ref))
	}
	return tx.Batch(found[0])
}

func (tx *Tx) newest() *Batch {
	what := "there is no batch yet"
	for id := range tx.All(ID{}, store.Highest, true) {
		if b := tx.Batch(id); b.State != Withdrawn {
			return b
		}
		what = "all batches are withdrawn"
	}
	must(fault.Failuref("%s", what).Try("plan one: hepar prepare RECIPE ... --save"))
	return nil
}

func unknown(ref string) error {
	return fault.Usagef("there is no batch %s in the journal", measure.Clean(ref)).Try("see the numbers with 'hepar journal list'")
}

// splitNumber reads "2026-014" (or "2026-14"), with or without the ending of a
// number that two benches gave out, and writes the number as it is stored.
func splitNumber(ref string) (number, end string, ok bool) {
	year, rest, _ := strings.Cut(ref, "-")
	rest, end, ended := strings.Cut(rest, "-")
	if len(year) != 4 || len(rest) > 9 || ended && len(end) != 4 {
		return "", "", false
	}
	y, err1 := strconv.ParseUint(year, 10, 32)
	n, err2 := strconv.ParseUint(rest, 10, 32)
	return fmt.Sprintf("%04d-%03d", y, n), end, err1 == nil && err2 == nil
}

// numbered reads the batch that bears a number, with its ending where two do.
func (tx *Tx) numbered(number, end string) *Batch {
	var names []string
	var found []ID
	for _, id := range tx.Numbered(number) {
		names = append(names, number+"-"+store.Ending(id))
		if end == "" || store.Ending(id) == end {
			found = append(found, id)
		}
	}
	if found == nil {
		must(unknown(strings.TrimSuffix(number+"-"+end, "-")))
	}
	if len(found) > 1 {
		must(fault.Usagef("%d batches of different benches bear the number %s: %s", len(found), number, strings.Join(names, ", ")).
			Try("give the number with its ending"))
	}
	return tx.Batch(found[0])
}

// List returns the batches that f asks for, with the text of their recipes and
// their sheets if f.Frozen is set. The file is held while they are read, for one
// page of batches at a time: one added meanwhile may or may not be among them, none
// comes twice. After an error it ends.
func (j *Journal) List(f Filter) iter.Seq2[Batch, error] {
	return func(yield func(Batch, error) bool) {
		err := j.View(func(tx *Tx) error {
			for b := range query.List(tx.Tx, f) {
				if !yield(*b, nil) {
					break
				}
			}
			return nil
		})
		if err != nil {
			yield(Batch{}, err)
		}
	}
}

// Sum counts and adds up the batches that f asks for: all in one group, or with per
// one of Pers a group for each value, in the order of the values.
func (j *Journal) Sum(f Filter, per string) ([]Group, error) {
	return look(j, func(tx *Tx) []Group { return query.Sum(tx.Tx, f, per) })
}

// WasteOf is a waste with the batch it comes from.
type WasteOf struct {
	Batch  string `json:"batch"`  // number
	Recipe string `json:"recipe"` // slug
	Waste
}

// ListWaste returns what went into a waste container (in any case of letters), or
// all waste if container is empty, in the order of the batches.
func (j *Journal) ListWaste(container string) ([]WasteOf, error) {
	return look(j, func(tx *Tx) (out []WasteOf) {
		names := []string{record.Fold(container)}
		if container == "" {
			names = tx.Values(record.ByWaste)
		}
		for _, name := range names {
			for id := range tx.Under(record.Key{Tag: record.ByWaste, Value: name}, ID{}, store.Highest, false) {
				b := tx.Batch(id)
				for _, w := range b.Waste {
					if record.Fold(w.Container) == name {
						out = append(out, WasteOf{Batch: b.Number, Recipe: b.Slug, Waste: w})
					}
				}
			}
		}
		return out
	})
}
