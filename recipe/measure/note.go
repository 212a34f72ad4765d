package measure

import (
	"fmt"
	"strings"
)

// Note is a sentence with figures in it that can be printed in the units of its
// reader. Text has them in metric units. It is made by [Say], read by [Note.In],
// and goes through JSON without loss.
type Note struct {
	Text    string   `json:"text"`
	Figures []Figure `json:"figures,omitempty"` // in the order of the text
}

// Figure is one figure of a [Note]: Text[From:To], in bytes, is how it stands there.
type Figure struct {
	From  int     `json:"from"`
	To    int     `json:"to"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"` // one that [System.Of] takes
}

// figure is a quantity that a [Note] prints in the units of its reader.
type figure interface {
	figure() (x float64, unit string)
}

func (x Grams) figure() (float64, string)                 { return float64(x), "g" }
func (x Liters) figure() (float64, string)                { return float64(x), "L" }
func (x Millimeters) figure() (float64, string)           { return float64(x), "mm" }
func (x SquareCM) figure() (float64, string)              { return float64(x), "cm2" }
func (x Celsius) figure() (float64, string)               { return float64(x), "C" }
func (x Degrees) figure() (float64, string)               { return float64(x), "K" }
func (x GramsPerLiter) figure() (float64, string)         { return float64(x), "g/L" }
func (c Concentration) figure() (float64, string)         { return c.PerL, c.Unit() }
func (x SquareDMPerLiter) figure() (float64, string)      { return float64(x), "dm2/L" }
func (x MillilitersPerSquareM) figure() (float64, string) { return float64(x), "mL/m2" }

// Say makes a note of its parts, joined as they stand. Quantities of this package become
// figures, and so does a [Figure] with a value and a unit; a float64 is printed short, a
// time and all else as it is in both systems; notes are taken in with their figures.
func Say(parts ...any) Note {
	var n Note
	var text strings.Builder
	quantity := func(x float64, unit string) {
		f := Figure{From: text.Len(), Value: x, Unit: unit}
		text.WriteString(Metric.Of(x, unit))
		f.To = text.Len()
		n.Figures = append(n.Figures, f)
	}
	for _, part := range parts {
		switch v := part.(type) {
		case string:
			text.WriteString(v)
		case Note:
			for _, f := range v.Figures {
				f.From, f.To = f.From+text.Len(), f.To+text.Len()
				n.Figures = append(n.Figures, f)
			}
			text.WriteString(v.Text)
		case Figure: // one that was made by hand, of a value and a unit
			quantity(v.Value, v.Unit)
		case figure:
			quantity(v.figure())
		case Seconds:
			text.WriteString(Metric.Time(v))
		case float64:
			text.WriteString(sensible(v))
		default:
			fmt.Fprint(&text, v)
		}
	}
	n.Text = text.String()
	return n
}

// In returns the sentence with its figures in the units of a system. A note from a damaged
// file, whose figures do not belong to its text, is returned as its text stands.
func (n Note) In(s System) string {
	if s == Metric || len(n.Figures) == 0 {
		return n.Text
	}
	var b strings.Builder
	at := 0
	for _, f := range n.Figures {
		if f.From < at || f.To < f.From || f.To > len(n.Text) {
			return n.Text
		}
		b.WriteString(n.Text[at:f.From])
		b.WriteString(s.Of(f.Value, f.Unit))
		at = f.To
	}
	b.WriteString(n.Text[at:])
	return b.String()
}
