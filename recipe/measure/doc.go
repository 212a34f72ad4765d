// Package measure reads, converts and prints quantities with units. It is the
// lowest room of the house: every figure that a person types comes in through
// here, and every figure that a person reads goes out through here.
//
// # Coming in
//
// [Parse] reads any quantity and keeps its unit; [Quantity.In] converts it. Where
// the kind of quantity is known, the typed parsers give a plain number in the unit
// of its type: [ParseMass] ([Grams]), [ParseVolume] ([Liters]), [ParseLength],
// [ParseArea], [ParseTemperature], [ParseDuration], [ParseLoad], [ParseSpread],
// [ParseRatio], [ParseCount]. Zero is for the caller to refuse.
//
// A quantity is refused before it is guessed. No unit, a comma that may mark
// thousands, an exponent, a range, a word for a size ("pea") or a heat ("hot tap"), a dram, a
// bare ppm or percent, an "oz" where a volume is wanted, a spoon of a solid: each
// is a usage error that names the choices. A name that custom reads in one way but
// that has a namesake (gal, pint, oz, gr, tsp) is read that way, and the quantity
// carries a note that says so, [Quantity.Note], for the caller to print.
//
// # Between
//
// Units have exact factors; a conversion is worked out as a fraction and rounded
// once, to the nearest float64. [Parse] of [Quantity.String] is the same quantity,
// bit for bit. Nothing here returns NaN or an infinity, and nothing negative but a
// temperature.
//
// # Going out
//
// Figures are rounded at output only, and once: half to even on the decimal value.
// The decimal value of a float64 is that of its first 15 significant digits, so
// that 0.1+0.2 counts as 0.3 and 45.45 as exactly halfway between 45.4 and 45.5 (it
// prints as 45.4). [Round] works to a number of decimals, [Figures] to a number of
// significant figures, and both print plain decimals, never an exponent or "-0".
//
// A [System] picks unit and figures for the eye: three significant figures, but
// never fewer than all the digits before the point, zeros at the end dropped;
// temperatures to a tenth of a degree; times in whole seconds from ten seconds up,
// whole minutes from an hour up. What it prints, [Parse] reads.
//
// Text that comes from a file goes through [Clean] before it reaches a terminal.
package measure
