package journal

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// upgradeStep reads the journal of an older format in tx and writes it into out as
// one of the present format: all of it, or an error that says what does not hold.
type upgradeStep func(tx *bolt.Tx, out *anew) error

// upgradeSteps gives, for each format that came before the present one, what
// writes a journal of it anew in the present one. A step has stored shapes of its
// own, which never change; old steps stay for ever.
func upgradeSteps() map[int]upgradeStep { return map[int]upgradeStep{1: fromFormat1} }

// UpgradeReport says what Upgrade did.
type UpgradeReport struct {
	Path    string `json:"path"`
	From    int    `json:"from"` // format it had
	To      int    `json:"to"`   // format it has; the same where nothing was to do
	Kept    string `json:"kept"` // where the old file is now; empty where nothing was to do
	Events  int    `json:"events"`
	Batches int    `json:"batches"`
	OldHead string `json:"old_head,omitempty"` // SHA-256 of the last event of the old file; Verify goes on telling it
}

// Upgrade brings a journal that an older hepar wrote to the present format. It is
// written anew from a copy, record by record, in a file beside it, which must pass
// the full test of Verify; then that file takes its place under its lock, and the
// old one is kept beside it under a dated name, as it was to the last byte. One in
// which anything does not hold is refused, and nothing is changed.
func (j *Journal) Upgrade() (UpgradeReport, error) { return j.upgrade(fileFormat, upgradeSteps()) }

func (j *Journal) upgrade(to int, steps map[int]upgradeStep) (report UpgradeReport, err error) {
	for range 3 {
		if report, err = j.upgradeOnce(to, steps); !errors.Is(err, errChanged) {
			return report, err
		}
	}
	return report, j.busy("somebody who keeps writing to it")
}

func (j *Journal) upgradeOnce(to int, steps map[int]upgradeStep) (UpgradeReport, error) {
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
	j.sweep(dir)
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
	made, err := j.rewrite(file, snap.about.Format, steps)
	if err != nil {
		return report, err
	}
	defer os.Remove(made)
	found, err := j.proven(made)
	if err != nil {
		return report, err
	}
	report.Events, report.Batches = found.Events, found.Batches
	report.OldHead = fmt.Sprintf("%x", snap.head.Digest)
	kept := filepath.Join(dir, j.datedName(j.now(), snap.head.Seq, ".before-upgrade"))
	report.Kept, err = j.swap(made, kept, func(old *os.File) error {
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

// rewrite writes the copy was of a journal of an older format anew, beside the
// copy, and gives where; the caller takes it away.
func (j *Journal) rewrite(was *os.File, format int, steps map[int]upgradeStep) (path string, err error) {
	step := steps[format]
	if step == nil {
		return "", fault.Failuref("this hepar cannot read the journal %s of format %d", j.path, format).
			Try("upgrade it with an older hepar first; the file was not touched")
	}
	if err := j.soundPages(was); err != nil {
		return "", j.cannotUpgrade(format, err)
	}
	b, err := newBulk(filepath.Dir(was.Name()), "."+filepath.Base(j.path)+".new-*")
	out := &anew{bulk: b, j: j}
	defer func() {
		if path == "" && b != nil {
			b.drop()
		}
	}()
	if err == nil {
		err = out.layOut()
	}
	if err != nil {
		return "", noRoom(was.Name(), err)
	}
	copied := &Journal{path: was.Name(), wait: j.wait, now: j.now, anyFormat: true}
	var wrong error
	err = copied.read(func(tx *bolt.Tx) error {
		wrong = catch(func() error { return step(tx, out) })
		return nil
	})
	var known *fault.Error
	switch {
	case out.failed != nil:
		return "", noRoom(b.path, out.failed)
	case wrong != nil && !errors.As(wrong, &known):
		return "", j.cannotUpgrade(format, j.damaged("%v", wrong))
	case wrong != nil:
		return "", wrong
	case err != nil:
		return "", j.cannotUpgrade(format, err)
	}
	if err := b.close(); err != nil {
		return "", noRoom(b.path, err)
	}
	return b.path, nil
}

// cannotUpgrade says what to do about a damaged journal of an older format.
func (j *Journal) cannotUpgrade(format int, err error) error {
	if fault.KindOf(err) != fault.Damaged {
		return err
	}
	cause := err
	for inner := errors.Unwrap(cause); inner != nil; inner = errors.Unwrap(cause) { // the outer ones name a copy
		cause = inner
	}
	return j.damaged("%v", cause).Try("it has format %d and was not touched: %s", format, oldDamage)
}

// oldDamage is what to do about a damaged file of an older format.
const oldDamage = "restore the last backup, which brings that to the present format, or salvage the file with the hepar that wrote it"

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

// otherOlder refuses a journal from elsewhere that must be upgraded before it is used.
func (j *Journal) otherOlder() *fault.Error {
	return j.older().Try("bring it to the present format first: 'hepar journal upgrade --journal %s'; the old file is kept beside", measure.Clean(j.path))
}

// older refuses a journal that must be upgraded before it is used.
func (j *Journal) older() *fault.Error {
	return fault.Failuref("the journal %s was written by an older hepar", j.path).
		Try("bring it to the present format with 'hepar journal upgrade'; the old file is kept beside")
}
