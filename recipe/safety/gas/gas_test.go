package gas

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"

	"pgregory.net/rapid"
)

func sane(t interface{ Fatalf(string, ...any) }, what string, xs ...float64) {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
			t.Fatalf("%s gives %v", what, x)
		}
	}
}

// anything draws figures of any kind, those that are none among them.
func anything() *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 100), rapid.SampledFrom([]float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e308, 5e-324, 7, 14, 273.15}))
}

func TestWhateverGoesIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := func(name string) float64 { return anything().Draw(t, name) }
		b := Bath{
			FreeG: measure.Grams(x("free")), ExpectedG: measure.Grams(x("expected")), Volume: measure.Liters(x("volume")), Temperature: measure.Celsius(x("t")),
			PH: x("ph"), PHFrom: x("from"), PHTo: x("to"), Surface: measure.SquareCM(x("surface")), Lid: rapid.Bool().Draw(t, "lid"),
		}
		r := Room{VolumeM3: x("room"), AirChangesPerHour: x("changes")}
		limit := x("limit")
		if e, ok := b.Ammonia(b.ExpectedG, b.FreeG, r); ok {
			sane(t, e.Code, e.RoomLowPPM, e.RoomHighPPM, e.NearLowPPM, e.NearHighPPM, *e.HeadspacePPM)
		}
		list := append(b.Scenarios(r, limit), b.Acid("a", "b", x("mol"), r, limit), Loss(Ammonia, "a", "b", measure.Grams(x("loss")), x("molar"), r, limit))
		for _, e := range list {
			sane(t, e.Code, e.RoomLowPPM, e.RoomHighPPM, e.NearLowPPM, e.NearHighPPM, e.MgPerS, e.FreedG, e.ClearMin)
			if e.HeadspacePPM != nil {
				sane(t, e.Code, *e.HeadspacePPM)
			}
			if e.RoomPPM != nil && (e.RoomLowPPM > *e.RoomPPM || *e.RoomPPM > e.RoomHighPPM || e.NearLowPPM > *e.NearPPM || *e.NearPPM > e.NearHighPPM) {
				t.Fatalf("the band does not hold the figure: %+v", e)
			}
			if e.RoomLowPPM > e.RoomHighPPM || e.NearHighPPM > 1e6 {
				t.Fatalf("the band is upside down: %+v", e)
			}
			if e.Factor < Factor || e.RoomLowPPM > 0 && e.Factor*e.Factor < e.RoomHighPPM/e.RoomLowPPM*0.95 || !strings.Contains(e.Note, "verify with a meter") {
				t.Fatalf("the factor is narrower than the band, or there is no note: %+v", e)
			}
		}
		for _, f := range b.Flows(r, Limit{List: "x", Value: limit, Unit: ppm}) {
			sane(t, f.Code, f.M3H)
		}
		for _, g := range ToLimit("x", x("yield"), r, Limits(HydrogenSulfide)) {
			sane(t, g.Limit, g.Grams, g.NearGrams)
		}
		sane(t, "formulas", Airflow(x("d"), x("e"), x("f")), ClearMinutes(x("g"), x("h"), x("i"), x("j")),
			over(x("k")*Fraction(x("l"), measure.Celsius(x("m"))), measure.Celsius(x("m"))), Mixed(measure.Grams(x("n")), x("o"), x("p")), PPM(x("q"), x("r")), MgPerM3(x("s"), x("u")))
		if _, err := json.Marshal(list); err != nil {
			t.Fatal(err)
		}
	})
}

