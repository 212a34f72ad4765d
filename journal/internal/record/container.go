package record

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// mostInContainer is the most that a container holds, in g or mL: ten tonnes. A choice of ours.
const mostInContainer = 1e7

// ContainerPlan is a jar, bottle or bag on the shelf as its fields describe it.
// Its amounts are in grams or in millilitres, one of the two: see Unit.
type ContainerPlan struct {
	Number     string  `cbor:"1,keyasint" json:"number"`    // "S-012"
	Substance  string  `cbor:"2,keyasint" json:"substance"` // id of package reagent, or words
	Form       string  `cbor:"3,keyasint,omitempty" json:"form"`
	Lot        string  `cbor:"4,keyasint,omitempty" json:"lot"`
	Supplier   string  `cbor:"5,keyasint,omitempty" json:"supplier"`
	Received   Date    `cbor:"6,keyasint,omitempty" json:"received"`
	Opened     Date    `cbor:"7,keyasint,omitempty" json:"opened"`
	Expires    Date    `cbor:"8,keyasint,omitempty" json:"expires"`
	Unit       string  `cbor:"9,keyasint" json:"unit"`    // UnitGrams or UnitML
	Amount     float64 `cbor:"10,keyasint" json:"amount"` // as received
	Left       float64 `cbor:"11,keyasint" json:"left"`
	Observed   string  `cbor:"12,keyasint,omitempty" json:"observed"` // "bright yellow lumps", "white, spent"
	SDS        string  `cbor:"13,keyasint,omitempty" json:"sds"`      // where its safety data sheet is: a path, or words
	SDSRevised Date    `cbor:"14,keyasint,omitempty" json:"sds_revised"`
	SDSLooked  Date    `cbor:"15,keyasint,omitempty" json:"sds_looked_at"` // when somebody last read it
	Place      string  `cbor:"16,keyasint,omitempty" json:"place"`
	Note       string  `cbor:"17,keyasint,omitempty" json:"note"`
}

// Container is one container as its events make it.
type Container struct {
	ID ID `json:"id"`
	ContainerPlan
	By         string   `json:"by"`
	Added      Stamp    `json:"added"`
	ObservedAt Stamp    `json:"observed_at,omitzero"`
	Emptied    Stamp    `json:"emptied,omitzero"` // zero while it is in use
	Events     []*Event `json:"events,omitempty"`
	Faults     []string `json:"faults,omitempty"`
	Newer      []string `json:"newer,omitempty"`
}

// Empty says whether the container is marked as empty.
func (c *Container) Empty() bool { return !c.Emptied.IsZero() }

// Expired says whether the date on the container is over on a day.
func (c *Container) Expired(day Date) bool { return c.Expires.Before(day) }

// ReplayContainer returns the container that the events make; what does not fit
// stands in Faults, and what this build does not know in Newer.
func ReplayContainer(id ID, events []*Event) *Container {
	Sort(events)
	c := &Container{ID: id}
	for _, e := range events {
		if fault := c.apply(e); fault != "" {
			c.Faults = append(c.Faults, fault)
		}
		c.Events = append(c.Events, e)
		for path, value := range e.Unknown {
			c.Newer = append(c.Newer, fmt.Sprintf("%s of the event %s: %v", path, e.Kind, value))
		}
	}
	slices.Sort(c.Newer)
	if c.Number == "" {
		c.Faults = append(c.Faults, "the event that added it is missing")
	}
	return c
}

func (c *Container) apply(e *Event) (fault string) {
	if e.Of != c.ID {
		return fmt.Sprintf("its event %s belongs to another container", e.ID)
	}
	switch e.Kind {
	case StockAdded:
		if e.Container == nil || c.Number != "" {
			return fmt.Sprintf("its event %s adds no container", e.ID)
		}
		c.ContainerPlan, c.By, c.Added = *e.Container, e.By, e.At
		if c.Observed != "" {
			c.ObservedAt = e.At
		}
	case StockChanged, StockUsed:
		f, ok := StockFieldNamed(e.Field)
		if !ok {
			c.Newer = append(c.Newer, fmt.Sprintf("the field %q, changed to %q", e.Field, e.New))
			return ""
		}
		if err := f.Set(c, e.New); err != nil {
			return fmt.Sprintf("its event %s: %v", e.ID, err)
		}
		switch e.Field {
		case "observed":
			c.ObservedAt = e.At
		case "left":
			c.Emptied = Stamp{}
		}
	case StockEmptied:
		c.Left, c.Emptied = 0, e.At
	default:
		c.Newer = append(c.Newer, fmt.Sprintf("an event of the kind %q", e.Kind))
	}
	return ""
}

// StockField is one thing that may be said of a container.
type StockField struct {
	Name        string // of flags and changes
	Label       string
	NeedsReason bool // a change is a correction and not the course of things

	parse func(c *Container, text string) (string, error)
	Get   func(c *Container) string
	Set   func(c *Container, fixed string) error
}

// Parse returns what a person wrote in the fixed form that is kept.
func (f StockField) Parse(c *Container, text string) (string, error) {
	fixed, err := f.parse(c, strings.TrimSpace(text))
	return fixed, atField(f.Name, err)
}

// StockFields returns the table of what may be said of a container.
func StockFields() []StockField { return stockFields }

// StockFieldNamed returns the field of that name.
func StockFieldNamed(name string) (StockField, bool) {
	i := slices.IndexFunc(stockFields, func(f StockField) bool { return f.Name == name })
	if i < 0 {
		return StockField{}, false
	}
	return stockFields[i], true
}

