package plan

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/job"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Constants of the vessel: common practice, no published source.
const (
	// CoverMM is the liquid wanted above a piece, in mm.
	CoverMM measure.Millimeters = 20
	// FillFraction is how full a vessel may be filled, as a fraction of its height.
	FillFraction = 0.75
)

// Vessel is the inside of a tub or pot. A round one has a Diameter and no Length
// and Width. Without a Height it is not known.
type Vessel struct {
	Name     string              `json:"name,omitempty"`
	Material string              `json:"material,omitempty"` // one of [Materials]; empty: not known
	Length   measure.Millimeters `json:"length_mm,omitempty"`
	Width    measure.Millimeters `json:"width_mm,omitempty"`
	Diameter measure.Millimeters `json:"diameter_mm,omitempty"`
	Height   measure.Millimeters `json:"height_mm"`
}

// May tells whether two may be one and the same: by their names, or else by their sizes.
func (v Vessel) May(o Vessel) bool {
	if v.Name != "" && o.Name != "" {
		return v.Name == o.Name
	}
	return v.Length == o.Length && v.Width == o.Width && v.Diameter == o.Diameter && v.Height == o.Height
}

// Wall is what a vessel is made of.
type Wall struct {
	MM      float64             // thick
	Density measure.GramsPerCM3 // of the wall
	Heat    float64             // J/(g K)
	Bare    bool                // metal that the bath touches
	Hot     [3]string           // the warning of hot water: its code, and what stands before and behind the temperature; empty: it bears it
}

// walls are the materials of vessels. The heat of glass and steel is from OpenStax University
// Physics vol. 2, table of specific heats, that of the others from memory. Densities are from
// memory, and the thickness of each is common practice, no source.
var walls = map[string]Wall{
	"glass":        {3, 2.5, 0.84, false, [3]string{"thick-glass", "Thick glass cracks under water of ", ": pour the cold water first, warm the vessel, or use borosilicate (say so in the shop file)."}},
	"borosilicate": {MM: 3, Density: 2.5, Heat: 0.84},
	"glazed":       {6, 2.4, 0.9, false, [3]string{"hot-vessel", "Thick glazed ware can crack under water of ", ": pour the cold water first, or warm the vessel."}},
	"enamel":       {MM: 1, Density: 7.85, Heat: 0.452},
	"plastic":      {3, 0.95, 1.9, false, [3]string{"hot-vessel", "Not every plastic bears water of ", ": check that this one does, or it sags with the bath in it."}},
	"steel":        {MM: 1, Density: 7.85, Heat: 0.452, Bare: true},
}

// GramsPerCM2 is the mass of the wall for each area of it.
func (w Wall) GramsPerCM2() float64 { return w.MM / 10 * float64(w.Density) }

// Materials lists what a vessel may be made of.
func Materials() []string { return slices.Sorted(maps.Keys(walls)) }

// Wall is what the vessel is made of; thick glass if the material is not given.
func (v Vessel) Wall() Wall { return walls[cmp.Or(v.Material, "glass")] }

// ParseVessel reads "200x140x90mm" (a box: inside length, width, height) or
// "150x180mm" (round: inside diameter, height). Every unit of length is taken;
// one unit at the end serves all figures.
func ParseVessel(text string) (Vessel, error) {
	bad := func() *fault.Error {
		return fault.Usagef("cannot read the vessel %q", measure.Clean(text)).
			Try("write inside length x width x height, \"200x140x90mm\", or diameter x height, \"150x180mm\"")
	}
	parts := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == 'x' || r == '×' })
	if len(parts) != 2 && len(parts) != 3 {
		return Vessel{}, bad()
	}
	last := strings.TrimSpace(parts[len(parts)-1])
	unit := strings.TrimLeft(last, "0123456789. /")
	if unit == "" {
		return Vessel{}, fault.Usagef("the vessel %q has no unit", measure.Clean(text)).
			Try("put the unit at the end: \"200x140x90mm\"")
	}
	sides := make([]measure.Millimeters, len(parts))
	for i, part := range parts {
		part = strings.TrimSpace(part)
		if strings.TrimLeft(part, "0123456789. /") == "" {
			part += " " + unit
		}
		side, err := measure.ParseLength(part)
		if err != nil {
			return Vessel{}, bad().Because(err)
		}
		if side < 5 || side > 5000 {
			return Vessel{}, fault.Usagef("the vessel %q has a side of %s", measure.Clean(text), measure.Metric.Length(side)).
				Try("give the inside of the vessel, from 5 mm to 5 m a side")
		}
		sides[i] = side
	}
	if len(sides) == 2 {
		return Vessel{Diameter: sides[0], Height: sides[1]}, nil
	}
	return Vessel{Length: sides[0], Width: sides[1], Height: sides[2]}, nil
}

