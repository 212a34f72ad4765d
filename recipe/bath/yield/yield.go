// Package yield is how many pieces to start and what the job takes: [Start] finds the pieces
// from a yield (the share that is good at the first go) and a confidence, [Total] adds up
// the minutes and the cost of a [Job].
//
// What it promises: the counts are exact, not from a normal approximation, up to
// a million good pieces; a share that rests on a [Default] is marked as assumed. The counts
// take every piece to have the same chance, one by one; a bath that spoils a whole load at
// once does worse than any count says.
package yield

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/mathext"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
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
		return 0, fault.Usagef("a yield of %g is out of range", yieldFraction).At("--yield").
			Try("give the share that comes out good, from %g to 1; if it is lower, improve the recipe first", Least)
	case confidence > 1 && confidence < 100:
		return 0, fault.Usagef("a confidence of %g is more than 1", confidence).Try("write it as a share: %g for %g %%", confidence/100, confidence)
	case !(confidence > 0 && confidence <= Surest):
		return 0, fault.Usagef("a confidence of %g is out of range", confidence).Try("give a share between 0 and 1, for instance 0.95; nothing is certain")
	}
	enough := func(n int) bool { return chance(n, good, yieldFraction) >= confidence-tie }
	few, many := good-1, good
	for !enough(many) {
		few, many = many, many+max(1, many/2)
	}
	return few + 1 + sort.Search(many-few-1, func(i int) bool { return enough(few + 1 + i) }), nil
}

// Usual is the confidence where none is given. Assumed.
const Usual = 0.95

