package record

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
)

// State is how far a batch has come. It only goes on and never back.
type State string

// The states of a batch, in the order of the work.
const (
	StatePlanned   State = "planned"
	StateReviewed  State = "reviewed"
	StateDipped    State = "dipped"
	StateLogged    State = "logged"
	StateWithdrawn State = "withdrawn"
)

// States returns the states of a batch, in the order of the work.
func States() []State {
	return []State{StatePlanned, StateReviewed, StateDipped, StateLogged, StateWithdrawn}
}

// Batch is one batch as its events make it. Its JSON is what show, list and export print: keys are only added.
type Batch struct {
	ID    ID    `json:"id"`
	State State `json:"state"`
	Plan
	*Result
	Review        *Review         `json:"review"`
	Dip           *Dip            `json:"dip"`                      // the loads that came out of the bath
	Bench         []run.Entry     `json:"-"`                        // what was done at the bench, as it was written down
	WithoutReview string          `json:"without_review,omitempty"` // the reason why it was dipped or logged without a valid review
	SignOff       *SignOff        `json:"signed_off"`
	Photos        []PhotoRef      `json:"photos"`
	Waste         []WasteEntry    `json:"waste"`
	Uses          []Use           `json:"lots"`
	Sheet         json.RawMessage `json:"sheet,omitempty"` // the frozen sheet, where it was read
	History
	Missing *int `json:"missing"` // pieces started and not counted; nil without a result
}

// Thing is what the events of one list make: a *Batch or a *Container.
type Thing interface {
	Short() string  // its number; empty if the event that gives it is missing
	Past() *History // its events, and what does not fit among them
	Keys() []Key    // every key of the index under which it is found
	Fits() error    // why this program would not have made it
	apply(*Event)
}

// ReplayAs returns the batch or, with stock, the container that the events make, always: what does not fit
// stands in Faults, and what this build does not know in Newer.
func ReplayAs(id ID, events []*Event, stock bool) Thing {
	if stock {
		c := &Container{ID: id}
		c.replay(id, events, c, "added")
		return c
	}
	b := &Batch{ID: id, State: StatePlanned, Photos: []PhotoRef{}, Waste: []WasteEntry{}, Uses: []Use{}} // null would say "not known"
	b.replay(id, events, b, "planned")
	b.Dip = benchLoads(b.Bench)
	if b.Result != nil {
		n := b.Made() - b.Counted()
		b.Missing = &n
	}
	return b
}

// Short returns the number of the batch.
func (p *Plan) Short() string { return p.Number }

func (d *Dip) loads() []Load {
	if d == nil {
		return nil
	}
	return d.Loads
}

// Past returns the history itself.
func (h *History) Past() *History { return h }

// History is the events of a batch or a container, and what became of them.
type History struct {
	Events []*Event `json:"events"`
	Faults []string `json:"faults,omitempty"` // what does not fit: an event is missing
	Newer  []string `json:"newer,omitempty"`  // what a newer build wrote and this one does not understand
}

// replay puts the events of one batch or container in the order of their ids, on which two benches agree, and applies them.
func (h *History) replay(of ID, events []*Event, made Thing, begun string) {
	slices.SortFunc(events, func(a, b *Event) int { return a.ID.Compare(b.ID) })
	h.Events = events
	for i, e := range events {
		err := fault.Caught(func() {
			that(e.Of == of, "its event %s belongs to another batch or jar", e.ID)
			that(i == 0 || e.ID != events[i-1].ID, "its event %s is there twice", e.ID)
			that(e.whole(), "its event %s (%s) is incomplete", e.ID, e.Kind)
			made.apply(e)
		})
		if err != nil {
			h.Faults = append(h.Faults, err.Error())
		}
		for key, value := range e.Unknown {
			h.newer("%s of the event %s: %s", key, e.Kind, value)
		}
	}
	slices.Sort(h.Newer)
	if made.Short() == "" {
		h.Faults = append(h.Faults, "the event that "+begun+" it is missing")
	}
}

// correct sets a field to what an event says, if this build knows it.
func (h *History) correct(made Thing, f Field, e *Event) {
	if f.Name == "" {
		h.newer("the field %q, changed to %q", e.Field, e.New)
		return
	}
	err := f.Set(made, e.New)
	that(err == nil, "its event %s: %v", e.ID, err)
}

func (h *History) newer(format string, args ...any) {
	h.Newer = append(h.Newer, fmt.Sprintf(format, args...))
}

// People returns everyone named in an event, in the order they came, once in whatever case.
func (b *Batch) People() []string {
	var names []string
	for _, e := range b.Events {
		if e.By != "" && !slices.ContainsFunc(names, func(had string) bool { return Fold(had) == Fold(e.By) }) {
			names = append(names, e.By)
		}
	}
	return names
}

