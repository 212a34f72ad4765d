// Package record says what can happen in the journal and what a batch or a container is: the sum of
// its events.
//
// Begin with Event, the one struct that is stored (Encode and Decode, in CBOR) and exported (its JSON
// tags), and with Replay and ReplayAs, which add events up. Fields is the one table of what a person
// may say about a batch and correct later: flags, amendments, CSV columns, imports and sums all read it.
// Check tells whether an event from elsewhere is one that this program would have written. Ready is the
// gate before a batch is dipped. What a newer build wrote is kept: see Event.Unknown.
package record
