// Package strict reads TOML that a person has typed. For everything that is wrong it says
// where, and what to do.
//
// [Kind.Read] passes the root [Table] of a file to a function of
// the caller, which reads one key after the other: [Table.Text], [Table.Whole],
// [Table.Number], [Table.Flag], [Table.List], [Figure] for a quantity with a unit, [Table.Sub]
// and [Table.Subs] for the tables inside, [Table.Only] for unknown keys. Each notes a fault
// and goes on, so one reading finds everything. The caller adds its own with [Table.AtKey] and
// [Table.AtValue].
//
// The package promises: a file of any size, shape or content returns findings and never a
// panic; line and column are those of the key or value itself, counted in characters; numbers
// are plain decimals; no message carries a character that could act on a terminal.
package strict
