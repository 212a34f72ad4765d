// Package keep keeps copies of a journal: it makes and prunes backups, puts one in
// the place of the journal, and writes the journal anew without unused room.
//
// All work is done on a copy beside. A copy is verified whole before it gets a name
// or takes the place of the journal, and nothing is ever overwritten: a journal that
// is replaced stays beside under a dated name.
package keep