// A lower pH, a stronger bath, a smaller room or less air never give less gas.
func TestWorseIsNeverLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		b := Bath{FreeG: measure.Grams(f("free", 0.1, 50)), Volume: measure.Liters(f("volume", 0.2, 20)), Temperature: measure.Celsius(f("t", 5, 95)), PH: f("ph", 7.5, 13), Surface: measure.SquareCM(f("surface", 10, 5000))}
		r := Room{VolumeM3: f("room", 5, 500), AirChangesPerHour: f("changes", 0.2, 20)}
		first := func(b Bath, r Room) Estimate { return b.Scenarios(r, 1)[0] }
		base := first(b, r)
		worse := map[string]Estimate{}
		sour, strong, small, still := b, b, r, r
		sour.PH -= 1
		strong.FreeG *= 2
		small.VolumeM3 /= 2
		still.AirChangesPerHour /= 2
		worse["lower pH"], worse["stronger"], worse["smaller room"], worse["less air"] = first(sour, r), first(strong, r), first(b, small), first(b, still)
		for what, e := range worse {
			if *e.RoomPPM < *base.RoomPPM || *e.NearPPM < *base.NearPPM {
				t.Fatalf("%s: %+v, was %+v", what, e, base)
			}
		}
		if *base.NearPPM < *base.RoomPPM || *base.RoomPPM > *base.HeadspacePPM*1.01 || *base.NearPPM > *base.HeadspacePPM*1.01 {
			t.Fatalf("near, room and headspace are out of order: %+v over %v", base, *base.HeadspacePPM)
		}
	})
}

// The grams to a limit and the room they make are one another's reverse.
func TestGramsToLimitReturn(t *testing.T) {
	for _, m3 := range []float64{5, 32, 400} {
		for _, g := range ToLimit("x", 0.2, Room{VolumeM3: m3}, Limits(HydrogenSulfide)) {
			if got := Mixed(measure.Grams(g.Grams*0.2), H2SMass, m3); math.Abs(got-g.PPM) > g.PPM*0.01 {
				t.Errorf("%s in %v m3: %v g give %v ppm, want %v", g.Limit, m3, g.Grams, got, g.PPM)
			}
		}
	}
}

func TestRoomsRefused(t *testing.T) {
	bad := []Room{{VolumeM3: -1}, {VolumeM3: 0.5}, {VolumeM3: 1e9}, {VolumeM3: math.NaN()}, {VolumeM3: math.Inf(1)}, {AirChangesPerHour: -1}, {AirChangesPerHour: math.NaN()}, {AirChangesPerHour: 1e6}}
	for _, r := range bad {
		if err := r.Check(); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%+v: %v", r, err)
		}
	}
	if err := (Room{}).Check(); err != nil {
		t.Error("a room that was not given is refused")
	}
	if f := (Room{}).Filled(); f.VolumeM3 != AssumedRoomM3 || f.AirChangesPerHour != AssumedAirChanges {
		t.Errorf("%+v", f)
	}
}

// Each limit stands with all that belongs to it, once, and none is from memory.
func TestLimitsAreWhole(t *testing.T) {
	if n := len(Limits("")); n != 67 {
		t.Errorf("%d limits are read, want 67", n)
	}
	if got := names(); len(got) < 12 || len(slices.Compact(slices.Sorted(slices.Values(got)))) != len(got) {
		t.Errorf("the limits of one gas do not stand together: %q", got)
	}
	seen := map[string]bool{}
	for _, l := range Limits("") {
		key := l.Gas + "|" + l.List
		if seen[key] {
			t.Errorf("%s stands twice", key)
		}
		seen[key] = true
		for _, s := range []string{l.Gas, l.List, l.Averaging, string(l.Kind), l.Source, l.Date} {
			if s == "" || strings.ContainsAny(s, "\n\t<>") || strings.Contains(s, "http") || strings.Contains(s, "memory") {
				t.Errorf("%s: %q", key, s)
			}
		}
		if l.Evidence != opened && l.Evidence != secondary || l.Unit != ppm && l.Unit != mgPerM3 || !(l.Value > 0 && l.Value <= 400 || l.Value == 500) {
			t.Errorf("%s: %+v", key, l)
		}
		if strings.Contains(strings.ToLower(key+l.Date), "vacated") || strings.Contains(key, "Ontario") {
			t.Errorf("%s is not in force", key)
		}
	}
	for _, gas := range []string{HydrogenSulfide, Ammonia, NitrogenDioxide, Chlorine, SulfurDioxide} {
		if _, ok := Lowest(Limits(gas)); !ok {
			t.Errorf("no limit for %s", gas)
		}
	}
	if len(Limits(Chloramine)) > 0 {
		t.Error("a limit for chloramine, where none was found")
	}
	low, _ := Lowest(Limits(HydrogenSulfide))
	if low.Value != 1 || low.Kind != Working {
		t.Errorf("the lowest for work is %+v", low)
	}
}

