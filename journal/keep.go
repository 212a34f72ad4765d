package journal

import (
	"hepar/journal/internal/check"
	"hepar/journal/internal/keep"
)

// Verify reads the whole journal and returns what is wrong with it in the report: its
// pages, every checksum, the chain of events, the batches against their events, the
// index against the batches. An error means that it could not look. Writers wait
// meanwhile, unless the journal is large.
func (j *Journal) Verify() (Report, error) { return check.Verify(j.file, j.watch) }

// Salvage makes a new journal at into of everything that is whole in this one, which
// may be damaged in any way and is only read. See check.Salvage.
func (j *Journal) Salvage(into string) (SalvageReport, error) {
	return check.Salvage(j.file, into, j.watch)
}

// Backup writes a verified copy of the journal into dir (empty means the folder backups
// beside the journal) while others go on, and prunes old ones. See keep.Backup.
func (j *Journal) Backup(dir string) (BackupReport, error) { return keep.Backup(j.file, dir, j.watch) }

// Backups returns the backups of this journal in dir, as of Backup, newest first.
func (j *Journal) Backups(dir string) ([]BackupFile, error) { return keep.Backups(j.file, dir) }

// Restore puts the backup at from in the place of the journal, which stays beside
// under a dated name. See keep.Restore.
func (j *Journal) Restore(from string, o RestoreOptions) (RestoreReport, error) {
	return keep.Restore(j.file, from, o, j.watch)
}

// Compact writes the journal anew without the room that nothing uses. See
// keep.Compact.
func (j *Journal) Compact() (CompactReport, error) { return keep.Compact(j.file, j.watch) }
