// Package exchange brings batches and containers out of a journal and in from elsewhere: JSON Lines,
// tables in CSV, tables that people kept by hand, and the journal of another bench.
//
// Out: Export. In: Import and Merge. What comes in becomes entries, each a batch or a
// container with its events, which pass the checks of package record; import.go compares them by their ids
// with those that are here. All is taken over or nothing: the work is done on a copy of the journal.
//
// table.go reads the rows of any table and makes a batch of what a row says, by the columns of an export
// (export.go) or by what a mapping makes of a table kept by hand (mapping.go); lines.go reads JSON Lines.
package exchange
