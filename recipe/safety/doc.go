// Package safety says what must be known before a recipe is mixed: what must never
// meet, what gas could come off and from what, how to guard against it, and what to
// do when it happens.
//
// Call [Assess] with a recipe and as much of the batch as is known. It gives a
// [Review]: the emergency lines, to be shown first and kept in sight, and the points,
// gravest first, each with a code that stays the same from one version to the next,
// a [Level], a text and its source. [Refused] turns a review that holds a stop into
// the error with which a command ends.
//
// [Sequence] is the heart of it: it follows the pieces through every step and vessel
// in order, keeps account of what still clings to them and how often that was rinsed,
// and looks at every meeting, in one vessel or by drag-in. A harmless order of steps
// gives neither a stop nor a "correct first"; a false alarm counts as a failure.
//
// [SequenceOf] does the same for recipes that follow one another: pickle, finish, stop.
// [Subject.Before] and [Subject.After] bring such helpers into a review.
//
// A [Subject] may hold the room, the pH, the persons, what the pieces have set in them
// ([Withs]), what the shop shares between acid and sulfide ([Shares]) and limits of its
// own. The review then says what the bath could put into the air of that room, how few
// grams under acid would foul it, what drag-in could free, and what follows for the
// persons and the pieces: package gas has the model, [Review.Gas] and its neighbours
// the figures, [Review.Inputs] what was given and what assumed. Show [Review.Note]
// wherever a figure is shown, and the answer of a flow beside its m3/h.
//
// What the recipe file says of its own hazards is added to what follows from its
// substances; it can never take a point away or lower its level. Lines of a recipe
// that promise too much are not repeated (see [Claims]).
//
// The package promises nothing about a room, a bath or a waste: it does not classify,
// certify or permit. The safety data sheet of your own supplier and your local
// authority decide. Hazard codes are the defaults of a family of substances.
package safety
