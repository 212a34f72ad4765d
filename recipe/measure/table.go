package measure

// entry is one line of the table of units: the unit, the spellings that must
// match letter for letter (SI symbols, where a capital changes the meaning), and
// the words that match in capitals or small letters alike.
type entry struct {
	unit  Unit
	exact []string
	words []string
}

// Notes on units that have a namesake.
const (
	noteOunce   = "oz read as the avoirdupois ounce, 28.35 g (ozt is the troy ounce, fl oz a liquid)"
	noteGrain   = "gr read as the grain, 0.0648 g (g is the gram)"
	noteGallon  = "gal read as the US gallon, 3.785 L (imp gal is the imperial one, 4.546 L)"
	noteQuart   = "qt read as the US quart, 946 mL (imp qt is the imperial one, 1137 mL)"
	notePint    = "pint read as the US pint, 473 mL (imp pint is the imperial one, 568 mL)"
	noteCup     = "cup read as the US cup, 237 mL (metric cup is 250 mL)"
	noteFlOunce = "fl oz read as the US fluid ounce, 29.57 mL (imp fl oz is the imperial one, 28.41 mL)"
	noteTbsp    = "tbsp read as the US tablespoon, 14.79 mL (metric tbsp is 15 mL)"
	noteTsp     = "tsp read as the US teaspoon, 4.93 mL (metric tsp is 5 mL)"
)

