package safety

import (
	"testing"
	"time"

	"hepar/recipe"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
	"hepar/recipes"
)

var today = time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)

func builtin(t testing.TB) *recipe.Library {
	t.Helper()
	l, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// assess reviews a subject that must be one.
func assess(t testing.TB, s Subject) Review {
	t.Helper()
	r, err := Assess(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// weighed is grams of one substance in its usual form; one that the table does not have
// is known by its id alone.
func weighed(id string, grams float64) []reagent.Amount {
	if s, err := reagent.Find(id); err == nil {
		if stock, err := reagent.NewStock(s, "", "", 0, false); err == nil {
			return []reagent.Amount{stock.Of(grams)}
		}
	}
	return []reagent.Amount{{Stock: reagent.Stock{Substance: reagent.Substance{ID: id}}, Shown: grams}}
}

// estimated finds an estimate by its code.
func estimated(t testing.TB, r Review, code string) gas.Estimate {
	t.Helper()
	for _, e := range r.Gas {
		if e.Code == code {
			return e
		}
	}
	t.Fatalf("no estimate %s", code)
	return gas.Estimate{}
}
