package keep

import (
	"os"
	"time"

	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// Keep says which backups stay when a new one has been made. One stays if any of
// the three lines says so. Days and months are those of UTC, counted back from the
// day and month of the new backup, that one being the first.
type Keep struct {
	Last   int // the newest so many; below zero: all
	Days   int // of each of so many days the newest
	Months int // of each of so many months the newest; below zero: of every month there ever was
}

// DefaultKeep returns the rule where none is given: the last ten, one a day for
// thirty days, one a month for ever. A choice of ours: at a megabyte or two for a
// year's work, twenty years of it stay below a gigabyte.
func DefaultKeep() Keep { return Keep{Last: 10, Days: 30, Months: -1} }

// KeepAll returns the rule that prunes nothing.
func KeepAll() Keep { return Keep{Last: -1} }

// Dropped says which of the backups made at the given times, newest first, may go.
// What is dated after now stays: the clock was wrong, then or now.
func (k Keep) Dropped(made []time.Time, now time.Time) []bool {
	if k == (Keep{}) {
		k = DefaultKeep()
	}
	day := func(t time.Time) int { return int(t.Unix() / (24 * 3600)) }
	month := func(t time.Time) int { return t.UTC().Year()*12 + int(t.UTC().Month()) }
	drop := make([]bool, len(made))
	days, months := map[int]bool{}, map[int]bool{}
	past := 0
	for i, t := range made {
		if t.After(now) {
			continue
		}
		drop[i] = k.Last >= 0 && past >= k.Last && (days[day(t)] || day(now)-day(t) >= k.Days) &&
			(months[month(t)] || k.Months >= 0 && month(now)-month(t) >= k.Months)
		past++
		days[day(t)], months[month(t)] = true, true
	}
	return drop
}

// prune removes the backups in dir for which keep does not ask, and never the one
// that was just made.
func prune(f *store.File, dir string, keep Keep, now time.Time, report *BackupReport) error {
	all, err := Backups(f, dir)
	if err != nil {
		return err
	}
	times := make([]time.Time, len(all))
	for i := range all {
		times[i] = all[i].Made
	}
	report.Left = len(all)
	for i, drop := range keep.Dropped(times, now) {
		if !drop || all[i].Path == report.Path || all[i].ID != report.ID {
			continue
		}
		if err := os.Remove(all[i].Path); err != nil {
			return fault.Failuref("the backup is made, but the old one %s cannot be removed", all[i].Path).Because(store.Reason(err)).
				Try("give yourself the right to write to the folder, or remove it by hand")
		}
		report.Pruned = append(report.Pruned, all[i].Path)
		report.Left--
	}
	return nil
}
