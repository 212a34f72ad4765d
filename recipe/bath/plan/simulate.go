package plan

import (
	"math"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
)

// walk is one going through the run, load after load.
type walk struct {
	*settled
	start measure.Celsius
	deal  [][]Part

	t         measure.Celsius // of the bath now
	coldest   measure.Celsius // as a load comes out
	strength  float64
	clock     float64 // s
	mixed     float64 // clock when this bath was mixed
	owed      float64 // L steamed off and dragged out since the level was made up
	row       rinse.Row
	wet, idle *heat.Place // the bath while hands are in it; between loads

	loads                          []Load
	events                         []Event
	totals                         Totals
	lost                           struct{ air, film, drag, water float64 }
	least, most, oneLeast, oneMost float64 // film against the film wanted
	oneTime                        float64
	failed                         []int   // loads outside the limits, whatever was tried
	oldest                         float64 // s that a hot bath was used at the most
	traced                         *dip
}

type dip struct {
	load                  int
	pieces                int
	area                  float64 // dm2
	cold                  float64 // J/K of the metal
	before, wet, mid, end measure.Celsius
	strength              float64 // in the middle
	need                  float64 // s of contact that make the film
	given                 int     // s from in to out
	whole                 float64 // s from the first piece in to the last out
	first, last           float64 // film of the first and of the last piece, against the film wanted
	uneven                float64 // s that the pace may miss
	needFirst, needLast   float64 // s of contact that make the film of the first and of the last piece
}

