package plan

import (
	"math"
	"slices"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
)

// walk is one going through the run, load after load.
type walk struct {
	*settled
	plan  Plan // as far as it has come
	start measure.Celsius

	t        measure.Celsius // of the bath now
	strength float64
	clock    float64 // s
	mixed    float64 // clock when this bath was mixed
	owed     float64 // L steamed off and dragged out since the level was made up
	row      rinse.Row

	lost                           struct{ air, film, drag, water float64 }
	least, most, oneLeast, oneMost float64   // film against the film wanted
	failed                         []failure // loads outside the limits, whatever was tried
	oldest                         float64   // s that a hot bath was used at the most
	traced                         dip       // the load whose working is written down
}

// failure is a load outside the limits, and in what: "cold", "weak" or "long".
type failure struct {
	load int
	why  string
	at   measure.Celsius // the coldest of the load
}

// dip is a load, and what is reckoned of it on the way.
type dip struct {
	Load
	area                float64         // dm2
	cold                float64         // J/K of the metal
	wet, mid, end       measure.Celsius // of the bath with the metal in, in the middle, as the load comes out
	need                float64         // s of contact that make the film
	whole               float64         // s from the first piece in to the last out
	first, last         float64         // film of the first and of the last piece, against the film wanted
	uneven              float64         // s that the pace may miss
	needFirst, needLast float64         // s of contact that make the film of the first and of the last piece
}

// walk goes through the run. It puts the loads in the place of those that are to spare.
func (s *settled) walk(start measure.Celsius, deal [][]Part, spare []Load) *walk {
	w := &walk{settled: s, start: start, t: start, strength: s.Strength, row: s.Rinse, least: math.Inf(1), oneLeast: math.Inf(1),
		plan: Plan{deal: deal, Loads: slices.Grow(spare, len(deal)), EndC: float64(start), Course: Course{StartC: float64(start), LowestC: float64(start), LeastStrength: s.Strength,
			Heat: s.Heat.Kind, Transfer: s.Transfer, Lid: s.Lid, Totals: Totals{Baths: 1, Loads: len(deal), Doses: 1}}}}
	totals := &w.plan.Totals
	for i, parts := range deal {
		x := dip{Load: Load{Number: i + 1}}
		if len(s.Kinds) > 1 {
			x.ByKind = parts
		}
		for _, p := range parts {
			piece := &s.Kinds[p.Lot].Piece
			x.Pieces += p.Pieces
			x.area += float64(p.Pieces) * piece.Area.SquareDM()
			x.cold += float64(p.Pieces) * float64(piece.Mass) * piece.Alloy.SpecificHeat
		}
		w.ready(&x)
		w.dip(&x)
	}
	v := float64(s.Volume)
	totals.WaterL += float64(totals.Baths)*(v-float64(s.Room)) + w.owed
	totals.WasteL += float64(totals.Baths) * v
	w.plan.Match = w.match()
	return w
}

func (s *settled) needAt(t measure.Celsius, strength float64) float64 {
	if !s.Law.Known() {
		return float64(s.Dip.At)
	}
	return float64(s.Law.Time(t, strength))
}

func (s *settled) handling() float64 {
	if !s.Law.Known() {
		return 0
	}
	return Handling
}

// dipS is the dip in whole seconds, never shorter than the recipe's shortest.
func (s *settled) dipS(need float64) int {
	least := 1.0
	if s.Law.Known() {
		least = max(1, math.Ceil(float64(s.Dip.From)-1e-9))
	}
	return int(max(least, math.Round(need-s.handling())))
}

// try reckons a load in the bath as it is now, without doing it.
func (w *walk) try(x *dip) {
	x.BeforeC, x.wet = float64(w.t), w.t
	if x.cold > 0 {
		x.wet = heat.Join(w.t, w.capacity, w.MetalIn, x.cold)
	}
	between := 0.0
	if w.Transfer == ByHand {
		between = float64(x.Pieces - 1)
	}
	lead := between * w.Pace / 2 // to the middle piece
	bound := w.Law.Film.Strength(x.area, w.Sulfur*float64(w.Volume))
	guess := min(w.needAt(x.wet, w.strength), 4*float64(w.Dip.To))
	for range 8 {
		x.mid, _ = w.cool(x.wet, w.wet, lead+guess/2)
		x.Strength = max(1e-6, w.strength-bound/2-w.fading(x.mid, true)*(lead+guess/2))
		x.need = w.needAt(x.mid, x.Strength)
		next := min(x.need, 4*float64(w.Dip.To))
		if math.Abs(next-guess) < 0.02*guess {
			break
		}
		guess = next
	}
	x.DipS = w.dipS(x.need)
	x.whole = float64(x.DipS) + between*w.Pace
	x.end, _ = w.cool(x.wet, w.wet, x.whole)

	// What the first and the last piece get. Between them lie all others.
	x.first, x.last = 1, 1
	if !w.Law.Known() {
		return
	}
	x.uneven = max(unevenPace*w.Pace*between/2, Uneven/2)
	x.needFirst, x.needLast = x.need, x.need
	if between > 0 { // the first goes in earlier, while the bath is hotter
		half := measure.Celsius(lead)
		slope := (x.wet - x.mid) / measure.Celsius(max(lead+x.need/2, 1))
		x.needFirst, x.needLast = w.needAt(x.mid+slope*half, x.Strength), w.needAt(x.mid-slope*half, x.Strength)
	}
	contact := float64(x.DipS) + Handling
	x.first, x.last = (contact+x.uneven)/x.needFirst, max(contact-x.uneven, 0.1)/x.needLast
}