// FloorCM2 is the area of the floor, and of the free surface, in cm2.
func (v Vessel) FloorCM2() float64 {
	if v.Diameter > 0 {
		return math.Pi / 4 * float64(v.Diameter*v.Diameter) / 100
	}
	return float64(v.Length*v.Width) / 100
}

// At returns the volume at a depth of liquid.
func (v Vessel) At(depth measure.Millimeters) measure.Liters {
	return measure.Liters(v.FloorCM2() * float64(depth) / 10 / 1000)
}

// Depth returns the depth of a volume of liquid.
func (v Vessel) Depth(volume measure.Liters) measure.Millimeters {
	return measure.Millimeters(float64(volume) * 1000 / v.FloorCM2() * 10)
}

// Usable is the volume with a quarter of the height kept free.
func (v Vessel) Usable() measure.Liters { return v.At(v.Height * FillFraction) }

// around is the length of the wall in mm.
func (v Vessel) around() float64 {
	if v.Diameter > 0 {
		return math.Pi * float64(v.Diameter)
	}
	return 2 * float64(v.Length+v.Width)
}

// WallCM2 is the area of floor and walls up to the rim, in cm2.
func (v Vessel) WallCM2() float64 { return v.FloorCM2() + v.around()*float64(v.Height)/100 }

// tub returns the surfaces of so much liquid; of a cube where the vessel is not known.
func (v Vessel) tub(volume measure.Liters) heat.Tub {
	floor := v.FloorCM2()
	if floor == 0 {
		side := math.Cbrt(volume.Milliliters())
		return heat.Tub{SurfaceCM2: side * side, WallCM2: 5 * side * side}
	}
	return heat.Tub{SurfaceCM2: floor, WallCM2: floor + v.around()/10*volume.Milliliters()/floor}
}

// Stand returns the least depth at which a piece of an extent lies or stands on one of
// its faces, with [CoverMM] of liquid above; false where none keeps it below the fill line.
func (v Vessel) Stand(e [3]measure.Millimeters) (measure.Millimeters, bool) {
	best, usable := measure.Millimeters(math.Inf(1)), v.Height*FillFraction
	for up := range 3 {
		if need := e[up] + CoverMM; need <= usable && v.grid(e[(up+1)%3], e[(up+2)%3], e[up], 0) > 0 {
			best = min(best, need)
		}
	}
	return best, best <= usable
}

// fits counts how many pieces lie beside each other with a gap between them: flat,
// or where that is too wide on edge or on end.
func (v Vessel) fits(e [3]measure.Millimeters, gap measure.Millimeters) int {
	if flat := v.grid(e[0], e[1], e[2], gap); flat > 0 {
		return flat
	}
	return max(v.grid(e[0], e[2], e[1], gap), v.grid(e[1], e[2], e[0], gap))
}

// grid counts footprints of a by b in rows, turned either way.
func (v Vessel) grid(a, b, up, gap measure.Millimeters) int {
	if v.Height > 0 && up > v.Height {
		return 0
	}
	a, b = max(a, 1e-3), max(b, 1e-3)
	count := func(n measure.Millimeters) int { return int(min(math.Floor(float64(n)+slack), job.MostPieces)) }
	if v.Diameter == 0 {
		rows := func(a, b measure.Millimeters) int {
			return min(count((v.Length+gap)/(a+gap))*count((v.Width+gap)/(b+gap)), job.MostPieces)
		}
		return max(rows(a, b), rows(b, a))
	}
	return max(v.round(a, b, gap), v.round(b, a, gap))
}

func (v Vessel) round(a, b, gap measure.Millimeters) int {
	d := float64(v.Diameter)
	rows := min(int(math.Floor((d+float64(gap))/float64(b+gap)+slack)), 10_000)
	best := 0
	for n := max(1, rows-1); n <= rows; n++ { // one row fewer may leave wider chords
		total := 0
		for i := range n {
			far := math.Abs((float64(i)-float64(n-1)/2)*float64(b+gap)) + float64(b)/2
			if far > d/2 {
				continue
			}
			total += int(math.Floor((2*math.Sqrt(d*d/4-far*far)+float64(gap))/float64(a+gap) + slack))
		}
		best = max(best, total)
	}
	return min(best, job.MostPieces)
}
