// Package shop reads the workshop's own settings, shop.toml: balance, water, room,
// vessels, hands, minutes and rates, the people and what holds for them, exposure
// limits of the user's own.
//
// Call [Read]; a file that is not there gives an error that os.IsNotExist knows and
// a [Shop] in which nothing is set. [Shop.Settings] lists every setting with its
// value and where it came from, [Template] is a commented file to fill in.
//
// What it promises: the file is strict TOML (see package strict), and all that is
// wrong with it is found at once, with line, column and cure; a Shop that is handed
// out is in range and in the units of its types; a setting that nobody gave is
// never passed off as given. Nothing in a shop file lowers a hazard: flags of a
// person only add to a review, and a limit of the user's own is printed with its
// reason.
package shop
