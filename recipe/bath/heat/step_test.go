package heat

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/measure"
)

// Walls alone lose in proportion to the difference, so that the step must be the
// textbook exponential, whatever its length.
func step(bath measure.Celsius, capacity float64, tub Tub, air Air, heaterW float64, dt measure.Seconds) measure.Celsius {
	after, _ := Stand(tub, air).After(bath, capacity, heaterW, dt)
	return after
}

func TestStepIsExactForALinearLoss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := measure.Celsius(rapid.Float64Range(0, 100).Draw(t, "start"))
		air := Air{Ambient: measure.Celsius(rapid.Float64Range(0, 50).Draw(t, "room")), HumidityPercent: 50}
		tub := Tub{WallCM2: rapid.Float64Range(1, 5000).Draw(t, "walls")}
		capacity := rapid.Float64Range(100, 1e5).Draw(t, "capacity")
		dt := measure.Seconds(rapid.Float64Range(0, 1e6).Draw(t, "dt"))
		want := air.Ambient + (start-air.Ambient)*measure.Celsius(math.Exp(-WallW*tub.WallCM2/1e4/capacity*float64(dt)))
		if got := step(start, capacity, tub, air, 0, dt); math.Abs(float64(got-want)) > 1e-9 {
			t.Fatalf("%g C, want %g", got, want)
		}
	})
}

// fine integrates in 200,000 plain steps (explicit Euler), an independent and slow
// way. It stops at the room as Step says it does.
func fine(t, capacity float64, tub Tub, air Air, heater, dt float64) (float64, float64) {
	steam := 0.0
	const n = 200_000
	h := dt / n
	for range n {
		loss := Losses(measure.Celsius(t), tub, air)
		steam += loss.EvaporationW * h / LatentHeat(measure.Celsius(t))
		t += (heater - loss.TotalW) * h / capacity
		if heater == 0 {
			t = math.Max(t, float64(air.Ambient))
		}
	}
	return t, steam
}

func TestStepAgainstFineSteps(t *testing.T) {
	for _, c := range []struct{ start, litres, heater, dt float64 }{
		{95, 1.333, 0, 3600}, {75, 1.333, 0, 60}, {75, 1.333, 0, 600}, {65, 0.5, 0, 1800},
		{20, 1.333, 300, 3600}, {75, 1.333, 400, 7200}, {60, 4, 50, 36000}, {99, 0.3, 0, 7200},
	} {
		capacity := Capacity(measure.Liters(c.litres), 60)
		want, steam := fine(c.start, capacity, benchTub, benchAir, c.heater, c.dt)
		want = math.Min(want, 100)
		got, litres := Stand(benchTub, benchAir).After(measure.Celsius(c.start), capacity, c.heater, measure.Seconds(c.dt))
		if math.Abs(float64(got)-want) > 0.03 {
			t.Errorf("%+v: %g C, in fine steps %g", c, got, want)
		}
		if want < 100 && math.Abs(float64(litres)*998.2-steam) > 0.01*steam {
			t.Errorf("%+v: %g g of steam, in fine steps %g", c, litres*998.2, steam)
		}
	}
}

func drawTub(t *rapid.T) Tub {
	return Tub{SurfaceCM2: rapid.Float64Range(0, 5000).Draw(t, "surface"), WallCM2: rapid.Float64Range(1, 9000).Draw(t, "walls"), Lid: rapid.Bool().Draw(t, "lid")}
}

func drawAir(t *rapid.T) Air {
	return Air{Ambient: measure.Celsius(rapid.Float64Range(5, 45).Draw(t, "room")), HumidityPercent: rapid.Float64Range(0, 100).Draw(t, "humidity"), SpeedMS: rapid.Float64Range(0, 2).Draw(t, "speed")}
}

func TestStepProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tub, air := drawTub(t), drawAir(t)
		start := rapid.Float64Range(0, 100).Draw(t, "start")
		capacity := rapid.Float64Range(50, 1e6).Draw(t, "capacity")
		dt := measure.Seconds(rapid.Float64Range(0, 1e6).Draw(t, "dt"))
		more := measure.Seconds(rapid.Float64Range(0, 1e5).Draw(t, "more"))
		heater := rapid.Float64Range(1, 5000).Draw(t, "heater")
		bath := measure.Celsius(start)

		left := step(bath, capacity, tub, air, 0, dt)
		if low, high := min(bath, air.Ambient), max(bath, air.Ambient); left < low-1e-9 || left > high+1e-9 {
			t.Fatalf("left alone it goes from %g to %g C in a room of %g", bath, left, air.Ambient)
		}
		if later := step(bath, capacity, tub, air, 0, dt+more); bath > air.Ambient && later > left+0.1 {
			t.Fatalf("%g C after %g s, %g after %g", left, dt, later, dt+more)
		}
		heated := step(bath, capacity, tub, air, heater, dt)
		if heated < left-0.1 || heated > 100 {
			t.Fatalf("heated %g C, left alone %g", heated, left)
		}
		if twice := step(left, capacity, tub, air, 0, more); math.Abs(float64(twice-step(bath, capacity, tub, air, 0, dt+more))) > 0.2 {
			t.Fatalf("cut in two %g C, in one %g", twice, step(bath, capacity, tub, air, 0, dt+more))
		}
		if bath > air.Ambient+1 {
			shut, open := tub, tub
			shut.Lid, open.Lid = true, false
			if Losses(bath, shut, air).TotalW > Losses(bath, open, air).TotalW {
				t.Fatalf("a lid costs heat")
			}
			watts := Losses(bath, tub, air).TotalW
			if held := step(bath, capacity, tub, air, watts, dt); math.Abs(float64(held-bath)) > 1e-6 {
				t.Fatalf("held with %g W it goes from %g to %g C", watts, bath, held)
			}
		}
	})
}

func TestWaitTo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tub, air := drawTub(t), drawAir(t)
		bath := measure.Celsius(rapid.Float64Range(5, 99).Draw(t, "bath"))
		target := measure.Celsius(rapid.Float64Range(5, 99).Draw(t, "target"))
		capacity := rapid.Float64Range(100, 1e5).Draw(t, "capacity")
		heater := rapid.SampledFrom([]float64{0, 20, 500, 5000}).Draw(t, "heater")
		wait, ok := Stand(tub, air).WaitTo(target, bath, capacity, heater)
		if !ok {
			// Never: a long time must then leave it on this side.
			end := step(bath, capacity, tub, air, heater, 30*24*3600)
			if (target-bath)*(target-end) < -1e-3 {
				t.Fatalf("never comes from %g to %g C, and yet ends at %g", bath, target, end)
			}
			return
		}
		if got := step(bath, capacity, tub, air, heater, wait); math.Abs(float64(got-target)) > 0.1 {
			t.Fatalf("after %g s %g C, want %g", wait, got, target)
		}
	})
}

func TestWaitToByHand(t *testing.T) {
	// Walls alone: 11 x 0.1 / 1100 = 0.001 per second; from 40 above the room to 20
	// above takes ln 2 / 0.001.
	got, ok := Stand(Tub{WallCM2: 1000}, Air{Ambient: 20, HumidityPercent: 50}).WaitTo(40, 60, 1100, 0)
	if !ok || math.Abs(float64(got)-1000*math.Ln2) > 1e-6 {
		t.Errorf("%g s, %v; want %g", got, ok, 1000*math.Ln2)
	}
	for _, target := range []measure.Celsius{10, 70} {
		if got, ok := Stand(Tub{WallCM2: 1000}, Air{Ambient: 20, HumidityPercent: 50}).WaitTo(target, 60, 1100, 0); ok {
			t.Errorf("to %g C in %g s", target, got)
		}
	}
}

func BenchmarkStep(b *testing.B) {
	for _, c := range []struct {
		name string
		dt   measure.Seconds
	}{{"10s", 10}, {"90s", 90}, {"1h", 3600}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				step(75, 5440, benchTub, benchAir, 0, c.dt)
			}
		})
	}
}

func BenchmarkWaitTo(b *testing.B) {
	for b.Loop() {
		Stand(benchTub, benchAir).WaitTo(50, 75, 5440, 0)
	}
}
