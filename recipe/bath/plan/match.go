package plan

import (
	"math"

	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
)

// span is the smallest and the largest of something.
type span struct{ low, high float64 }

func (s *span) add(low, high float64) {
	if s.low == 0 || low < s.low {
		s.low = low
	}
	s.high = max(s.high, high)
}

// percent is the largest over the smallest, less one.
func (s span) percent() float64 {
	if s.low <= 0 || math.IsInf(s.high, 0) {
		return 0
	}
	return max(0, (s.high/s.low-1)*100)
}

// matcher gathers the time given over the time needed of all pieces, for the plan
// and for one fixed time on the same bath.
type matcher struct {
	fixed                  float64
	planned, once          span
	rounding, hands, drift float64
}

func newMatcher(fixed int) matcher { return matcher{fixed: float64(fixed)} }

// fixedWhole is the one time of a run without compensation, in whole s.
func (s *filled) fixedWhole() int { return max(1, int(math.Round(s.fixed))) }

// compare adds the first and the last piece of a load, and returns their ratios
// under the plan. Between them lie all the others: the bath drifts one way, and
// hands that are uneven may add to it or take away, so the worse is taken.
func (w *walk) compare(x dip) (first, last float64) {
	needFirst, needLast := x.need, x.need
	hands := 0.0
	if n := float64(w.batch.handled - 1); n > 0 {
		hands = n * w.pace() / 2
		if x.half > 0 {
			shift := (x.wet - x.mid) / measure.Celsius(x.half) * measure.Celsius(n*w.Hands.InS/2)
			needFirst = w.needAt(x.mid+shift, x.strength)
			needLast = w.needAt(x.mid-shift, x.strength)
		}
	}
	low, high := min(needFirst, needLast), max(needFirst, needLast)
	if !(low > 0) {
		return 1, 1
	}
	m := &w.match
	// A dip shorter than the unevenness of the hands: some piece hardly gets wet.
	// A tenth of a second is what is left of it.
	of := func(given float64) (float64, float64) { return max(given-hands, 0.1) / high, (given + hands) / low }
	given := float64(x.given)
	m.planned.add(of(given))
	m.once.add(of(m.fixed))
	m.rounding = max(m.rounding, math.Abs(given/x.need-1)*100)
	m.hands = max(m.hands, 2*hands/given*100)
	m.drift = max(m.drift, (high/low-1)*100)
	return given / needFirst, given / needLast
}

func (s *filled) needAt(t measure.Celsius, strength float64) float64 {
	return float64(s.law.Time(t, strength))
}

func (w *walk) matched() Match {
	m := w.match
	return Match{FixedSpreadPercent: m.once.percent(), PlannedSpreadPercent: m.planned.percent(), FixedS: int(m.fixed), OneTime: w.fixedS > 0,
		RoundingPercent: m.rounding, HandsPercent: m.hands, DriftPercent: m.drift}
}

// losses is the strength lost by its ways, summed over all baths.
type losses struct{ age, drag, film, dilution float64 }

func (l losses) shares(baths int) Shares {
	total := l.age + l.drag + l.film + l.dilution
	if !(total > 1e-12) {
		return Shares{}
	}
	s := Shares{AgePercent: l.age / total * 100, DragOutPercent: l.drag / total * 100, FilmPercent: l.film / total * 100,
		DilutionPercent: l.dilution / total * 100, LostPerBath: total / float64(baths), Ends: "age"}
	most := l.age
	for _, other := range []struct {
		lost float64
		name string
	}{{l.drag, "drag-out"}, {l.film, "film"}, {l.dilution, "dilution"}} {
		if other.lost > most {
			most, s.Ends = other.lost, other.name
		}
	}
	return s
}

// carried is the liquid that the gathered load takes along, in L.
func (w *walk) carried() measure.Liters { return rinse.Carried(w.batch.areaDM, w.Drain) }
