// Package plan is a run in time: which pieces go in together, how hot and how strong
// the bath then is, how long each load takes, and what is done to the bath between
// loads.
//
// Call Make with a Run. It chooses the start temperature and the size of the loads
// together, so that the run matches with the fewest baths and in the least time.
// Compare says what a change at the bench would bring; Sensitive says which
// assumptions move the run most.
//
// A range of strength or temperature says where to mix. A bath works as long as the
// dip that it asks for lies within the recipe's dip times, and not below WorksDownTo
// or Weakest. What a bath that works no longer needs is tried in this order: a longer
// dip (each load has its own), heat, more reagent, a fresh bath.
//
// The package prints nothing and knows no substances: doses are shares of the whole
// dose, which package bath turns into grams of what stands on the shelf.
package plan
