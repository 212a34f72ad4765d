// Package exchange brings batches and containers out of a journal and in from elsewhere: JSON Lines,
// tables in CSV, tables that people kept by hand, and the journal of another bench.
//
// What comes in becomes entries, each a batch or a container with its events, which pass the checks of package
// record; import.go compares them by their ids with those that are here. All is taken over or nothing: the work is
// done on a copy of the journal, which is verified.
package exchange
