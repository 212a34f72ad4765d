package journal

import (
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Date is a day at the bench as "2026-03-09", or where no more is known a month
// or a year: "2026-03", "2026". Empty means none.
type Date string

// DateOf gives the day of a time, in its own zone.
func DateOf(t time.Time) Date { return Date(t.Format(time.DateOnly)) }

// ParseDate reads "2026-03-09", "2026-03" or "2026"; the empty text is no date.
func ParseDate(text string) (Date, error) {
	if text == "" {
		return "", nil
	}
	for _, form := range []string{time.DateOnly, "2006-01", "2006"} {
		if t, err := time.Parse(form, text); err == nil {
			return Date(text), cleanTime("date", t)
		}
	}
	return "", fault.Usagef("%q is not a date", measure.Clean(text)).Try("write 2026-03-09, or 2026-03 where the day is not known")
}

// Before says whether all of d is over on the day, so that a date of a month alone
// counts to the end of the month. An empty date is never over.
func (d Date) Before(day Date) bool { return d != "" && day[:min(len(d), len(day))] > d }

// SDS is where the safety data sheet of a container is and how old it is.
type SDS struct {
	Place    string // a path, or words: "green folder"; empty means there is none
	Revised  Date   // revision date printed on it
	LookedAt Date   // when somebody last read it
}

// Container is one jar, bottle or bag on the shelf. Its amounts are in grams or in
// millilitres, one of the two.
type Container struct {
	ID         string // ULID
	Number     string // "S-012"
	Substance  string // id of package reagent, or words
	Form       string // "lump", "gel 23 %"
	Lot        string
	Supplier   string
	Received   Date
	Opened     Date
	Expires    Date
	AmountG    measure.Grams // as received
	LeftG      measure.Grams
	AmountML   float64 // as received
	LeftML     float64
	Observed   string    // "bright yellow lumps", "pale", "white, spent"
	ObservedAt time.Time // zero where nothing was
	SDS        SDS
	Place      string
	Note       string
	By         string
	Added      time.Time
	Emptied    time.Time // zero while it is in use
	Events     []Event   // of Container alone; a list has none
}

// Empty says whether the container is marked as empty.
func (c Container) Empty() bool { return !c.Emptied.IsZero() }

// Expired says whether the date on the container is over at a time.
func (c Container) Expired(at time.Time) bool { return c.Expires.Before(DateOf(at)) }

// Use is an amount taken from a container, in grams or in millilitres.
type Use struct {
	Container string // number ("S-012") or id
	Grams     measure.Grams
	ML        float64

	ContainerID string // these three are given, not read
	Substance   string
	Lot         string
}

// Stock is what is left of a substance in all containers that are not empty.
type Stock struct {
	Substance  string
	Grams      measure.Grams
	ML         float64
	Containers []Container // in the order they were added; look at Expired, Observed and SDS of each
}

// The units of the amounts of a container as they are stored.
const (
	unitGrams = "g"
	unitML    = "mL"
)

// mostInContainer is the most that a container holds, in g or mL: ten tonnes. A choice of ours.
const mostInContainer = 1e7

func (c *containerRecord) public() Container {
	out := Container{
		ID: c.ID.String(), Number: c.Number, Substance: c.Substance, Form: c.Form, Lot: c.Lot, Supplier: c.Supplier,
		Received: c.Received, Opened: c.Opened, Expires: c.Expires, Observed: c.Observed,
		SDS: SDS{Place: c.SDS, Revised: c.SDSRevised, LookedAt: c.SDSLooked}, Place: c.Place, Note: c.Note, By: c.By, Added: c.Added.Time(),
	}
	if c.Unit == unitML {
		out.AmountML, out.LeftML = c.Amount, c.Left
	} else {
		out.AmountG, out.LeftG = measure.Grams(c.Amount), measure.Grams(c.Left)
	}
	if c.ObservedAt != nil {
		out.ObservedAt = c.ObservedAt.Time()
	}
	if c.Emptied != nil {
		out.Emptied = c.Emptied.Time()
	}
	return out
}