// cool takes the bath through some seconds. A heater never lifts it above its
// setting, nor does a warm room at once.
func (w *walk) cool(t measure.Celsius, in *heat.Place, seconds float64) (measure.Celsius, float64) {
	watts := 0.0
	if w.heated() {
		watts = w.Heat.Watts
	}
	next, steam := in.After(t, w.capacity, watts, measure.Seconds(seconds))
	if watts > 0 && next > w.start {
		if t >= w.start { // held
			held, _ := in.After(t, w.capacity, 0, measure.Seconds(seconds))
			return max(min(t, w.start), held), float64(steam)
		}
		next = w.start
	}
	return next, float64(steam)
}

// unsure is the doubt in the temperature of a load, in K: a quarter of what the bath has
// cooled, as the published correlations of the loss differ.
func (w *walk) unsure(at measure.Celsius) measure.Celsius {
	return measure.Celsius(math.Abs(float64(w.start-at))) / 4
}

// fading is the share of strength lost each second. A lid, which lies on the bath while
// nothing is moved in it, keeps as much air away as vapour in.
func (w *walk) fading(t measure.Celsius, moved bool) float64 {
	surface := w.surface
	if w.Lid && !moved {
		surface *= heat.LidLeak
	}
	return kinetics.Fade(w.Fade, w.Reagent, surface, t, moved)
}

func (w *walk) lose(to *float64, amount float64) {
	amount = min(max(amount, 0), w.strength)
	*to += amount
	w.strength -= amount
}

func (w *walk) dip(x *dip) {
	p := &w.plan
	low, high := float64(w.Dip.From), float64(w.Dip.To)
	if w.Law.Known() {
		l, h := w.Law.Band(x.mid, w.unsure(x.mid), x.Strength)
		low, high = max(1, float64(l)-Handling), float64(h)-Handling
	}
	x.Bath, x.StartMin, x.TemperatureC, x.LowS, x.HighS = p.Totals.Baths, w.clock/60, float64(x.mid), int(math.Round(low)), int(math.Round(max(high, low)))
	w.rinse(x)
	p.Loads = append(p.Loads, x.Load)
	p.LowestC, p.LeastStrength, p.EndC = min(p.LowestC, x.TemperatureC), min(p.LeastStrength, x.Strength), min(p.EndC, float64(x.end))
	p.Capacity.Pieces = max(p.Capacity.Pieces, x.Pieces)
	w.least, w.most = min(w.least, x.first, x.last), max(w.most, x.first, x.last)
	one := (float64(p.Loads[0].DipS) + w.handling()) / x.need
	w.oneLeast, w.oneMost = min(w.oneLeast, one), max(w.oneMost, one)
	if x.Number == 1 || x.Number == w.Explain || w.Explain == 0 && x.DipS > w.traced.DipS {
		w.traced = *x
	}

	w.lose(&w.lost.air, w.fading(x.mid, true)*x.whole)
	w.lose(&w.lost.film, w.Law.Film.Strength(x.area, w.Sulfur*float64(w.Volume)))
	dragged := float64(rinse.Carried(x.area, w.Drain))
	w.lose(&w.lost.drag, w.strength*min(1, dragged/float64(w.Volume)))
	p.Totals.DraggedOutL += dragged
	w.owed += dragged
	w.clock += x.whole
	p.Totals.Minutes = w.clock / 60

	t, steam := w.cool(x.wet, w.wet, x.whole)
	w.steam(steam)
	if x.Number == len(p.deal) {
		return // nothing waits for the bath any more
	}
	w.lose(&w.lost.air, w.fading(t, false)*float64(w.between))
	t, steam = w.cool(t, w.idle, float64(w.between))
	w.steam(steam)
	w.t = t
	w.clock += float64(w.between)
	if w.t > 60 {
		w.oldest = max(w.oldest, w.clock-w.mixed)
	}
}

func (w *walk) steam(liters float64) {
	w.plan.Totals.EvaporatedL += liters
	w.owed += liters
}

// rinse takes the load through the row of tubs, changing it first where it must be.
func (w *walk) rinse(x *dip) {
	if w.row.Tubs == 0 {
		return
	}
	carried := rinse.Carried(x.area, w.Drain)
	bath := measure.GramsPerLiter(x.Strength) // the row only dilutes: shares do as well as g/L
	fresh := 0
	for float64(w.row.After(bath, carried)) > rinseShare && fresh < w.row.Tubs {
		w.row.Change()
		fresh++
	}
	if fresh > 0 && x.Number > 1 {
		water := float64(fresh) * float64(w.row.Volume)
		w.event(Event{Do: ChangeRinse, InL: water, OutL: water, Tubs: fresh})
		w.plan.Totals.WaterL += water
		w.plan.Totals.WasteL += water
	}
	x.RinseShare = float64(w.row.Dip(bath, carried))
}

func (w *walk) event(e Event) {
	e.AfterLoad, e.AtMin = len(w.plan.Loads), w.clock/60
	w.plan.Events = append(w.plan.Events, e)
	w.clock += e.Minutes * 60
}
