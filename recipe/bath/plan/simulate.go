package plan

import (
	"math"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// walk is one going through the run, load after load.
type walk struct {
	*filled
	fixedS int // above 0: every dip takes this long

	t        measure.Celsius // of the bath now
	strength float64
	clock    float64 // s
	owedL    float64 // steamed off and dragged out since the level was last made up
	row      rinse.Row

	wet, idle *heat.Place // the bath while hands are in it; between loads

	loads  []Load
	traced trace // of the load that the working shows
	events []Event
	doses  []Dose // of one fresh bath
	parts  []Part
	lost   losses
	totals Totals
	match  matcher
	found  findings

	batch     batch // the load now going in
	mostChill measure.Grams
	mixed     float64 // clock when this bath was mixed
	fade      float64 // what a pause between two loads leaves of the strength
}

// batch is what goes in at once.
type batch struct {
	pieces  int
	areaDM  float64
	chill   measure.Grams // mass times specific heat as grams of something with 1 J/(g K)
	parts   []Part
	handled int     // goings-in one after the other
	bound   float64 // strength that goes into its film
}

// dip is a load in the bath.
type dip struct {
	wet, mid, end measure.Celsius // metal in; middle of the middle piece's dip; last piece out
	strength      float64         // at the middle
	need          float64         // s
	given         int             // s
	half, whole   float64         // s from the first piece in to mid and to end
	steamL        float64
}

// trace is what the working of one load needs.
type trace struct {
	load       int // from 0
	before     measure.Celsius
	strength   float64 // before
	ageS       float64
	wet        measure.Celsius
	half       float64
	areaDM     float64
	chill      float64
	ratioFirst float64
	ratioLast  float64
}

func (s *filled) walk(d split, fixedS int) (*walk, error) {
	w := &walk{filled: s, fixedS: fixedS, t: s.Start, strength: s.StartStrength,
		loads: make([]Load, 0, d.loads), parts: make([]Part, 0, d.loads)}
	w.wet, w.idle = heat.Stand(s.open, s.Air), heat.Stand(s.shut, s.Air)
	w.fade = kinetics.Aged(1, w.Between, w.Life)
	w.totals.Baths, w.totals.Loads = 1, d.loads
	w.doses = s.dosesOfABath()
	w.match = newMatcher(s.fixedWhole())
	if s.Rinse.Tubs > 0 {
		row, err := rinse.NewRow(s.Rinse.Volume, s.Rinse.Tubs)
		if err != nil {
			return nil, err
		}
		w.row = row
	}
	for i := range d.loads {
		w.gather(&d, i)
		if w.batch.bound >= w.StartStrength {
			return nil, fault.Failuref("load %d binds all the sulfur of the bath: %s dm2 at %s nm take %s g of it", i+1, num(w.batch.areaDM), num(w.FilmNM),
				num(float64(w.Film.SulfurBound(w.batch.areaDM, w.FilmNM)))).At("--volume").Try("take a larger or a stronger bath, or smaller loads")
		}
		w.record(i, w.ready(i))
	}
	w.finish()
	return w, nil
}

// gather finds what goes into a load.
func (w *walk) gather(d *split, load int) {
	b := &w.batch
	b.pieces, b.areaDM, b.chill = 0, 0, 0
	from := len(w.parts)
	for lot := range w.Lots {
		n := d.sets(load, lot) * w.Group
		if n == 0 {
			continue
		}
		l := &w.Lots[lot]
		w.parts = append(w.parts, Part{lot, n})
		b.pieces += n
		b.areaDM += float64(n) * l.AreaCM2.SquareDM()
		b.chill += measure.Grams(float64(n) * float64(l.MassG) * l.SpecificHeat)
	}
	b.parts = w.parts[from:len(w.parts):len(w.parts)]
	w.mostChill = max(w.mostChill, b.chill)
	b.bound = w.strengthOf(w.Film.SulfurBound(b.areaDM, w.FilmNM))
	b.handled = b.pieces
	if w.Basket || w.RackPieces > 0 {
		b.handled = 1
	}
}

// try computes the load that is gathered in a bath as it is now, without doing it.
func (w *walk) try() dip {
	x := dip{wet: w.t}
	between := float64(w.batch.handled - 1)
	lead := between * w.Hands.InS / 2
	if w.Basket || w.RackPieces > 0 {
		lead = 0
	}
	if !w.Held && w.batch.chill > 0 {
		if t, err := heat.AfterLoad(w.t, w.capacity, w.batch.chill, 1, w.metal()); err == nil {
			x.wet = t
		}
	}
	// Where the bath cools faster than it works there is no end to the search: the
	// middle of twice the longest dip of the recipe is as far as it looks.
	longest := 2 * max(float64(w.Dip.To), w.fixed)
	guess := min(w.needAt(x.wet, w.strength), longest)
	if w.fixedS > 0 {
		guess = float64(w.fixedS)
	}
	for range 12 {
		x.half = lead + guess/2
		x.mid, x.steamL = w.cool(x.wet, w.wet, x.half)
		x.strength = max(0, kinetics.Aged(w.strength, measure.Seconds(x.half), w.Life)-w.batch.bound/2)
		x.need = w.needAt(x.mid, x.strength)
		if w.fixedS > 0 || math.Abs(x.need-guess) < 0.5+0.005*guess {
			break
		}
		// Half a second off in the dip moves its middle by some hundredths of a degree.
		if next := min(x.need, longest); next != guess {
			guess = next
			continue
		}
		break
	}
	x.given = max(1, int(math.Round(x.need)))
	if w.fixedS > 0 {
		x.given = w.fixedS
	}
	x.whole = float64(x.given) + between*max(w.Hands.InS, w.Hands.OutS)
	if fall := x.wet - x.mid; fall > 1 {
		x.end, _ = w.cool(x.mid, w.wet, x.whole-x.half)
	} else { // a straight line is as good
		x.end = x.mid - fall*measure.Celsius((x.whole-x.half)/max(x.half, 1e-3))
	}
	return x
}

// cool takes the bath through some seconds; a heater does not lift it above the
// start temperature.
func (w *walk) cool(t measure.Celsius, in *heat.Place, seconds float64) (measure.Celsius, float64) {
	if w.Held {
		return t, 0
	}
	next, steam := in.After(t, w.capacity, w.HeaterW, measure.Seconds(seconds))
	if w.HeaterW > 0 && next > w.Start {
		next = max(w.Start, w.Air.Ambient)
	}
	return next, float64(steam)
}

// strengthOf is the strength that an amount of sulfide sulfur makes up.
func (s *filled) strengthOf(sulfur measure.Grams) float64 {
	if !(s.sulfur > 0) {
		return 0
	}
	return float64(sulfur / s.sulfur)
}

// record writes a load down and lets the bath go on to the next one.
func (w *walk) record(i int, x dip) {
	low, high := w.law.Around(measure.Seconds(x.need), x.mid, x.strength)
	l := Load{Number: i + 1, Pieces: w.batch.pieces, ByLot: w.batch.parts, Bath: w.totals.Baths, StartMin: w.clock / 60,
		TemperatureC: float64(x.mid), Strength: x.strength, DipS: x.given, NeedS: x.need, DipLowS: float64(low), DipHighS: float64(high)}
	w.rinse(&l)
	first, last := w.compare(x)
	if i == 0 || i == w.Explain-1 || w.Explain == 0 && x.given > w.loads[w.traced.load].DipS {
		w.traced = trace{load: i, before: w.t, strength: w.strength, ageS: w.clock - w.mixed, wet: x.wet, half: x.half,
			areaDM: w.batch.areaDM, chill: float64(w.batch.chill), ratioFirst: first, ratioLast: last}
	}
	w.note(i, x)
	w.loads = append(w.loads, l)

	w.age(x.whole)
	dragged := float64(rinse.Carried(w.batch.areaDM, w.Drain))
	w.totals.DraggedL += dragged
	w.owedL += dragged
	w.lose(&w.lost.drag, w.strength*min(1, dragged/float64(w.Volume)))
	w.lose(&w.lost.film, w.batch.bound)
	w.lose(&w.lost.age, w.strength*(1-w.fade))
	w.clock += x.whole
	w.totals.Minutes = w.clock / 60
	w.clock += float64(w.Between)

	rest, pause := x.whole-x.half, float64(w.Between)
	if !w.Lid { // the same air over both
		rest, pause = rest+pause, 0
	}
	t, steam := w.cool(x.mid, w.wet, rest)
	w.steam(x.steamL + steam)
	if pause > 0 {
		t, steam = w.cool(t, w.idle, pause)
		w.steam(steam)
	}
	w.t = t
}

func (w *walk) steam(liters float64) {
	w.totals.EvaporatedL += liters
	w.owedL += liters
}

func (w *walk) age(seconds float64) {
	w.lose(&w.lost.age, w.strength-kinetics.Aged(w.strength, measure.Seconds(seconds), w.Life))
}

func (w *walk) lose(share *float64, amount float64) {
	amount = min(max(amount, 0), w.strength)
	*share += amount
	w.strength -= amount
}

// dosesOfABath lists what goes into a fresh bath.
func (s *filled) dosesOfABath() []Dose {
	var doses []Dose
	for _, r := range s.Reagents {
		a := r.Dose(s.Volume, s.StartStrength)
		doses = append(doses, Dose{Substance: a.Substance.ID, Name: a.Substance.Name, Form: a.Shelf.Name, Amount: a.Shown, Unit: a.Unit()})
	}
	return doses
}

// finish adds up what the run took.
func (w *walk) finish() {
	p := &w.totals
	if w.Held {
		steam := heat.EvaporatedLiters(w.Start, w.open, w.Air, measure.Seconds(w.clock))
		p.EvaporatedL, w.owedL = float64(steam), w.owedL+float64(steam)
	}
	v := float64(w.Volume)
	if len(w.doses) > 0 {
		first := w.doses[0]
		p.Reagent, p.ReagentUnit = float64(p.Baths)*first.Amount, first.Unit
	}
	// Topping up has counted its own water and what was ladled out; the level is
	// otherwise kept with what steams off and is dragged out.
	p.WaterL += float64(p.Baths)*v + w.owedL
	p.WasteL += float64(p.Baths) * v
	if w.Rinse.Tubs > 0 {
		tubs := float64(w.Rinse.Tubs) * float64(w.Rinse.Volume)
		p.WaterL += tubs
		p.WasteL += tubs
	}
}
