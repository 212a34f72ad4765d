package metal

import (
	"cmp"
	"math"
	"regexp"
	"strconv"
	"sync"
)

var (
	tokens = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[A-Za-z]\w*|[\d.]+|\S`) })
	times  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`([\w)]) (\b|\()`) })
)

// value works out a formula as it is printed: + and -, a space for times, /, ^ and sqrt.
// Its letters stand for what is known of the piece, in cm, cm2 and g.
func (w *work) value(text string) float64 {
	f := formula{tokens().FindAllString(text, -1), w.known}
	return f.value(0)
}

// numbers puts the figures into a formula: "pi D t" becomes "pi x 3.9 x 0.2".
func (w *work) numbers(text string) string {
	text = tokens().ReplaceAllStringFunc(text, func(token string) string {
		if v, ok := w.known[token]; ok {
			return fig(v)
		}
		return token
	})
	return times().ReplaceAllString(text, "$1 x $2")
}

// formula is the tokens that are still to be read.
type formula struct {
	tokens []string
	known  map[string]float64
}

// ranks tell how tight an operator binds; what is none stands behind a times.
var ranks = map[string]int{"+": 1, "-": 1, "/": 2, "^": 3}

// value reads up to an operator that binds less than rank.
func (f *formula) value(rank int) float64 {
	token := f.tokens[0]
	f.tokens = f.tokens[1:]
	x, ok := f.known[token]
	switch {
	case token == "(":
		x = f.value(0)
		f.tokens = f.tokens[1:] // the closing bracket
	case token == "sqrt":
		x = math.Sqrt(f.value(3))
	case token == "pi":
		x = math.Pi
	case !ok:
		x, _ = strconv.ParseFloat(token, 64)
	}
	for len(f.tokens) > 0 && f.tokens[0] != ")" {
		op := f.tokens[0]
		binds := cmp.Or(ranks[op], 2)
		if binds < rank {
			break
		}
		if ranks[op] > 0 {
			f.tokens = f.tokens[1:]
		}
		switch y := f.value(binds + 1); op {
		case "+":
			x += y
		case "-":
			x -= y
		case "/":
			x /= y
		case "^":
			x = math.Pow(x, y)
		default:
			x *= y
		}
	}
	return x
}
