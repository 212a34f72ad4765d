// Package recipe knows what a finish is: the file that a person writes, and the [Recipe] from
// which every batch is scaled.
//
// Call [Load] to look up the recipes, and [Library.Get] to read one of them; [Read] checks a
// file by its path, [Decode] one in memory. All three return findings: everything that is
// wrong with a file, each with line and column, the offending text and the cure. [Template]
// and [FromExisting] begin a new file. [Digest] is the fingerprint of what a recipe says.
//
// The package promises: a recipe that it returns is complete, in range and in the units of its
// types; none has a banned substance, or a sulfide in one bath with an acid, an oxidizer or
// bleach; a file of any size, shape or content returns findings and never a panic; reading one
// recipe parses no other. A recipe of the user stands in for a built-in one of its name.
//
// Only what is declared counts. A text that names a substance by any name in the table, or a
// group word (acid, pickle, sulfide, solvent, oxidizer, caustic), must have it declared: used
// anywhere in the recipe (with, [[bath.reagent]]), or warned of in the warns_of of the same
// table; the warns_of at the head of the file is for title, look, source, [bath] and [dip].
// The group, or any substance of it, covers a group word; the group covers no single
// substance. What is in no pair (soap, salt, pumice) needs no declaration, and gas under
// [hazards] is one itself. "no vinegar" names vinegar, and no text in another language is
// understood.
//
// It does not promise that a recipe that passes is harmless. The safety data sheet, local
// codes and licensed practice decide; package safety checks the order of the steps.
package recipe
