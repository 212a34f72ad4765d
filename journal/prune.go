package journal

import (
	"os"
	"slices"
	"time"
)

// Keep says which backups stay when a new one has been made. One stays if any of
// the three lines says so. Days and months are those of UTC, counted back from
// the day and month of the new backup, that one being the first.
type Keep struct {
	Last   int // the newest so many
	Days   int // of each of so many days the newest
	Months int // of each of so many months the newest; below zero: of every month there ever was
}

// DefaultKeep is the rule where none is given: the last ten, one a day for thirty
// days, one a month for ever. A choice of ours. At a megabyte or two for a year's
// work, twenty years of it stay below a gigabyte.
func DefaultKeep() Keep { return Keep{Last: 10, Days: 30, Months: -1} }

// KeepAll is the rule that prunes nothing.
func KeepAll() Keep { return Keep{Last: -1} }

// dropped says which of the backups made at the given times may go. What is dated
// after now stays: the clock was wrong, then or now.
func (k Keep) dropped(made []time.Time, now time.Time) []bool {
	drop := make([]bool, len(made))
	if k == (Keep{}) {
		k = DefaultKeep()
	}
	if k.Last < 0 {
		return drop
	}
	order := make([]int, len(made)) // newest first
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return made[b].Compare(made[a]) })
	day := func(t time.Time) int { return int(t.UTC().Truncate(24*time.Hour).Unix() / (24 * 3600)) }
	month := func(t time.Time) int { return t.UTC().Year()*12 + int(t.UTC().Month()) }
	days, months := map[int]bool{}, map[int]bool{}
	past := 0
	for _, i := range order {
		t := made[i]
		if t.After(now) {
			continue
		}
		stays := past < k.Last
		past++
		if !days[day(t)] {
			days[day(t)] = true
			stays = stays || day(now)-day(t) < k.Days
		}
		if !months[month(t)] {
			months[month(t)] = true
			stays = stays || k.Months < 0 || month(now)-month(t) < k.Months
		}
		drop[i] = !stays
	}
	return drop
}

// prune takes away the backups in dir that keep does not ask for, and never the
// one that was just made.
func (j *Journal) prune(dir string, keep Keep, now time.Time, report *BackupReport) error {
	all, err := j.Backups(dir)
	if err != nil {
		return err
	}
	times := make([]time.Time, len(all))
	for i := range all {
		times[i] = all[i].Made
	}
	report.Left = len(all)
	for i, drop := range keep.dropped(times, now) {
		if !drop || all[i].Path == report.Path || all[i].ID != report.ID {
			continue
		}
		if err := os.Remove(all[i].Path); err != nil {
			return noRoom(all[i].Path, err)
		}
		report.Pruned = append(report.Pruned, all[i].Path)
		report.Left--
	}
	if len(report.Pruned) == 0 {
		return nil
	}
	if err := syncFolder(dir); err != nil {
		return noRoom(dir, err)
	}
	return nil
}
