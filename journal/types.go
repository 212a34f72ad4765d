package journal

import (
	"hepar/journal/internal/check"
	"hepar/journal/internal/exchange"
	"hepar/journal/internal/keep"
	"hepar/journal/internal/query"
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
	Container     = record.Container
	ContainerPlan = record.ContainerPlan

	// What the calls of Journal take and report; see packages query, exchange, check and keep.
	Filter         = query.Filter
	Group          = query.Group
	Mapping        = exchange.Mapping
	ImportOptions  = exchange.ImportOptions
	ImportReport   = exchange.ImportReport
	MergeReport    = exchange.MergeReport
	Conflict       = exchange.Conflict
	Finding        = check.Finding
	Report         = check.Report
	SalvageReport  = check.SalvageReport
	BackupReport   = keep.BackupReport
	BackupFile     = keep.BackupFile
	CompactReport  = keep.CompactReport
	RestoreOptions = keep.RestoreOptions
	RestoreReport  = keep.RestoreReport
)

// Words and figures of the rooms below.
const (
	Planned   = record.StatePlanned // the states of a batch, in the order of the work
	Reviewed  = record.StateReviewed
	Dipped    = record.StateDipped
	Logged    = record.StateLogged
	Withdrawn = record.StateWithdrawn

	UnitGrams = record.UnitGrams // the units of amounts in a container
	UnitML    = record.UnitML

	CSV       = exchange.CSV // the formats of Export and Import
	JSONLines = exchange.JSONLines
	Sheet     = exchange.Sheet

	SortOrder = query.SortOrder // the order of opening, newest first
	Format    = store.Format    // the number of the format of a journal file
)

// ErrNone means that there is no file at the path of the journal.
var ErrNone = store.ErrNone

// Functions of the rooms below; see there.
var (
	StampOf     = record.StampOf
	ParseDate   = record.ParseDate
	States      = record.States
	Fields      = record.Fields      // what a person may say about a batch and amend
	StockFields = record.StockFields // what ChangeContainer takes
	Named       = record.Named
	Names       = record.Names
	Sorts       = query.Sorts // the orders that List knows
	Pers        = query.Pers  // the words that Sum knows
	ReadMapping = exchange.ReadMapping
	DropCopies  = store.DropCopies
)
