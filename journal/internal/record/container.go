package record

import "math"

// ContainerPlan is a jar, bottle or bag on the shelf. Its amounts are in grams or in millilitres: see Unit.
type ContainerPlan struct {
	Number     string  `cbor:"1,keyasint" json:"number"`                            // "S-012"
	Substance  string  `cbor:"2,keyasint" json:"substance" as:"oxalic-acid" why:""` // id of package reagent, or words
	Form       string  `cbor:"3,keyasint,omitempty" json:"form" as:"lump" why:""`
	Lot        string  `cbor:"4,keyasint,omitempty" json:"lot" as:"K2291" why:""`
	Supplier   string  `cbor:"5,keyasint,omitempty" json:"supplier" as:"Fernholm" why:""`
	Received   Date    `cbor:"6,keyasint,omitempty" json:"received" is:"day received" as:"2026-03-02" why:""`
	Opened     Date    `cbor:"7,keyasint,omitempty" json:"opened" is:"day opened" as:"2026-03-02"`
	Expires    Date    `cbor:"8,keyasint,omitempty" json:"expires" is:"day it expires" as:"2027-03"`
	Unit       string  `cbor:"9,keyasint" json:"unit"`                                                           // UnitGrams or UnitML
	Amount     float64 `cbor:"10,keyasint" json:"amount" is:"amount received" as:"500 g" in:"0 10000000" why:""` // the most is ten tonnes, a choice of ours
	Left       float64 `cbor:"11,keyasint" json:"left" is:"amount left" as:"480 g" in:"0 10000000" why:""`
	Observed   string  `cbor:"12,keyasint,omitempty" json:"observed" is:"look of the content" as:"white, spent"`
	SDS        string  `cbor:"13,keyasint,omitempty" json:"sds" is:"place of the SDS" as:"sds/oxalic.pdf" long:"path"` // a path, or words
	SDSRevised Date    `cbor:"14,keyasint,omitempty" json:"sds_revised" is:"revision date of the SDS" as:"2025"`
	SDSLooked  Date    `cbor:"15,keyasint,omitempty" json:"sds_looked_at" is:"day the SDS was last read" as:"2026-03-02"`
	Place      string  `cbor:"16,keyasint,omitempty" json:"place" as:"acid cupboard" long:"path"`
	Note       string  `cbor:"17,keyasint,omitempty" json:"note" as:"for copper only" long:"note"`
}

// Container is one container as its events make it.
type Container struct {
	ID ID `json:"id"`
	ContainerPlan
	By         string `json:"by"`
	Added      Stamp  `json:"added"`
	ObservedAt Stamp  `json:"observed_at,omitzero"`
	Emptied    Stamp  `json:"emptied,omitzero"` // empty while it is in use
	History
}

// Short returns the number of the container.
func (p *ContainerPlan) Short() string { return p.Number }

// Keys returns the keys under which the container is found.
func (c *Container) Keys() []Key { return []Key{AllContainers, {ByNumber, c.Number}} }

// Empty says whether the container is marked as empty.
func (c *Container) Empty() bool { return c.Emptied != "" }

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
		f, _ := Named(StockFields(), e.Field)
		c.correct(c, f, e)
		switch e.Field {
		case "observed":
			c.ObservedAt = e.At
		case "left":
			c.Emptied = ""
		}
	case StockEmptied:
		c.Left, c.Emptied = 0, e.At
	default:
		c.newer("an event of the kind %q", e.Kind)
	}
}

// Tidy rounds an amount to a millionth of a gram or millilitre, so that nothing left is nothing.
func Tidy(x float64) float64 { return math.Round(x*1e6) / 1e6 }

// Text returns the amount as "12.5 g".
func (u Use) Text() string { return AmountText(u.Amount, u.Unit) }
