// Package label makes the labels of a finishing workshop: for jars and bottles, for tanks and
// for waste containers.
//
// Make a [Label] with [Container], [Bath] (start from [BathOf]) or [Waste], and print it with
// [Page] on a sheet of labels. [FindSheet] knows common sheets by their geometry and takes the
// size of a single label; [Sheets] lists them. [SymbolsFor] chooses hazard symbols for hazard
// codes, [SignalFor] the signal word.
//
// A browser sets the type: label.html and the style sheet of package paper say how a label
// looks, the folder symbols holds the drawings. The one script, fit.js, sets each label in the
// largest text that fits. Without it the text has its least size, and the page says that the
// labels are not fitted.
//
// It promises: what must be on a label is on it at a readable size, or a red band takes its
// place: choose a larger label. A label that had to be shortened says so and points to the
// SDS. Symbols are at least 16 mm on a side and cover a fifteenth of the label where there is
// room, on labels of 52 x 74 mm and more; on smaller ones they fill a box of 16 mm at least.
// All is black on white. Contents that must not meet are refused.
//
// It does not promise that the codes are those of the jar, or that a label meets the rules of
// a place. It classifies nothing, least of all waste: hazards are the defaults of a family of
// substances until you enter the codes of your own SDS, and your local authority decides.
// These are workplace labels with drawings of our own. Goods that are sold need a supplier
// label: the supplier with address, precautionary statements, a red border round the symbols.
package label