// Latest returns the last event. A batch that was read has one.
func (b *Batch) Latest() *Event { return b.Events[len(b.Events)-1] }

// apply changes the batch by one event, as nothing else does. It must treat an old event alike for ever.
func (b *Batch) apply(e *Event) {
	switch e.Kind {
	case Created:
		that(b.Number == "", "it is planned twice")
		b.Plan = *e.Plan
	case Reviewed:
		if b.Review = e.Review; len(b.Review.Stops) == 0 {
			b.reach(StateReviewed)
		} else if b.State == StateReviewed {
			b.State = StatePlanned // a stop found later takes the review back
		}
	case Bench:
		entry := *e.Bench
		entry.At, entry.By = e.At.Time(), e.By
		b.Bench = append(slices.Clip(b.Bench), entry)
		if entry.Do == run.Out {
			b.reach(StateDipped)
		}
		b.Uses = slices.Concat(b.Uses, e.Uses)
		b.WithoutReview = cmp.Or(e.Reason, b.WithoutReview)
	case Used:
		b.Uses = append(slices.Clip(b.Uses), e.Uses...)
	case Logged:
		b.reach(StateLogged)
		result := *e.Result // which is never changed in place
		b.Result = &result
		b.WithoutReview = cmp.Or(e.Reason, b.WithoutReview)
	case Amended:
		if b.SignOff != nil {
			b.SignOff.AmendedSince = true
		}
		b.amend(e)
	case Withdrawn:
		b.State = StateWithdrawn
	case SignedOff:
		b.SignOff = &SignOff{By: e.By, At: e.At, Note: e.Note}
	case PhotoAdded:
		b.Photos = append(slices.Clip(b.Photos), *e.Photo)
	case WasteAdded:
		if e.Waste.Instead {
			b.Waste = slices.DeleteFunc(slices.Clone(b.Waste), func(w WasteEntry) bool { return w.In(e.Waste.Container) })
		}
		if e.Waste.Liters > 0 {
			b.Waste = append(slices.Clip(b.Waste), *e.Waste)
		}
	default:
		b.newer("an event of the kind %q", e.Kind)
	}
}

// benchLoads returns the loads that came out, or nil. One that went in more than once has the times together. The first
// after a reading has its temperature.
func benchLoads(entries []run.Entry) *Dip {
	var loads []Load
	at := map[int]int{}
	var read *measure.Celsius
	for _, e := range run.Replay(entries).Entries {
		i, there := at[e.Load]
		switch e.Do {
		case run.Read:
			read = e.Temperature
		case run.Acted, run.Mixed:
			read = nil
		case run.Judged:
			if there {
				loads[i].Causes[e.Note] += e.Pieces
			}
		case run.Out:
			l := Load{Number: e.Load, Pieces: e.Pieces, Temperature: cmp.Or(e.Temperature, read), Time: e.Time, Note: e.Note, Causes: map[string]int{}}
			read = nil
			if !there {
				at[e.Load] = len(loads)
				loads = append(loads, l)
				continue
			}
			l.Note = strings.TrimPrefix(l.Note+"; in more than once", "; ")
			if before := loads[i]; before.Time != nil && l.Time != nil {
				sum := *before.Time + *l.Time
				l.Time = &sum
			}
			loads[i] = l
		}
	}
	if loads == nil {
		return nil
	}
	return &Dip{By: entries[0].By, Started: StampOf(entries[0].At), Loads: loads}
}

// reach brings the state forward, in whatever order the events of two benches come.
func (b *Batch) reach(next State) {
	if slices.Index(States(), next) > slices.Index(States(), b.State) {
		b.State = next
	}
}

// amend corrects a field, or what a container that was used is said to have held.
func (b *Batch) amend(e *Event) {
	if !e.For.IsZero() {
		b.Uses = slices.Clone(b.Uses)
		for i := range b.Uses {
			switch u := &b.Uses[i]; {
			case u.Container != e.For:
			case e.Field == "lot":
				u.Lot = e.New
			case e.Field == "substance":
				u.Substance = e.New
			}
		}
		return
	}
	f, ok := Named(Fields(), e.Field)
	that(!ok || !f.OfResult || b.Result != nil, "its event %s amends a result that is missing", e.ID)
	b.correct(b, f, e)
}

// Fold returns a name as it is compared and indexed: in lower case.
func Fold(name string) string { return strings.ToLower(strings.TrimSpace(name)) }

