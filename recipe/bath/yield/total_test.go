package yield

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTotalByHand(t *testing.T) {
	// 200 pieces, 10 of them done again: cleaning 200, bath 60, relief 3000,
	// which is 15 s for each of 60 cm2, inspection 100, rework 10 x (3 + 1 + 0.3 + 15 + 0.5) = 198 min.
	job := Job{Started: 200, Good: 190, Rework: 10, Bath: 45, AreaDM: 120, Relief: true, LabourPerHour: 30, Reagents: 4}
	b := Total(job, nil)
	want := map[string]float64{Clean: 200, Dip: 60, Relieve: 3000, Inspect: 100, Rework: 198, Reagent: 0}
	if len(b.Shares) != len(want) {
		t.Errorf("%d shares", len(b.Shares))
	}
	for _, s := range b.Shares {
		if math.Abs(s.Minutes-want[s.Name]) > 1e-9 {
			t.Errorf("%s: %g min, want %g", s.Name, s.Minutes, want[s.Name])
		}
		if assumed := s.Name != Dip && s.Name != Reagent; s.Assumed != assumed {
			t.Errorf("%s: assumed %t", s.Name, s.Assumed)
		}
	}
	if math.Abs(b.Minutes-3558) > 1e-9 || math.Abs(b.Cost-(3558.0/2+4)) > 1e-9 || math.Abs(b.PerGood-1783.0/190) > 1e-9 || math.Abs(b.MinutesPerGood-3558.0/190) > 1e-9 {
		t.Errorf("%+v", b)
	}
	job.ByMachine = true
	machine := Total(job, nil)
	if machine.Minutes > b.Minutes/5 {
		t.Errorf("by machine %g min", machine.Minutes)
	}
	job.Relief = false
	plain := Total(job, nil)
	if plain.Minutes >= machine.Minutes || len(plain.Shares) != 5 {
		t.Errorf("without relief %g min", plain.Minutes)
	}

	// 4 coats on 12 dm2 and wax on 20 pieces: 48 dm2 x 0.5 min and 20 x 0.5 min.
	coats := Total(Job{Started: 20, Good: 20, Coats: 4, AreaDM: 12, Seal: true}, nil)
	if math.Abs(coats.Minutes-(20+15+24+10+10)) > 1e-9 {
		t.Errorf("coats %g min", coats.Minutes)
	}
}

func TestTotalMarksWhatWasGiven(t *testing.T) {
	m := Minutes{Clean: 1, Inspect: 2, Rework: 3}
	job := Job{Started: 10, Good: 10, Rework: 1, Relief: true}
	b := Total(job, m)
	for _, s := range b.Shares {
		// Rework goes through the relief again, and that one is assumed.
		if want := s.Name == Relieve || s.Name == Rework; s.Assumed != want {
			t.Errorf("%s: assumed %t", s.Name, s.Assumed)
		}
	}
	m[Relieve] = 4
	b = Total(job, m)
	for _, s := range b.Shares {
		if s.Name == Relieve && s.Minutes != 40 { // of a piece, whatever its area
			t.Errorf("relief %g min", s.Minutes)
		}
		if s.Assumed {
			t.Errorf("%s is given and yet assumed", s.Name)
		}
	}
}

func TestTotalAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		figure := func(name string, most float64) float64 { return rapid.Float64Range(0, most).Draw(t, name) }
		n := rapid.IntRange(1, 5000).Draw(t, "started")
		job := Job{Started: n, Good: rapid.IntRange(1, n).Draw(t, "good"), Rework: figure("again", float64(n)), Bath: figure("bath", 1e4),
			Relief: rapid.Bool().Draw(t, "relief"), ByMachine: rapid.Bool().Draw(t, "machine"), LabourPerHour: figure("labour", 200), Reagents: figure("reagents", 1000)}
		m := Minutes{Clean: figure("clean", 60), Relieve: figure("hand", 60), Machine: figure("tumbler", 60), Inspect: figure("inspect", 60), Rework: figure("strip", 60)}
		b := Total(job, m)
		minutes, cost, percent := 0.0, 0.0, 0.0
		for _, s := range b.Shares {
			if !(s.Minutes >= 0 && s.Cost >= 0 && s.Percent >= 0) {
				t.Fatalf("%+v", s)
			}
			minutes, cost, percent = minutes+s.Minutes, cost+s.Cost, percent+s.Percent
		}
		if math.Abs(minutes-b.Minutes) > 1e-6*(1+minutes) || math.Abs(cost-b.Cost) > 1e-6*(1+cost) || minutes > 0 && math.Abs(percent-100) > 1e-6 {
			t.Fatalf("%g min, %g, %g %%: %+v", minutes, cost, percent, b)
		}
		if math.Abs(b.Cost-(job.Reagents+b.Minutes/60*job.LabourPerHour)) > 1e-6*(1+b.Cost) {
			t.Fatalf("cost %g", b.Cost)
		}
	})
}
