package fault

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Nearest returns the first of [NearestN], or "".
func Nearest(word string, names []string) string {
	if near := NearestN(word, names, 1); len(near) > 0 {
		return near[0]
	}
	return ""
}

// NearestN returns at most n names most like word, in any letter case, the best first and
// equals in the order given. In a name that is alike at most a third of the letters of the
// shorter one would have to change, or one is the beginning of the other.
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

// Changes counts the letters to add, drop, change or swap with their neighbour to turn a into
// b (optimal string alignment distance); case matters. It costs the product of the two
// lengths.
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
