package shop

import (
	"slices"

	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

// minutes reads [minutes]: per piece, but setup per job.
func (r reader) minutes() {
	t, ok := r.sub("minutes", "cleaning", "relief_by_hand", "relief_by_machine", "inspection", "rework", "setup")
	if !ok {
		return
	}
	m := &r.shop.Bath.Minutes
	m.Known = map[string]bool{}
	for _, one := range []struct {
		key, name string
		to        *float64
	}{
		{"cleaning", yield.Clean, &m.Clean}, {"relief_by_hand", yield.Relieve, &m.RelieveByHand},
		{"relief_by_machine", yield.Machine, &m.RelieveMachine}, {"inspection", yield.Inspect, &m.Inspect}, {"rework", yield.Rework, &m.Rework},
	} {
		if v, ok := quantity(t, one.key, "3 min", minutes); ok {
			*one.to, m.Known[one.name] = v, true
		}
	}
	r.shop.SetupMinutes, r.shop.HasSetup = quantity(t, "setup", "15 min", minutes)
}

// rates reads [rates] and [rates.reagent]. All money has to be of one currency.
func (r reader) rates() {
	t, ok := r.sub("rates", "labour", "reagent")
	if !ok {
		return
	}
	b := &r.shop.Bath
	first := ""
	paid := func(t reader, key, per, example string) (float64, bool) {
		return quantity(t, key, example, func(text string) (float64, error) {
			amount, currency, err := money(text, per)
			switch {
			case err != nil:
				return 0, err
			case first == "":
				first = key
				r.shop.Currency = currency
			case currency != r.shop.Currency:
				return 0, fault.Usagef("in %s, but %s is in %s", named(currency), first, named(r.shop.Currency)).Try("give all rates in one currency; hepar converts none")
			}
			return amount, nil
		})
	}
	b.LabourPerHour, _ = paid(t, "labour", "h", "38 EUR per h")
	if !t.Has("reagent") {
		return
	}
	in, ok := t.Sub("reagent", "[rates.reagent]")
	if !ok {
		return
	}
	prices := reader{in, r.shop, "rates.reagent."}
	keys := in.Keys()
	for _, id := range keys {
		if r.Full() {
			return
		}
		if _, err := reagent.Find(id); err != nil {
			in.AtKey(in.Place(id), fault.CureOf(err), "unknown substance %s", strict.Excerpt(id))
			continue
		}
		if price, ok := paid(prices, id, "kg", "60 EUR per kg"); ok {
			if b.PricePerKG == nil {
				b.PricePerKG = map[string]float64{}
			}
			b.PricePerKG[id] = price
		}
	}
}

func named(currency string) string {
	if currency == "" {
		return "no currency"
	}
	return strict.Excerpt(currency)
}

// priced lists the substances with a price, in order.
func (s Shop) priced() []string {
	var ids []string
	for id := range s.Bath.PricePerKG {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}
