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
// Only what is declared counts. A text that names a substance by any name in the table,
// or a group word (acid, pickle, sulfide, solvent, oxidizer, caustic), must have it
// declared: used anywhere in the recipe (with, [[bath.reagent]]), or warned of in the
// warns_of of the same table; the warns_of at the head of the file is for title, look,
// source, [bath] and [dip]. A group word is covered by the group, or by any substance of
// it; the group covers no single substance. Soap, salt, pumice and plaster, which are in
// no pair, need no declaration, and gas under [hazards] is one itself. The package reads
// names and never sentences: "no vinegar" names vinegar. It cannot understand a text in
// another language, or with names that the table does not have: write the names of the
// table. It offers the name for a slip of a letter.
//
// It does not promise that a recipe that passes is harmless. The safety data sheet, local
// codes and licensed practice decide; package safety checks the order of the steps.
package recipe
