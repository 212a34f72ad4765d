package journal

import "maps"

// GroupView is a Group as machines read it, in 'journal sum --json'.
type GroupView struct {
	Per          string         `json:"per"` // one of SumBys; empty where the sum is of all
	Key          string         `json:"key"`
	Batches      int            `json:"batches"`
	Logged       int            `json:"logged"`
	Withdrawn    int            `json:"withdrawn"`
	Pieces       int            `json:"pieces"`
	Spares       int            `json:"spares"`
	Good         int            `json:"good"`
	Rework       int            `json:"rework"`
	Reject       int            `json:"reject"`
	Missing      int            `json:"missing"`
	Yield        *float64       `json:"yield"`  // 0 to 1; null where no piece is counted
	Causes       map[string]int `json:"causes"` // never null
	TemperatureC *MeanView      `json:"temperature_c"`
	TimeS        *MeanView      `json:"time_s"`
}

// MeanView is a Mean in a GroupView; null where the figure was never measured.
type MeanView struct {
	Batches int     `json:"batches"`
	Mean    float64 `json:"mean"`
	Least   float64 `json:"least"`
	Most    float64 `json:"most"`
}

// View gives the group as machines read it; per is what was summed by.
func (g Group) View(per string) GroupView {
	v := GroupView{Per: per, Key: g.Key, Batches: g.Batches, Logged: g.Logged, Withdrawn: g.Withdrawn, Pieces: g.Pieces, Spares: g.Spares,
		Good: g.Good, Rework: g.Rework, Reject: g.Reject, Missing: g.Missing, Causes: maps.Clone(g.Causes),
		TemperatureC: g.Celsius.view(), TimeS: g.Seconds.view()}
	if v.Causes == nil {
		v.Causes = map[string]int{}
	}
	if share, ok := g.Yield(); ok {
		v.Yield = &share
	}
	return v
}

func (m Mean) view() *MeanView {
	if m.N == 0 {
		return nil
	}
	return &MeanView{Batches: m.N, Mean: m.Mean, Least: m.Least, Most: m.Most}
}
