// Package shop reads the workshop's own settings, shop.toml: balance, water, room, vessels,
// hands, minutes and rates, the people and what applies to them, and the exposure limits that
// the workshop keeps to.
//
// One table, in table.go, holds all there is to know of a setting: its key, an example, one
// line of help, its unit and range, and where its value goes. Reading, checking,
// [Shop.Settings] and [Template] follow it, so a new setting is one line in it.
//
// Call [Read]. One reading finds everything that is wrong, with line, column and cure (see
// package strict). A [Shop] is in range and in the units of its types, and a setting that is
// missing from the file never passes as given. Nothing in it lowers a hazard: what applies to
// a person only adds to a review, and a limit of the workshop's own is printed with its
// reason.
package shop
