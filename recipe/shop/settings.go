package shop

import (
	"fmt"
	"path/filepath"

	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/bath/yield"
	"hepar/recipe/measure"
)

// Setting is one thing that the shop file can say, and what counts if it does not.
type Setting struct {
	Key   string `json:"key"`   // "balance.readability", "vessel tub"
	Value string `json:"value"` // with its unit; empty where nothing is set
	From  string `json:"from"`  // "shop.toml:12", or one of the words below
}

// Where a value comes from that is not in the file.
const (
	Practice = "default: common practice, no source"
	Assumed  = "default: assumed"
	NotSet   = "not set"
)

// Settings lists every setting in the order of [Template], with the value that
// counts and where it came from. It works on an empty Shop too. Values of the file
// are given as they stand there, defaults in the units of the shop.
func (s Shop) Settings() []Setting {
	d, m, h := bath.DefaultShop(), yield.DefaultMinutes(), plan.DefaultHands()
	u := s.Units
	hands := measure.Plain(h.In) + " s"
	if h.In != h.Out {
		hands = fmt.Sprintf("%s s in, %s s out", measure.Plain(h.In), measure.Plain(h.Out))
	}
	list := []Setting{
		s.setting("name", "", NotSet),
		s.setting("person", "", NotSet),
		s.setting("people", "", NotSet),
		s.setting("units", measure.Metric.String(), "default: metric"),
		s.setting("balance.readability", measure.Plain(float64(d.ReadabilityG))+" g", Practice),
		s.setting("balance.cylinder", measure.Plain(d.CylinderML)+" mL", Practice),
		s.setting("water.hot", u.Temperature(d.HotWater), Practice),
		s.setting("water.cold", u.Temperature(d.ColdWater), Practice),
		s.setting("room.temperature", u.Temperature(d.Ambient), Practice),
		s.setting("room.humidity", measure.Plain(d.HumidityPercent)+" %", Practice),
		s.setting("room.volume", "", NotSet),
		s.setting("room.air_changes", "", NotSet),
		s.setting("room.hood", "", NotSet),
	}
	for _, name := range s.vessels {
		list = append(list, s.setting("vessel "+name, "", NotSet))
	}
	list = append(list,
		s.setting("hands.seconds_per_piece", hands, Assumed),
		s.setting("hands.tolerance", "10 %", Assumed),
		s.setting("hands.basket", "", NotSet),
		s.setting("drain.habit", fmt.Sprintf("poor, %s", u.Spread(rinse.Poor)), Assumed),
		s.setting("minutes.cleaning", minutesText(m.Clean), Practice),
		s.setting("minutes.relief_by_hand", minutesText(m.RelieveByHand), Practice),
		s.setting("minutes.relief_by_machine", minutesText(m.RelieveMachine), Practice),
		s.setting("minutes.inspection", minutesText(m.Inspect), Practice),
		s.setting("minutes.rework", minutesText(m.Rework), Practice),
		s.setting("minutes.setup", minutesText(bath.MixingMinutes), Assumed),
		s.setting("rates.labour", "", NotSet),
	)
	for _, id := range s.priced() {
		list = append(list, s.setting("rates.reagent."+id, "", NotSet))
	}
	list = append(list, s.setting("match.limit", measure.Plain(d.MatchPercent)+" %", Practice))
	for _, w := range s.Workers {
		list = append(list, s.setting("worker "+w.Name, "", NotSet))
	}
	for _, l := range s.Limits {
		list = append(list, s.setting(limitKey(l), "", NotSet))
	}
	return list
}

// setting gives what the file says of a key, or the value that counts without it.
func (s Shop) setting(key, value, from string) Setting {
	g, ok := s.given[key]
	if !ok {
		return Setting{measure.Clean(key), value, from}
	}
	return Setting{measure.Clean(key), g.text, fmt.Sprintf("%s:%d", measure.Clean(filepath.Base(s.File)), g.line)}
}

func minutesText(min float64) string { return measure.Metric.Time(measure.Seconds(min * 60)) }

func limitKey(l Limit) string { return "limit " + l.Gas + ", " + l.List }
