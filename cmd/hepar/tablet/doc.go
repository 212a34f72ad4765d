// Package tablet serves the run of a batch to a tablet propped by the bath: the batches, the
// review as a checklist, the sheet, and the run with one large button, load by load.
//
// [New] returns the handler; package main listens. The page (page.html, app.js, app.css)
// loads nothing from outside. What happens at the bench is an entry of package run with a
// key made in the page: entries wait in the page while the connection is down, and are
// sent once, in order. The journal takes each key once.
//
// Every request is checked for its Host, every change for its Origin; bodies and times are
// bounded; a picture is decoded and written anew. On another address than the loopback a
// one-time code pairs a tablet.
package tablet
