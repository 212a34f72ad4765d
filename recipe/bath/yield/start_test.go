package yield

import (
	"encoding/csv"
	"math"
	"math/big"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/outside"
)

func TestStartPublished(t *testing.T) {
	for _, c := range []struct {
		what, source      string
		good              int
		yield, confidence float64
		want              float64
	}{
		{"pieces to start for 2 at 0.5, 90 %", "published negative-binomial exercise", 2, 0.5, 0.9, 7},
		{"pieces to start for 15 at 0.4, 50 %", "published negative-binomial exercise", 15, 0.4, 0.5, 37},
	} {
		got, err := Start(c.good, c.yield, c.confidence)
		if err != nil {
			t.Fatal(err)
		}
		outside.Check(t, c.what, c.source, c.want, float64(got), 0)
	}
	for _, c := range []struct {
		started int
		want    float64
	}{{37, 0.5355}, {36, 0.4819}} {
		got := chance(c.started, 15, 0.4)
		outside.Check(t, "chance of 15 good from "+strconv.Itoa(c.started)+" at 0.4", "published negative-binomial exercise", c.want, got, 5e-5)
	}
}

func TestStartTable(t *testing.T) {
	file, err := os.Open("testdata/start_count.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil || len(lines) < 100 {
		t.Fatal(len(lines), err)
	}
	for _, line := range lines[1:] {
		good, _ := strconv.Atoi(line[0])
		yield, _ := strconv.ParseFloat(line[1], 64)
		confidence, _ := strconv.ParseFloat(line[2], 64)
		want, _ := strconv.Atoi(line[3])
		if got, err := Start(good, yield, confidence); err != nil || got != want {
			t.Errorf("%d good at %g, %g: start %d, %v; want %d", good, yield, confidence, got, err, want)
		}
	}
}

func TestStartProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		good := rapid.IntRange(1, 1_000_000).Draw(t, "good")
		if rapid.Bool().Draw(t, "few") {
			good = 1 + good%300
		}
		yield := rapid.Float64Range(Least, 1).Draw(t, "yield")
		confidence := rapid.Float64Range(0.001, 0.9999).Draw(t, "confidence")
		n, err := Start(good, yield, confidence)
		if err != nil || n < good {
			t.Fatalf("%d for %d, %v", n, good, err)
		}
		if p := chance(n, good, yield); p < confidence-tie || p > 1 {
			t.Fatalf("%d started: a chance of %g, want %g", n, p, confidence)
		}
		if p := chance(n-1, good, yield); p >= confidence {
			t.Fatalf("%d would do: %g", n-1, p)
		}
		if surer, err := Start(good, yield, confidence+(1-confidence)/2); err == nil && surer < n {
			t.Fatalf("surer with fewer: %d, %d", surer, n)
		}
	})
}

// slowChance is P[X >= good] as a sum of ratios in 200 bits.
func slowChance(n, good int, p float64) float64 {
	number := func(x float64) *big.Float { return new(big.Float).SetPrec(200).SetFloat64(x) }
	odds := number(p)
	odds.Quo(odds, number(0).Sub(number(1), number(p)))
	mode := int(float64(n+1) * p)
	total, above, w := number(0), number(0), number(1)
	add := func(x int) bool {
		total.Add(total, w)
		if x >= good {
			above.Add(above, w)
		}
		return w.MantExp(nil) > -100
	}
	for x := mode; x <= n && add(x); x++ {
		w.Mul(w, number(float64(n-x))).Quo(w, number(float64(x+1))).Mul(w, odds)
	}
	w = number(1)
	for x := mode; x > 0; x-- {
		w.Mul(w, number(float64(x))).Quo(w, number(float64(n-x+1))).Quo(w, odds)
		if !add(x - 1) {
			break
		}
	}
	chance, _ := above.Quo(above, total).Float64()
	return chance
}

// The bound keeps the promise that counts are exact: one piece more changes the
// chance by far more than this.
func TestChanceAgainstSlowSums(t *testing.T) {
	for _, c := range []struct {
		n int
		p float64
	}{{10, 0.3}, {100, 0.9}, {10_000, 0.95}, {1_000_000, 0.5}, {1_100_000, 0.9}, {2_000_000, 0.999}} {
		for _, z := range []float64{-3, -1, 0.3, 2, 4} {
			good := int(float64(c.n)*c.p - z*math.Sqrt(float64(c.n)*c.p*(1-c.p)))
			if good < 1 || good > c.n {
				continue
			}
			got := chance(c.n, good, c.p) // the last of these is more than Chance takes
			if want := slowChance(c.n, good, c.p); math.Abs(got-want) > 2e-9 {
				t.Errorf("%d of %d at %g: %.12g, want %.12g", good, c.n, c.p, got, want)
			}
		}
	}
}

func TestStartRefuses(t *testing.T) {
	for _, c := range []struct {
		good              int
		yield, confidence float64
	}{{10, 0, 0.9}, {10, 90, 0.9}, {10, 1.01, 0.9}, {10, math.NaN(), 0.9}, {10, math.Inf(1), 0.9},
		{10, 0.9, 0}, {10, 0.9, 1}, {10, 0.9, 95}, {10, 0.9, math.NaN()}, {10, 0.9, -1}} {
		if n, err := Start(c.good, c.yield, c.confidence); err == nil {
			t.Errorf("%+v: %d", c, n)
		}
	}
	for _, c := range []struct {
		good  int
		yield float64
		want  int
	}{{7, 1, 7}, {1, 0.5, 1}} {
		if n, err := Start(c.good, c.yield, 0.5); err != nil || n != c.want {
			t.Errorf("%+v: %d, %v", c, n, err)
		}
	}
}

func BenchmarkStart(b *testing.B) {
	for _, good := range []int{200, 10_000, 1_000_000} {
		b.Run(strconv.Itoa(good), func(b *testing.B) {
			for b.Loop() {
				if _, err := Start(good, 0.93, 0.95); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestTooFew: 6 spares on 200 pieces are too few after 195 of 206, and 20 are not.
func TestTooFew(t *testing.T) {
	for _, c := range []struct {
		pieces, spares, started, good int
		want                          string
	}{
		{200, 6, 206, 195, "195 of 206 were good then, 95 %: as many again, and 6 spares for 200 pieces are too few; --yield 95% starts 216"},
		{200, 20, 206, 195, ""}, {200, 0, 60, 60, ""}, {200, 0, 60, 0, ""}, {200, 0, 0, 0, ""},
	} {
		if got := TooFew(c.pieces, c.spares, c.started, c.good); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}
