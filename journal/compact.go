package journal

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// compactStep is how many bytes are written in one transaction when compacting:
// it bounds the memory needed.
const compactStep = 8 << 20

// CompactReport says what Compact did.
type CompactReport struct {
	Path    string `json:"path"`
	Before  int64  `json:"before"` // size of the file in bytes
	After   int64  `json:"after"`
	Events  int    `json:"events"`
	Batches int    `json:"batches"`
	Head    string `json:"head"` // SHA-256 of the last event, the same before and after
}

// Compact writes the journal anew without the room that nothing uses, and puts
// the new file in the place of the old. All of the work is done on a copy beside,
// which must pass the full test of Verify and hold the same events; writers wait
// only while the bytes are copied, and for the exchange at the end, which happens
// under the lock of the journal. If somebody wrote meanwhile, it begins again. On
// any error the journal is as it was.
func (j *Journal) Compact() (CompactReport, error) {
	for range 3 {
		report, again, err := j.compact()
		if !again {
			return report, err
		}
	}
	return CompactReport{}, j.busy("somebody who keeps writing to it")
}

func (j *Journal) compact() (report CompactReport, again bool, err error) {
	report.Path = j.path
	info, err := os.Stat(j.path)
	if err != nil {
		return report, false, j.fileFault(err, true)
	}
	report.Before = info.Size()
	dir := filepath.Dir(j.path)
	was, err := j.newBeside(dir)
	if err != nil {
		return report, false, err
	}
	defer os.Remove(was.Name())
	defer was.Close()
	snap, _, err := j.snapshot(was)
	if err != nil {
		return report, false, err
	}
	file, err := j.newBeside(dir)
	if err != nil {
		return report, false, err
	}
	defer os.Remove(file.Name())
	if err := file.Close(); err != nil {
		return report, false, noRoom(file.Name(), err)
	}
	if err := j.squeeze(file.Name(), was); err != nil {
		return report, false, err
	}
	found, err := j.proven(file.Name())
	if err != nil {
		return report, false, err
	}
	small, err := peek(file.Name())
	if err != nil {
		return report, false, j.damaged("a copy of it cannot be read: %v", err)
	}
	if !sameRecords(small, snap) {
		return report, false, j.damaged("a copy of it came out different")
	}
	report.After, report.Events, report.Batches, report.Head = found.Bytes, found.Events, found.Batches, found.Head
	_, err = j.swap(file.Name(), "", func(old *os.File) error {
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
	return report, errors.Is(err, errChanged), err
}

// sameRecords says whether two files are the same journal at the same event.
func sameRecords(a, b *plain) bool {
	one, err1 := seal(a.head.anytime())
	two, err2 := seal(b.head.anytime())
	return err1 == nil && err2 == nil && bytes.Equal(one, two) && a.about == b.about
}

// squeeze writes what is in the copy was of the journal into the empty file at
// path, and makes it durable.
func (j *Journal) squeeze(path string, was *os.File) error {
	if err := j.soundPages(was); err != nil {
		return err
	}
	out, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: boltWait, FreelistType: bolt.FreelistMapType, NoStatistics: true, NoSync: true})
	if err != nil {
		return noRoom(path, err)
	}
	copying := At(was.Name(), Options{Wait: j.wait, Now: j.now})
	var wrote error
	err = copying.session(false, func(in *bolt.DB) error {
		if wrote = bolt.Compact(out, in, compactStep); wrote == nil {
			wrote = out.Update(setMoment)
		}
		return nil
	})
	if err == nil && wrote == nil {
		wrote = out.Sync()
	}
	if closed := out.Close(); wrote == nil {
		wrote = closed
	}
	if fault.KindOf(err) == fault.Damaged {
		return j.damaged("%v", err)
	}
	if err != nil {
		return err
	}
	if wrote == nil {
		wrote = cutUnused(path)
	}
	if wrote != nil {
		return noRoom(path, wrote)
	}
	return nil
}

// soundPages looks at all pages of a copy of the journal.
func (j *Journal) soundPages(was *os.File) error {
	info, err := was.Stat()
	if err != nil {
		return j.explain(err)
	}
	header, err := readHeader(was)
	if err != nil {
		return j.headerFault(err)
	}
	var found *fault.Error
	walkPages(was, info.Size(), header, func(where, what string) {
		if found == nil {
			found = j.damaged("%s: %s", where, what)
		}
	})
	if found != nil {
		return found
	}
	return nil
}

// cutUnused takes away the end of a finished file that no page in use reaches: the
// store makes its files larger in steps of up to 16 MiB.
func cutUnused(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer file.Close()
	header, err := readHeader(file)
	if err != nil {
		return err
	}
	if err := file.Truncate(int64(header.pages) * header.pageSize); err != nil {
		return err
	}
	return file.Sync()
}
