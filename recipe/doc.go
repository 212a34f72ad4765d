// Package recipe knows what a finish is: the file that a person writes, and the [Recipe]
// from which every batch is scaled.
//
// Call [Load] to look up the recipes, and [Library.Get] to read one of them; [Read] checks
// a file by its path, [Decode] one in memory. All three return findings: everything that
// is wrong with a file, each with line and column, the offending text and the cure.
// [Template] and [FromExisting] begin a new file. [Digest] is the fingerprint of what a
// recipe says, whatever its file looks like.
//
// The package promises: a recipe that it returns is complete, in range and in the units
// of its types; it never returns a recipe with a banned substance, or with a sulfide in
// one bath with an acid, an oxidizer or bleach; a file of any size, shape or content
// returns findings and never a panic; reading one recipe parses no other. A recipe of the
// user with the name of a built-in one is used instead of it; [Library.Replaces] reports
// that.
//
// It does not promise that a recipe that passes is harmless. The safety data sheet, local
// codes and licensed practice decide; package safety checks the order of the steps.
package recipe
