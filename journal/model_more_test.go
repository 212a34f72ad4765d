package journal_test

import (
	"fmt"
	"strings"
	"time"

	"pgregory.net/rapid"

	"hepar/journal"
	"hepar/recipe/measure"
)

// modelContainer is a container in the simplest stock there can be. Amounts are
// whole grams, so that the sums are exact.
type modelContainer struct {
	number, substance, lot string
	amount, left           int
	emptied                bool
	events                 int
}

// modelUse is what a batch took.
type modelUse struct{ container, grams int }

// ready is the gate as the issue has it: reviewed, for this recipe, at most a day ago.
func (m *machine) ready(b *modelBatch) bool {
	age := m.now.Sub(b.reviewed)
	return b.state != journal.Planned && b.digestFits && age >= 0 && age <= 24*time.Hour
}

// someone draws a person.
func someone(t *rapid.T) string {
	return rapid.SampledFrom([]string{"Tomas Reh", "Uwe", "ILKA BRANDT", "Ilka Brandt"}).Draw(t, "someone")
}

func (m *machine) pickContainer(t *rapid.T) (int, *modelContainer) {
	if len(m.shelf) == 0 {
		t.Skip("no containers yet")
	}
	i := rapid.IntRange(0, len(m.shelf)-1).Draw(t, "container")
	return i, m.shelf[i]
}

// uses draws what is taken and says whether the shelf can give it.
func (m *machine) uses(t *rapid.T) (uses []journal.Use, model []modelUse, fits bool) {
	left := map[int]int{}
	fits = true
	if len(m.shelf) == 0 {
		return nil, nil, true
	}
	for range rapid.IntRange(0, 2).Draw(t, "uses") {
		i, c := m.pickContainer(t)
		if _, known := left[i]; !known {
			left[i] = c.left
		}
		grams := rapid.IntRange(1, 40).Draw(t, "grams")
		left[i] -= grams
		fits = fits && !c.emptied && left[i] >= 0
		uses = append(uses, journal.Use{Container: c.number, Grams: measure.Grams(grams)})
		model = append(model, modelUse{i, grams})
	}
	return uses, model, fits
}

func (m *machine) book(b *modelBatch, uses []modelUse) {
	for _, u := range uses {
		m.shelf[u.container].left -= u.grams
		m.shelf[u.container].events++
	}
	b.used = append(b.used, uses...)
}