// TooFew says in a sentence that the spares are too few, if as many come out good as last time;
// it is empty where they are enough, or where nobody can say.
func TooFew(pieces, spares, started, good int) string {
	share := math.Round(float64(good)/float64(max(started, 1))*100) / 100
	start, err := Start(pieces, share, Usual)
	if err != nil || start <= pieces+spares {
		return ""
	}
	return fmt.Sprintf("%d of %d were good then, %.0f %%: as many again, and %s for %d pieces are too few; --yield %.0f%% starts %d",
		good, started, share*100, measure.Counted(spares, "spare", "spares"), pieces, share*100, start)
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

// The work of a job: its names in [Minutes] and in a [Share].
const (
	Clean   = "clean"              // degrease, rinse, hang or lay in the basket
	Relieve = "relieve"            // polish the high spots back
	Machine = "relieve-by-machine" // the same in a tumbler: a piece's share of loading and emptying it
	Coat    = "coat"               // brush, rub or spray one square decimetre once
	Seal    = "seal"
	Inspect = "inspect"
	Rework  = "rework" // strip a piece that came out wrong, before it goes through everything again
	Setup   = "setup"  // of the whole job, from the kettle to the first piece
	Dip     = "bath"
	Reagent = "reagents"
)

// Minutes is how long the work on one piece takes, in min, by its name. What is not in it
// takes its default.
type Minutes map[string]float64

// Default is a bench about which nothing is known. All are common practice, no published
// source. Relief by hand is for a square centimetre: it takes 1 to 2 min for a small stamped
// piece and outweighs the rest, so it is the first to be timed.
var Default = Minutes{Clean: 1, Relieve: 0.25, Machine: 0.5, Coat: 0.5, Seal: 0.5, Inspect: 0.5, Rework: 3, Setup: 15}

// Of returns the minutes of a work, and whether they are given.
func (m Minutes) Of(name string) (minutes float64, given bool) {
	if minutes, given = m[name]; !given {
		minutes = Default[name]
	}
	return minutes, given
}

// Job is the work to add up.
type Job struct {
	Started int     // pieces started, spares included
	Good    int     // pieces wanted
	Rework  float64 // pieces expected to go through again, 0 to Started
	WarmUp  float64 // min of a bath that is mixed cold
	Bath    float64 // min from the first piece in to the last out, for all pieces

	Coats     int     // the waits between them are no work
	AreaDM    float64 // of all pieces, in dm2
	Relief    bool    // the recipe has the high spots polished back
	ByMachine bool
	Seal      bool // the recipe has the pieces sealed

	LabourPerHour float64 // in the money of the shop; 0 where not given
	Reagents      float64 // cost of what is weighed for the job, in the money of the shop
}

// Share is one part of the job.
type Share struct {
	Name    string  `json:"name"`
	Minutes float64 `json:"minutes"`
	Cost    float64 `json:"cost"`
	Percent float64 `json:"percent"` // of all minutes
	Assumed bool    `json:"assumed"` // rests on minutes that were not given
	Working string  `json:"working"`
}

// Bill is the job added up. Costs are 0 where no rate was given.
type Bill struct {
	Shares  []Share `json:"shares"`
	Minutes float64 `json:"minutes"`
	Cost    float64 `json:"cost"`
	PerGood float64 `json:"cost_per_good_piece"`
	// MinutesPerGood is the working time that one good piece takes.
	MinutesPerGood float64 `json:"minutes_per_good_piece"`
}

// Figure prints a number short: one of 100 or more whole, others to two figures.
func Figure(x float64) string {
	if x == math.Trunc(x) || x >= 100 {
		return measure.Round(x, 0)
	}
	return measure.Figures(x, 2)
}

// Total adds up a job of at least one piece. Each step takes its minutes times the pieces
// started; a piece done again takes its stripping and then cleaning, its part of the bath,
// coat, relief, seal and inspection once more. Waiting for the tumbler is no work.
func Total(j Job, m Minutes) Bill {
	n := float64(j.Started)
	mixing, _ := m.Of(Setup)
	mixing += j.WarmUp
	again, given := m.Of(Rework)
	again += (mixing + j.Bath) / n
	rework := Share{Name: Rework, Assumed: !given}
	var b Bill
	add := func(s Share) {
		s.Cost += s.Minutes / 60 * j.LabourPerHour
		b.Shares, b.Minutes, b.Cost = append(b.Shares, s), b.Minutes+s.Minutes, b.Cost+s.Cost
	}
	each := func(is bool, name string) {
		if !is {
			return
		}
		minutes, given := m.Of(name)
		working, times := Figure(n)+" pieces x ", 1.0
		by := ""
		switch {
		case name == Coat:
			minutes, times = j.AreaDM*minutes/n, float64(j.Coats)
			working += fmt.Sprintf("%d coats x ", j.Coats)
		case name == Relieve && !given:
			by = fmt.Sprintf(", %g s for each cm2", minutes*60)
			minutes *= j.AreaDM * 100 / n
		}
		working += Figure(minutes) + " min" + by
		again, rework.Assumed = again+minutes*times, rework.Assumed || !given // it goes through all of them
		add(Share{Name: name, Minutes: n * (minutes * times), Assumed: !given, Working: working})
	}
	each(true, Clean)
	bath := Share{Name: Dip, Minutes: mixing + j.Bath, Working: Figure(mixing) + " min to mix"}
	if j.Bath > 0 {
		bath.Working += ", " + Figure(j.Bath) + " min at the bath"
	}
	add(bath)
	each(j.Coats > 0, Coat)
	each(j.Relief && !j.ByMachine, Relieve)
	each(j.Relief && j.ByMachine, Machine)
	each(j.Seal, Seal)
	each(true, Inspect)
	rework.Minutes, rework.Working = j.Rework*again, Figure(j.Rework)+" pieces x "+Figure(again)+" min"
	add(rework)
	add(Share{Name: Reagent, Cost: j.Reagents, Working: "reagents weighed, at their price"})
	for i := range b.Shares {
		if b.Minutes > 0 {
			b.Shares[i].Percent = 100 * b.Shares[i].Minutes / b.Minutes
		}
	}
	b.PerGood, b.MinutesPerGood = b.Cost/float64(j.Good), b.Minutes/float64(j.Good)
	return b
}
