package plan

import (
	"strings"
	"testing"
)

// TestTwoHundredDrops is the run that practitioners describe: it warns, keeps
// pairs, shows both spreads, and the plan is much the better one.
func TestTwoHundredDrops(t *testing.T) {
	p := made(t, drops())
	text := ""
	for _, w := range p.Warnings {
		if w.Code == "cannot-hold" {
			text = w.Text
		}
	}
	for _, want := range []string{"500 mL at 65 C", "W and cools", "C a minute", "does not keep it", "hot plate"} {
		if !strings.Contains(text, want) {
			t.Errorf("the warning that an open bath cannot hold lacks %q: %q", want, text)
		}
	}
	pieces := 0
	for _, l := range p.Loads {
		pieces += l.Pieces
		if l.Pieces%2 != 0 {
			t.Errorf("load %d splits a pair", l.Number)
		}
	}
	if pieces != 200 || p.Totals.Reheats == 0 {
		t.Errorf("%d pieces, %+v", pieces, p.Totals)
	}
	if warned(p, "load-out-of-range") || warned(p, "dip-out-of-limits") {
		t.Errorf("reheating keeps this run in its range: %+v", p.Warnings)
	}
	// Hands are in the planned figure; without them (a basket) what is left is
	// whole seconds and drift.
	m := p.Match
	if !(m.FixedSpreadPercent > 25 && m.PlannedSpreadPercent > 0 && m.PlannedSpreadPercent < m.FixedSpreadPercent/2) {
		t.Errorf("spreads %+v", m)
	}
	levers := Help(drops(), 5)
	if len(levers) < 6 || levers[0].Name != "basket" || !levers[0].Enough {
		t.Errorf("levers %+v", levers)
	}
	for _, l := range levers {
		if l.Name == "larger-bath" && (l.Loads != len(p.Loads) || l.ByReagent == 0) {
			t.Errorf("the same loads in more bath: %+v", l)
		}
	}
}

// TestSameRunHeld: on a warm plate there is no such warning and no reheating.
func TestSameRunHeld(t *testing.T) {
	r := drops()
	r.Held = true
	p := made(t, r)
	if warned(p, "cannot-hold") || p.Totals.Reheats != 0 || p.LowestC != 65 || p.HighestC != 65 {
		t.Errorf("%+v %+v", p.Warnings, p.Totals)
	}
	open := made(t, drops())
	if p.Totals.Minutes >= open.Totals.Minutes || p.Match.FixedSpreadPercent >= open.Match.FixedSpreadPercent {
		t.Errorf("held: %g min, %g %%; open: %g min, %g %%", p.Totals.Minutes, p.Match.FixedSpreadPercent, open.Totals.Minutes, open.Match.FixedSpreadPercent)
	}
}

// TestOrderOfRemedies: a lid and a kettle each do what they are there for.
func TestOrderOfRemedies(t *testing.T) {
	base := made(t, drops())
	r := drops()
	r.Lid = true
	if lid := made(t, r); lid.Totals.Reheats >= base.Totals.Reheats || lid.HoldingWattsLid >= lid.HoldingWattsOpen {
		t.Errorf("lid: %+v, open: %+v", lid.Totals, base.Totals)
	}
	r = drops()
	r.Kettle = Kettle{At: 95, Most: 0.2}
	kettle := made(t, r)
	if kettle.Totals.TopUps == 0 || kettle.Shares.DilutionPercent == 0 {
		t.Errorf("kettle: %+v, %+v", kettle.Totals, kettle.Shares)
	}
	for _, e := range kettle.Events {
		if e.Kind == TopUp && (e.WaterL > 0.2 || e.ToC > 65+1e-9 || e.ToC < e.FromC || e.WasteL > e.WaterL) {
			t.Errorf("%+v", e)
		}
	}
	r = drops()
	r.HeaterW = 200
	heated := made(t, r)
	if heated.Totals.Reheats > 0 || heated.HighestC > 65 {
		t.Errorf("200 W on a bath that loses 43: %+v, %g C", heated.Totals, heated.HighestC)
	}
	r.HeaterW = 25
	if weak := made(t, r); weak.Totals.Reheats >= base.Totals.Reheats || !warned(weak, "cannot-hold") {
		t.Errorf("25 W: %+v %+v", weak.Totals, weak.Warnings)
	}
	r.Held = true
	if weak := made(t, r); !warned(weak, "heater-weak") {
		t.Errorf("25 W do not hold: %+v", weak.Warnings)
	}
}
