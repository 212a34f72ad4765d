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
	fixedS int // above 0: every dip takes this long

	t        measure.Celsius // of the bath now
	strength float64
	clock    float64 // s
	owedL    float64 // steamed off and dragged out since the level was last made up
	lastNeed float64 // s, where the next search starts
	row      rinse.Row

	loads  []Load
	traces []trace
	events []Event
	parts  []Part
	lost   losses
	totals Totals
	match  matcher
	found  findings

	batch batch   // the load now going in
	mixed float64 // clock when this bath was mixed
}

// batch is what goes in at once.
type batch struct {
	pieces  int
	areaDM  float64
	chill   measure.Grams // mass times specific heat as grams of something with 1 J/(g K)
	parts   []Part
	handled int // goings-in one after the other
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
	before      measure.Celsius
	strength    float64 // before
	ageS        float64
	wet         measure.Celsius
	need        float64
	half        float64
	areaDM      float64
	chill       float64
	ratioFirst  float64
	ratioLast   float64
	strengthMid float64
}

func (s *settled) walk(d deal, fixedS int) (*walk, error) {
	w := &walk{settled: s, fixedS: fixedS, t: s.Start, strength: s.StartStrength, lastNeed: s.fixed,
		loads: make([]Load, 0, d.loads), traces: make([]trace, 0, d.loads), parts: make([]Part, 0, d.loads)}
	w.totals.Baths, w.totals.Loads, w.totals.ReagentUnit = 1, d.loads, s.ReagentUnit
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
		w.settle(i, w.ready(i))
	}
	w.finish()
	return w, nil
}

// gather finds what goes into a load.
func (w *walk) gather(d *deal, load int) {
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
	b.handled = b.pieces
	if w.Basket || w.RackPieces > 0 {
		b.handled = 1
	}
}

// try reckons the load that is gathered in a bath as it is now, without doing it.
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
	bound := 0.0
	if w.sulfur > 0 {
		bound = w.strengthOf(w.Film.SulfurBound(w.batch.areaDM, w.FilmNM))
	}
	guess := w.lastNeed
	if w.fixedS > 0 {
		guess = float64(w.fixedS)
	}
	for range 12 {
		x.half = lead + guess/2
		x.mid, x.steamL = w.cool(x.wet, &w.open, x.half)
		x.strength = max(0, kinetics.Aged(w.strength, measure.Seconds(x.half), w.Life)-bound/2)
		x.need = float64(kinetics.DipTime(w.Dip.At, w.Water.At, x.mid, x.strength, w.Rate))
		if w.fixedS > 0 || math.Abs(x.need-guess) < 0.25+0.002*guess {
			break
		}
		guess = x.need
	}
	x.given = max(1, int(math.Round(x.need)))
	if w.fixedS > 0 {
		x.given = w.fixedS
	}
	x.whole = float64(x.given) + between*max(w.Hands.InS, w.Hands.OutS)
	var steam float64
	x.end, steam = w.cool(x.mid, &w.open, x.whole-x.half)
	x.steamL += steam
	return x
}

// cool takes the bath through some seconds; a heater does not lift it above the
// start temperature.
func (w *walk) cool(t measure.Celsius, tub *heat.Tub, seconds float64) (measure.Celsius, float64) {
	if w.Held {
		return t, 0
	}
	next, steam := heat.After(t, w.capacity, *tub, w.Air, w.HeaterW, measure.Seconds(seconds))
	if w.HeaterW > 0 && next > w.Start {
		next = max(w.Start, w.Air.Ambient)
	}
	return next, float64(steam)
}

// strengthOf is the strength that an amount of sulfide sulfur makes up.
func (s *settled) strengthOf(sulfur measure.Grams) float64 {
	if !(s.sulfur > 0) {
		return 0
	}
	return float64(sulfur / s.sulfur)
}

// settle writes a load down and lets the bath go on to the next one.
func (w *walk) settle(i int, x dip) {
	low, high := kinetics.Band(w.Dip.At, w.Water.At, x.mid, x.strength, w.Rate)
	l := Load{Number: i + 1, Pieces: w.batch.pieces, ByLot: w.batch.parts, Bath: w.totals.Baths, StartMin: w.clock / 60,
		TemperatureC: float64(x.mid), Strength: x.strength, DipS: x.given, NeedS: x.need, DipLowS: float64(low), DipHighS: float64(high)}
	w.rinse(&l)
	tr := trace{before: w.t, strength: w.strength, ageS: w.clock - w.mixed, wet: x.wet, need: x.need, half: x.half,
		areaDM: w.batch.areaDM, chill: float64(w.batch.chill), strengthMid: x.strength}
	tr.ratioFirst, tr.ratioLast = w.compare(x)
	w.note(i, x)
	w.loads = append(w.loads, l)
	w.traces = append(w.traces, tr)
	w.lastNeed = x.need

	w.t = x.end
	w.age(x.whole)
	dragged := float64(rinse.Carried(w.batch.areaDM, w.Drain))
	w.totals.DraggedL += dragged
	w.totals.EvaporatedL += x.steamL
	w.owedL += dragged + x.steamL
	w.lose(&w.lost.drag, w.strength*min(1, dragged/float64(w.Volume)))
	if w.sulfur > 0 {
		w.lose(&w.lost.film, w.strengthOf(w.Film.SulfurBound(w.batch.areaDM, w.FilmNM)))
	}
	w.clock += x.whole
	w.totals.Minutes = w.clock / 60
	w.pause(float64(w.Between))
}

// pause lets time go by between loads.
func (w *walk) pause(seconds float64) {
	t, steam := w.cool(w.t, &w.shut, seconds)
	w.t = t
	w.totals.EvaporatedL += steam
	w.owedL += steam
	w.age(seconds)
	w.clock += seconds
}

func (w *walk) age(seconds float64) {
	w.lose(&w.lost.age, w.strength-kinetics.Aged(w.strength, measure.Seconds(seconds), w.Life))
}

func (w *walk) lose(share *float64, amount float64) {
	amount = min(max(amount, 0), w.strength)
	*share += amount
	w.strength -= amount
}

// finish adds up what the run took.
func (w *walk) finish() {
	p := &w.totals
	if w.Held {
		steam := heat.EvaporatedLiters(w.Start, w.open, w.Air, measure.Seconds(w.clock))
		p.EvaporatedL, w.owedL = float64(steam), w.owedL+float64(steam)
	}
	v := float64(w.Volume)
	p.Reagent = float64(p.Baths) * v * w.Reagent.At * w.StartStrength
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
