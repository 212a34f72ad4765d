package plan

import (
	"math"
	"testing"

	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// black is a hot sulfide black on sterling: 4.5 g/L of liver of sulfur, 71 to 82 C,
// dips of 3 to 30 s, as the recipe silver-black has it.
func black(volume measure.Liters, v Vessel, kinds ...job.Kind) Run {
	return Run{
		Asked:  Asked{Kinds: kinds, Volume: volume, Vessel: v},
		Water:  recipe.Range[measure.Celsius]{At: 75, From: 71, To: 82},
		Dip:    recipe.Range[measure.Seconds]{At: 10, From: 3, To: 30},
		Window: recipe.Window{Short: 0.33, Long: 0.67}, Strongest: 5 / 4.5,
		Law:    kinetics.Law{T0: 10, At: 75, Strength: 1, Low: 0.5, High: 2, Prior: kinetics.Silver},
		Sulfur: 4.5 * 0.128, Reagent: 4.5 * float64(volume), Fade: kinetics.LiverFade,
		Bulk: 600, MetalIn: 50, Most: 82, Drain: rinse.Poor, Air: heat.Air{Ambient: 20, HumidityPercent: 50},
	}
}

// disc is a sterling disc: specific heat 0.24 J/(g K), density 10.36.
func disc(name string, pieces int, diameter, thickness float64) job.Kind {
	volume := math.Pi * diameter * diameter / 4 * thickness / 1000
	return job.Kind{Name: name, Pieces: pieces, Piece: metal.Piece{Area: measure.SquareCM((math.Pi*diameter*diameter/2 + math.Pi*diameter*thickness) / 100),
		Mass: measure.Grams(volume * 10.36), Alloy: metal.Alloy{SpecificHeat: 0.24},
		Extent: [3]measure.Millimeters{measure.Millimeters(diameter), measure.Millimeters(diameter), measure.Millimeters(thickness)}}}
}

// medals is the benchmark of sense: 240 sterling medals of 34 x 2.5 mm in a glass dish
// of two litres.
func medals() Run {
	return black(2, Vessel{Length: 250, Width: 180, Height: 60}, disc("", 240, 34, 2.5))
}

func TestPlanThatAMakerWouldFollow(t *testing.T) {
	plate := medals()
	plate.Heat, plate.Lid = Heat{Kind: Plate, Watts: 500}, true
	hand := medals()
	hand.Transfer = ByHand
	drops := black(0.5, Vessel{Diameter: 100, Height: 80}, disc("", 160, 14, 1.2))
	drops.Group = 2
	tokens := black(1.6, Vessel{Length: 200, Width: 140, Height: 90}, disc("", 63, 24, 1.6))
	for name, c := range map[string]struct {
		run     Run
		minutes float64
		baths   int
	}{
		"240 medals, no heat, strainer": {medals(), 45, 2},
		"240 medals, plate and lid":     {plate, 35, 1},
		"240 medals, by hand":           {hand, 90, 4},
		"160 drops in pairs":            {drops, 60, 2},
		"60 tokens in the tub":          {tokens, 20, 1},
	} {
		p, err := Make(c.run)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		t.Logf("%s: %.0f min, %d baths, %d loads of %d by %s, start %.1f C, lowest %.1f C, dips %d to %d s, %s (%.0f %% of %.0f %%), events %d, better %+v",
			name, p.Totals.Minutes, p.Totals.Baths, p.Totals.Loads, p.Capacity.Pieces, p.Capacity.By, p.StartC, p.LowestC, p.Loads[0].DipS, p.Loads[len(p.Loads)-1].DipS,
			p.Match.Verdict, p.Match.SpreadPercent, p.Match.WindowPercent, len(p.Events), Compare(c.run, p))
		if p.Totals.Minutes >= c.minutes || p.Totals.Baths > c.baths || p.Match.Verdict != ShouldMatch {
			t.Errorf("%s: %.0f minutes, %d baths, %s; want under %.0f, at most %d, a match", name, p.Totals.Minutes, p.Totals.Baths, p.Match.Verdict, c.minutes, c.baths)
		}
	}
}

func BenchmarkMake(b *testing.B) {
	r := medals()
	for b.Loop() {
		p, err := Make(r)
		if err != nil {
			b.Fatal(err)
		}
		Compare(r, p)
	}
}
