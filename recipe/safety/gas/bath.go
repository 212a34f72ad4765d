package gas

import (
	"math"

	"hepar/recipe/measure"
)

// Bath is a sulfide bath as far as its gas is concerned.
type Bath struct {
	// What acid would free from the whole bath, in g of hydrogen sulfide: at most, and as
	// expected of the common product (see reagent.Form.GasFreed).
	FreeG, ExpectedG measure.Grams
	// PlanFreeG is the most of all baths of the plan, in the drum they end in; 0 for one bath.
	PlanFreeG   measure.Grams
	Volume      measure.Liters  // above 0; 1 L otherwise
	Temperature measure.Celsius // 0 to 100 C
	// PH at the temperature of the bath, above 0, up to 14; 0: not measured, the band counts.
	PH, PHFrom, PHTo float64
	Surface          measure.SquareCM // open to the air; 0: as if it stood AssumedDepthCM deep
	Lid              bool
}

const (
	// AssumedDepthCM is the depth of a bath, in cm, whose surface is not known: a wide low tub.
	// Assumed, on the side of more surface.
	AssumedDepthCM = 5.0
	// PickleMolPerML is the acid in a millilitre of the usual dry-acid pickle, in mol: 100 g/L of
	// NaHSO4 (common practice, no published source), 120.0538 g/mol by IUPAC 2021 atomic weights.
	PickleMolPerML = 100.0 / 1000 / 120.0538
	// VinegarSpoonMol is the acid in a spoon of vinegar, in mol: 15 mL of 5 % acetic acid,
	// 60.052 g/mol, at 1.005 g/mL. Density from memory.
	VinegarSpoonMol = 15 * 1.005 * 0.05 / 60.052
)

// Filled returns the bath with the assumed figures for those not given, each within its range.
func (b Bath) Filled() Bath {
	b.FreeG = measure.Grams(within(float64(b.FreeG), 0, 1e9))
	b.ExpectedG = min(measure.Grams(within(float64(b.ExpectedG), 0, 1e9)), b.FreeG)
	b.PlanFreeG = measure.Grams(within(float64(b.PlanFreeG), 0, 1e9))
	if !(b.Volume > 0 && b.Volume < 1e9) {
		b.Volume = 1
	}
	if !(b.Surface > 0 && b.Surface < 1e12) {
		b.Surface = measure.SquareCM(b.Volume.Milliliters() / AssumedDepthCM)
	}
	b.Temperature = inWater(b.Temperature)
	if b.PH = within(b.PH, 0, 14); b.PH > 0 {
		b.PHFrom, b.PHTo = b.PH, b.PH
	}
	b.PHTo = within(b.PHTo, 0, 14)
	b.PHFrom = min(within(b.PHFrom, 0, 14), b.PHTo)
	return b
}

// sulfide is the total in mol/L.
func (b Bath) sulfide() float64 { return float64(b.FreeG) / H2SMass / float64(b.Volume) }

// OverPPM is the air over the bath at a pH, still, as under a lid, in ppm.
func (b Bath) OverPPM(pH float64) float64 {
	b = b.Filled()
	return over(b.sulfide()*Fraction(pH, b.Temperature), b.Temperature)
}

// source is what crosses the surface into clean air, in mg/s, at a pH.
func (b Bath) source(pH float64) float64 {
	inWaterMg := b.sulfide() * Fraction(pH, b.Temperature) * 1e6 * H2SMass // mg/m3
	return Transfer * float64(b.Surface) / 1e4 * inWaterMg
}

// steady returns the air of the room and of the nearest cubic metre in the steady state, above
// a bath from which mgPerS comes off into clean air, and which takes m3 of air a second clean
// of it again. Neither holds more mg/m3 than still air over the bath, the room no more grams
// than the bath did.
func steady(mgPerS, back, most float64, held measure.Grams, molar float64, r Room) spread {
	flow := r.VolumeM3 * r.AirChangesPerHour / 3600 / MixingFactor
	mg := min(mgPerS/(flow+back), most, float64(held)*1000/r.VolumeM3)
	return spread{PPM(mg, molar), PPM(min(mg+mgPerS/exchange, most), molar)}
}

func (b Bath) planned(code, scenario string, from, to float64, r Room) Estimate {
	e := Estimate{Gas: HydrogenSulfide, Code: code, Scenario: scenario}
	if from == to {
		e.MgPerS = b.source(from)
	}
	at := func(pH float64) spread {
		back := Transfer * float64(b.Surface) / 1e4 / airWater(Henry(b.Temperature), b.Temperature) // m3/s
		return steady(b.source(pH), back, MgPerM3(b.OverPPM(pH), H2SMass), b.FreeG, H2SMass, r)
	}
	return e.band(at(to), at(from), from == to).under(b.OverPPM(from))
}

