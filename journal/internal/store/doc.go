// Package store keeps events on the disk: the frames in which they lie, the chain
// that links them, the keys under which batches are found, and the file with its
// lock.
//
// Begin with Open, which names a file and opens nothing, and with its View and
// Update, which run one transaction on a Tx and let go of the file. Tx.Append
// writes events with everything that follows from them; Tx.Batch, Tx.Under and
// their like read. [fault.Check] ends a transaction with an error.
// Exchange makes a new file beside the journal and puts it in its place.
//
// Store and KV are the small interface to the ordered keys below; bolt.go is the
// only file that knows which store it is. A file is walked (walk.go) before it is
// opened, unless nobody has written to it since a walk. Every fault of the store comes
// out as an error: a damaged file never crashes the program and never tells a wrong
// story. FORMAT.md describes the bytes.
package store
