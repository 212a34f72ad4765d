package journal

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// RestoreOptions say how far Restore may go. The zero value loses nothing.
type RestoreOptions struct {
	LoseEvents   bool // although the journal has events that the backup lacks
	OtherJournal bool // although it is a backup of another journal
	DryRun       bool // only look: the report says what would be
	// Backups is where a backup of the journal is put first; empty means BackupDir.
	Backups string
}

// RestoreReport says what Restore did, or would do.
type RestoreReport struct {
	From    string `json:"from"`
	Path    string `json:"path"`
	ID      string `json:"id"` // of the journal restored
	Events  int    `json:"events"`
	Batches int    `json:"batches"`
	Head    string `json:"head"`

	Upgraded     int         `json:"upgraded,omitempty"` // format of the backup, where that was an older one: what is restored is of the present one
	Kept         string      `json:"kept"`               // where the old file is now; empty where there was none
	Backup       string      `json:"backup"`             // the backup that was made of it first; empty where it was not sound or of an older format
	OtherJournal bool        `json:"other_journal"`      // the old file was another journal
	OldDamage    string      `json:"old_damage"`         // why the old file could not be read to the end; empty where it could
	Lost         []LostEvent `json:"lost"`               // events of the old file that the backup lacks, in their order, at most 200
	LostCount    int         `json:"lost_count"`         // how many there are
}

// LostEvent is an event that a restore takes out of the journal. It stays in the
// file that was kept.
type LostEvent struct {
	Seq  uint64    `json:"seq"`
	ID   string    `json:"id"`
	Kind string    `json:"kind"`
	At   time.Time `json:"at"`
	By   string    `json:"by"`
	Of   string    `json:"of"` // the number of the batch or container
}

// Restore puts the backup at from in the place of the journal. The backup is first
// copied beside the journal and put to the full test of Verify; one that is not
// sound, or belongs to another journal, or lacks events that the journal has, is
// refused, the last two unless o says otherwise. The report comes with the refusal
// and says what would be lost.
//
// Before the exchange a backup of the journal is made, unless it is not sound, and
// its file is kept beside it under a dated name in any case: nothing is ever
// deleted here. The exchange happens under the lock of the journal and in one
// step. A writer that waits meanwhile goes on with the restored journal; one that
// wrote after Restore looked makes it look again. Short numbers that were given
// out since the backup are not given out again.
func (j *Journal) Restore(from string, o RestoreOptions) (RestoreReport, error) {
	for range 3 {
		report, again, err := j.restore(from, o)
		if !again {
			return report, err
		}
	}
	return RestoreReport{}, j.busy("somebody who keeps writing to it")
}

// restore is one attempt; again says that somebody wrote meanwhile.
func (j *Journal) restore(from string, o RestoreOptions) (report RestoreReport, again bool, err error) {
	report.From, report.Path = from, j.path
	source := At(from, Options{Wait: j.wait, Now: j.now, By: j.by})
	if err := j.notItself(from); err != nil {
		return report, false, err
	}
	dir := filepath.Dir(j.path)
	if err := makeFolder(dir); err != nil {
		return report, false, noRoom(j.path, err)
	}
	file, err := j.newBeside(dir)
	if err != nil {
		return report, false, err
	}
	defer os.Remove(file.Name())
	defer file.Close()
	source.anyFormat = true
	then, _, err := source.snapshot(file)
	if err != nil {
		return report, false, err
	}
	path := file.Name()
	switch format := then.about.Format; {
	case format > fileFormat:
		return report, false, source.newer()
	case format < fileFormat:
		if path, err = source.rewrite(file, format, upgradeSteps()); err != nil {
			return report, false, err
		}
		defer os.Remove(path)
		report.Upgraded = format
	}
	if err := file.Close(); err != nil {
		return report, false, noRoom(file.Name(), err)
	}
	made := At(path, Options{Wait: j.wait, Now: j.now})
	before, err := j.old(source, made, &report)
	if err != nil {
		return report, false, err
	}
	found, err := source.proven(made.path)
	if err != nil {
		return report, false, err
	}
	report.ID, report.Events, report.Batches, report.Head = found.ID, found.Events, found.Batches, found.Head
	if err := report.refusal(o); err != nil || o.DryRun {
		return report, false, err
	}
	if before != nil && report.OldDamage == "" && before.format == fileFormat {
		b, err := j.Backup(o.Backups, BackupOptions{Keep: KeepAll()})
		if fault.KindOf(err) == fault.Damaged {
			report.OldDamage = err.Error()
		} else if err != nil {
			return report, false, err
		}
		report.Backup = b.Path
	}
	kept := filepath.Join(dir, j.datedName(j.now(), before.events(), ".before-restore"))
	report.Kept, err = j.swap(made.path, kept, func(old *os.File) error { return before.same(old) })
	return report, errors.Is(err, errChanged), err
}

