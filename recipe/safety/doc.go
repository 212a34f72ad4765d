// Package safety says what must be done before a recipe is mixed: what must never meet, what to do
// and measure, what to read, and what gas could come off.
//
// Call [Assess] with a [Subject]: a recipe and as much of the batch as is known. It returns a
// [Review]: three lines for an emergency, points, at most ten [Confirmation]s, and the lines
// to read once. [Refused] turns a stop into the error with which a command ends.
// [Answers.Answer] reads a typed answer to a confirmation.
//
// It reasons over declared things only: substances and their forms, vessels and tools by name,
// alloys, water, order, room and people. Package recipe sees to it that a text names nothing
// else. [Sequence] follows the pieces and every named thing through the steps, over the pairs
// of package reagent; bench.go has what the bench must have; confirm.go and reading.go hold
// the two lists, with when each entry applies and its source; air.go estimates the gas with
// package gas.
//
// A stop has no override. A do is confirmed. A harmless order of steps has no stop; a false
// alarm counts as a failure.
//
// The package promises nothing about a room, a bath or a waste: it does not classify, certify
// or permit. The safety data sheet of your own supplier and your local authority decide.
// Hazard codes are the defaults of a family of substances.
package safety
