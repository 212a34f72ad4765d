package journal

import (
	"fmt"
	"iter"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/oklog/ulid/v2"

	"hepar/journal/internal/query"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

const leastPrefix = 6 // characters of an id

// Get reads one batch with its events, recipe and sheet. Ref is its number ("2026-014", "14" of this year), "last" for
// the newest that is not withdrawn, or the beginning of its id, six characters or more.
func (j *Journal) Get(ref string) (Batch, error) {
	return look(j, func(tx *Tx) Batch {
		b := tx.find(ref)
		tx.Frozen(b)
		return *b
	})
}

func (tx *Tx) find(ref string) *Batch {
	if !strings.EqualFold(strings.TrimSpace(ref), "last") {
		return tx.Batch(tx.named(ref, "batch", `\d{4}`, strconv.Itoa(tx.Now.Year()), record.AllBatches))
	}
	for id := range tx.Under(record.AllBatches, ID{}, store.Highest, true) {
		if b := tx.Batch(id); b.State != Withdrawn {
			return b
		}
	}
	fault.Check(fault.Failuref("the journal has no batch, or only withdrawn ones").Try("plan one: hepar prepare RECIPE ... --save"))
	return nil
}

func (tx *Tx) container(ref string) *Container {
	return tx.Container(tx.named(ref, "jar", "S", "S", record.AllContainers))
}

// named returns the id of the one batch or jar that a number, with its ending if two benches gave it out, or
// the beginning of an id stands for. Numbers begin as series says, short ones with what short adds.
func (tx *Tx) named(ref, what, series, short string, all record.Key) ID {
	typed := measure.Clean(ref)
	ref = strings.ToUpper(strings.TrimSpace(ref))
	if n, err := strconv.ParseUint(ref, 10, 32); err == nil && len(ref) < leastPrefix {
		ref = fmt.Sprintf("%s-%03d", short, n)
	}
	var found []ID
	name := ID.String
	if m := regexp.MustCompile(`^(` + series + `)-(\d{1,9})(?:-(.{4}))?$`).FindStringSubmatch(ref); m != nil {
		n, _ := strconv.Atoi(m[2])
		number := fmt.Sprintf("%s-%03d", m[1], n)
		name = func(id ID) string { return number + "-" + store.Ending(id) }
		found = slices.DeleteFunc(tx.Numbered(number), func(id ID) bool { return m[3] != "" && store.Ending(id) != m[3] })
	} else {
		low, err := ulid.ParseStrict(ref + strings.Repeat("0", max(0, len(ID{}.String())-len(ref))))
		fault.Need(err == nil && len(ref) >= leastPrefix,
			fault.Usagef("%q is not the number of a %s or the beginning of an id", typed, what).
				Try("write a number as in %s-014 or 14, or at least %d characters of the id", short, leastPrefix))
		for id := range tx.Under(all, low, store.Highest, false) {
			if !strings.HasPrefix(id.String(), ref) || len(found) == 2 {
				break
			}
			found = append(found, id)
		}
	}
	fault.Need(len(found) > 0, fault.Usagef("there is no %s %s in the journal", what, measure.Clean(ref)).
		Try("see the numbers with 'hepar journal list' and 'hepar stock list'"))
	var names []string
	for _, id := range found {
		names = append(names, name(id))
	}
	fault.Need(len(found) == 1, fault.Usagef("%s fits more than one %s: %s", ref, what, strings.Join(names, ", ")).
		Try("give the number with its ending, or more of the id"))
	return found[0]
}

// List returns the batches that f asks for. The file is held while they are read. After an error it ends.
func (j *Journal) List(f Filter) iter.Seq2[Batch, error] {
	return func(yield func(Batch, error) bool) {
		err := j.file.View(func(tx *store.Tx) error {
			for b := range query.List(tx, f) {
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

// Sum counts and adds up the batches that f asks for: all in one, or a group for each value of per: see Pers.
func (j *Journal) Sum(f Filter, per string) ([]Group, error) {
	return look(j, func(tx *Tx) []Group { return query.Sum(tx.Tx, f, per) })
}

// WasteOf is a waste with the batch it comes from.
type WasteOf struct {
	Batch  string `json:"batch"`  // number
	Recipe string `json:"recipe"` // slug
	Waste
}

// ListWaste returns what went into a waste container (empty: into any), in the order of the batches.
func (j *Journal) ListWaste(container string) ([]WasteOf, error) {
	return look(j, func(tx *Tx) (out []WasteOf) {
		for b := range query.List(tx.Tx, Filter{Waste: container, Reverse: true}) {
			for _, w := range b.Waste {
				if container == "" || w.In(container) {
					out = append(out, WasteOf{Batch: b.Number, Recipe: b.Slug, Waste: w})
				}
			}
		}
		return out
	})
}
