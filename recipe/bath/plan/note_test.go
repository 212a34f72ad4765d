package plan

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"hepar/recipe/measure"
)

// What happens between the loads is said in the units of whoever reads it.
func TestEventsAreSaid(t *testing.T) {
	for _, c := range []struct {
		event      Event
		metric, us string
	}{
		{Event{Kind: Reheat, FromC: 70, ToC: 75}, "reheat to 75 C; the bath is down to 70 C", "reheat to 167 F; the bath is down to 158 F"},
		{Event{Kind: FreshBath, ToC: 75, WaterL: 1.892705892, Doses: []Dose{{Name: "liver of sulfur", Amount: 8.5, Unit: "g"}}, Strength: 0.91}, "mix a fresh bath: 1.89 L at 75 C with 8.5 g of liver of sulfur; the old one is down to 91 % and goes to the waste for this bath",
			"mix a fresh bath: 2 US qt at 167 F with 8.5 g (0.3 oz) of liver of sulfur; the old one is down to 91 % and goes to the waste for this bath"},
		{Event{Kind: FreshBath, ToC: 75, WaterL: 1, Doses: []Dose{{Name: "liver of sulfur", Amount: 33.8, Unit: "g"}, {Name: "washing soda", Amount: 4, Unit: "g"}, {Name: "ammonia", Amount: 20, Unit: "mL"}}, Strength: 0.9}, "mix a fresh bath: 1 L at 75 C with 33.8 g of liver of sulfur, 4 g of washing soda and 20 mL of ammonia; the old one is down to 90 % and goes to the waste for this bath",
			"mix a fresh bath: 1.06 US qt at 167 F with 33.8 g (1.19 oz) of liver of sulfur, 4 g (0.141 oz) of washing soda and 20 mL (0.676 US fl oz) of ammonia; the old one is down to 90 % and goes to the waste for this bath"},
		{Event{Kind: FreshBath, ToC: 75, WaterL: 1, Strength: 0.9}, "mix a fresh bath: 1 L at 75 C; the old one is down to 90 % and goes to the waste for this bath",
			"mix a fresh bath: 1.06 US qt at 167 F; the old one is down to 90 % and goes to the waste for this bath"},
		{Event{Kind: TopUp, FromC: 70, WaterL: 0.1, WaterC: 95}, "top up with 100 mL of water at 95 C; the bath is down to 70 C", "top up with 3.38 US fl oz of water at 203 F; the bath is down to 158 F"},
		{Event{Kind: TopUp, FromC: 70, WaterL: 0.1, WasteL: 0.05, WaterC: 95}, "ladle out 50 mL, then top up with 100 mL of water at 95 C; the bath is down to 70 C",
			"ladle out 1.69 US fl oz, then top up with 3.38 US fl oz of water at 203 F; the bath is down to 158 F"},
		{Event{Kind: ChangeRinse, Tubs: 1, WaterL: 1}, "empty 1 of the rinse tubs into the waste for this bath, move the others up and fill in 1 L of clean water",
			"empty 1 of the rinse tubs into the waste for this bath, move the others up and fill in 1.06 US qt of clean water"},
		{Event{Kind: "something else"}, "something else", "something else"},
	} {
		if got := c.event.Note().In(measure.Metric); got != c.metric {
			t.Errorf("%s:\n got %s\nwant %s", c.event.Kind, got, c.metric)
		}
		if got := c.event.Note().In(measure.US); got != c.us {
			t.Errorf("%s:\n got %s\nwant %s", c.event.Kind, got, c.us)
		}
		text, err := json.Marshal(c.event)
		if err != nil || !strings.Contains(string(text), `"text":"`+c.metric+`"`) {
			t.Errorf("the sentence is not in the JSON: %s, %v", text, err)
		}
		var back Event
		if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(back, c.event) {
			t.Errorf("%+v became %+v, %v", c.event, back, err)
		}
	}
}

// The sentences of a plan carry their figures: what is wrong with a run reads in F
// and gallons without a C or an L left over.
func TestWarningsCarryFigures(t *testing.T) {
	p := Plan{}
	s := &filled{plan: &p, Run: Run{Start: 60}, lowC: 71, highC: 82}
	s.StartStrength, s.fixed = 1, 10
	s.Hands = DefaultHands()
	s.before()
	if len(p.Warnings) != 1 || p.Warnings[0].In(measure.US) != "The bath is to start at 140 F, outside the 159.8 F to 179.6 F of the recipe." ||
		p.Warnings[0].Text != "The bath is to start at 60 C, outside the 71 C to 82 C of the recipe." {
		t.Errorf("%+v", p.Warnings)
	}
}
