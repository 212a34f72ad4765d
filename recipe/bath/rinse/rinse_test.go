package rinse

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

func table(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil || len(lines) < 2 {
		t.Fatal(len(lines), err)
	}
	return lines[1:]
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func TestDragOutTable(t *testing.T) {
	drains := []string{"well", "poor", "very-poor", "flat-well", "flat-very-poor", "cups"}
	for i, line := range table(t, "dragout.csv") {
		gallons := line[1]
		if gallons == "8 to 24" {
			gallons = "24"
		}
		// 1 US gal = 3.785411784 L and 1 ft = 0.3048 m, both exact.
		want := number(t, gallons) * 3785.411784 / (1000 * 0.3048 * 0.3048)
		outside.Same(t, "drag-out, "+line[0]+", mL/m2", Source, want, float64(habits[drains[i]]), 0.15)
	}
}

func TestHabits(t *testing.T) {
	last := measure.MillilitersPerSquareM(0)
	words := []string{"well", "flat-well", "poor", "very-poor", "flat-very-poor", "cups"} // best first
	if len(words) != len(habits) {
		t.Errorf("%d words, %d habits", len(words), len(habits))
	}
	for _, word := range words {
		drain, err := Habit(word)
		if err != nil || drain <= last {
			t.Errorf("%s: %g mL/m2 after %g, %v", word, drain, last, err)
		}
		last = drain
	}
	if drain, err := Habit("soso"); err == nil {
		t.Errorf("soso: %g mL/m2", drain)
	}
}

func TestCarried(t *testing.T) {
	// By hand: 26.93 dm2 is 0.2693 m2, times 81.5 mL/m2 is 21.9 mL.
	if got := Carried(26.93, Poor); math.Abs(got.Milliliters()-21.95) > 0.01 {
		t.Errorf("%g mL", got.Milliliters())
	}
}

// 6 ft2 a piece, 100 an hour, 20 mL/ft2 at 0.25 g/mL: 50 g a minute. The note
// divides that by the limit; the balance leaves out what is carried on, which
// makes 0.2 L/min.
func TestRunning(t *testing.T) {
	const source = "rinse design note with worked flow: 6 ft2 x 100/h x 20 mL/ft2 x 0.25 g/mL"
	const carried = 6.0 * 100 * 20 / 1000 / 60 // L/min
	for _, c := range []struct{ limit, want float64 }{{0.05, 1000}, {0.1, 500}, {0.2, 250}} {
		got := carried * CounterFlow(250/c.limit, 1)
		outside.Check(t, "running rinse, L/min", source, c.want, got, 0.21)
		if two := carried * CounterFlow(250/c.limit, 2); two > got/20 {
			t.Errorf("against the work %g L/min, straight %g", two, got)
		}
	}
}

func TestCounterFlowTable(t *testing.T) {
	const source = "balance of the stages, worked out apart from the program"
	for _, line := range table(t, "rinse_flow_ratio.csv") {
		ratio, n, want := number(t, line[0]), number(t, line[1]), number(t, line[2])
		got := CounterFlow(ratio, int(n))
		outside.Same(t, "Q/D for "+line[0]+":1 in "+line[1]+" stages", source, want, got, 6e-5)
		if got > number(t, line[3]) {
			t.Errorf("%s:1 in %s stages: %g is above the n-th root", line[0], line[1], got)
		}
	}
}

func TestCounterFlowBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio := math.Exp(rapid.Float64Range(0, math.Log(1e12)).Draw(t, "ln of the dilution"))
		n := rapid.IntRange(1, 20).Draw(t, "stages")
		r := CounterFlow(ratio, n)
		// The stages one by one, from the last back to the bath: what a stage takes in
		// it gives off, Q c(i+1) + D c(i-1) = (Q + D) c(i), with clean water at the end.
		below, here := 0.0, 1.0 // c(n+1) and c(n)
		for range n {
			below, here = here, (1+r)*here-r*below
		}
		if math.Abs(here/ratio-1) > 1e-6 {
			t.Fatalf("Q/D %g in %d stages thins by %g, want %g", r, n, here, ratio)
		}
		if n > 1 {
			if fewer := CounterFlow(ratio, n-1); fewer < r-1e-12*(1+r) {
				t.Fatalf("with a stage less %g, with it %g", fewer, r)
			}
		}
	})
	if r := CounterFlow(1, 5); r > 1e-9 {
		t.Errorf("no dilution wanted: %g", r)
	}
}