// Ammonia estimates a bath in use that gives off ammonia: a band, from low g that are free
// with all that copper can bind taken off, to high g with nothing taken off. Without ammonia
// it returns false.
func (b Bath) Ammonia(low, high measure.Grams, r Room) (Estimate, bool) {
	if !(high > 0) {
		return Estimate{}, false
	}
	b, r = b.Filled(), r.Filled()
	over := func(g measure.Grams) float64 {
		mol := within(float64(g), 0, 1e9) / NH3Mass / float64(b.Volume) * 1000 // mol/m3
		return min(mol/HenryAmmonia(b.Temperature)/standardPressure*1e6, 1e6)
	}
	air := func(g measure.Grams) spread {
		most := MgPerM3(over(g), NH3Mass)
		// Two films in series: the water side as for hydrogen sulfide, the air side as here.
		speed := float64(b.Surface) / 1e4 / (1/airFilm + airWater(HenryAmmonia(b.Temperature), b.Temperature)/Transfer) // m3/s
		return steady(most*speed, speed, most, g, NH3Mass, r)
	}
	e := Estimate{Gas: Ammonia, Code: "ammonia-planned", Scenario: "the ammonia bath as planned at " + measure.Round(float64(b.Temperature), 0) + " C"}
	return e.band(air(min(low, high)), air(high), false).under(over(high)), true
}

// Acid estimates what so many mol of acid free from the bath: one mol of gas each, up to all
// it holds. An upper bound: other alkali takes up acid first, and a part of the gas stays in
// the water.
func (b Bath) Acid(code, scenario string, mol float64, r Room, limitPPM float64) Estimate {
	b = b.Filled()
	mol = within(mol, 0, float64(b.FreeG)/H2SMass)
	return Loss(HydrogenSulfide, code, scenario, measure.Grams(mol*H2SMass), H2SMass, r, limitPPM).under(over(mol/float64(b.Volume), b.Temperature))
}

// Scenarios estimates the bath in use, a fall of its pH, and acid in it, in a room without
// capture at the source. limitPPM is the limit to which the room is cleared.
func (b Bath) Scenarios(r Room, limitPPM float64) []Estimate {
	b = b.Filled()
	r = r.Filled()
	at := " at " + measure.Round(float64(b.Temperature), 0) + " C"
	pH := func(x float64) string { return "pH " + measure.Plain(x) }
	words := pH(b.PHFrom)
	if b.PH == 0 {
		words = "pH not measured, " + pH(b.PHFrom) + " to " + measure.Plain(b.PHTo)
	}
	list := append([]Estimate{}, b.planned("as-planned", "the bath as planned, "+words+at, b.PHFrom, b.PHTo, r))
	if b.Lid {
		// A quarter of the height of a vessel stays free: a third of the bath.
		free := float64(b.Volume) / 1000 / 3
		mg := MgPerM3(b.OverPPM(b.PHFrom), H2SMass) * free
		e := Loss(HydrogenSulfide, "lid-lifted", "the lid lifted, the air under it let out, "+pH(b.PHFrom), measure.Grams(mg/1000), H2SMass, r, limitPPM)
		list = append(list, e.under(b.OverPPM(b.PHFrom)))
	}
	for _, low := range []float64{9, 8, 7} {
		if low < b.PHFrom {
			list = append(list, b.planned("ph-"+measure.Plain(low), "the same bath with its pH fallen to "+measure.Plain(low)+","+at, low, low, r))
		}
	}
	all := float64(b.FreeG) / H2SMass
	list = append(list, b.Acid("acid-all", "acid into the whole bath, at most", all, r, limitPPM))
	if b.ExpectedG < b.FreeG*0.99 && b.ExpectedG > 0 {
		list = append(list, b.Acid("acid-expected", "acid into the whole bath, as expected of the common product", float64(b.ExpectedG)/H2SMass, r, limitPPM))
	}
	if b.PlanFreeG > b.FreeG {
		list = append(list, Loss(HydrogenSulfide, "acid-plan", "acid into all baths of the plan, or into the drum they end in, at most", b.PlanFreeG, H2SMass, r, limitPPM))
	}
	return append(list,
		b.Acid("pickle-1-ml", "1 mL of pickle, 100 g/L of bisulfate, dragged into the bath", PickleMolPerML, r, limitPPM),
		b.Acid("vinegar-spoon", "a spoon of vinegar, 15 mL of 5 %, in the bath", VinegarSpoonMol, r, limitPPM),
	)
}

// The two answers to what a flow of air could do.
const (
	CaptureOnly = "capture at the source: no room fan does this"
	CaptureToo  = "capture at the source all the same: this flow is for the bath as it stands, not for acid in it"
)

// Flow is the air that would keep a scenario at a limit.
type Flow struct {
	Code     string  `json:"code"`
	Scenario string  `json:"scenario"`
	M3H      float64 `json:"m3_h"`
	Limit    string  `json:"limit"`
	Answer   string  `json:"answer"`
}