// notItself refuses the journal as its own backup.
func (j *Journal) notItself(from string) error {
	a, err := os.Stat(from)
	if err != nil {
		return fault.Failuref("there is no backup at %s", from).Because(reason(err)).Try("see the backups there are with 'hepar journal backup --list'")
	}
	if b, err := os.Stat(j.path); err == nil && os.SameFile(a, b) {
		return fault.Usagef("%s is the journal itself", from).Try("name a backup of it")
	}
	return nil
}

// refusal says why the restore may not go on.
func (r *RestoreReport) refusal(o RestoreOptions) error {
	switch {
	case o.DryRun:
	case r.OtherJournal && !o.OtherJournal:
		return fault.Usagef("%s is a backup of another journal (%s)", r.From, r.ID).
			Try("name a backup of this one, or say that you want the other in its place: --other-journal")
	case r.LostCount > 0 && !o.LoseEvents && !r.OtherJournal:
		first := r.Lost[0]
		return fault.Failuref("the journal has %d events that %s lacks, the first of %s (%s)", r.LostCount, r.From, first.At.Format("2006-01-02 15:04"), strings.TrimSpace(first.Kind+" "+first.Of)).
			Try("look at them with --dry-run; to go back all the same, say --lose-events (the file of now is kept beside)")
	}
	return nil
}

// errChanged means that somebody wrote to the journal since it was looked at.
var errChanged = errors.New("the journal was written to meanwhile")

// state is what a journal was when it was looked at; nil for none.
type state struct {
	size   int64
	mod    time.Time
	header pageHeader
	seq    uint64
	format int
}

func (s *state) events() uint64 {
	if s == nil {
		return 0
	}
	return s.seq
}

// same says whether the file is still what it was.
func (s *state) same(old *os.File) error {
	if s == nil || old == nil {
		if s == nil && old == nil {
			return nil
		}
		return errChanged
	}
	now, err := stateOf(old)
	if err != nil {
		return err
	}
	if now.header != s.header || now.size != s.size || s.header == (pageHeader{}) && !now.mod.Equal(s.mod) {
		return errChanged
	}
	return nil
}

func stateOf(file *os.File) (*state, error) {
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	s := &state{size: info.Size(), mod: info.ModTime()}
	s.header, _ = readHeader(file)
	return s, nil
}

// old looks at the journal that is to be replaced, says in the report what made
// lacks, and carries over to made the numbers and the last id given out.
func (j *Journal) old(source, made *Journal, report *RestoreReport) (*state, error) {
	then, err := peek(made.path)
	if err != nil {
		return nil, source.damaged("%v", err)
	}
	file, err := j.hold(false)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer file.Close()
	s, err := stateOf(file)
	if err != nil {
		return nil, j.explain(err)
	}
	now, err := openPlain(file)
	if err != nil {
		report.OldDamage = err.Error()
		return s, nil
	}
	s.seq, s.format = now.head.Seq, now.about.Format
	if s.format > fileFormat {
		return nil, j.newer()
	}
	if now.about.Journal != then.about.Journal {
		report.OtherJournal = true
		return s, nil
	}
	if err := report.compare(now, made.path); err != nil {
		report.OldDamage = err.Error()
	}
	err = made.write(func(tx *bolt.Tx) error { return carryOver(tx, now.head) })
	if fault.KindOf(err) == fault.Damaged {
		return s, source.damaged("%v", err)
	}
	return s, err
}

// carryOver keeps a restored journal from giving out again what was given out
// since: it takes the higher of both of each count.
func carryOver(tx *bolt.Tx, now headRecord) error {
	then, err := readHead(tx)
	if err != nil {
		return err
	}
	if then.Years == nil {
		then.Years = map[int]int{}
	}
	for year, n := range now.Years {
		then.Years[year] = max(then.Years[year], n)
	}
	then.Container = max(then.Container, now.Container)
	if now.LastID.compare(then.LastID) > 0 {
		then.LastID = now.LastID
	}
	meta, err := bucket(tx, metaBucket)
	if err != nil {
		return err
	}
	then.Moment = uint64(tx.ID())
	return putRecord(meta, []byte(headKey), then)
}