func TestStaticRow(t *testing.T) {
	// By hand: 22 mL into 2 L, twice: 5 g/L x 0.022/2.022 = 54.4 mg/L, then 0.592.
	row := Row{Volume: 2, Tubs: 2}
	if got := row.After(5, 0.022); math.Abs(float64(got)-5.919e-4) > 1e-7 || row.at[0] != 0 {
		t.Errorf("%g g/L behind the row, %g in it", got, row.at[0])
	}
	row.Dip(5, 0.022)
	if got := row.at[0]; math.Abs(float64(got)-0.0544016) > 1e-6 {
		t.Errorf("%g g/L in the first tub", got)
	}
	row.Change()
	if got := row.at[0]; math.Abs(float64(got)-5.919e-4) > 1e-7 || row.at[1] != 0 {
		t.Errorf("after the change %g and %g g/L", row.at[0], row.at[1])
	}
}

// Nothing is lost: what comes in with the loads is in the tubs or went on.
func TestRowKeepsItsSalt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume := measure.Liters(rapid.Float64Range(0.1, 100).Draw(t, "volume"))
		tubs := rapid.IntRange(1, MostTubs).Draw(t, "tubs")
		carried := measure.Liters(rapid.Float64Range(0, 1).Draw(t, "carried"))
		row := Row{Volume: volume, Tubs: tubs}
		in, out, last := 0.0, 0.0, measure.GramsPerLiter(0)
		for range rapid.IntRange(1, 50).Draw(t, "loads") {
			clings := row.Dip(5, carried)
			in += 5 * float64(carried)
			out += float64(clings) * float64(carried)
			if clings < last-1e-12 || clings > 5+1e-12 {
				t.Fatalf("%g g/L after %g", clings, last)
			}
			last = clings
		}
		held := 0.0
		for i := range tubs {
			held += row.at[i] * float64(volume)
			if i > 0 && row.at[i] > row.at[i-1]+1e-12 {
				t.Fatalf("tub %d holds more than the one before", i+1)
			}
		}
		if math.Abs(held+out-in) > 1e-9*(1+in) {
			t.Fatalf("%g g in, %g held, %g gone on", in, held, out)
		}
	})
}

func TestGasFreedByHand(t *testing.T) {
	// By hand: 26.93 dm2 x 81.5 mL/m2 = 21.95 mL of 100 g/L is 2.195 g of acid;
	// sodium bisulfate has 120.06 g/mol and one proton to give: 18.28 mmol, which
	// free 0.623 g of H2S at most.
	acid, err := reagent.Find("sodium-bisulfate")
	if err != nil {
		t.Fatal(err)
	}
	grams := measure.Grams(100 * float64(Carried(26.93, Poor)))
	if math.Abs(float64(grams)-2.195) > 0.001 {
		t.Errorf("%g g of acid", grams)
	}
	form := acid.Forms[0]
	gas, ok := GasFreed(acid, form, grams)
	if !ok || form.Formula != "NaHSO4" || math.Abs(float64(gas)-0.623) > 0.001 {
		t.Errorf("%g g of H2S from %s, want 0.623", gas, form.Formula)
	}
	salt, err := reagent.Find("sodium-chloride")
	if err != nil {
		t.Fatal(err)
	}
	if gas, ok := GasFreed(salt, salt.Forms[0], 1); ok {
		t.Errorf("salt frees %g g", gas)
	}
	form.MassPercent = 0
	if gas, ok := GasFreed(acid, form, 1); ok {
		t.Errorf("an acid of unknown strength frees %g g", gas)
	}
	if gas, ok := GasFreed(acid, acid.Forms[0], measure.Grams(math.NaN())); ok {
		t.Errorf("no number of grams frees %g g", gas)
	}
}

func BenchmarkRowDip(b *testing.B) {
	row := Row{Volume: 2, Tubs: 3}
	b.ReportAllocs()
	for b.Loop() {
		row.Dip(5, 0.002)
	}
}

func BenchmarkCounterFlow(b *testing.B) {
	for b.Loop() {
		CounterFlow(1000, 3)
	}
}
