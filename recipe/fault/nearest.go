package fault

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Nearest gives the name most like word, and the empty string where none is like
// it. It is the first of [NearestN].
func Nearest(word string, names []string) string {
	if near := NearestN(word, names, 1); len(near) > 0 {
		return near[0]
	}
	return ""
}

// NearestN gives the names most like word, at most n of them, the best first, and
// those as good as each other in the order given. A name is alike if at most a
// third of the letters of the shorter one would have to change, or if one is the
// beginning of the other. Case does not matter.
func NearestN(word string, names []string, n int) []string {
	const longest = 80 // nobody mistypes longer words; keeps the cost small
	word = strings.ToLower(word)
	length := utf8.RuneCountInString(word)
	if word == "" || length > longest || n < 1 {
		return nil
	}
	var near []string
	cost := map[string]int{}
	for _, name := range names {
		lower := strings.ToLower(name)
		other := utf8.RuneCountInString(lower)
		allowed := max(1, min(length, other)/3)
		begins := length >= 3 && (strings.HasPrefix(lower, word) || strings.HasPrefix(word, lower) && len(lower) >= 3)
		if !begins && max(length, other)-min(length, other) > allowed {
			continue // as many letters at least would have to change
		}
		if cost[name] = Changes(word, lower); cost[name] <= allowed || begins {
			near = append(near, name)
		}
	}
	slices.SortStableFunc(near, func(a, b string) int { return cost[a] - cost[b] })
	return near[:min(n, len(near))]
}

// Changes counts the letters to add, drop, change or swap with their neighbour to
// turn a into b (the optimal string alignment distance). Case matters. The cost is
// the product of the two lengths.
func Changes(a, b string) int {
	x, y := []rune(a), []rune(b)
	older, old, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range old {
		old[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			step := 1
			if x[i-1] == y[j-1] {
				step = 0
			}
			row[j] = min(old[j]+1, row[j-1]+1, old[j-1]+step)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
		older, old, row = old, row, older
	}
	return old[len(y)]
}
