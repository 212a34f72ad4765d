package journal

import (
	"encoding/hex"
	"errors"
	"io"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// mostFindings is how many findings a report lists; the rest are only counted.
const mostFindings = 200

// Finding is one thing that is wrong with a journal.
type Finding struct {
	Where string `json:"where"` // a page, an event, a batch
	What  string `json:"what"`
}

// Report is what Verify found.
type Report struct {
	Path       string    `json:"path"`
	Format     int       `json:"format"`
	ID         string    `json:"id"`    // of the journal
	Bytes      int64     `json:"bytes"` // size of the file
	Events     int       `json:"events"`
	Batches    int       `json:"batches"`
	Containers int       `json:"containers"`
	Head       string    `json:"head"` // SHA-256 of the last event: whoever noted it can tell later that nothing before it was changed
	Findings   []Finding `json:"findings"`
	More       int       `json:"more"` // findings beyond those listed

	Upgrades []UpgradeNote `json:"upgrades,omitempty"` // in their order

	Missing     []Finding `json:"missing"`      // what was lost before the journal was salvaged: no fault of this file
	MoreMissing int       `json:"more_missing"` // beyond those listed
}

// UpgradeNote says of what file a journal was made anew in a later format. The file
// that was kept is the right one if it has this last event.
type UpgradeNote struct {
	Format int    `json:"format"` // it had
	Events int    `json:"events"` // it had; its last had this number
	Head   string `json:"head"`   // SHA-256 of that event
}

// Sound says that nothing was found.
func (r Report) Sound() bool { return len(r.Findings) == 0 }

// Err is nil for a sound journal, and else a fault of kind Damaged.
func (r Report) Err() error {
	if r.Sound() {
		return nil
	}
	return fault.Damagedf("the journal %s is not sound: %s: %s (%d findings)", r.Path, r.Findings[0].Where, r.Findings[0].What, len(r.Findings)+r.More).
		Try("write nothing more to it: copy the file, then restore the last backup")
}

func (r *Report) add(where, what string) {
	if len(r.Findings) == mostFindings {
		r.More++
		return
	}
	r.Findings = append(r.Findings, Finding{Where: where, What: what})
}

// miss adds what was lost before a salvage.
func (r *Report) miss(where, what string) {
	if len(r.Missing) == mostFindings {
		r.MoreMissing++
		return
	}
	r.Missing = append(r.Missing, Finding{Where: where, What: what})
}

// Verify reads the whole journal and checks that it is sound: the pages of the
// store, every checksum, the chain of events from the first to the last, that
// replaying the events of each batch gives the batch as it stands, that the
// frozen recipes and sheets are those the batches were made from, and that the
// indexes and the batches agree both ways. What is wrong is in the report; an
// error means that it could not look. Of a large journal a copy is read, so that
// writers wait only while it is made.
func (j *Journal) Verify() (Report, error) {
	report := Report{Path: j.path}
	file, err := j.hold(false)
	if err != nil {
		return report, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return report, j.explain(err)
	}
	report.Bytes = info.Size()
	if report.Bytes >= verifyCopied && !j.alone {
		if copied := j.copyOf(file, report.Bytes); copied != nil {
			defer copied.Close()
			file.Close()
			file = copied
		}
	}
	if err := j.verify(file, &report); err != nil {
		if fault.KindOf(err) != fault.Damaged {
			return report, err
		}
		// What stopped the reading is a finding like the others.
		what := err
		if cause := errors.Unwrap(err); cause != nil {
			what = cause
		}
		report.add("file", what.Error())
	}
	return report, nil
}

// verifyCopied is the size in bytes from which Verify reads a copy: about half a
// second of reading, during which others may well wait.
const verifyCopied = 16 << 20

// copyOf copies a file that is held, as it lies there, into one beside it that has
// no name and goes when it is closed; nil where that cannot be done. The system
// copies without reading where it can.
func (j *Journal) copyOf(file *os.File, size int64) *os.File {
	if free, known := freeBytes(filepath.Dir(j.path)); !copyFits(size, free, known) {
		return nil
	}
	copied, err := j.newBeside(filepath.Dir(j.path))
	if err != nil {
		return nil // no room or no right to write there: the file itself is read
	}
	named := os.Remove(copied.Name()) != nil
	if _, err := io.Copy(copied, file); err != nil || named {
		copied.Close()
		if named {
			_ = os.Remove(copied.Name())
		}
		return nil
	}
	return copied
}

// copyFits says whether a copy of so many bytes leaves as much room again: others who
// write meanwhile must not find the disk full by it. Where it cannot be told, it may.
func copyFits(size int64, free uint64, known bool) bool { return !known || free/2 >= uint64(size) }

func (j *Journal) verify(file *os.File, report *Report) error {
	header, err := readHeader(file)
	if err != nil {
		return j.headerFault(err)
	}
	walkPages(file, report.Bytes, header, report.add)
	if !report.Sound() {
		return nil // the store may hang or fall over pages such as these
	}
	return j.guarded(file, false, func(db *bolt.DB) error {
		return db.View(func(tx *bolt.Tx) error {
			for err := range tx.Check() {
				report.add("store", err.Error())
			}
			if !report.Sound() {
				return nil
			}
			return j.checkContent(tx, report)
		})
	})
}

// checkContent checks what the store holds.
func (j *Journal) checkContent(tx *bolt.Tx, report *Report) error {
	r, err := newReader(tx)
	if err != nil {
		return err
	}
	var about aboutRecord
	meta, err := bucket(tx, metaBucket)
	if err != nil {
		return err
	}
	if err := unseal(meta.Get([]byte(aboutKey)), &about); err != nil {
		return err
	}
	head, err := readHead(tx)
	if err != nil {
		return err
	}
	if err := head.of(uint64(tx.ID())); err != nil {
		report.add("head", err.Error())
	}
	report.Format, report.ID, report.Head = about.Format, about.Journal.String(), hex.EncodeToString(head.Digest[:])
	report.Events, report.Batches = int(head.Seq), int(head.Batches)
	report.Containers = int(head.Containers)
	c := &contentCheck{reader: r, head: head, start: chainStart(about.Journal), report: report, watch: j.watch}
	for _, step := range []func() error{c.chain, c.containers, c.allBatches, c.numbers, c.index, c.frozen} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}
