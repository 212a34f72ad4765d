// Package record says what can happen in the journal, and that a batch or a container is the sum of its events.
//
// Begin with Event, the one struct that is stored (CBOR) and exported (JSON), and with ReplayAs, which adds events up.
// Fields is what a person may say about a batch and correct later: flags, amendments, CSV columns, imports and sums
// follow it. Check tells whether this program would have written an event. Ready is the gate before a batch is dipped.
package record
