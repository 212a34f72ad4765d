package keep

import (
	"os"

	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// attempts is how often work is begun again because somebody wrote meanwhile.
const attempts = 3

// CompactReport says what Compact did.
type CompactReport struct {
	Path    string `json:"path"`
	Before  int64  `json:"before"` // size of the file in bytes
	After   int64  `json:"after"`
	Content        // the same before and after
}

// Compact writes the journal anew without the room that nothing uses. Every event
// stays as it is, byte by byte. The new file is verified before it takes the place
// of the old. Writers wait only while the bytes are copied and at the exchange. It
// returns an error of kind Busy if somebody keeps writing, and leaves the journal as
// it was on any error.
func Compact(f *store.File, watch func(events int)) (report CompactReport, err error) {
	for range attempts {
		if report, err = compact(f, watch); fault.KindOf(err) != fault.Busy {
			break
		}
	}
	return report, err
}

func compact(f *store.File, watch func(int)) (CompactReport, error) {
	report := CompactReport{Path: f.Path}
	info, err := os.Stat(f.Path)
	if err != nil {
		_, err := f.Hold(true) // says what to do
		return report, err
	}
	report.Before = info.Size()
	err = f.Rebuild(func(copied *store.File) error {
		small, err := store.Beside(f.Path, nil)
		if err != nil {
			return err
		}
		defer small.Drop()
		small.Called, small.Now = f.Path, f.Now
		if err := copied.CompactInto(small); err != nil {
			return err
		}
		if report.Content, report.After, err = sound(small, watch); err != nil {
			return err
		}
		if err := os.Rename(small.Path, copied.Path); err != nil {
			return store.NoRoom(copied.Path, err)
		}
		return nil
	})
	return report, err
}