func (s *settled) walk(start measure.Celsius, deal [][]Part) *walk {
	w := &walk{settled: s, start: start, deal: deal, t: start, coldest: start, strength: s.Strength, least: math.Inf(1), oneLeast: math.Inf(1),
		loads: make([]Load, 0, len(deal)), wet: heat.Stand(s.open, s.Air), idle: heat.Stand(s.shut, s.Air)}
	w.totals.Baths, w.totals.Doses = 1, 1
	if s.Rinse.Tubs > 0 {
		w.row = rinse.NewRow(s.Rinse.Volume, s.Rinse.Tubs)
	}
	for i, parts := range deal {
		x := dip{load: i}
		for _, p := range parts {
			piece := &s.Kinds[p.Lot].Piece
			x.pieces += p.Pieces
			x.area += float64(p.Pieces) * piece.Area.SquareDM()
			x.cold += float64(p.Pieces) * float64(piece.Mass) * piece.Alloy.SpecificHeat
		}
		w.ready(&x)
		w.dip(x, parts)
	}
	v := float64(s.Volume)
	w.totals.Loads = len(deal)
	w.totals.WaterL += float64(w.totals.Baths)*(v-float64(s.Room)) + w.owed
	w.totals.WasteL += float64(w.totals.Baths) * v
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

// try reckons a load in the bath as it is now, without doing it.
func (w *walk) try(x *dip) {
	x.before, x.wet = w.t, w.t
	if x.cold > 0 {
		x.wet = heat.Join(w.t, w.capacity, w.MetalIn, x.cold)
	}
	between := 0.0
	if w.Transfer == ByHand {
		between = float64(x.pieces - 1)
	}
	lead := between * w.Hands.In / 2 // to the middle piece
	bound := w.Film.Strength(x.area, w.Sulfur*float64(w.Volume))
	guess := min(w.needAt(x.wet, w.strength), 4*float64(w.Dip.To))
	for range 8 {
		x.mid, _ = w.cool(x.wet, w.wet, lead+guess/2)
		x.strength = max(1e-6, w.strength-bound/2-w.fading(x.mid, true)*(lead+guess/2))
		x.need = w.needAt(x.mid, x.strength)
		next := min(x.need, 4*float64(w.Dip.To))
		if math.Abs(next-guess) < 0.02*guess {
			break
		}
		guess = next
	}
	x.given = max(1, int(math.Round(x.need-w.handling())))
	if w.Law.Known() { // never shorter than the recipe's shortest dip
		x.given = max(x.given, int(math.Ceil(float64(w.Dip.From)-1e-9)))
	}
	x.whole = float64(x.given) + between*max(w.Hands.In, w.Hands.Out)
	x.end, _ = w.cool(x.wet, w.wet, x.whole)
	w.expose(x, between)
}

// expose finds what the first and the last piece get. Between them lie all others.
func (w *walk) expose(x *dip, between float64) {
	x.first, x.last = 1, 1
	if !w.Law.Known() {
		return
	}
	uneven := Uneven / 2
	if w.Transfer == ByHand {
		uneven = max(w.Hands.Uneven*(w.Hands.In+w.Hands.Out)/2*between/2, Uneven/2)
	}
	needFirst, needLast := x.need, x.need
	if between > 0 { // the first goes in earlier, while the bath is hotter
		half := measure.Celsius(between * w.Hands.In / 2)
		slope := (x.wet - x.mid) / measure.Celsius(max(between*w.Hands.In/2+x.need/2, 1))
		needFirst, needLast = w.needAt(x.mid+slope*half, x.strength), w.needAt(x.mid-slope*half, x.strength)
	}
	contact := float64(x.given) + Handling
	x.uneven, x.needFirst, x.needLast = uneven, needFirst, needLast
	x.first, x.last = (contact+uneven)/needFirst, max(contact-uneven, 0.1)/needLast
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

func (w *walk) dip(x dip, parts []Part) {
	low, high := float64(w.Dip.From), float64(w.Dip.To)
	if w.Law.Known() {
		l, h := w.Law.Band(x.mid, w.unsure(x.mid), x.strength)
		low, high = max(1, float64(l)-Handling), float64(h)-Handling
	}
	l := Load{Number: x.load + 1, Pieces: x.pieces, Bath: w.totals.Baths, StartMin: w.clock / 60, BeforeC: float64(x.before), TemperatureC: float64(x.mid), Strength: x.strength,
		DipS: x.given, LowS: int(math.Round(low)), HighS: int(math.Round(max(high, low)))}
	if len(w.Kinds) > 1 {
		l.ByKind = parts
	}
	w.rinse(&l, x)
	w.loads = append(w.loads, l)
	w.least, w.most = min(w.least, x.first, x.last), max(w.most, x.first, x.last)
	w.coldest = min(w.coldest, x.end)
	if w.oneTime == 0 {
		w.oneTime = float64(x.given)
	}
	one := (w.oneTime + w.handling()) / x.need
	w.oneLeast, w.oneMost = min(w.oneLeast, one), max(w.oneMost, one)
	if w.traced == nil || x.load == w.Explain-1 || w.Explain == 0 && x.given > w.traced.given {
		w.traced = &x
	}

	w.lose(&w.lost.air, w.fading(x.mid, true)*x.whole)
	w.lose(&w.lost.film, w.Film.Strength(x.area, w.Sulfur*float64(w.Volume)))
	dragged := float64(rinse.Carried(x.area, w.Drain))
	w.lose(&w.lost.drag, w.strength*min(1, dragged/float64(w.Volume)))
	w.totals.DraggedOutL += dragged
	w.owed += dragged
	w.clock += x.whole
	w.totals.Minutes = w.clock / 60

	t, steam := w.cool(x.wet, w.wet, x.whole)
	w.steam(steam)
	if x.load == len(w.deal)-1 {
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
	w.totals.EvaporatedL += liters
	w.owed += liters
}

// rinse takes the load through the row of tubs, changing it first where it must be.
func (w *walk) rinse(l *Load, x dip) {
	if w.Rinse.Tubs == 0 {
		return
	}
	carried := rinse.Carried(x.area, w.Drain)
	bath := measure.GramsPerLiter(x.strength) // the row only dilutes: shares do as well as g/L
	fresh := 0
	for float64(w.row.After(bath, carried)) > rinseShare && fresh < w.Rinse.Tubs {
		w.row.Change()
		fresh++
	}
	if fresh > 0 && len(w.loads) > 0 {
		water := float64(fresh) * float64(w.Rinse.Volume)
		w.event(Event{Do: ChangeRinse, InL: water, OutL: water, Tubs: fresh})
		w.totals.WaterL += water
		w.totals.WasteL += water
	}
	l.RinseShare = float64(w.row.Dip(bath, carried))
}

func (w *walk) event(e Event) {
	e.AfterLoad, e.AtMin = len(w.loads), w.clock/60
	w.events = append(w.events, e)
	w.clock += e.Minutes * 60
}
