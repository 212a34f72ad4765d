// Package strict reads TOML that a person has typed, and says of everything that
// is wrong with it where it stands and what to do.
//
// A [Kind] says what sort of file is read. [Kind.ReadFile] gets the bytes,
// [Kind.Decode] hands the file's root [Table] to a function of the caller, which
// reads one key after the other: [Table.Text], [Table.Whole], [Table.Number],
// [Table.Flag], [Table.List], [Figure] for a quantity with a unit, [Table.Sub] and
// [Table.Subs] for the tables inside, [Table.Only] for the keys that nobody knows.
// Each notes what it finds and goes on, so that one reading gives all there is to
// mend, as [Finding] values in the order of the file. What the caller checks itself it notes
// with [Table.AtKey] and [Table.AtValue].
//
// What the package promises: a file of any size, shape or content gives findings
// and no panic; line and column are those of the key or value itself, also in
// the middle of a list of tables, and count characters; a file that two TOML
// parsers read differently does not pass; no message carries a character that
// could act on a terminal.
package strict
