package plan

import (
	"math"
	"testing"

	"hepar/recipe/bath/heat"
	"hepar/recipe/measure"
)

// TestClock: from one load to the next go its dip, the hands, the pause and what is
// done to the bath; and the strength follows the clock of its bath.
func TestClock(t *testing.T) {
	for name, change := range map[string]func(*Run){
		"hands":  func(r *Run) {},
		"basket": func(r *Run) { r.Basket, r.PerLoad = true, 10 },
		"kettle": func(r *Run) { r.Kettle = Kettle{At: 99, Most: 0.2} },
		"lid":    func(r *Run) { r.Lid = true },
	} {
		r := drops()
		r.Reagents, r.Drain, r.Between = noSulfide(r), 1e-9, 45
		change(&r)
		p := made(t, r)
		minutes, fresh, warmed := map[int]float64{}, map[int]bool{}, map[int]bool{}
		for _, e := range p.Events {
			minutes[e.BeforeLoad] += e.Minutes
			fresh[e.BeforeLoad] = fresh[e.BeforeLoad] || e.Kind == FreshBath
			warmed[e.BeforeLoad] = warmed[e.BeforeLoad] || e.Kind == Reheat || e.Kind == TopUp
			if fresh[e.BeforeLoad] && warmed[e.BeforeLoad] {
				t.Errorf("%s: load %d gets a warmed and then a fresh bath", name, e.BeforeLoad)
			}
		}
		if p.StrengthFrom != 0.8 {
			t.Errorf("%s: the recipe allows 4 of 5 g/L, the plan %g", name, p.StrengthFrom)
		}
		mixed, thinned := 0.0, 1.0
		for i, l := range p.Loads {
			hands := 0.0
			if !r.Basket {
				hands = 2 * float64(l.Pieces-1)
			}
			if i+1 < len(p.Loads) {
				next := p.Loads[i+1]
				want := (float64(l.DipS)+hands+45)/60 + minutes[next.Number]
				if got := next.StartMin - l.StartMin; math.Abs(got-want) > 1e-9 {
					t.Fatalf("%s: load %d starts %g min after the one before, want %g", name, next.Number, got, want)
				}
			}
			if fresh[l.Number] {
				mixed, thinned = l.StartMin, 1
			}
			for _, e := range p.Events {
				if e.BeforeLoad == l.Number && e.Kind == TopUp {
					thinned *= 1 - e.WasteL/0.5
				}
			}
			mid := l.StartMin + (hands/2+l.NeedS/2)/60
			want := thinned * math.Exp2(-(mid-mixed)/240)
			if math.Abs(l.Strength-want) > 2e-4 {
				t.Fatalf("%s: load %d meets %g of the strength, want %g", name, l.Number, l.Strength, want)
			}
		}
	}
}

// TestMiddleOfTheMiddlePiece: the temperature of a load is that of the bath when
// half of the hands' work and half of the dip are over.
func TestMiddleOfTheMiddlePiece(t *testing.T) {
	r := drops()
	r.Group, r.Lots[0].Pieces = 1, 5
	p := made(t, r)
	floor := r.Vessel.floorCM2()
	tub := heat.Tub{SurfaceCM2: floor, WallCM2: floor + r.Vessel.aroundCM()*500/floor}
	capacity := heat.Capacity(r.Volume, 65)
	wet, err := heat.AfterLoad(65, capacity, 5*1.4, 0.246, 20)
	if err != nil {
		t.Fatal(err)
	}
	l := p.Loads[0]
	want, _ := heat.Stand(tub, r.Air).After(wet, capacity, 0, measure.Seconds(4+l.NeedS/2)) // four pieces later at 2 s, halved
	if math.Abs(l.TemperatureC-float64(want)) > 0.02 || l.Pieces != 5 {
		t.Errorf("%g C, want %g: %+v", l.TemperatureC, want, l)
	}
}

func TestRoundFloor(t *testing.T) {
	// 30 mm squares on a round floor of 100 mm: three in the middle row, whose
	// chord is 95 mm, and one in each row beside it, whose chord is 44 mm.
	v := Vessel{DiameterMM: 100, HeightMM: 100}
	if got := v.fits([3]measure.Millimeters{30, 30, 5}, 0, false); got != 5 {
		t.Errorf("%d pieces, want 5", got)
	}
	if got := v.fits([3]measure.Millimeters{150, 20, 5}, 5, false); got != 0 {
		t.Errorf("a piece of 150 mm in a vessel of 100 mm: %d", got)
	}
	if got := (Vessel{DiameterMM: 60, HeightMM: 200}).fits([3]measure.Millimeters{180, 25, 2.5}, 5, false); got < 1 {
		t.Errorf("a fork does not stand in a tall vase: %d", got)
	}
}

// TestLargerBathKeepsTheLoads: the lever is more bath for the same loads.
func TestLargerBathKeepsTheLoads(t *testing.T) {
	base := made(t, rounds())
	for _, l := range Help(rounds(), 0.1) {
		if l.Name == "larger-bath" && l.Loads != len(base.Loads) {
			t.Errorf("%d loads, before %d", l.Loads, len(base.Loads))
		}
	}
}
