// Package label makes the labels of a finishing workshop: for jars and bottles, for tanks
// and for waste containers.
//
// Make a [Label] with [Container], [Bath] (start from [BathOf]) or [Waste], and set it with
// [HTML] on a sheet of labels, or with [SVG] at a size of your own. [FindSheet] knows common
// sheets by their geometry and takes the size of a single label; [Sheets] lists them.
// [SymbolsFor] chooses hazard symbols for hazard codes, [SignalFor] the signal word.
//
// What it promises: what must be on a label is on it at a readable size, or the label is
// refused as too small. Long texts wrap or shrink and stay inside the label. Symbols are
// at least 16 mm on a side and cover a fifteenth of the label where there is room, on
// labels of 52 x 74 mm and more; on smaller ones they fill a box of 16 mm at least. All is
// black on white. No text can leave its place in the page, whatever it contains.
// Contents that must not meet are refused.
//
// What it does not promise: that the codes are those of the jar, or that a label meets
// the rules of a place. It classifies nothing, least of all waste: hazards are the
// defaults of a family of substances until you enter the codes of your own SDS, and your
// local authority decides. Goods that are sold need more than is here: the supplier with
// address, precautionary statements, a red border round the symbols.
package label
