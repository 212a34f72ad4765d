package reagent

import "strings"

// ValidCAS tells whether a CAS registry number is well formed and its check
// digit right: the digits before it, counted from the right and weighted 1, 2,
// 3, and so on, sum to it modulo 10. Source: the rule of the registry.
func ValidCAS(number string) bool {
	parts := strings.Split(number, "-")
	if len(parts) != 3 || len(parts[0]) < 2 || len(parts[0]) > 7 || len(parts[1]) != 2 || len(parts[2]) != 1 {
		return false
	}
	digits := parts[0] + parts[1]
	for i := range len(digits) {
		if !isDigit(digits[i]) {
			return false
		}
	}
	if !isDigit(parts[2][0]) || digits[0] == '0' {
		return false
	}
	sum := 0
	for i := range len(digits) {
		sum += (len(digits) - i) * int(digits[i]-'0')
	}
	return sum%10 == int(parts[2][0]-'0')
}
