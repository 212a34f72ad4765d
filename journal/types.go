package journal

import (
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
)

// What the journal is made of; see package record for their fields.
type (
	ID            = record.ID
	Stamp         = record.Stamp
	Date          = record.Date
	State         = record.State
	Event         = record.Event
	Batch         = record.Batch
	Plan          = record.Plan
	Recipe        = record.Recipe
	Review        = record.Review
	Result        = record.Result
	Dip           = record.Dip
	Load          = record.Load
	SignOff       = record.SignOff
	Photo         = record.PhotoRef
	Waste         = record.WasteEntry
	WastePart     = record.WastePart
	Use           = record.Use
	Field         = record.Field
	StockField    = record.StockField
	Container     = record.Container
	ContainerPlan = record.ContainerPlan
)

// The states of a batch, in the order of the work.
const (
	Planned   = record.StatePlanned
	Reviewed  = record.StateReviewed
	Dipped    = record.StateDipped
	Logged    = record.StateLogged
	Withdrawn = record.StateWithdrawn
)

// The units of amounts in a container.
const (
	UnitGrams = record.UnitGrams
	UnitML    = record.UnitML
)

// Format is the number of the format of a journal file.
const Format = store.Format

// StampOf returns the stamp of a time.
var StampOf = record.StampOf

// ParseDate reads "2026-03-09", "2026-03" or "2026"; the empty text is no date.
var ParseDate = record.ParseDate

// States returns the states of a batch, in the order of the work.
func States() []State { return record.States() }

// Fields returns the table of what a person may say about a batch and amend.
func Fields() []Field { return record.Fields() }

// FieldNames returns the names that Amend takes.
func FieldNames() []string { return record.FieldNames() }

// FieldNamed returns the field of that name.
func FieldNamed(name string) (Field, bool) { return record.FieldNamed(name) }

// StockFieldNames returns the names that ChangeContainer takes.
func StockFieldNames() []string {
	var names []string
	for _, f := range record.StockFields() {
		names = append(names, f.Name)
	}
	return names
}