// Flows returns the air in m3/h that would keep the room at a limit in ppm, with
// [MixingFactor], for the bath as planned and for a fall of its pH, at the upper end of the
// band: five times the estimate. There is none where the pH was not measured.
func (b Bath) Flows(r Room, limit Limit) []Flow {
	b = b.Filled()
	if b.PH == 0 {
		return nil
	}
	r = r.Filled()
	var list []Flow
	for _, pH := range []float64{b.PHFrom, 9, 8, 7} {
		q := Airflow(b.source(pH)*Factor, MgPerM3(limit.Value, H2SMass), MixingFactor)
		f := Flow{Code: "as-planned", Scenario: "the bath as planned", M3H: figures(q), Limit: limit.List, Answer: CaptureToo}
		if list != nil {
			f.Code, f.Scenario = "ph-"+measure.Plain(pH), "the bath at pH "+measure.Plain(pH)
		}
		if list != nil && pH >= b.PHFrom {
			continue
		}
		// A window or bathroom fan moves at most 300 m3/h: common practice, no published source.
		if q > 300 || q > 10*r.VolumeM3 { // nobody works in 10 changes an hour: assumed
			f.Answer = CaptureOnly
		}
		list = append(list, f)
	}
	return list
}

const (
	gasConstant      = 8.314462618 // R in J/(mol K). Source: CODATA 2018, exact
	standardPressure = 101325.0    // one atmosphere in Pa, exact
)

func inWater(t measure.Celsius) measure.Celsius { return measure.Celsius(within(float64(t), 0, 100)) }

// PK1 is the first acid constant of hydrogen sulfide as pK at infinite dilution: -98.080 +
// 5765.4/T + 15.0455 ln T, T in K. Valid from 5 to 25 C; carried on above, it agrees within
// 0.01 with a second equation up to 60 C (Suleimenov and Seward 1997, from memory). Published
// constants differ by 0.1. Outside 0 to 100 C it returns the value at the end. Source: Millero
// 1988.
func PK1(t measure.Celsius) float64 {
	k := inWater(t).Kelvin()
	return -98.080 + 5765.4/k + 15.0455*math.Log(k)
}

// Fraction is the part of the dissolved sulfide that is hydrogen sulfide, from 0 to 1: 1/(1 +
// 10^(pH - pK1)), at a pH at that temperature, kept within 0 to 14. The second acid constant
// is left out: published values scatter and it does not matter below pH 14.
func Fraction(pH float64, t measure.Celsius) float64 { return share(pH, PK1(t)) }

func share(pH, pK float64) float64 { return 1 / (1 + math.Pow(10, within(pH, 0, 14)-pK)) }

// Henry is the solubility of hydrogen sulfide in water in mol/(m3 Pa): 1.0e-3 exp(2100 (1/T -
// 1/298.15)). Measurements lie between 8.6e-4 and 1.2e-3, and 2000 and 2200 K. Source: Sander
// 2023, compilation of Henry's law constants, version 5.
func Henry(t measure.Celsius) float64 {
	return 1.0e-3 * math.Exp(2100*(1/inWater(t).Kelvin()-1/298.15))
}

// airWater is the concentration of a gas in air over that in the water below it, without
// unit: 1/(H R T), for hydrogen sulfide 0.40 at 25 C.
func airWater(henry float64, t measure.Celsius) float64 {
	return 1 / (henry * gasConstant * inWater(t).Kelvin())
}

// over is what still air comes to over water that holds so much hydrogen sulfide itself, in
// mol/L: an upper bound in ppm, at most 1e6.
func over(molPerLiter float64, t measure.Celsius) float64 {
	pascal := within(molPerLiter, 0, 1e6) * 1000 / Henry(t)
	return min(pascal/standardPressure*1e6, 1e6)
}

// Transfer is the speed at which dissolved hydrogen sulfide crosses the surface of a bath, in
// m/s, right within a factor of five. Still water has 1e-6 to 1e-5, stirring raises it
// tenfold; the water side holds it, so the air over the bath does not matter. From memory;
// field values of sewers, 0.1 to 8 per hour by volume, span as much (Water Science and
// Technology 2022, abstract).
const Transfer = 1e-5

// airFilm is the speed at which ammonia leaves the surface through still air, in m/s, as water
// does from an open pan. From memory; right within [Factor].
const airFilm = 3e-3

// HenryAmmonia is the solubility of ammonia in water in mol/(m3 Pa): 0.59 exp(4200 (1/T -
// 1/298.15)), for dilute ammonia; over strong solutions the air holds up to twice as much.
// Source: Sander 2015, compilation of Henry's law constants, from memory.
func HenryAmmonia(t measure.Celsius) float64 {
	return 0.59 * math.Exp(4200*(1/inWater(t).Kelvin()-1/298.15))
}
