// Package reagent knows the substances a recipe may name: what they are made of, in which
// forms they are sold, what they do to people, and what must never meet.
//
// Start with [Find] for one substance and [Substance.Form] for the hydrate or solution in the
// jar; [All] lists the table. [Refused] tells whether a word names what no recipe may use,
// [Named] finds the substances that a text names. [Meetings] compares two families, [Gravest]
// returns the worst pair; [Pairs] is the one table of what must never meet. [HydrateFactor]
// turns one form into another, [NeutralizerGrams] counts equivalents; water.go is water and
// its heat.
//
// To add a substance, write one literal in the table file of its kind: names, groups, forms,
// gas, hazards. What it must never meet follows from its groups.
//
// The package promises: every figure is finite, not negative and has a source beside it; an
// unknown strength is an error and never a guess. It does not promise that a hazard code is
// the one on the jar: the codes are defaults of the family; the safety data sheet (SDS) of the
// maker, local codes and licensed practice decide. A pair that is not in the list is not
// thereby harmless.
package reagent
