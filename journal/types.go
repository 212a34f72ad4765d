package journal

import (
	"time"

	"hepar/recipe/measure"
)

// State is how far a batch has come.
type State string

// The states of a batch, in the order of the work.
const (
	Planned   State = "planned"
	Reviewed  State = "reviewed"
	Dipped    State = "dipped"
	Logged    State = "logged"
	Withdrawn State = "withdrawn"
)

// Kinds of event.
const (
	Created        = "created"
	ReviewedEvent  = "reviewed"
	DippedEvent    = "dipped"
	LoggedEvent    = "logged"
	Amended        = "amended"
	WithdrawnEvent = "withdrawn"

	UsedEvent      = "used" // of a container, beyond what was said when dipping
	SignedOffEvent = "signed-off"
	PhotoEvent     = "photo-added"
	WasteEvent     = "waste-added"

	StockAdded   = "stock-added" // these four are of a container and not of a batch
	StockChanged = "stock-changed"
	StockUsed    = "stock-used"
	StockEmptied = "stock-emptied"

	// What a salvage adds; see Salvage.
	Salvaged        = "salvaged"         // a batch put into the state that it had, where events of it are lost
	StockSalvaged   = "stock-salvaged"   // the same of a container
	JournalSalvaged = "journal-salvaged" // closes a salvage; of no batch and no container

	TakenOver = "taken over" // events before it came from elsewhere; it belongs to no batch
	Upgraded  = "upgraded"   // all before it was written in an older format; it belongs to no batch
)

// RecipeRef is the frozen recipe of a batch.
type RecipeRef struct {
	Slug     string
	Title    string
	Kind     string
	Revision int
	Digest   string // "sha256:..."
	Text     string // the file as it was; empty where a result was logged without a sheet
}

// Result is how a batch turned out. The counts are of pieces.
type Result struct {
	Good, Rework, Reject int
	Causes               map[string]int // of rework and reject, by name
	Temperature          *measure.Celsius
	Time                 *measure.Seconds // the actual time of a piece in the bath
	Shade                string
	Note                 string
}

// Acknowledgement is a review that somebody has read and taken on.
type Acknowledgement struct {
	By     string
	At     time.Time
	Digest string   // of the recipe reviewed
	Points []string // the codes acknowledged
}

// Event is one change. Events are only ever added.
type Event struct {
	ID     string // ULID, sorts by time
	Kind   string
	At     time.Time // when it happened, in the local offset of the bench
	By     string
	Reason string // of an amendment or a withdrawal, or of going on without a review
	Field  string // of an amendment
	Old    string // of an amendment: the value before
	New    string // of an amendment: the value after

	Written time.Time // when it was put into the journal, by its clock

	Container string // of an amendment that comes from a container: its number
	Batch     string // of the use of a container: the number of the batch it was for
	Amount    string // of the use of a container: "12.5 g"
	Loads     int    // of a dip: how many loads it added
	Uses      int    // of a batch: how many uses of containers it added

	// What an event said that a later one of its kind took the place of. What the
	// last one said is in the batch itself.
	Result *Result
	Review *Acknowledgement
	Note   string // of a sign-off
}

// Batch is one batch as it stands after all its events.
type Batch struct {
	ID      string // ULID
	Number  string // "2026-014"
	State   State
	Created time.Time
	Recipe  RecipeRef
	Alloy   string
	Shape   string
	Pieces  int // wanted, without spares
	Spares  int
	Sheet   []byte // the frozen sheet as JSON; nil where a result was logged without one
	Review  *Acknowledgement
	Result  *Result
	By      string
	Note    string // free text of the plan: customer, order
	Events  []Event

	Logged time.Time // when the result was had; zero where there is none

	Dip           *DipRecord // nil where nobody recorded one
	WithoutReview string     // the reason where it was dipped or logged without a review that holds
	SignedOff     *SignOff
	Photos        []Photo
	Waste         []Waste
	Lots          []Use // what it took from which container
}
