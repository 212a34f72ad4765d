package shop

import (
	"errors"
	"io/fs"
	"os"
	"strings"

	"hepar/recipe/bath"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// Shop is the workshop. A zero field was not set, unless its comment says more.
type Shop struct {
	File   string // where it was read from
	Name   string
	Person string   // who works at the bench if nobody says otherwise
	People []string // all who do; Person and the names of Workers are among them
	Units  measure.System

	// Bath is what a sheet is reckoned with. Its Known tells what the file gives:
	// "balance", "cylinder", "hot-water", "cold-water", "ambient", "humidity", "match".
	// Its Minutes hold the defaults of package yield where the file gives none.
	Bath bath.Shop

	Room     Room
	Vessels  map[string]bath.Vessel
	Fittings map[string]Fitting // of each of the vessels, by the same names

	BasketPieces int     // pieces that one basket holds; 0 where not given
	SetupMinutes float64 // per job, from the kettle to the first dip; see HasSetup
	HasSetup     bool
	Currency     string // the word behind the money of the rates; may be empty

	Workers []Worker
	Limits  []Limit

	vessels []string // names in the order of the file
	given   map[string]given
}

// given is a setting as it stands in the file.
type given struct {
	text string
	line int
}

// Room is the room around the bench. Its temperature and humidity are in the Bath.
type Room struct {
	VolumeM3          float64 // m3; 0 where not given
	AirChangesPerHour float64 // 0 where not given
	Hood              bool    // capture at the source: a hood or slot, ducted outdoors
}

// Fitting is what belongs to a vessel besides its inside.
type Fitting struct {
	Material string  // one of [Materials], or empty
	Lid      bool    // there is one
	HeaterW  float64 // W, steady; 0 for none
}

// Worker is a person of whom something holds that a review has to heed. Each flag
// adds points, none takes one away.
type Worker struct {
	Name     string
	NoSmell  bool // cannot smell hydrogen sulfide, or not reliably
	Pregnant bool
	Lungs    bool // asthma or another disease of the lungs
	Alone    bool // works without anybody near
	New      bool // has not done this before
}

// Limit is an exposure limit that the user holds to, in the place of a shipped one
// of the same list or beside them.
type Limit struct {
	Gas    string
	List   string // whose limit it is
	PPM    float64
	Reason string
	Date   string // 2006-01-02, or empty
	Line   int    // in the file
}

// kind is what a shop file is called in messages.
func kind() strict.Kind {
	return strict.Kind{Name: "shop file", Sample: "hepar shop --template", Missing: "hepar shop --template prints one to fill in",
		Further: "a further vessel begins with [[vessel]]; what holds for a person stands under [[worker]]"}
}

// Read reads a shop file. Findings are all that is wrong with it; the Shop is then
// empty. The error says that the file cannot be read at all; os.IsNotExist knows
// that of a file that is not there.
func Read(path string) (Shop, []strict.Finding, error) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return Shop{}, nil, err
	}
	data, err := kind().ReadFile(path)
	if err != nil {
		return Shop{}, nil, err
	}
	s, findings := Decode(path, data)
	return s, findings, nil
}

// Decode reads a shop file that is already in memory; file is its name in findings.
// It gives a Shop or findings, never both. It never panics.
func Decode(file string, data []byte) (Shop, []strict.Finding) {
	var s Shop
	findings := kind().Decode(file, data, func(root strict.Table) { s = read(root) })
	if len(findings) > 0 {
		return Shop{}, findings
	}
	s.File = file
	return s, nil
}

// Given tells whether the file sets a key, called as in [Setting].
func (s Shop) Given(key string) bool { _, ok := s.given[key]; return ok }

// Worker gives what holds for a person, whose name may be written in capitals or
// not. ok is false where the file has nothing on them.
func (s Shop) Worker(name string) (w Worker, ok bool) {
	for _, w := range s.Workers {
		if strings.EqualFold(w.Name, strings.TrimSpace(name)) {
			return w, true
		}
	}
	return Worker{}, false
}
