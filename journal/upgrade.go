package journal

import (
	"errors"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// upgradeSteps gives, for each format that came before the present one, what
// brings a file of it to the next. A step changes all that it must in one
// transaction and leaves the events as they are; it does not set the format. Old
// steps stay for ever. There is none yet: this is the first format.
func upgradeSteps() map[int]func(tx *bolt.Tx) error { return nil }

// UpgradeReport says what Upgrade did.
type UpgradeReport struct {
	Path    string `json:"path"`
	From    int    `json:"from"` // format it had
	To      int    `json:"to"`   // format it has; the same where nothing was to do
	Kept    string `json:"kept"` // where the old file is now; empty where nothing was to do
	Events  int    `json:"events"`
	Batches int    `json:"batches"`
}

// Upgrade brings a journal that an older hepar wrote to the present format. The
// work is done on a copy beside the journal, which must pass the full test of
// Verify; then the copy takes its place under its lock, and the old file is kept
// beside it under a dated name, as it was to the last byte.
func (j *Journal) Upgrade() (UpgradeReport, error) { return j.upgrade(fileFormat, upgradeSteps()) }

func (j *Journal) upgrade(to int, steps map[int]func(tx *bolt.Tx) error) (report UpgradeReport, err error) {
	for range 3 {
		if report, err = j.upgradeOnce(to, steps); !errors.Is(err, errChanged) {
			return report, err
		}
	}
	return report, j.busy("somebody who keeps writing to it")
}

func (j *Journal) upgradeOnce(to int, steps map[int]func(tx *bolt.Tx) error) (UpgradeReport, error) {
	report := UpgradeReport{Path: j.path, To: to}
	dir := filepath.Dir(j.path)
	now, err := j.format()
	if err != nil {
		return report, err
	}
	report.From = now.about.Format
	report.Events, report.Batches = int(now.head.Seq), int(now.head.Batches)
	switch {
	case report.From == to:
		return report, nil
	case report.From > to:
		return report, j.newer()
	}
	file, err := j.newBeside(dir)
	if err != nil {
		return report, err
	}
	defer os.Remove(file.Name())
	defer file.Close()
	old := *j
	old.anyFormat = true
	snap, _, err := old.snapshot(file)
	if err != nil {
		return report, err
	}
	made := &Journal{path: file.Name(), wait: j.wait, now: j.now, anyFormat: true}
	for at := report.From; at < to; at++ {
		step := steps[at]
		if step == nil {
			return report, fault.Failuref("this hepar cannot read the journal %s of format %d", j.path, at).
				Try("upgrade it with an older hepar first; the file was not touched")
		}
		err := made.write(func(tx *bolt.Tx) error {
			if err := step(tx); err != nil {
				return err
			}
			return setFormat(tx, at+1)
		})
		if fault.KindOf(err) == fault.Damaged {
			return report, j.damaged("%v", err)
		}
		if err != nil {
			return report, noRoom(made.path, err)
		}
	}
	if _, err := j.proven(made.path); err != nil {
		return report, err
	}
	kept := filepath.Join(dir, j.datedName(j.now(), snap.head.Seq, ".before-upgrade"))
	report.Kept, err = j.swap(made.path, kept, func(old *os.File) error {
		if old == nil {
			return errChanged
		}
		now, err := openPlain(old)
		if err != nil {
			return j.damaged("%v", err)
		}
		if now.header.txid != snap.header.txid || !sameRecords(now, snap) {
			return errChanged
		}
		return nil
	})
	return report, err
}

// format reads what the journal says it is, under its lock.
func (j *Journal) format() (*plain, error) {
	file, err := j.hold(false)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	p, err := openPlain(file)
	if err != nil {
		return nil, j.damaged("%v", err)
	}
	return p, nil
}

func setFormat(tx *bolt.Tx, format int) error {
	meta, err := bucket(tx, metaBucket)
	if err != nil {
		return err
	}
	var about aboutRecord
	if err := unseal(meta.Get([]byte(aboutKey)), &about); err != nil {
		return err
	}
	about.Format = format
	return putRecord(meta, []byte(aboutKey), about)
}

// older refuses a journal that must be upgraded before it is used.
func (j *Journal) older() *fault.Error {
	return fault.Failuref("the journal %s was written by an older hepar", j.path).
		Try("bring it to the present format with 'hepar journal upgrade'; the old file is kept beside")
}