// FoldContainer returns the name of a waste container as it is compared and indexed: its letters and
// digits in lower case, numbers without zeros before them, so that "w 01" on a label is W-1.
func FoldContainer(name string) string {
	inNumber := false
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			inNumber = false
			return unicode.ToLower(r)
		}
		if inNumber = unicode.IsDigit(r) && (inNumber || r != '0'); inNumber {
			return r
		}
		return -1
	}, name)
}

// In says whether the waste went into a container.
func (w WasteEntry) In(container string) bool {
	return FoldContainer(w.Container) == FoldContainer(container)
}

// Tag says what a key of the index is about.
type Tag byte

// The tags of the index.
const (
	ByRecipe    Tag = 'r'
	ByAlloy     Tag = 'a'
	ByState     Tag = 's'
	ByResult    Tag = 'o'
	ByCause     Tag = 'c'
	ByPerson    Tag = 'p'
	ByLot       Tag = 'l'
	ByWaste     Tag = 'w'
	ByContainer Tag = 'u' // id of a container that it used
	ByNumber    Tag = '#'
	ofAll       Tag = '*'
)

// Key is one key of the index: a batch is found under this value.
type Key struct {
	Tag   Tag
	Value string
}

// The keys under which every batch and every container is found.
var (
	AllBatches    = Key{ofAll, "batches"}
	AllContainers = Key{ofAll, "containers"}
)

// The words for how a result turned out.
const (
	ResultGood   = "good"   // nothing to rework, nothing rejected
	ResultRework = "rework" // at least one to rework
	ResultReject = "reject" // at least one rejected
)

// Keys returns the keys under which the batch is found. What nearly every batch is (logged, good) has none.
func (b *Batch) Keys() []Key {
	var keys []Key
	add := func(tag Tag, value string) {
		if k := (Key{tag, value}); value != "" && !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	add(ofAll, AllBatches.Value)
	add(ByNumber, b.Number)
	add(ByRecipe, b.Recipe.Slug)
	add(ByAlloy, b.Alloy)
	if b.State != StateLogged {
		add(ByState, string(b.State))
	}
	if r := b.Result; r != nil && b.State == StateLogged {
		if r.Rework > 0 {
			add(ByResult, ResultRework)
		}
		if r.Reject > 0 {
			add(ByResult, ResultReject)
		}
		for cause := range r.Causes {
			add(ByCause, cause)
		}
	}
	for _, name := range b.People() {
		add(ByPerson, Fold(name))
	}
	for _, u := range b.Uses {
		add(ByLot, Fold(u.Lot))
		add(ByContainer, u.Container.String())
	}
	for _, w := range b.Waste {
		add(ByWaste, FoldContainer(w.Container))
	}
	return keys
}

// Slack is by how much a time may lie ahead of the clock: people give times to the minute.
const Slack = time.Minute

// Ready returns nil if the batch has a valid safety review for work of a person at a time, or a fault of
// kind Safety. A review belongs to one batch, its recipe and its people, and to the local day on which it
// was made: after that the bath, the room and the people may have changed (a choice of ours; common
// practice, no published source). A stop found later takes it back. An empty name is not looked at.
func (b *Batch) Ready(at time.Time, by string) error {
	what := ""
	switch r, people := b.Review, b.Review.People(); {
	case r == nil:
		what = "has no safety review"
	case len(r.Stops) > 0:
		what = "was reviewed last at " + r.At.Minute() + ", and the review found a stop (" + strings.Join(r.Stops, ", ") + ")"
	case r.Digest != b.Recipe.Digest:
		what = "was reviewed for another recipe than the one frozen with it"
	case at.Sub(r.At.Time()) < -Slack:
		what = "was reviewed at " + r.At.Minute() + ", which is after the time of the work"
	case at.In(r.At.Time().Location()).Format(time.DateOnly) != r.At.Day():
		what = "was reviewed on " + r.At.Day() + "; a review is valid until midnight"
	case by != "" && len(people) > 0 && !slices.ContainsFunc(people, func(name string) bool { return Fold(name) == Fold(by) }):
		what = "was reviewed by " + strings.Join(people, " and ") + ", not by " + by
	case len(b.Newer) > 0:
		what = "was written to by a newer hepar, and may hold more than this one can read"
	default:
		return nil
	}
	return fault.Safetyf("batch %s %s", b.Number, what).Try("go through its points first: hepar review %s", b.Number)
}

// People returns who took part in the review, if there is one: who confirmed it, and the second person.
func (r *Review) People() []string {
	if r == nil {
		return nil
	}
	return slices.DeleteFunc([]string{r.By, r.Answers["second"]}, func(name string) bool { return name == "" })
}
