package journal_test

import (
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
)

// order is a plan as the command line would make it.
func order(pieces int) journal.Batch {
	return journal.Batch{
		Recipe: journal.RecipeRef{
			Slug: "antique-black-silver", Title: "Antique black on silver", Kind: "dip", Revision: 2,
			Digest: "sha256:6c1f", Text: "title = \"Antique black on silver\"\n",
		},
		Alloy: "sterling-925", Shape: "disc", Pieces: pieces, Spares: 2,
		Sheet: []byte(`{"pieces":48}`), By: "Ilka Brandt", Note: "Tokens for the Rowing Club of Elmstad",
	}
}

// review goes through the points of a batch of order.
func review(t testing.TB, j *journal.Journal, number string) {
	t.Helper()
	if _, err := j.Review(number, journal.Acknowledgement{Digest: "sha256:6c1f", Points: []string{"gas"}}); err != nil {
		t.Fatal(err)
	}
}

func TestFromPlanToResult(t *testing.T) {
	j := journaltest.New(t)
	planned, err := j.Create(order(48))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := j.Review(planned.Number, journal.Acknowledgement{By: "Ilka Brandt", Digest: "sha256:6c1f", Points: []string{"gas", "gloves"}}); err != nil {
		t.Fatal(err)
	}
	logged, err := j.Log(planned.ID[:12], journal.Result{Good: 47, Rework: 2, Reject: 1, Causes: map[string]int{"Too light": 2}}, "Tomas Reh", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := j.Get(planned.Number)
	if err != nil {
		t.Fatal(err)
	}
	if got.State != journal.Logged || got.Result.Good != 47 || got.Result.Causes["too-light"] != 2 || len(got.Events) != 3 || got.Missing() != 0 {
		t.Errorf("got %+v", got)
	}
	if logged.ID != got.ID {
		t.Errorf("Log gave batch %s, Get %s", logged.ID, got.ID)
	}
	n := 0
	for b, err := range j.List(journal.Filter{Recipe: "antique-black-silver", Result: "reject"}) {
		if err != nil {
			t.Fatal(err)
		}
		if b.Number == planned.Number {
			n++
		}
	}
	if n != 1 {
		t.Errorf("the list has the batch %d times, want once", n)
	}
}
