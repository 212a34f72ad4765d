package heat

import (
	"math"
	"sync"

	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// vapour is [reagent.WaterVapourPressureKPa] made ready for a hundred thousand
// steps. That function has ln p linear in 1/T between the rows of its source;
// the rows, and so the pieces, are the same here.
type vapour struct {
	pieces [20]struct{ a, b float64 } // p = exp(a - b/T) in kPa
}

var vapourTable = sync.OnceValue(func() *vapour {
	v := new(vapour)
	for i := range v.pieces {
		low, high := edge(i), edge(i+1)
		pLow, pHigh := reagent.WaterVapourPressureKPa(low), reagent.WaterVapourPressureKPa(high)
		b := math.Log(pHigh/pLow) / (1/low.Kelvin() - 1/high.Kelvin())
		v.pieces[i].a, v.pieces[i].b = math.Log(pLow)+b/low.Kelvin(), b
	}
	return v
})

// edge is where piece i begins, in C: 0, 4, 10, 15, 20 and so on to 95.
func edge(i int) measure.Celsius {
	switch i {
	case 0:
		return 0
	case 1:
		return 4
	}
	return measure.Celsius(10 + 5*(i-2))
}

// at returns the pressure in kPa and its slope in kPa/K, for t from 0 to 100 C;
// outside it returns those of the nearer end.
func (v *vapour) at(t float64) (kPa, slope float64) {
	i := 0
	switch {
	case t >= 10:
		i = min(2+int((t-10)/5), len(v.pieces)-1)
	case t >= 4:
		i = 1
	}
	k := clamp(t, 0, 100) + 273.15
	piece := &v.pieces[i]
	kPa = math.Exp(piece.a - piece.b/k)
	return kPa, kPa * piece.b / (k * k)
}
