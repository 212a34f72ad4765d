// Package record says what can happen in the journal and what a batch or a
// container is: the sum of its events.
//
// Begin with Event, the one struct that is stored and exported, and with Replay
// and ReplayContainer, which add events up. Fields is the one table of what a
// person may say about a batch and correct later: flags, amendments, CSV
// columns, imports and sums all read it. Encode and Decode are the stored form
// (CBOR); the JSON tags are the exported form. Check tells whether an event from
// elsewhere is one that this program would have written. Ready is the gate
// before a batch is dipped.
//
// An event written by a newer build keeps what this build does not know: see
// Event.Unknown.
package record
