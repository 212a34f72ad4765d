package journal

// ImportView is what an import did as machines read it, in 'journal import --json'.
type ImportView struct {
	DryRun      bool            `json:"dry_run"`
	Rows        int             `json:"rows"`
	New         int             `json:"new"`
	Further     int             `json:"further"`
	Same        int             `json:"same"`
	Events      int             `json:"events"`
	WithoutText int             `json:"without_recipe_text"`
	Recipes     map[string]int  `json:"recipes"` // new batches by slug
	Alloys      map[string]int  `json:"alloys"`
	Aside       int             `json:"aside"`       // batches of which the table told more than an import reads
	Errors      []LineErrorView `json:"errors"`      // never null
	MoreErrors  int             `json:"more_errors"` // beyond those listed
	Conflicts   []ConflictView  `json:"conflicts"`   // never null
	More        int             `json:"more_conflicts"`
}

// LineErrorView is a LineError in an ImportView.
type LineErrorView struct {
	Line int    `json:"line"`
	What string `json:"what"`
	Do   string `json:"do"`
}

// ConflictView is a Conflict in an ImportView or a MergeView.
type ConflictView struct {
	Line   int         `json:"line,omitempty"`
	Number string      `json:"number"`
	ID     string      `json:"id"`
	What   string      `json:"what"`
	Merged bool        `json:"merged"`
	Here   []EventView `json:"only_here"`  // never null
	There  []EventView `json:"only_there"` // never null
}

// MergeView is what a merge did as machines read it, in 'journal merge --json'.
type MergeView struct {
	DryRun    bool           `json:"dry_run"`
	New       int            `json:"new"`
	Further   int            `json:"further"`
	Same      int            `json:"same"`
	Events    int            `json:"events"`
	Conflicts []ConflictView `json:"conflicts"` // never null
	More      int            `json:"more_conflicts"`
}

// View gives the report as machines read it.
func (r ImportReport) View() ImportView {
	v := ImportView{DryRun: r.DryRun, Rows: r.Rows, New: r.New, Further: r.Further, Same: r.Same, Events: r.Events, WithoutText: r.WithoutText, Aside: r.Aside, Recipes: neverNull(r.Recipes), Alloys: neverNull(r.Alloys),
		Errors: []LineErrorView{}, MoreErrors: r.MoreErrors, Conflicts: conflictViews(r.Conflicts), More: r.More}
	for _, bad := range r.Errors {
		v.Errors = append(v.Errors, LineErrorView{Line: bad.Line, What: bad.What, Do: bad.Cure})
	}
	return v
}

// View gives the report as machines read it.
func (r MergeReport) View() MergeView {
	return MergeView{DryRun: r.DryRun, New: r.New, Further: r.Further, Same: r.Same, Events: r.Events, Conflicts: conflictViews(r.Conflicts), More: r.More}
}

func conflictViews(conflicts []Conflict) []ConflictView {
	all := []ConflictView{}
	for _, c := range conflicts {
		all = append(all, ConflictView{Line: c.Line, Number: c.Number, ID: c.ID, What: c.What, Merged: c.Merged, Here: eventViews(c.Here), There: eventViews(c.There)})
	}
	return all
}

func eventViews(events []Event) []EventView {
	all := []EventView{}
	for _, e := range events {
		all = append(all, e.view())
	}
	return all
}

func neverNull(counts map[string]int) map[string]int {
	if counts == nil {
		return map[string]int{}
	}
	return counts
}
