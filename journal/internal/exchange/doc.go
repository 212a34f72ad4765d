// Package exchange brings batches and containers out of a journal and in from
// elsewhere: JSON Lines, tables in CSV, tables that people kept by hand, and the
// journal of another bench.
//
// Out: Export and ExportStock. In: Import and Merge. Whatever comes in becomes
// entries, each a batch or a container with its events; each entry passes the
// checks of package record, and import.go compares its events with those that are
// here by their ids. All is taken over or nothing: the work is done on a copy of the
// journal, which takes its place at the end.
//
// table.go cuts a file into rows, reads those of any table, and makes a batch of what a row
// says by the names of columns, whether those are the columns of an export (export.go, which
// follow the table of fields of package record) or what a mapping makes of a table kept by
// hand (mapping.go). lines.go reads the rows of JSON Lines.
package exchange
