// Package yield is how many pieces to start and what the job takes.
//
// [Start] returns the pieces to start so that enough come out good, from a yield
// (the share that is good at the first go) and a confidence.
// [Total] adds up the minutes and the cost of a [Job]: cleaning, bath, relief,
// inspection, rework, reagents, with the share of each.
//
// What it promises: the counts are exact, not from a normal approximation, up to
// a million good pieces; a share that rests on a default of [DefaultMinutes] is
// marked as assumed. The counts take every piece to have the same chance, one by
// one; a bath that spoils a whole load at once does worse than any count says.
package yield

import (
	"gonum.org/v1/gonum/mathext"

	"hepar/recipe/fault"
)

const (
	// Least is the smallest yield taken: below it the recipe wants mending, not spares.
	Least = 0.01
	// Surest is the largest confidence that is taken.
	Surest = 0.999999
)

// tie is how far a chance may miss the confidence by rounding alone.
const tie = 1e-12

// Start returns the smallest number of pieces to start so that at least good of
// them come out good with the confidence: the smallest n with P[X >= good] >=
// confidence, X being binomial. Good is from 1 to a million, the yield from [Least]
// to 1, the confidence above 0 and up to [Surest]. Errors are of kind Usage.
func Start(good int, yieldFraction, confidence float64) (int, error) {
	switch {
	case !(yieldFraction >= Least && yieldFraction <= 1):
		return 0, fault.Usagef("a yield of %g", yieldFraction).At("--yield").
			Try("give the share that comes out good, from %g to 1; where it is lower, mend the recipe first", Least)
	case confidence > 1 && confidence < 100:
		return 0, fault.Usagef("a confidence of %g is more than certain", confidence).Try("write it as a share: %g for %g %%", confidence/100, confidence)
	case !(confidence > 0 && confidence <= Surest):
		return 0, fault.Usagef("a confidence of %g", confidence).Try("give a share between 0 and 1, for instance 0.95; nothing is certain")
	}
	low, high := good-1, good // low is too few
	for chance(high, good, yieldFraction) < confidence-tie {
		low, high = high, high+max(1, high/2)
	}
	for high-low > 1 {
		middle := low + (high-low)/2
		if chance(middle, good, yieldFraction) < confidence-tie {
			low = middle
		} else {
			high = middle
		}
	}
	return high, nil
}

// chance is P[X >= good] for a binomial X, as the regularised incomplete beta
// function I_p(good, n-good+1). Against sums in 200 bits it is right to 1e-9 up
// to n = 2,000,000, where one piece more changes it by 1e-5 and more.
func chance(n, good int, p float64) float64 {
	switch {
	case good > n:
		return 0
	case p >= 1:
		return 1
	}
	return min(1, max(0, mathext.RegIncBeta(float64(good), float64(n-good+1), p)))
}
