// Package recipe knows what a finish is: the file a person writes, and the
// [Recipe] every batch is scaled from.
//
// Call [Load] for the recipes there are, and [Library.Get] for one of them;
// [Read] checks a file by its path, [Decode] one that is in memory. All three return
// findings: everything that is wrong with a file at once, each with line and
// column, the offending text and the cure. [Template] and [FromExisting] begin a
// new file. [Digest] is the fingerprint of what a recipe says, whatever its file
// looks like. [Bath.Mixing] is the order in which the bath is mixed, and there is
// no other; [Window] says how far the time in the bath may miss.
//
// What the package promises: a recipe it hands out is complete, in range and in
// the units of its types; a substance of the banned families, and a bath in which
// a sulfide stands with an acid, an oxidizer or bleach, is never handed out; a
// file of any size, shape or content returns findings and no panic; reading one
// recipe parses no other. A name that stands in two places is an error, never an
// override.
//
// What it does not promise: that a recipe that passes is harmless. The safety
// data sheet, local codes and licensed practice decide; package safety looks at
// the order of the steps.
package recipe
