package plan

import (
	"encoding/json"

	"hepar/recipe/measure"
)

// leastLadledL is the least water that is worth ladling out, in L: a teaspoon.
const leastLadledL = 0.005

// Note says an event in a sentence. It is made when somebody wants to read it: a
// run may have a hundred thousand.
func (e Event) Note() measure.Note {
	from, to := measure.Celsius(e.FromC), measure.Celsius(e.ToC)
	switch e.Kind {
	case Reheat:
		return measure.Say("reheat to ", to, "; the bath is down to ", from)
	case FreshBath:
		return measure.Say("mix a fresh bath: ", measure.Liters(e.WaterL), " at ", to, e.with(), "; the old one is down to "+figure(e.Strength*100, 0)+
			" % and goes to the waste for this bath")
	case TopUp:
		first := measure.Say("top up with ")
		if e.WasteL > leastLadledL {
			first = measure.Say("ladle out ", measure.Liters(e.WasteL), ", then top up with ")
		}
		return measure.Say(first, measure.Liters(e.WaterL), " of water at ", measure.Celsius(e.WaterC), "; the bath is down to ", from)
	case ChangeRinse:
		return measure.Say("empty ", e.Tubs, " of the rinse tubs into the waste for this bath, move the others up and fill in ", measure.Liters(e.WaterL), " of clean water")
	}
	return measure.Say(e.Kind)
}

// with lists the reagents of a fresh bath.
func (e Event) with() measure.Note {
	var parts []any
	for i, d := range e.Doses {
		switch {
		case i == 0:
			parts = append(parts, " with ")
		case i == len(e.Doses)-1:
			parts = append(parts, " and ")
		default:
			parts = append(parts, ", ")
		}
		parts = append(parts, measure.Figure{Value: d.Amount, Unit: d.Unit}, " of "+d.Name)
	}
	return measure.Say(parts...)
}

// MarshalJSON writes the sentence along, as "text" in metric units.
func (e Event) MarshalJSON() ([]byte, error) {
	type plain Event
	return json.Marshal(struct {
		plain
		Text string `json:"text"`
	}{plain(e), e.Note().Text})
}
