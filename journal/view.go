package journal

import (
	"encoding/json"
	"maps"
	"time"
)

// View is a batch as machines read it: one object, stable names, only ever
// added to. It is the same in 'journal show --json', 'journal list --json' and
// an export to JSON Lines. Times carry the offset of the bench.
type View struct {
	Number         string          `json:"number"`
	ID             string          `json:"id"`
	State          string          `json:"state"`
	Created        string          `json:"created"`
	Recipe         string          `json:"recipe"` // slug
	RecipeTitle    string          `json:"recipe_title"`
	RecipeKind     string          `json:"recipe_kind"`
	RecipeRevision int             `json:"recipe_revision"`
	RecipeDigest   string          `json:"recipe_digest"`
	Alloy          string          `json:"alloy"`
	Shape          string          `json:"shape"`
	Pieces         int             `json:"pieces"`
	Spares         int             `json:"spares"`
	By             string          `json:"by"`
	Order          string          `json:"order"`  // free text of the plan
	Logged         *string         `json:"logged"` // null, as all that follow, where there is no result
	Good           *int            `json:"good"`
	Rework         *int            `json:"rework"`
	Reject         *int            `json:"reject"`
	Missing        *int            `json:"missing"`
	Causes         map[string]int  `json:"causes"` // never null
	TemperatureC   *float64        `json:"temperature_c"`
	TimeS          *float64        `json:"time_s"`
	Shade          *string         `json:"shade"`
	Note           *string         `json:"note"`
	Review         *ReviewView     `json:"review"`
	Dip            *DipView        `json:"dip"`
	WithoutReview  *string         `json:"without_review"` // the reason
	SignedOff      *SignOffView    `json:"signed_off"`
	Photos         []PhotoView     `json:"photos"` // never null, as the two that follow
	Waste          []WasteView     `json:"waste"`
	Lots           []LotView       `json:"lots"`
	Events         []EventView     `json:"events"`                // never null
	RecipeText     string          `json:"recipe_text,omitempty"` // where it was read; see Filter.Frozen
	Sheet          json.RawMessage `json:"sheet,omitempty"`       // likewise
}

// ReviewView is a review in a View.
type ReviewView struct {
	By     string   `json:"by"`
	At     string   `json:"at"`
	Digest string   `json:"digest"`
	Points []string `json:"points"`
}

// EventView is an event in a View.
type EventView struct {
	ID      string `json:"id"`
	Kind    string `json:"kind"`
	At      string `json:"at"`
	Written string `json:"written"`
	By      string `json:"by"`
	Reason  string `json:"reason,omitempty"`
	Field   string `json:"field,omitempty"`
	Old     string `json:"old,omitempty"`
	New     string `json:"new,omitempty"`

	Container string `json:"container,omitempty"` // of an amendment that comes from a container
	Batch     string `json:"batch,omitempty"`     // of the use of a container
	Amount    string `json:"amount,omitempty"`    // likewise
	Loads     int    `json:"loads,omitempty"`     // of a dip: how many loads it added
	Uses      int    `json:"uses,omitempty"`      // how many uses of containers it added

	Result *ResultView `json:"result,omitempty"` // of what was logged before the last time
	Review *ReviewView `json:"review,omitempty"` // of a review before the last
	Note   string      `json:"note,omitempty"`   // of a sign-off before the last
}

// ResultView is a result in an EventView.
type ResultView struct {
	Good         int            `json:"good"`
	Rework       int            `json:"rework"`
	Reject       int            `json:"reject"`
	Causes       map[string]int `json:"causes"` // never null
	TemperatureC *float64       `json:"temperature_c"`
	TimeS        *float64       `json:"time_s"`
	Shade        string         `json:"shade"`
	Note         string         `json:"note"`
}

func (r *Result) view() *ResultView {
	if r == nil {
		return nil
	}
	v := &ResultView{Good: r.Good, Rework: r.Rework, Reject: r.Reject, Causes: map[string]int{}, Shade: r.Shade, Note: r.Note}
	maps.Copy(v.Causes, r.Causes)
	if r.Temperature != nil {
		c := float64(*r.Temperature)
		v.TemperatureC = &c
	}
	if r.Time != nil {
		s := float64(*r.Time)
		v.TimeS = &s
	}
	return v
}

func (a *Acknowledgement) view() *ReviewView {
	if a == nil {
		return nil
	}
	return &ReviewView{By: a.By, At: timeText(a.At), Digest: a.Digest, Points: append([]string{}, a.Points...)}
}

// timeText is how a time is written for machines: RFC 3339, with as much of a
// second as there is.
func timeText(t time.Time) string { return t.Format(time.RFC3339Nano) }

// View gives the batch as machines read it.
func (b Batch) View() View {
	v := View{
		Number: b.Number, ID: b.ID, State: string(b.State), Created: timeText(b.Created),
		Recipe: b.Recipe.Slug, RecipeTitle: b.Recipe.Title, RecipeKind: b.Recipe.Kind,
		RecipeRevision: b.Recipe.Revision, RecipeDigest: b.Recipe.Digest, RecipeText: b.Recipe.Text,
		Alloy: b.Alloy, Shape: b.Shape, Pieces: b.Pieces, Spares: b.Spares, By: b.By, Order: b.Note,
		Causes: map[string]int{}, Events: make([]EventView, 0, len(b.Events)), Sheet: b.Sheet,
	}
	if r := b.Result; r != nil {
		logged, missing := timeText(b.Logged), b.Missing()
		v.Logged, v.Good, v.Rework, v.Reject, v.Missing = &logged, &r.Good, &r.Rework, &r.Reject, &missing
		v.Shade, v.Note = &r.Shade, &r.Note
		maps.Copy(v.Causes, r.Causes)
		if r.Temperature != nil {
			c := float64(*r.Temperature)
			v.TemperatureC = &c
		}
		if r.Time != nil {
			s := float64(*r.Time)
			v.TimeS = &s
		}
	}
	v.Review = b.Review.view()
	b.viewMore(&v)
	for _, e := range b.Events {
		v.Events = append(v.Events, e.view())
	}
	return v
}
