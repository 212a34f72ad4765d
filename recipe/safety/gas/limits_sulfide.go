package gas

// Where limits were read. "Read" is when this list was put together.
const (
	opened    = "opened"
	secondary = "read as quoted elsewhere"
	read      = "read November 2026"
	review    = "review article PMC5777517, Table 3"
	aegl      = review + ", citing National Research Council, AEGL volume 9"
)

const (
	ppm     = "ppm"
	mgPerM3 = "mg/m3"
	shift   = "8 h TWA"
	shift10 = "10 h TWA"
	quarter = "15 min"
	ceiling = "ceiling"
	escape  = "30 min, basis for escape"
)

// Limits of hydrogen sulfide. The figures that OSHA proposed in 1989 were vacated by a
// court and are left out; older ACGIH figures of 10 and 15 ppm are superseded.
func sulfideLimits() []Limit {
	l := func(list string, value float64, averaging string, kind Kind, source, date, evidence string) Limit {
		return Limit{HydrogenSulfide, list, value, ppm, averaging, kind, source, date, evidence, ""}
	}
	const (
		z2     = "29 CFR 1910.1000 Table Z-2 as quoted in the NIOSH IDLH documentation and in " + review
		eh40   = "EH40/2005 as quoted by an occupational hygiene service"
		safeAu = "Safe Work Australia, exposure standard 327"
		ed2010 = "2010 edition, " + read
	)
	return []Limit{
		l("ACGIH TLV-TWA", 1, shift, Working, review, "edition not stated, "+read, secondary),
		l("ACGIH TLV-STEL", 5, quarter, Working, review, "edition not stated, "+read, secondary),
		l("UK WEL, long term", 5, shift, Working, eh40, "4th edition, 2020, "+read, secondary),
		l("UK WEL, short term", 10, quarter, Working, eh40, "4th edition, 2020, "+read, secondary),
		l("Germany MAK", 5, shift, Working, review, "edition not stated, "+read, secondary),
		l("NIOSH REL ceiling", 10, "10 min ceiling", Working, "NIOSH 1988 comments on OSHA's limits (hydrogen sulfide); NIOSH criteria document of 1977", "1977, "+read, opened),
		l("Australia WES TWA", 10, shift, Working, safeAu, "under review, "+read, opened),
		l("Australia WES STEL", 15, quarter, Working, safeAu, "under review, "+read, opened),
		l("OSHA PEL construction and shipyards", 10, shift, Working, "29 CFR 1926.55 Appendix A; 29 CFR 1915.1000", "edition not stated, "+read, secondary),
		l("OSHA PEL ceiling", 20, ceiling, Working, z2, "edition not stated, "+read, secondary),
		l("OSHA PEL peak", 50, "10 min, once a shift, only without other exposure", Working, z2+"; OSHA interpretation of 28 September 1995", "1995, "+read, secondary),
		l("NIOSH IDLH", 100, escape, Escape, review+"; NIOSH IDLH documentation", "edition not stated, "+read, opened),
		l("AEGL-1, 10 min", 0.75, "10 min", Emergency, aegl, ed2010, opened),
		l("AEGL-1, 30 min", 0.60, "30 min", Emergency, aegl, ed2010, opened),
		l("AEGL-1, 60 min", 0.51, "60 min", Emergency, aegl, ed2010, opened),
		l("AEGL-2, 10 min", 41, "10 min", Emergency, aegl, ed2010, opened),
		l("AEGL-2, 30 min", 32, "30 min", Emergency, aegl, ed2010, opened),
		l("AEGL-2, 60 min", 27, "60 min", Emergency, aegl, ed2010, opened),
		l("AEGL-3, 10 min", 76, "10 min", Emergency, aegl, ed2010, opened),
		l("AEGL-3, 30 min", 59, "30 min", Emergency, aegl, ed2010, opened),
		l("AEGL-3, 60 min", 50, "60 min", Emergency, aegl, ed2010, opened),
		l("ERPG-1", 0.1, "60 min", Emergency, review, "edition not stated, "+read, secondary),
		l("ERPG-2", 30, "60 min", Emergency, review, "edition not stated, "+read, secondary),
		l("ERPG-3", 100, "60 min", Emergency, review, "edition not stated, "+read, secondary),
	}
}
