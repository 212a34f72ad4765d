package measure

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// noise is how many significant digits of a float64 are taken at face value when
// it is rounded. Sums and products leave their dirt in the 16th and 17th.
const noise = 15

// Plain prints a number as the shortest plain decimal that reads back as the same
// float64: no exponent, no "-0". What is no number prints as "?".
func Plain(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "?"
	}
	return strconv.FormatFloat(x+0, 'f', -1, 64)
}

// Round prints x with that many decimals (negative: to tens, hundreds), as a plain
// decimal. It rounds half to even on the decimal value, once: 2.675 rounds to 2.68
// and 45.45 to 45.4, whatever their binary neighbours are. What is no number prints
// as "?".
func Round(x float64, decimals int) string {
	text := strconv.FormatFloat(x, 'e', noise-1, 64)
	digits, power, ok := strings.Cut(text, "e")
	if !ok {
		return "?"
	}
	if exponent, _ := strconv.Atoi(power); decimals >= 0 && exponent+decimals < noise-1 {
		digits = strings.Replace(strings.TrimPrefix(digits, "-"), ".", "", 1)
		if digits = digits[max(exponent+decimals+1, 0):]; strings.TrimRight(digits, "0") != "5" { // no tie: quickly
			short := strconv.FormatFloat(count(text), 'f', decimals, 64)
			if strings.Trim(short, "-0.") == "" {
				short = strings.TrimPrefix(short, "-")
			}
			return short
		}
	}
	r, _ := new(big.Rat).SetString(text)
	scale, _ := new(big.Rat).SetString("1e" + strconv.Itoa(decimals))
	r.Mul(r, scale)
	one := big.NewInt(1)
	halves, rest := new(big.Int).DivMod(new(big.Int).Lsh(r.Num(), 1), r.Denom(), new(big.Int))
	n := new(big.Int).Rsh(new(big.Int).Add(halves, one), 1)
	if tie := rest.Sign() == 0 && halves.Bit(0) == 1; tie && n.Bit(0) == 1 {
		n.Sub(n, one)
	}
	return r.Quo(r.SetInt(n), scale).FloatString(max(decimals, 0))
}

// Figures prints x rounded to n significant figures (at least one) by the same
// rule as [Round], and keeps trailing zeros after the point that are significant.
// Zero prints as "0".
func Figures(x float64, n int) string {
	mantissa, power, ok := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', noise-1, 64), "e")
	switch {
	case !ok:
		return "?"
	case x == 0:
		return "0"
	}
	n = max(n, 1)
	exponent, _ := strconv.Atoi(power)
	if strings.HasPrefix(Round(count(mantissa), n-1), "10") { // 9.99 to 10.0
		exponent++
	}
	return Round(x, n-1-exponent)
}