// table holds every simple unit. Compound units (g/L, oz/US gal, dm2/L) are put
// together from these by [Find].
//
// Factors are exact: num/den of the unit counted in the unit of its dimension.
// Sources: the yard and pound agreement of 1959 and NIST Handbook 44, Appendix C,
// for customary units; the UK Weights and Measures Act 1985 (gallon of 4.54609 L)
// for imperial ones, from memory; metric spoons and cup are kitchen convention.
// The test of this table compares it with testdata/units.csv.
//
// It is plain data, laid down by the compiler: nothing runs at start-up.
var table = []entry{
	{Unit{"ug", Mass, 1, 1e6, 0, ""}, []string{"mcg"}, []string{"microgram", "micrograms"}},
	{Unit{"mg", Mass, 1, 1e3, 0, ""}, nil, []string{"milligram", "milligrams"}},
	{Unit{"g", Mass, 1, 1, 0, ""}, []string{"gm", "gms"}, []string{"gram", "grams", "gramme", "grammes"}},
	{Unit{"kg", Mass, 1e3, 1, 0, ""}, []string{"Kg", "KG"}, []string{"kilo", "kilos", "kilogram", "kilograms"}},
	{Unit{"gr", Mass, 6_479_891, 1e8, 0, noteGrain}, nil, nil},
	{Unit{"grain", Mass, 6_479_891, 1e8, 0, ""}, nil, []string{"grain", "grains"}},
	{Unit{"dwt", Mass, 155_517_384, 1e8, 0, ""}, nil, []string{"dwt", "pennyweight", "pennyweights"}},
	{Unit{"oz", Mass, 28_349_523_125, 1e9, 0, noteOunce}, nil, []string{"oz", "ozs", "ounce", "ounces"}},
	{Unit{"oz av", Mass, 28_349_523_125, 1e9, 0, ""}, nil, []string{"oz av", "ozav", "oz avdp", "av oz", "avoirdupois ounce", "avoirdupois ounces"}},
	{Unit{"ozt", Mass, 311_034_768, 1e7, 0, ""}, nil, []string{"ozt", "oz t", "t oz", "toz", "oz troy", "troy oz", "troy ounce", "troy ounces"}},
	{Unit{"lb", Mass, 45_359_237, 1e5, 0, ""}, nil, []string{"lb", "lbs", "pound", "pounds"}},
	{Unit{"troy lb", Mass, 3_732_417_216, 1e7, 0, ""}, nil, []string{"troy lb", "lbt", "troy pound", "troy pounds"}},
	{Unit{"carat", Mass, 1, 5, 0, ""}, nil, []string{"carat", "carats", "metric carat", "metric carats"}},

	{Unit{"W", Power, 1, 1, 0, ""}, nil, []string{"watt", "watts"}},
	{Unit{"kW", Power, 1e3, 1, 0, ""}, nil, []string{"kilowatt", "kilowatts"}},

	{Unit{"uL", Volume, 1, 1e6, 0, ""}, []string{"ul"}, []string{"microliter", "microliters", "microlitre", "microlitres"}},
	{Unit{"mL", Volume, 1, 1e3, 0, ""}, []string{"ml"}, []string{"milliliter", "milliliters", "millilitre", "millilitres"}},
	{Unit{"cL", Volume, 1, 100, 0, ""}, []string{"cl"}, nil},
	{Unit{"dL", Volume, 1, 10, 0, ""}, []string{"dl"}, nil},
	{Unit{"L", Volume, 1, 1, 0, ""}, []string{"l", "ltr"}, []string{"liter", "liters", "litre", "litres"}},
	{Unit{"mm3", Volume, 1, 1e6, 0, ""}, nil, nil},
	{Unit{"cm3", Volume, 1, 1e3, 0, ""}, []string{"cc", "ccm"}, nil},
	{Unit{"dm3", Volume, 1, 1, 0, ""}, nil, nil},
	{Unit{"m3", Volume, 1e3, 1, 0, ""}, nil, nil},
	{Unit{"in3", Volume, 16_387_064, 1e9, 0, ""}, nil, []string{"in3", "cu in", "cubic inch", "cubic inches"}},
	{Unit{"ft3", Volume, 28_316_846_592, 1e9, 0, ""}, nil, []string{"ft3", "cu ft", "cubic foot", "cubic feet"}},
	{Unit{"US tsp", Volume, 492_892_159_375, 1e14, 0, ""}, nil, nil},
	{Unit{"US tbsp", Volume, 1_478_676_478_125, 1e14, 0, ""}, nil, nil},
	{Unit{"US fl oz", Volume, 295_735_295_625, 1e13, 0, ""}, nil, nil},
	{Unit{"US cup", Volume, 2_365_882_365, 1e10, 0, ""}, nil, nil},
	{Unit{"US pint", Volume, 473_176_473, 1e9, 0, ""}, nil, nil},
	{Unit{"US qt", Volume, 946_352_946, 1e9, 0, ""}, nil, nil},
	{Unit{"US gal", Volume, 3_785_411_784, 1e9, 0, ""}, nil, nil},
	{Unit{"imp fl oz", Volume, 284_130_625, 1e10, 0, ""}, nil, nil},
	{Unit{"imp pint", Volume, 56_826_125, 1e8, 0, ""}, nil, nil},
	{Unit{"imp qt", Volume, 11_365_225, 1e7, 0, ""}, nil, nil},
	{Unit{"imp gal", Volume, 454_609, 1e5, 0, ""}, nil, nil},
	{Unit{"metric tsp", Volume, 5, 1e3, 0, ""}, nil, nil},
	{Unit{"metric tbsp", Volume, 15, 1e3, 0, ""}, nil, nil},
	{Unit{"metric cup", Volume, 250, 1e3, 0, ""}, nil, nil},
	{Unit{"tsp", Volume, 492_892_159_375, 1e14, 0, noteTsp}, nil, []string{"tsp", "tsps", "teaspoon", "teaspoons"}},
	{Unit{"tbsp", Volume, 1_478_676_478_125, 1e14, 0, noteTbsp}, nil, []string{"tbsp", "tbsps", "tablespoon", "tablespoons"}},
	{Unit{"fl oz", Volume, 295_735_295_625, 1e13, 0, noteFlOunce}, nil, []string{"fl oz", "floz", "fluid oz", "fluid ounce", "fluid ounces"}},
	{Unit{"cup", Volume, 2_365_882_365, 1e10, 0, noteCup}, nil, []string{"cup", "cups"}},
	{Unit{"pint", Volume, 473_176_473, 1e9, 0, notePint}, nil, []string{"pint", "pints", "pt", "pts"}},
	{Unit{"qt", Volume, 946_352_946, 1e9, 0, noteQuart}, nil, []string{"qt", "qts", "quart", "quarts"}},
	{Unit{"gal", Volume, 3_785_411_784, 1e9, 0, noteGallon}, nil, []string{"gal", "gals", "gallon", "gallons"}},

	{Unit{"nm", Length, 1, 1e6, 0, ""}, nil, []string{"nanometer", "nanometers", "nanometre", "nanometres"}},
	{Unit{"um", Length, 1, 1e3, 0, ""}, nil, []string{"micron", "microns", "micrometer", "micrometers", "micrometre", "micrometres"}},
	{Unit{"mm", Length, 1, 1, 0, ""}, nil, []string{"millimeter", "millimeters", "millimetre", "millimetres"}},
	{Unit{"cm", Length, 10, 1, 0, ""}, nil, []string{"centimeter", "centimeters", "centimetre", "centimetres"}},
	{Unit{"dm", Length, 100, 1, 0, ""}, nil, nil},
	{Unit{"m", Length, 1e3, 1, 0, ""}, nil, []string{"meter", "meters", "metre", "metres"}},
	{Unit{"thou", Length, 254, 1e4, 0, ""}, nil, []string{"thou"}},
	{Unit{"in", Length, 254, 10, 0, ""}, []string{`"`, "\u2033"}, []string{"in", "ins", "inch", "inches"}},
	{Unit{"ft", Length, 3048, 10, 0, ""}, []string{"'", "\u2032"}, []string{"ft", "foot", "feet"}},

	{Unit{"mm2", Area, 1, 100, 0, ""}, []string{"sq mm"}, nil},
	{Unit{"cm2", Area, 1, 1, 0, ""}, []string{"sq cm"}, nil},
	{Unit{"dm2", Area, 100, 1, 0, ""}, []string{"sq dm"}, nil},
	{Unit{"m2", Area, 1e4, 1, 0, ""}, []string{"sq m"}, nil},
	{Unit{"in2", Area, 64_516, 1e4, 0, ""}, nil, []string{"in2", "sq in", "sqin", "square inch", "square inches"}},
	{Unit{"ft2", Area, 9_290_304, 1e4, 0, ""}, nil, []string{"ft2", "sq ft", "sqft", "square foot", "square feet"}},

	{Unit{"C", Temperature, 1, 1, 0, ""}, []string{"degC", "deg C"}, []string{"celsius", "degrees c", "degrees celsius", "centigrade"}},
	{Unit{"F", Temperature, 5, 9, -3200, ""}, []string{"f", "degF", "deg F"}, []string{"fahrenheit", "degrees f", "degrees fahrenheit"}},
	{Unit{"K", Temperature, 1, 1, -27315, ""}, nil, []string{"kelvin", "kelvins"}},

	{Unit{"ms", Time, 1, 1e3, 0, ""}, nil, []string{"millisecond", "milliseconds"}},
	{Unit{"s", Time, 1, 1, 0, ""}, nil, []string{"sec", "secs", "second", "seconds"}},
	{Unit{"min", Time, 60, 1, 0, ""}, nil, []string{"min", "mins", "minute", "minutes"}},
	{Unit{"h", Time, 3600, 1, 0, ""}, nil, []string{"hr", "hrs", "hour", "hours"}},
	{Unit{"day", Time, 86_400, 1, 0, ""}, []string{"d"}, []string{"day", "days"}},
	{Unit{"week", Time, 604_800, 1, 0, ""}, nil, []string{"week", "weeks"}},

	{Unit{"mol", Amount, 1, 1, 0, ""}, nil, []string{"mole", "moles"}},
	{Unit{"mmol", Amount, 1, 1e3, 0, ""}, nil, nil},

	{Unit{"g/L", MassPerVolume, 1, 1, 0, ""}, nil, nil}, // the commonest compounds, to find them at once
	{Unit{"mL/L", VolumePerVolume, 1, 1, 0, ""}, nil, nil},
	{Unit{"dm2/L", Load, 1, 1, 0, ""}, nil, nil},
	{Unit{"% w/v", MassPerVolume, 10, 1, 0, ""}, nil, []string{"%w/v", "w/v%", "percent w/v"}},
	{Unit{"% v/v", VolumePerVolume, 10, 1, 0, ""}, nil, []string{"%v/v", "v/v%", "vol%", "%vol", "percent v/v"}},
	{Unit{"% w/w", MassFraction, 1, 100, 0, ""}, nil, []string{"%w/w", "w/w%", "wt%", "%wt", "percent w/w"}},
	{Unit{"ppm w/w", MassFraction, 1, 1e6, 0, ""}, nil, []string{"ppm by mass", "ppmw"}},
	{Unit{"ppm v/v", VolumePerVolume, 1, 1e3, 0, ""}, nil, []string{"ppm by volume", "ppmv"}},
	{Unit{"mol/L", Molar, 1, 1, 0, ""}, []string{"M"}, nil},
	{Unit{"mmol/L", Molar, 1, 1e3, 0, ""}, []string{"mM"}, nil},
	{Unit{"%", Ratio, 1, 100, 0, ""}, nil, []string{"percent", "per cent"}},
}
