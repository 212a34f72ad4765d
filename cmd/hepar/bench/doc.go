// Package bench puts the run of one batch into words, for every hand on it: the full
// screen and the plain lines of hepar dip, and the page of hepar bench. [Bench.Task] says
// a step, [Bench.Others], [Bench.Cures] and [Bench.Opened] list what can be chosen,
// [Bench.Write] stores what happened. The steps themselves come from package run.
package bench
