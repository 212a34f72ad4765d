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
// decimal. It rounds half to even on the decimal value, once: 2.675 gives 2.68 and
// 45.45 gives 45.4, whatever their binary neighbours are. What is no number prints
// as "?".
func Round(x float64, decimals int) string {
	d, ok := decimalOf(x)
	if !ok {
		return "?"
	}
	d.cut(d.point + clamp(decimals))
	return d.text(max(clamp(decimals), 0))
}

// Figures prints x rounded to n significant figures (at least one) by the same
// rule as [Round], and keeps trailing zeros after the point that are significant.
// Zero prints as "0".
func Figures(x float64, n int) string {
	d, ok := decimalOf(x)
	if !ok {
		return "?"
	}
	n = max(1, clamp(n))
	d.cut(n)
	if len(d.digits) == 0 {
		return "0"
	}
	return d.text(max(n-d.point, 0))
}

func clamp(n int) int { return min(max(n, -400), 400) }

// value is a decimal number: 0.digits times ten to the point. No digits is zero.
type value struct {
	negative bool
	digits   []byte
	point    int
}

// decimalOf takes x at the face value of its first 15 significant digits.
func decimalOf(x float64) (*value, bool) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, false
	}
	d := &value{negative: x < 0}
	var room [32]byte
	text := strconv.AppendFloat(room[:0], math.Abs(x), 'e', noise-1, 64)
	mantissa, exponent, _ := strings.Cut(string(text), "e")
	e, err := strconv.Atoi(exponent)
	if err != nil {
		return nil, false
	}
	d.point = e + 1
	d.digits = append([]byte{mantissa[0]}, mantissa[2:]...)
	d.trim()
	return d, true
}

// trim drops zeros at the end.
func (d *value) trim() {
	for len(d.digits) > 0 && d.digits[len(d.digits)-1] == '0' {
		d.digits = d.digits[:len(d.digits)-1]
	}
	if len(d.digits) == 0 {
		d.point, d.negative = 0, false
	}
}

// cut rounds to n digits, half to even.
func (d *value) cut(n int) {
	if n >= len(d.digits) {
		return
	}
	if n < 0 {
		d.digits = nil
		d.trim()
		return
	}
	rest := d.digits[n:]
	last := byte('0')
	if n > 0 {
		last = d.digits[n-1]
	}
	// digits are trimmed, so rest is exactly a half only when it is a lone 5
	up := rest[0] > '5' || rest[0] == '5' && (len(rest) > 1 || last%2 == 1)
	d.digits = append([]byte{'0'}, d.digits[:n]...)
	if up {
		i := n
		for d.digits[i] == '9' {
			d.digits[i] = '0'
			i--
		}
		d.digits[i]++
	}
	d.point++
	if d.digits[0] == '0' {
		d.digits = d.digits[1:]
		d.point--
	}
	d.trim()
}

// text writes the number with that many decimals; it has no more digits than that.
func (d *value) text(decimals int) string {
	var b strings.Builder
	if d.negative {
		b.WriteByte('-')
	}
	at := func(i int) byte { // the digit for ten to the power point-1-i
		if i >= 0 && i < len(d.digits) {
			return d.digits[i]
		}
		return '0'
	}
	if d.point <= 0 {
		b.WriteByte('0')
	}
	for i := 0; i < d.point; i++ {
		b.WriteByte(at(i))
	}
	if decimals > 0 {
		b.WriteByte('.')
		for i := d.point; i < d.point+decimals; i++ {
			b.WriteByte(at(i))
		}
	}
	return b.String()
}
