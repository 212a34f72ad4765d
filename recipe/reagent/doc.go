// Package reagent knows the substances a recipe may name: what they are made of,
// in which forms they are sold, what they do to people, and what must never meet.
//
// Start with [Find] for one substance and [Substance.Form] for the hydrate or
// solution in the jar; [All] lists the whole table. [Refused] tells whether a
// word names something that no recipe may use, and [Named] finds the substances that
// a text names. [Meetings] compares two families, [Gravest] returns the worst pair;
// [Pairs] is the one table of what must never meet.
//
// To add a substance, write one literal in the table file of its kind: names, groups,
// forms, gas, hazards. What it must never meet follows from its groups.
//
// [HydrateFactor] turns one form into another by their [MolarMass];
// [NeutralizerGrams] counts equivalents. [WaterDensity], [WaterSpecificHeat],
// [WaterVapourPressure], [Mix] and [HotCold] are water and its heat.
//
// What the package promises: every figure is finite and not negative, every
// figure has a source beside it, and a strength that is not known is an error
// and never a guess. What it does not promise: that a hazard code is the one on
// the jar. The codes are defaults of the family; the safety data sheet (SDS) of
// the maker, local codes and licensed practice decide. A pair that is not in the
// list is not thereby harmless.
package reagent
