// Package run is a batch at the bench: what comes next, what happened, and what the
// bath now asks for.
//
// [New] takes the sheet, the recipe and what was written down so far. [Run.Next] says
// what to do now: mix, read a temperature, do something to the bath, dip a load, enter
// the result. The terminal, the page of the tablet and a run written down afterwards all
// ask it. Whoever did something makes an [Entry] of it and stores it before going on;
// the next Run is made of the entries with that one among them. Nothing is kept here.
//
// A dip time follows the last temperature read: the bath is reckoned to cool from there
// as the sheet says, and the law of the sheet turns temperature and strength into a time.
// Without a law the recipe's time holds. All of it is an estimate; a reading overrules it.
package run
