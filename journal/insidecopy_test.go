package journal

import "time"

// Dropped is the rule by which backups are pruned.
func Dropped(k Keep, made []time.Time, now time.Time) []bool { return k.dropped(made, now) }
