package store

import "iter"

// Store is an open store. Another one can take its place: nothing above knows which it is.
type Store interface {
	// Transact runs fn in a transaction, which only reads unless it is one to write: then
	// its changes are on the disk when Transact returns nil, and nothing of them is when it
	// returns an error.
	Transact(write bool, fn func(KV) error) error
}

// KV is one transaction of a store of ordered keys in named buckets. What it returns
// is good until the transaction ends.
type KV interface {
	// ID returns the number of the transaction: the same for all that only read, until
	// one that writes raises it by one.
	ID() uint64
	// Make makes empty buckets.
	Make(buckets ...string)
	// Get returns the value under key; nil if there is none.
	Get(bucket string, key []byte) []byte
	// Put puts value under key; nil takes the key out.
	Put(bucket string, key, value []byte) error
	// Scan returns the entries with low <= key < high in the order of the keys, or
	// from the last to the first. A nil high is no bound, forward.
	Scan(bucket string, low, high []byte, backward bool) iter.Seq2[[]byte, []byte]
}

// The buckets of a journal.
const (
	metaBucket   = "meta"   // about, head
	eventsBucket = "events" // sequence number -> frame of an event
	listsBucket  = "lists"  // id of a batch or a container -> frame of the sequence numbers of its events
	indexBucket  = "index"  // tag value 0 id -> CRC-32C of the key
	blobsBucket  = "blobs"  // SHA-256 -> frame of a recipe or a sheet
)
