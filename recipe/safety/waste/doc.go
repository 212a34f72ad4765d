// Package waste estimates what is in a spent bath: sulfide in mg/L counted as sulfur, and the
// metals that were weighed in or that the work takes off the pieces. [Content] returns an
// [Estimate], [Estimate.Lines] puts it into words for a label.
//
// It does not measure, classify, or clear anything. A figure that rests on an assumption can
// be off by a factor of five and says so; that it is lower than a limit means nothing.
// Analysis and the local authority decide. There is no figure here for how much sulfide makes
// a waste reactive, because the rule has none: 40 CFR 261.23(a)(5) speaks of a quantity
// sufficient to be a danger.
package waste
