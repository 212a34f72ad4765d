package journal

import (
	"time"
)

// DipView is the dipping of a batch in a View.
type DipView struct {
	By      string     `json:"by"`
	Started string     `json:"started"`
	Loads   []LoadView `json:"loads"` // never null
}

// LoadView is a load in a DipView.
type LoadView struct {
	Number       int      `json:"number"`
	Pieces       int      `json:"pieces"`
	TemperatureC *float64 `json:"temperature_c"`
	TimeS        *float64 `json:"time_s"`
	Note         string   `json:"note"`
}

// SignOffView is the word of a second person in a View.
type SignOffView struct {
	By           string `json:"by"`
	At           string `json:"at"`
	Note         string `json:"note"`
	AmendedSince bool   `json:"amended_since"`
}

// PhotoView is a photo in a View.
type PhotoView struct {
	Path   string  `json:"path"`
	SHA256 string  `json:"sha256"`
	Bytes  int64   `json:"bytes"`
	Taken  *string `json:"taken"` // null where it is not known
	By     string  `json:"by"`
	Note   string  `json:"note"`
}

// WasteView is a waste in a View.
type WasteView struct {
	VolumeL   float64         `json:"volume_l"`
	Container string          `json:"container"`
	Contents  []WastePartView `json:"contents"` // never null
	Went      string          `json:"went"`
	By        string          `json:"by"`
	At        string          `json:"at"`
}

// WastePartView is one thing in a WasteView.
type WastePartView struct {
	What               string  `json:"what"`
	MilligramsPerLiter float64 `json:"mg_per_l"`
	Source             string  `json:"source"`
}

// LotView is what a batch took from a container, in a View.
type LotView struct {
	Container   string   `json:"container"` // number
	ContainerID string   `json:"container_id"`
	Substance   string   `json:"substance"`
	Lot         string   `json:"lot"`
	Grams       *float64 `json:"grams"` // null, or ml is
	ML          *float64 `json:"ml"`
}

// ContainerView is a container as machines read it: one object, stable names,
// only ever added to.
type ContainerView struct {
	Number     string      `json:"number"`
	ID         string      `json:"id"`
	Substance  string      `json:"substance"`
	Form       string      `json:"form"`
	Lot        string      `json:"lot"`
	Supplier   string      `json:"supplier"`
	Received   string      `json:"received"` // dates as 2026-03-09; empty where there is none
	Opened     string      `json:"opened"`
	Expires    string      `json:"expires"`
	AmountG    *float64    `json:"amount_g"` // null, as left_g, or amount_ml and left_ml are
	LeftG      *float64    `json:"left_g"`
	AmountML   *float64    `json:"amount_ml"`
	LeftML     *float64    `json:"left_ml"`
	Observed   string      `json:"observed"`
	ObservedAt *string     `json:"observed_at"`
	SDS        SDSView     `json:"sds"`
	Place      string      `json:"place"`
	Note       string      `json:"note"`
	By         string      `json:"by"`
	Added      string      `json:"added"`
	Emptied    *string     `json:"emptied"` // null while it is in use
	Events     []EventView `json:"events,omitempty"`
}

// SDSView is where the safety data sheet of a container is.
type SDSView struct {
	Place    string `json:"place"`
	Revised  string `json:"revised"`
	LookedAt string `json:"looked_at"`
}

// orNull gives nil for the zero value of what has none.
func orNull[T comparable](x T) *T {
	var zero T
	if x == zero {
		return nil
	}
	return &x
}

func timeOrNull(t time.Time) *string {
	if t.IsZero() {
		return nil
	}
	text := timeText(t)
	return &text
}

func (e Event) view() EventView {
	return EventView{
		ID: e.ID, Kind: e.Kind, At: timeText(e.At), Written: timeText(e.Written), By: e.By,
		Reason: e.Reason, Field: e.Field, Old: e.Old, New: e.New, Container: e.Container, Batch: e.Batch, Amount: e.Amount, Loads: e.Loads, Uses: e.Uses,
		Result: e.Result.view(), Review: e.Review.view(), Note: e.Note,
	}
}

// viewMore fills in what happened around a result.
func (b Batch) viewMore(v *View) {
	v.WithoutReview = orNull(b.WithoutReview)
	v.Photos, v.Waste, v.Lots = []PhotoView{}, []WasteView{}, []LotView{}
	if d := b.Dip; d != nil {
		v.Dip = &DipView{By: d.By, Started: timeText(d.Started), Loads: []LoadView{}}
		for _, l := range d.Loads {
			load := LoadView{Number: l.Number, Pieces: l.Pieces, Note: l.Note}
			if l.Temperature != nil {
				c := float64(*l.Temperature)
				load.TemperatureC = &c
			}
			if l.Time != nil {
				s := float64(*l.Time)
				load.TimeS = &s
			}
			v.Dip.Loads = append(v.Dip.Loads, load)
		}
	}
	if s := b.SignedOff; s != nil {
		v.SignedOff = &SignOffView{By: s.By, At: timeText(s.At), Note: s.Note, AmendedSince: s.AmendedSince}
	}
	for _, p := range b.Photos {
		v.Photos = append(v.Photos, PhotoView{Path: p.Path, SHA256: p.SHA256, Bytes: p.Bytes, Taken: timeOrNull(p.Taken), By: p.By, Note: p.Note})
	}
	for _, w := range b.Waste {
		v.Waste = append(v.Waste, w.View())
	}
	for _, u := range b.Lots {
		v.Lots = append(v.Lots, LotView{
			Container: u.Container, ContainerID: u.ContainerID, Substance: u.Substance, Lot: u.Lot,
			Grams: orNull(float64(u.Grams)), ML: orNull(u.ML),
		})
	}
}

// View gives the waste as machines read it.
func (w Waste) View() WasteView {
	v := WasteView{VolumeL: w.VolumeL, Container: w.Container, Went: w.Went, By: w.By, At: timeText(w.At), Contents: []WastePartView{}}
	for _, p := range w.Contents {
		v.Contents = append(v.Contents, WastePartView(p))
	}
	return v
}

// View gives the container as machines read it.
func (c Container) View() ContainerView {
	v := ContainerView{
		Number: c.Number, ID: c.ID, Substance: c.Substance, Form: c.Form, Lot: c.Lot, Supplier: c.Supplier,
		Received: string(c.Received), Opened: string(c.Opened), Expires: string(c.Expires),
		Observed: c.Observed, ObservedAt: timeOrNull(c.ObservedAt), Place: c.Place, Note: c.Note, By: c.By,
		SDS:   SDSView{Place: c.SDS.Place, Revised: string(c.SDS.Revised), LookedAt: string(c.SDS.LookedAt)},
		Added: timeText(c.Added), Emptied: timeOrNull(c.Emptied),
	}
	if c.AmountML != 0 {
		v.AmountML, v.LeftML = &c.AmountML, &c.LeftML
	} else {
		amount, left := float64(c.AmountG), float64(c.LeftG)
		v.AmountG, v.LeftG = &amount, &left
	}
	for _, e := range c.Events {
		v.Events = append(v.Events, e.view())
	}
	return v
}
