// Package check proves that a journal is sound, and saves what can be read of one
// that is not.
//
// Verify reads the whole file: its pages, every checksum, the chain of events, every
// batch replayed from its events, the index against the batches both ways. Salvage
// reads a damaged file from its first byte to its last, finds every frame that is
// whole, and makes a new journal of them. Both run in memory that does not grow with
// the texts of the journal.
package check