func TestOwnLimits(t *testing.T) {
	given := func(gas, list string, ppm float64, reason string) Limit {
		return Limit{Gas: gas, List: list, Value: ppm, Reason: reason}
	}
	list, err := With(HydrogenSulfide, []Limit{
		given(HydrogenSulfide, "ACGIH TLV-TWA", 2, "older instrument\x1b[31m"), given(HydrogenSulfide, "insurer", 0.7, "asked for in the contract"), given(Ammonia, "insurer", 10, "asked for"),
	})
	if err != nil {
		t.Fatal(err)
	}
	var tlv, own Limit
	for _, l := range list {
		switch l.List {
		case "ACGIH TLV-TWA":
			tlv = l
		case "insurer":
			own = l
		}
	}
	if tlv.Value != 2 || tlv.Kind != Own || tlv.Reason != "older instrument" || tlv.Averaging != "8 h TWA" || own.Value != 0.7 {
		t.Errorf("%+v %+v", tlv, own)
	}
	if low, _ := Lowest(list); low.Value != 0.7 || len(list) != len(Limits(HydrogenSulfide))+1 {
		t.Errorf("%+v of %d", low, len(list))
	}
	if Limits(HydrogenSulfide)[0].Value != 1 {
		t.Error("the shipped list was changed")
	}
	for _, o := range []Limit{
		{}, given("hydrogen sulfid", "x", 1, "y"), given(HydrogenSulfide, "", 1, "y"), given(HydrogenSulfide, "x", 0, "y"), given(HydrogenSulfide, "x", math.NaN(), "y"), given(HydrogenSulfide, "x", 1e7, "y"), given(HydrogenSulfide, "x", 1, " "), given(HydrogenSulfide, "x", 1, "\x1b[1m"),
	} {
		if _, err := With(HydrogenSulfide, []Limit{o}); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%+v: %v", o, err)
		}
	}
}

// No flow answers for a sour bath; the answer never calls a flow enough for acid.
func TestFlows(t *testing.T) {
	low, _ := Lowest(Limits(HydrogenSulfide))
	flows := k2s3(10.5, 60).Flows(Room{VolumeM3: 30}, low)
	if len(flows) != 4 || flows[0].Answer != CaptureToo || flows[3].Answer != CaptureOnly || flows[3].M3H < 5*2220*0.97 {
		t.Errorf("%+v", flows)
	}
}

// Without a measured pH there is a band, no figure in its middle and no flow of air, and
// the factor is as wide as the band.
func TestUnmeasuredIsABand(t *testing.T) {
	b := Bath{FreeG: 1.7, Volume: 1.9, Temperature: 75, PHFrom: 9, PHTo: 11}
	e := b.Scenarios(Room{VolumeM3: 30}, 1)[0]
	if e.RoomPPM != nil || e.NearPPM != nil || e.MgPerS != 0 || e.Factor < 40 || e.Factor > 60 || len(b.Flows(Room{}, Limit{Value: 1})) > 0 {
		t.Errorf("%+v", e)
	}
}

// Outdoors is a room in which the same gas is thinner.
func TestOutdoors(t *testing.T) {
	b := k2s3(9, 60)
	in, out := b.Scenarios(Room{VolumeM3: 30}, 1), b.Scenarios(Room{Outdoors: true}, 1)
	for i := range in {
		if *out[i].RoomPPM > *in[i].RoomPPM || out[i].ClearMin > in[i].ClearMin {
			t.Errorf("%+v indoors, %+v outdoors", in[i], out[i])
		}
	}
}

func BenchmarkScenarios(b *testing.B) {
	bath := Bath{FreeG: 2, ExpectedG: 1.4, Volume: 2, Temperature: 75, PH: 10.5}
	for b.Loop() {
		bath.Scenarios(Room{VolumeM3: 32, AirChangesPerHour: 4}, 1)
	}
}