// more gives the steps around a result: the dip, the second person, photos, waste, stock.
func (m *machine) more() map[string]func(*rapid.T) {
	return map[string]func(*rapid.T){
		"dip": func(t *rapid.T) {
			b := m.pick(t)
			uses, model, fits := m.uses(t)
			by, reason := someone(t), rapid.SampledFrom([]string{"", "", "the screen was broken"}).Draw(t, "reason")
			pieces := rapid.IntRange(1, b.made+1).Draw(t, "of pieces")
			_, err := m.j.Dip(b.number, journal.DipRecord{By: by, Loads: []journal.DipLoad{{Pieces: pieces}}, Used: uses}, journal.Gate{WithoutReview: reason})
			allowed := fits && pieces <= b.made && (m.ready(b) || reason != "") &&
				(b.state == journal.Planned || b.state == journal.Reviewed || b.state == journal.Dipped)
			want(t, "dip", err, allowed)
			if allowed {
				b.state = journal.Dipped
				b.loads++
				b.touch(by)
				m.book(b, model)
			}
		},
		"sign off": func(t *rapid.T) {
			b := m.pick(t)
			by := someone(t)
			_, err := m.j.SignOff(b.number, by, "")
			who := strings.ToLower(by)
			allowed := b.state == journal.Logged && !b.signed && !b.vouched[who]
			if allowed { // and somebody else is named
				allowed = false
				for _, p := range b.people {
					allowed = allowed || p != who
				}
			}
			want(t, "sign off", err, allowed)
			if allowed {
				b.signed = true
				b.touch(by)
			}
		},
		"photo": func(t *rapid.T) {
			b := m.pick(t)
			digest := fmt.Sprintf("%064x", b.photos)
			_, err := m.j.AddPhoto(b.number, journal.Photo{Path: "tray.jpg", SHA256: digest, Bytes: 1, By: "Uwe"})
			allowed := b.state != journal.Withdrawn
			want(t, "photo", err, allowed)
			if allowed {
				b.photos++
				b.touch("Uwe")
			}
		},
		"waste": func(t *rapid.T) {
			b := m.pick(t)
			name := rapid.SampledFrom([]string{"W1", "w1", "W2"}).Draw(t, "drum")
			_, err := m.j.AddWaste(b.number, journal.Waste{VolumeL: 2, Container: name, By: "Uwe"})
			allowed := b.state != journal.Withdrawn
			want(t, "waste", err, allowed)
			if allowed {
				b.waste = append(b.waste, strings.ToLower(name))
				b.touch("Uwe")
			}
		},
		"add container": func(t *rapid.T) {
			c := &modelContainer{
				number: fmt.Sprintf("S-%03d", len(m.shelf)+1), substance: rapid.SampledFrom([]string{"liver of sulfur", "soda"}).Draw(t, "substance"),
				lot: rapid.SampledFrom([]string{"A1", "B7"}).Draw(t, "lot"), amount: rapid.IntRange(1, 100).Draw(t, "amount"), events: 1,
			}
			c.left = c.amount
			got, err := m.j.AddContainer(journal.Container{Substance: c.substance, Lot: c.lot, AmountG: measure.Grams(c.amount)})
			want(t, "add container", err, true)
			if got.Number != c.number {
				t.Fatalf("got number %s, want %s", got.Number, c.number)
			}
			m.shelf = append(m.shelf, c)
		},
		"use": func(t *rapid.T) {
			i, c := m.pickContainer(t)
			grams := rapid.IntRange(1, 40).Draw(t, "grams")
			b, ref := (*modelBatch)(nil), ""
			if len(m.all) > 0 && rapid.Bool().Draw(t, "for a batch") {
				b = m.pick(t)
				ref = b.number
			}
			_, err := m.j.Use(journal.Use{Container: strings.ToLower(c.number), Grams: measure.Grams(grams)}, ref, "Uwe")
			allowed := !c.emptied && grams <= c.left && (b == nil || b.state != journal.Withdrawn)
			want(t, "use", err, allowed)
			if !allowed {
				return
			}
			if b == nil {
				b = &modelBatch{}
			}
			b.touch("Uwe")
			m.book(b, []modelUse{{i, grams}})
		},
		"change lot": func(t *rapid.T) {
			i, c := m.pickContainer(t)
			lot := rapid.SampledFrom([]string{"A1", "B7"}).Draw(t, "lot")
			_, err := m.j.ChangeContainer(c.number, "lot", lot, "misread", "Uwe")
			want(t, "change lot", err, lot != c.lot)
			if lot == c.lot {
				return
			}
			c.lot = lot
			c.events++
			for _, b := range m.all {
				for _, u := range b.used {
					if u.container == i { // amended once, however often it took
						b.amended("Uwe")
						break
					}
				}
			}
		},
		"weigh": func(t *rapid.T) {
			_, c := m.pickContainer(t)
			left := rapid.IntRange(0, 110).Draw(t, "left")
			_, err := m.j.ChangeContainer(c.number, "left", fmt.Sprintf("%d g", left), "weighed", "Uwe")
			allowed := left != c.left && left <= c.amount
			want(t, "weigh", err, allowed)
			if allowed {
				c.left, c.emptied = left, false
				c.events++
			}
		},
		"empty": func(t *rapid.T) {
			_, c := m.pickContainer(t)
			_, err := m.j.Empty(c.number, "", "Uwe")
			want(t, "empty", err, !c.emptied)
			if !c.emptied {
				c.left, c.emptied = 0, true
				c.events++
			}
		},
		"look at the shelf": func(t *rapid.T) {
			stock, err := m.j.Shelf("Soda")
			grams, n := 0, 0
			for _, c := range m.shelf {
				if c.substance == "soda" && !c.emptied {
					grams += c.left
					n++
				}
			}
			if err != nil || stock.Grams != measure.Grams(grams) || len(stock.Containers) != n {
				t.Fatalf("got %+v, %v; want %d g in %d", stock, err, grams, n)
			}
			if len(m.shelf) > 0 {
				_, c := m.pickContainer(t)
				got, err := m.j.Container(c.number)
				if err != nil || len(got.Events) != c.events || got.Empty() != c.emptied || got.LeftG != measure.Grams(c.left) {
					t.Fatalf("got %+v, %v, want %+v", got, err, *c)
				}
			}
		},
		"list waste": func(t *rapid.T) {
			n := 0
			for _, b := range m.all {
				for _, name := range b.waste {
					if name == "w1" {
						n++
					}
				}
			}
			if got, err := m.j.ListWaste("W1"); err != nil || len(got) != n {
				t.Fatalf("got %d, %v, want %d", len(got), err, n)
			}
		},
	}
}

// tookLot says whether the batch took anything of a lot, as it is called now.
func (m *machine) tookLot(b *modelBatch, lot string) bool {
	for _, u := range b.used {
		if strings.EqualFold(m.shelf[u.container].lot, lot) {
			return true
		}
	}
	return false
}

// amended notes an amendment by somebody, who then cannot be the second person.
func (b *modelBatch) amended(by string) {
	b.touch(by)
	b.signed = false
	b.vouch(by)
}

func (b *modelBatch) vouch(by string) {
	if b.vouched == nil {
		b.vouched = map[string]bool{}
	}
	b.vouched[strings.ToLower(by)] = true
}
