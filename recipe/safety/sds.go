package safety

// SDSHeadings gives the sixteen sections of a safety data sheet, in order. Source:
// 29 CFR 1910.1200 Appendix D; Globally Harmonized System, annex 4. A sheet that lacks
// one is not whole.
func SDSHeadings() []string {
	return []string{
		"Identification", "Hazard identification", "Composition and ingredients", "First-aid measures",
		"Fire-fighting measures", "Accidental release measures", "Handling and storage", "Exposure controls and personal protection",
		"Physical and chemical properties", "Stability and reactivity", "Toxicological information", "Ecological information",
		"Disposal considerations", "Transport information", "Regulatory information", "Other information",
	}
}
