package journal

import (
	"bytes"
	"slices"
	"strings"
)

// The tags that begin a key of the index, one for each thing that a batch can be
// found by. All share one bucket, so that the upper pages of the tree are shared
// and one more index costs one more page per write, not a tree of its own.
const (
	byRecipe = 'r' // slug
	byAlloy  = 'a'
	byState  = 's' // all but logged, which nearly all batches are in the end
	byResult = 'o' // rework, reject; of logged batches only, and not good, which most are
	byCause  = 'c' // of logged batches only
	byPerson = 'p' // anyone named in an event, in lower case
	byLot    = 'l' // of the containers it used, in lower case
	byWaste  = 'w' // container its waste is in, in lower case
)

// The words of Filter.Result.
const (
	ResultGood   = "good"   // nothing to rework, nothing rejected
	ResultRework = "rework" // at least one to rework
	ResultReject = "reject" // at least one rejected
)

// indexPrefix is what all keys for one value share. Values hold no zero byte, so
// that no value's keys lie among those of another.
func indexPrefix(tag byte, value string) []byte {
	key := make([]byte, 0, 2+len(value)+len(id{}))
	key = append(key, tag)
	key = append(key, value...)
	return append(key, 0)
}

// foldName is how a person's name is compared.
func foldName(name string) string { return strings.ToLower(strings.TrimSpace(name)) }

// indexKeys gives all keys that must point to b, in order.
func indexKeys(b *batchRecord, slug string) [][]byte {
	var keys [][]byte
	add := func(tag byte, value string) { keys = append(keys, append(indexPrefix(tag, value), b.ID[:]...)) }
	add(byRecipe, slug)
	add(byAlloy, b.Plan.Alloy)
	if b.State != Logged {
		add(byState, string(b.State))
	}
	for _, name := range b.People {
		add(byPerson, foldName(name))
	}
	if b.State == Logged && b.Result != nil {
		if b.Result.Rework > 0 {
			add(byResult, ResultRework)
		}
		if b.Result.Reject > 0 {
			add(byResult, ResultReject)
		}
		for cause := range b.Result.Causes {
			add(byCause, cause)
		}
	}
	b.moreKeys(add)
	slices.SortFunc(keys, bytes.Compare)
	return slices.CompactFunc(keys, bytes.Equal)
}
