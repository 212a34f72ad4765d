package gas

import (
	"cmp"
	_ "embed"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"sync"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// The names of the gases, as they stand in a review.
const (
	HydrogenSulfide = "hydrogen sulfide"
	Ammonia         = "ammonia"
	NitrogenDioxide = "nitrogen dioxide"
	Chlorine        = "chlorine"
	Chloramine      = "chloramine"
	SulfurDioxide   = "sulfur dioxide"
)

// Kind says what a limit is for.
type Kind string

// The kinds of limit.
const (
	Working   Kind = "working"   // for a person at work, day after day
	Escape    Kind = "escape"    // immediately dangerous: the line at which one has to be out already
	Emergency Kind = "emergency" // for the public after a release, no limit for work
	Own       Kind = "own"       // given by the user with a reason
)

// Limit is one exposure limit as a list has it, for scale: the list in force where you are,
// and its newest edition, decide.
type Limit struct {
	Gas       string  `json:"gas"` // or the dust or vapour
	List      string  `json:"list"`
	Value     float64 `json:"value"`
	Unit      string  `json:"unit"`      // "ppm" or "mg/m3"
	Averaging string  `json:"averaging"` // "8 h TWA", "ceiling"
	Kind      Kind    `json:"kind"`
	Source    string  `json:"source"`
	Date      string  `json:"date"` // of the edition where it is known, and when it was read
	Evidence  string  `json:"evidence"`
	Reason    string  `json:"reason,omitempty"` // of a limit of the user's own
}

// String returns the limit with its name, figure and averaging time.
func (l Limit) String() string {
	return l.List + " " + measure.Plain(l.Value) + " " + l.Unit + " (" + l.Averaging + ")"
}

// Cited returns where the limit was read, and when.
func (l Limit) Cited() string {
	text := l.List + ": " + l.Source + ", " + l.Date
	if l.Evidence != opened {
		text += ", " + l.Evidence
	}
	return text
}

//go:embed limits.csv
var table string

const (
	ppm     = "ppm"
	mgPerM3 = "mg/m3"
	// The evidence of a limit: the page was opened, or it was read as quoted elsewhere.
	opened    = "opened"
	secondary = "read as quoted elsewhere"
)

// shipped reads the table of limits. The tests hold that it has no bad line.
var shipped = sync.OnceValue(func() (list []Limit) {
	r := csv.NewReader(strings.NewReader(table))
	r.Comment, r.FieldsPerRecord = '#', 9
	rows, err := r.ReadAll()
	if err != nil || len(rows) == 0 {
		return nil
	}
	for _, x := range rows[1:] {
		value, err := strconv.ParseFloat(x[2], 64)
		if err != nil {
			return nil
		}
		list = append(list, Limit{x[0], x[1], value, x[3], x[4], Kind(x[5]), x[6], x[7], x[8], ""})
	}
	return list
})

// Limits returns the limits of one gas that ship with the program, of all for "". None is from
// memory; superseded and vacated figures are left out.
func Limits(gas string) (list []Limit) {
	for _, l := range shipped() {
		if gas == "" || l.Gas == gas {
			list = append(list, l)
		}
	}
	return list
}

// names lists what has a limit here, once each; the limits of one gas stand together.
func names() (list []string) {
	for _, l := range shipped() {
		list = append(list, l.Gas)
	}
	return slices.Compact(list)
}

// mostOwnPPM is the highest limit of a user's own: one in a hundred is far beyond all lists.
// Assumed.
const mostOwnPPM = 10_000.0

// With lays the user's own limits over the shipped ones of a gas: of each Gas, List, Value in
// ppm, Reason and perhaps Date count. One takes the place of the shipped limit of its list.
// Errors are of kind Usage: an unknown gas, no list, no reason, a figure out of range.
func With(gas string, own []Limit) ([]Limit, error) {
	list := Limits(gas)
	for _, l := range own {
		if err := l.check(); err != nil {
			return nil, err
		}
		if l.Gas != gas {
			continue
		}
		l.List, l.Unit, l.Averaging, l.Kind, l.Reason = line(l.List), ppm, "as its giver says", Own, line(l.Reason)
		l.Source, l.Date, l.Evidence = "given by the user", cmp.Or(l.Date, "as the shop keeps it"), "not read here"
		if i := slices.IndexFunc(list, func(old Limit) bool { return old.List == l.List }); i >= 0 {
			l.Averaging = list[i].Averaging
			list[i] = l
		} else {
			list = append(list, l)
		}
	}
	return list, nil
}

func line(text string) string { return strings.TrimSpace(measure.Clean(text)) }

func (l Limit) check() error {
	switch {
	case !slices.Contains(names(), l.Gas):
		return fault.Usagef("no limit is known here for %q", measure.Clean(l.Gas)).
			Try("%swrite the name of a gas, such as %s or %s", strict.Meant(l.Gas, names()), HydrogenSulfide, Ammonia)
	case len(l.List) > 80 || line(l.List) == "":
		return fault.Usagef("a limit of your own for %s does not say whose it is", l.Gas).Try("say whose limit it is, in a few words")
	case !(l.Value > 0 && l.Value <= mostOwnPPM):
		return fault.Usagef("a limit of %v ppm for %s is out of range", l.Value, l.Gas).Try("give ppm of more than 0 and at most %.0f", mostOwnPPM)
	case len(l.Reason) > 400 || line(l.Reason) == "":
		return fault.Usagef("a limit of your own for %s has no reason", l.Gas).Try("say in one line why it is used; the reason is kept with the review")
	}
	return nil
}

// Alarm returns the highest figure in ppm for the alarm of a meter: what NIOSH recommends as a
// ceiling or for 15 minutes, or else the lowest limit. It is false for a gas without a limit.
func Alarm(gas string) (Limit, bool) {
	for _, name := range []string{"NIOSH REL ceiling", "NIOSH REL STEL"} {
		for _, l := range Limits(gas) {
			if l.List == name && l.Unit == ppm {
				return l, true
			}
		}
	}
	return Lowest(Limits(gas))
}

// Lowest returns the lowest limit for work, the user's own included, in ppm; false without
// one.
func Lowest(list []Limit) (Limit, bool) {
	var found Limit
	for _, l := range list {
		if l.Unit == ppm && (l.Kind == Working || l.Kind == Own) && (found.Value == 0 || l.Value < found.Value) {
			found = l
		}
	}
	return found, found.Value > 0
}
