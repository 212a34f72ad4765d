package reagent_test

import (
	"regexp"
	"strings"
)

var casNumber = regexp.MustCompile(`^[1-9][0-9]{1,6}-[0-9]{2}-[0-9]$`)

// validCAS tells whether a CAS registry number is well formed and its check
// digit right: the digits before it, counted from the right and weighted 1, 2,
// 3, and so on, sum to it modulo 10. Source: the rule of the registry.
func validCAS(number string) bool {
	if !casNumber.MatchString(number) {
		return false
	}
	digits := strings.ReplaceAll(number, "-", "")
	last, sum := len(digits)-1, 0
	for i := range last {
		sum += (last - i) * int(digits[i]-'0')
	}
	return sum%10 == int(digits[last]-'0')
}
