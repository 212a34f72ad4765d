// Package reagent knows the substances a recipe may name: what they are made of,
// in which forms they are sold, what they do to people, and what must never meet.
//
// Start with [Find] for one substance and [Substance.Form] for the hydrate or
// solution in the jar; [All] lists the whole table. [Refused] tells whether a
// word names something that no recipe may use. Two substances are compared with
// [Incompatible], and the rules behind it are listed by [Pairs].
//
// The arithmetic of solutions stands on [MolarMass]: [HydrateFactor] turns one
// form into another, [Molarity], [Dilute] and their kin make solutions,
// [NeutralizerGrams] counts equivalents. [WaterDensity], [WaterSpecificHeat],
// [WaterVapourPressureKPa], [Mix] and [HotCold] are water and its heat.
//
// What the package promises: every figure is finite and not negative, every
// figure has a source beside it, and a strength that is not known is an error
// and never a guess. What it does not promise: that a hazard code is the one on
// the jar. The codes are defaults of the family; the safety data sheet (SDS) of
// the maker, local codes and licensed practice decide. A pair that is not in the
// list is not thereby harmless.
package reagent
