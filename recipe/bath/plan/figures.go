package plan

import (
	"strconv"

	"hepar/recipe/measure"
)

// figure prints with a fixed number of decimals.
func figure(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }

// num prints a figure short, for a sentence.
func num[T ~float64](x T) string {
	if text := measure.Plain(float64(x)); len(text) <= 5 {
		return text
	}
	return measure.Figures(float64(x), 3)
}

// long prints a figure for the working, with guard digits.
func long[T ~float64](x T) string {
	if text := measure.Plain(float64(x)); len(text) <= 7 {
		return text
	}
	return measure.Figures(float64(x), 6)
}
