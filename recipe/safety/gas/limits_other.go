package gas

const unstated = "edition not stated, " + read

// Limits of the other gases and vapours. Left out: figures marked as superseded or
// outdated where they were read, and those that were only thought to follow a list.
func otherGasLimits() []Limit {
	l := func(gas, list string, value float64, averaging string, kind Kind, source, date, evidence string) Limit {
		return Limit{gas, list, value, ppm, averaging, kind, source, date, evidence, ""}
	}
	const (
		ammoniaPage = "copy of the NIOSH IDLH page of ammonia"
		nitrousPage = "copy of the NIOSH IDLH page of nitrogen dioxide"
		chlorPage   = "NIOSH IDLH page of chlorine"
		sulfurPage  = "NIOSH IDLH page of sulfur dioxide"
		sulfurEU    = "ECHA page on Directive (EU) 2017/164"
		nitricPage  = "NIOSH 1988 comments on OSHA's limits (nitric acid)"
		muriatic    = "AIHA news of 24 July 2025 on new NIOSH IDLH profiles"
		selenide    = "NIOSH IDLH page of hydrogen selenide"
		propanol    = "NIOSH IDLH page of isopropyl alcohol"
		nitric      = "nitric acid"
		hydrochlor  = "hydrogen chloride"
		hydrogenSe  = "hydrogen selenide (as Se)"
		isopropanol = "isopropanol"
	)
	return []Limit{
		l(Ammonia, "ACGIH TLV-TWA", 25, shift, Working, ammoniaPage, unstated, opened),
		l(Ammonia, "ACGIH TLV-STEL", 35, quarter, Working, ammoniaPage, unstated, opened),
		l(Ammonia, "NIOSH REL TWA", 25, shift10, Working, ammoniaPage, unstated, opened),
		l(Ammonia, "NIOSH REL STEL", 35, quarter, Working, ammoniaPage, unstated, opened),
		l(Ammonia, "OSHA PEL TWA", 50, shift, Working, "29 CFR 1910.1000 Table Z-1, "+ammoniaPage, unstated, opened),
		l(Ammonia, "NIOSH IDLH", 300, escape, Escape, "Minnesota Department of Agriculture; NIOSH Pocket Guide", unstated, secondary),

		l(NitrogenDioxide, "NIOSH REL STEL", 1, quarter, Working, nitrousPage, unstated, opened),
		l(NitrogenDioxide, "OSHA PEL ceiling", 5, ceiling, Working, "29 CFR 1910.1000 Table Z-1, "+nitrousPage, unstated, opened),
		l(NitrogenDioxide, "NIOSH IDLH", 20, escape, Escape, nitrousPage, "1994, look for a newer one, "+read, opened),

		l(Chlorine, "NIOSH REL ceiling", 0.5, "15 min ceiling", Working, chlorPage, unstated, opened),
		l(Chlorine, "OSHA PEL ceiling", 1, ceiling, Working, chlorPage+"; OSHA chemical sampling page", unstated, opened),
		l(Chlorine, "NIOSH IDLH", 10, escape, Escape, chlorPage, unstated, opened),

		l(SulfurDioxide, "EU IOELV, long term", 0.5, shift, Working, sulfurEU, "2017, "+read, opened),
		l(SulfurDioxide, "EU IOELV, short term", 1, quarter, Working, sulfurEU, "2017, "+read, opened),
		l(SulfurDioxide, "NIOSH REL TWA", 2, shift10, Working, sulfurPage, unstated, opened),
		l(SulfurDioxide, "NIOSH REL STEL", 5, quarter, Working, sulfurPage, unstated, opened),
		l(SulfurDioxide, "OSHA PEL TWA", 5, shift, Working, "29 CFR 1910.1000 Table Z-1, "+sulfurPage, unstated, opened),

		l(hydrochlor, "OSHA PEL ceiling", 5, ceiling, Working, muriatic, "2025, "+read, secondary),
		l(hydrochlor, "NIOSH REL ceiling", 5, ceiling, Working, muriatic, "2025, "+read, secondary),
		l(hydrochlor, "NIOSH IDLH", 45, escape, Escape, muriatic, "2025, "+read, secondary),

		l(nitric, "ACGIH TLV-TWA", 2, shift, Working, nitricPage, unstated, opened),
		l(nitric, "ACGIH TLV-STEL", 4, quarter, Working, nitricPage, unstated, opened),
		l(nitric, "NIOSH REL TWA", 2, shift10, Working, nitricPage, unstated, opened),
		l(nitric, "NIOSH REL STEL", 4, quarter, Working, nitricPage, unstated, opened),
		l(nitric, "OSHA PEL TWA", 2, shift, Working, nitricPage, unstated, opened),

		l(hydrogenSe, "OSHA PEL TWA", 0.05, shift, Working, selenide, unstated, opened),
		l(hydrogenSe, "NIOSH REL TWA", 0.05, shift10, Working, selenide, unstated, opened),
		l(hydrogenSe, "ACGIH TLV-TWA", 0.05, shift, Working, selenide, unstated, opened),
		l(hydrogenSe, "NIOSH IDLH", 1, escape, Escape, selenide, unstated, opened),

		l(isopropanol, "NIOSH REL TWA", 400, shift10, Working, propanol, unstated, opened),
		l(isopropanol, "NIOSH REL STEL", 500, quarter, Working, propanol, unstated, opened),
		l(isopropanol, "OSHA PEL TWA", 400, shift, Working, propanol, unstated, opened),
	}
}

// Limits of dusts, as the metal, in mg/m3.
func dustLimits() []Limit {
	l := func(dust, list string, value float64, averaging string, kind Kind, source, evidence string) Limit {
		return Limit{dust, list, value, mgPerM3, averaging, kind, source, unstated, evidence, ""}
	}
	const (
		copper = "copper dusts and mists (as Cu)"
		silver = "silver and its soluble compounds (as Ag)"
		barium = "barium, soluble compounds (as Ba)"
		se     = "selenium compounds (as Se)"
		cuPage = "NIOSH IDLH documentation of copper; NIOSH Pocket Guide, 2005"
		sePage = "NIOSH IDLH page of selenium; OSHA chemical sampling page"
		agPage = "supplier's sheet of silver nitrate, quoting 29 CFR 1910.1000 Table Z-1"
	)
	return []Limit{
		l(copper, "OSHA PEL TWA", 1, shift, Working, cuPage, secondary),
		l(copper, "NIOSH REL TWA", 1, shift10, Working, cuPage, secondary),
		l(copper, "ACGIH TLV-TWA", 1, shift, Working, cuPage, secondary),
		l(copper, "NIOSH IDLH", 100, escape, Escape, cuPage, secondary),
		l(silver, "OSHA PEL TWA", 0.01, shift, Working, agPage, secondary),
		l(silver, "ACGIH TLV-TWA, soluble", 0.01, shift, Working, agPage, secondary),
		l(barium, "OSHA PEL TWA", 0.5, shift, Working, "supplier's sheet of barium sulfide, quoting OSHA", secondary),
		l(se, "OSHA PEL TWA", 0.2, shift, Working, sePage, opened),
		l(se, "NIOSH REL TWA", 0.2, shift10, Working, sePage, opened),
		l(se, "ACGIH TLV-TWA", 0.2, shift, Working, sePage, opened),
		l(se, "NIOSH IDLH", 1, escape, Escape, sePage, opened),
	}
}
