package waste

const (
	tclp      = "US toxicity characteristic, in the extract of the TCLP test"
	tclpText  = "40 CFR 261.24, table 1"
	county    = "sewer limit of one US county"
	countyWeb = "county table as copied by a university safety office (ehs.washington.edu)"
	read2026  = "as read in 2026"
	sample    = "per sample of extract"
	notStated = "averaging time not stated in the copy"
)

// Examples lists a few published limits in mg/L. They hold where they were made and
// nowhere else, some of them for an extract and not for the liquid: look up your own.
// The county also asks for pH 5.5 to 12 and does not allow thinning to reach a figure.
func Examples() []Example {
	return []Example{
		{"Ag", "silver", 5.0, tclp, sample, tclpText, read2026},
		{"Ba", "barium", 100.0, tclp, sample, tclpText, read2026},
		{"Se", "selenium", 1.0, tclp, sample, tclpText, read2026},
		{"S", "hydrogen sulfide", 10, county, notStated, countyWeb, read2026},
		{"Cu", "copper", 8, county, notStated, countyWeb, read2026},
		{"Ag", "silver", 3, county, notStated, countyWeb, read2026},
		{"Se", "selenium", 1, county, notStated, countyWeb, read2026},
		{"Ba", "barium", 100, county, notStated, countyWeb, read2026},
	}
}

// ExamplesFor lists those of [Examples] that speak of an element in the estimate.
func (e Estimate) ExamplesFor() []Example {
	var out []Example
	for _, x := range Examples() {
		for _, f := range append(append([]Figure(nil), e.Bath...), e.Rinse...) {
			if f.Element == x.Element {
				out = append(out, x)
				break
			}
		}
	}
	return out
}
