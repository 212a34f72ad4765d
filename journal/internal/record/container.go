package record

import (
	"math"
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
	Observed   string  `cbor:"12,keyasint,omitempty" json:"observed"`                              // "bright yellow lumps", "white, spent"
	SDS        string  `cbor:"13,keyasint,omitempty" json:"sds" is:"place of the SDS" long:"path"` // where its safety data sheet is: a path, or words
	SDSRevised Date    `cbor:"14,keyasint,omitempty" json:"sds_revised"`
	SDSLooked  Date    `cbor:"15,keyasint,omitempty" json:"sds_looked_at"` // when somebody last read it
	Place      string  `cbor:"16,keyasint,omitempty" json:"place" long:"path"`
	Note       string  `cbor:"17,keyasint,omitempty" json:"note" long:"note"`
}

// Container is one container as its events make it.
type Container struct {
	ID ID `json:"id"`
	ContainerPlan
	By         string `json:"by"`
	Added      Stamp  `json:"added"`
	ObservedAt Stamp  `json:"observed_at,omitzero"`
	Emptied    Stamp  `json:"emptied,omitzero"` // zero while it is in use
	History
}

// Short returns the number of the container.
func (p *ContainerPlan) Short() string { return p.Number }

// Keys returns the keys under which the container is found.
func (c *Container) Keys() []Key { return []Key{AllContainers, {ByNumber, c.Number}} }

// Empty says whether the container is marked as empty.
func (c *Container) Empty() bool { return !c.Emptied.IsZero() }

// Expired says whether the date on the container is over on a day.
func (c *Container) Expired(day Date) bool { return c.Expires.Before(day) }

func (c *Container) apply(e *Event) {
	switch e.Kind {
	case StockAdded:
		that(c.Number == "", "it is added twice")
		c.ContainerPlan, c.By, c.Added = *e.Container, e.By, e.At
		if c.Observed != "" {
			c.ObservedAt = e.At
		}
	case StockChanged, StockUsed:
		f, ok := StockFieldNamed(e.Field)
		if !ok {
			c.newer("the field %q, changed to %q", e.Field, e.New)
			return
		}
		err := f.Set(c, e.New)
		that(err == nil, "its event %s: %v", e.ID, err)
		switch e.Field {
		case "observed":
			c.ObservedAt = e.At
		case "left":
			c.Emptied = Stamp{}
		}
	case StockEmptied:
		c.Left, c.Emptied = 0, e.At
	default:
		c.newer("an event of the kind %q", e.Kind)
	}
}

// StockFieldNames returns the names of all fields of a container.
func StockFieldNames() []string { return names(stockFields) }

// StockFieldNamed returns the field of that name.
func StockFieldNamed(name string) (StockField, bool) { return named(stockFields, name) }

var stockFields = []StockField{
	textField(Line, StockField{Name: "substance", Label: "substance", NeedsReason: true, Required: true}, func(c *Container) *string { return &c.Substance }),
	textField(Line, StockField{Name: "form", Label: "form", NeedsReason: true}, func(c *Container) *string { return &c.Form }),
	textField(Line, StockField{Name: "lot", Label: "lot", NeedsReason: true}, func(c *Container) *string { return &c.Lot }),
	textField(Line, StockField{Name: "supplier", Label: "supplier", NeedsReason: true}, func(c *Container) *string { return &c.Supplier }),
	textField(date, StockField{Name: "received", Label: "day received", NeedsReason: true}, func(c *Container) *Date { return &c.Received }),
	textField(date, StockField{Name: "opened", Label: "day opened"}, func(c *Container) *Date { return &c.Opened }),
	textField(date, StockField{Name: "expires", Label: "day it expires"}, func(c *Container) *Date { return &c.Expires }),
	stockAmount(StockField{Name: "amount", Label: "amount received", NeedsReason: true}, func(c *Container) *float64 { return &c.Amount }),
	stockAmount(StockField{Name: "left", Label: "amount left", NeedsReason: true}, func(c *Container) *float64 { return &c.Left }),
	textField(Line, StockField{Name: "observed", Label: "look of the content"}, func(c *Container) *string { return &c.Observed }),
	textField(PathLine, StockField{Name: "sds", Label: "place of the SDS"}, func(c *Container) *string { return &c.SDS }),
	textField(date, StockField{Name: "sds-revised", Label: "revision date of the SDS"}, func(c *Container) *Date { return &c.SDSRevised }),
	textField(date, StockField{Name: "sds-looked-at", Label: "day the SDS was last read"}, func(c *Container) *Date { return &c.SDSLooked }),
	textField(PathLine, StockField{Name: "place", Label: "place"}, func(c *Container) *string { return &c.Place }),
	textField(Note, StockField{Name: "note", Label: "note"}, func(c *Container) *string { return &c.Note }),
}

func stockAmount(f StockField, at func(*Container) *float64) StockField {
	f.Parse = func(text string) (string, error) {
		mass, err := measure.ParseMass(text)
		x, unit := Tidy(float64(mass)), UnitGrams
		if volume, failed := measure.ParseVolume(text); err != nil && failed == nil {
			x, unit, err = Tidy(volume.Milliliters()), UnitML, nil
		}
		if err == nil {
			err = Within(f.Label, unit, x, 0, mostInContainer)
		}
		return AmountText(x, unit), atField(f.Name, err)
	}
	f.Get = func(c *Container) string { return AmountText(*at(c), c.Unit) }
	f.Set = func(c *Container, fixed string) error {
		number, ok := strings.CutSuffix(fixed, " "+c.Unit)
		x, err := strconv.ParseFloat(number, 64)
		if !ok || err != nil {
			return fault.Usagef("the %s cannot be %q", f.Label, measure.Clean(fixed)).Try("give it in %s, as the jar is counted", c.Unit)
		}
		*at(c) = x
		return Within(f.Label, c.Unit, x, 0, mostInContainer)
	}
	return f
}

func date(_, text string) (string, error) {
	d, err := ParseDate(text)
	return string(d), err
}

// Tidy rounds an amount to a millionth of a gram or millilitre, so that nothing left is nothing.
func Tidy(x float64) float64 { return math.Round(x*1e6) / 1e6 }

// Text returns the amount as "12.5 g".
func (u Use) Text() string { return AmountText(u.Amount, u.Unit) }