var stockFields = []StockField{
	stockText(StockField{Name: "substance", Label: "substance", NeedsReason: true}, required(Line), func(c *Container) *string { return &c.Substance }),
	stockText(StockField{Name: "form", Label: "form", NeedsReason: true}, Line, func(c *Container) *string { return &c.Form }),
	stockText(StockField{Name: "lot", Label: "lot", NeedsReason: true}, Line, func(c *Container) *string { return &c.Lot }),
	stockText(StockField{Name: "supplier", Label: "supplier", NeedsReason: true}, Line, func(c *Container) *string { return &c.Supplier }),
	stockText(StockField{Name: "received", Label: "day received", NeedsReason: true}, date, func(c *Container) *Date { return &c.Received }),
	stockText(StockField{Name: "opened", Label: "day opened"}, date, func(c *Container) *Date { return &c.Opened }),
	stockText(StockField{Name: "expires", Label: "day it expires"}, date, func(c *Container) *Date { return &c.Expires }),
	stockAmount(StockField{Name: "amount", Label: "amount received", NeedsReason: true}, func(c *Container) *float64 { return &c.Amount }),
	stockAmount(StockField{Name: "left", Label: "amount left", NeedsReason: true}, func(c *Container) *float64 { return &c.Left }),
	stockText(StockField{Name: "observed", Label: "look of the content"}, Line, func(c *Container) *string { return &c.Observed }),
	stockText(StockField{Name: "sds", Label: "place of the SDS"}, PathLine, func(c *Container) *string { return &c.SDS }),
	stockText(StockField{Name: "sds-revised", Label: "revision date of the SDS"}, date, func(c *Container) *Date { return &c.SDSRevised }),
	stockText(StockField{Name: "sds-looked-at", Label: "day the SDS was last read"}, date, func(c *Container) *Date { return &c.SDSLooked }),
	stockText(StockField{Name: "place", Label: "place"}, PathLine, func(c *Container) *string { return &c.Place }),
	stockText(StockField{Name: "note", Label: "note"}, Note, func(c *Container) *string { return &c.Note }),
}

func stockText[T ~string](f StockField, clean func(what, text string) (string, error), at func(*Container) *T) StockField {
	f.parse = func(_ *Container, text string) (string, error) { return clean(f.Label, text) }
	f.Get = func(c *Container) string { return string(*at(c)) }
	f.Set = func(c *Container, fixed string) error { *at(c) = T(fixed); return nil }
	return f
}

func stockAmount(f StockField, at func(*Container) *float64) StockField {
	f.parse = func(c *Container, text string) (string, error) {
		x, err := parseAmount(text, c.Unit)
		if err == nil {
			err = Within(f.Label, c.Unit, x, 0, mostInContainer)
		}
		return AmountText(x, c.Unit), err
	}
	f.Get = func(c *Container) string { return AmountText(*at(c), c.Unit) }
	f.Set = func(c *Container, fixed string) error {
		number, ok := strings.CutSuffix(fixed, " "+c.Unit)
		x, err := strconv.ParseFloat(number, 64)
		if !ok || err != nil || !(x >= 0 && x <= mostInContainer) {
			return fmt.Errorf("%q is not an amount in %s", fixed, c.Unit)
		}
		*at(c) = x
		return nil
	}
	return f
}

func required(clean func(what, text string) (string, error)) func(what, text string) (string, error) {
	return func(what, text string) (string, error) {
		text, err := clean(what, text)
		if err == nil && text == "" {
			err = fault.Usagef("the %s is empty", what).Try("name it")
		}
		return text, err
	}
}

func date(_, text string) (string, error) {
	d, err := ParseDate(text)
	return string(d), err
}

func parseAmount(text, unit string) (float64, error) {
	if unit == UnitML {
		v, err := measure.ParseVolume(text)
		return Tidy(v.Milliliters()), err
	}
	m, err := measure.ParseMass(text)
	return Tidy(float64(m)), err
}

// Tidy rounds an amount to a millionth of a gram or millilitre, so that what is
// left ends at nothing where nothing is left.
func Tidy(x float64) float64 { return math.Round(x*1e6) / 1e6 }

// AmountText writes an amount in its fixed form: "12.5 g".
func AmountText(x float64, unit string) string { return figureText(x, unit) }

// Check returns an error if a field of the container is not in its fixed form or
// an amount is out of range.
func (c *Container) Check() error {
	if c.Unit != UnitGrams && c.Unit != UnitML {
		return fault.Usagef("jar %s is counted in %q", c.Number, measure.Clean(c.Unit)).Try("count it in g or mL")
	}
	for _, f := range stockFields {
		had := f.Get(c)
		fixed, err := f.Parse(c, had)
		if err != nil {
			return err
		}
		if fixed != had {
			return fault.Usagef("the %s %q of jar %s is not in its fixed form", f.Label, measure.Clean(had), c.Number).Try("write it as %q", fixed)
		}
	}
	return nil
}

// Check of a use: a known unit and an amount above nothing.
func (u Use) Check() error {
	if u.Unit != UnitGrams && u.Unit != UnitML {
		return fault.Usagef("an amount taken from %s is counted in %q", u.Number, measure.Clean(u.Unit)).Try("count it in g or mL")
	}
	return Within("amount taken from "+u.Number, u.Unit, u.Amount, 1e-6, mostInContainer)
}

// Text returns the amount as "12.5 g".
func (u Use) Text() string { return AmountText(u.Amount, u.Unit) }

var _ json.Marshaler = Batch{} // plan and result stand among its own keys
