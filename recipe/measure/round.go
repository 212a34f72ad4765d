package measure

import (
	"math"
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
	digits, exponent, ok := decimalOf(x)
	if !ok {
		return "?"
	}
	return written(x < 0, digits, exponent, min(max(decimals, -400), 400))
}

// Figures prints x rounded to n significant figures (at least one) by the same
// rule as [Round], and keeps trailing zeros after the point that are significant.
// Zero prints as "0".
func Figures(x float64, n int) string {
	digits, exponent, ok := decimalOf(x)
	switch {
	case !ok:
		return "?"
	case digits == 0:
		return "0"
	}
	n = min(max(n, 1), 400)
	text := written(x < 0, digits, exponent, n-1-exponent)
	if more := strings.TrimLeft(strings.Replace(text, ".", "", 1), "-0"); len(more) > n && strings.Contains(text, ".") {
		return strings.TrimSuffix(text[:len(text)-1], ".") // rounded up to one figure more: 9.99 to 10.0
	}
	return text
}

// decimalOf returns the first 15 significant digits of x without its sign, as a whole
// number, and the power of ten of the first of them.
func decimalOf(x float64) (digits int64, exponent int, ok bool) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, 0, false
	}
	mantissa, power, _ := strings.Cut(strconv.FormatFloat(math.Abs(x), 'e', noise-1, 64), "e")
	digits, err := strconv.ParseInt(strings.Replace(mantissa, ".", "", 1), 10, 64)
	if err != nil {
		return 0, 0, false
	}
	exponent, err = strconv.Atoi(power)
	return digits, exponent, err == nil
}

// written rounds the 15 digits to that many decimals and writes them out.
func written(negative bool, digits int64, exponent, decimals int) string {
	last := exponent - noise + 1 // the power of ten of the last digit
	if drop := -decimals - last; drop > noise {
		digits, last = 0, -decimals
	} else if drop > 0 {
		by := int64(math.Pow10(drop))
		rest := digits % by
		if digits /= by; rest*2 > by || rest*2 == by && digits%2 == 1 {
			digits++
		}
		last = -decimals
	}
	text := strconv.FormatInt(digits, 10)
	if digits != 0 && last > 0 {
		text += strings.Repeat("0", last)
	}
	if places := max(-last, 0); places > 0 {
		if short := places + 1 - len(text); short > 0 {
			text = strings.Repeat("0", short) + text
		}
		text = text[:len(text)-places] + "." + text[len(text)-places:]
	}
	if missing := max(decimals, 0) - max(-last, 0); missing > 0 {
		if last >= 0 {
			text += "."
		}
		text += strings.Repeat("0", missing)
	}
	if negative && digits != 0 {
		text = "-" + text
	}
	return text
}
