package metal

import "sync"

// How well a density is known.
const (
	opened   = "opened"
	memory   = "from memory"
	computed = "computed"
)

// Where densities come from.
const (
	srcGravities = "page \"Approximate specific gravities of alloys\"; trade tables"
	srcInverse   = "computed by the inverse rule from Ag 10.49 and Cu 8.96"
	srcSterling  = srcInverse + "; published tables span 10.2 to 10.4"
	srcGermanium = "computed by the inverse rule with 1.2 % Ge, 5.3 % Cu taken for the rest; suppliers quote about 10.3 (from memory)"
	srcGold      = "trade table of gold alloy densities; makers' alloys differ"
	srcPlatinum  = "trade table of densities"
	srcMemory    = "handbook value (from memory)"
)

// Where specific heats come from.
const (
	heatSilver     = "OpenStax University Physics vol. 2, table 1.3"
	heatSteel      = "OpenStax University Physics vol. 2, table 1.3, iron or steel"
	heatGold       = "OpenStax Chemistry 2e, table 5.1"
	heatCopper     = "OpenStax Chemistry 2e, table 5.1"
	heatAluminium  = "OpenStax Chemistry 2e, table 5.1"
	heatWeighted   = "computed: mass-weighted, Ag 0.235 and Cu 0.385"
	heatLowTarnish = "computed: mass-weighted as silver and copper, Ag 0.235 and Cu 0.385"
	heatGoldAlloy  = "computed: mass-weighted, Au 0.129, the rest taken as half silver, half copper (assumed)"
	heatBrass      = "about 0.09 Btu/(lb F) for wrought copper alloys (from memory)"
	heatMemory     = "handbook value (from memory)"
)

type parts = map[string]float64

// table is every alloy, family by family, the precious ones first and the purer before the
// poorer. It is made when first asked for, and shared: do not change it. Columns: name, title, family,
// density in g/cm3, +/- percent, specific heat in J/(g K), mass fractions, source
// and evidence of the density, source of the specific heat. Fractions stand where
// the name of the alloy gives them; those of base metals are nominal.
var table = sync.OnceValue(func() []Alloy {
	return []Alloy{
		{"fine-999", "fine silver 999", "silver", 10.49, 0.2, 0.235, parts{"Ag": 0.999, "Cu": 0.001}, srcGravities, opened, heatSilver},
		{"britannia-958", "Britannia silver 958", "silver", 10.415, 0.5, 0.241, parts{"Ag": 0.958, "Cu": 0.042}, srcInverse, computed, heatWeighted},
		{"silver-950", "silver 950", "silver", 10.401, 0.5, 0.242, parts{"Ag": 0.95, "Cu": 0.05}, srcInverse, computed, heatWeighted},
		{"low-tarnish-935", "low-tarnish silver 935 with germanium", "silver", 10.28, 1, 0.245, nil, srcGermanium, computed, heatLowTarnish},
		{"sterling-925", "sterling silver 925", "silver", 10.357, 1, 0.246, parts{"Ag": 0.925, "Cu": 0.075}, srcSterling, computed, heatWeighted},
		{"coin-900", "coin silver 900", "silver", 10.314, 0.5, 0.25, parts{"Ag": 0.9, "Cu": 0.1}, srcInverse, computed, heatWeighted},
		{"silver-835", "silver 835", "silver", 10.203, 0.5, 0.26, parts{"Ag": 0.835, "Cu": 0.165}, srcInverse, computed, heatWeighted},
		{"silver-800", "silver 800", "silver", 10.144, 0.5, 0.265, parts{"Ag": 0.8, "Cu": 0.2}, srcInverse, computed, heatWeighted},
		{"gold-fine", "fine gold", "gold", 19.32, 0.2, 0.129, parts{"Au": 1}, srcGravities, opened, heatGold},
		{"gold-10k-yellow", "yellow gold 10 karat", "gold", 11.57, 2, 0.235, nil, srcGold, opened, heatGoldAlloy},
		{"gold-10k-white", "white gold 10 karat", "gold", 11.07, 2, 0.235, nil, srcGold, opened, heatGoldAlloy},
		{"gold-10k-red", "red gold 10 karat", "gold", 11.59, 2, 0.235, nil, srcGold, opened, heatGoldAlloy},
		{"gold-14k-yellow", "yellow gold 14 karat", "gold", 13.07, 2, 0.204, nil, srcGold, opened, heatGoldAlloy},
		{"gold-14k-white", "white gold 14 karat", "gold", 12.61, 2, 0.204, nil, srcGold, opened, heatGoldAlloy},
		{"gold-14k-red", "red gold 14 karat", "gold", 13.26, 2, 0.204, nil, srcGold, opened, heatGoldAlloy},
		{"gold-14k-green", "green gold 14 karat", "gold", 14.2, 2, 0.204, nil, srcGold, opened, heatGoldAlloy},
		{"gold-18k-yellow", "yellow gold 18 karat", "gold", 15.58, 2, 0.174, nil, srcGold, opened, heatGoldAlloy},
		{"gold-18k-white", "white gold 18 karat", "gold", 14.64, 2, 0.174, nil, srcGold, opened, heatGoldAlloy},
		{"gold-18k-red", "red gold 18 karat", "gold", 15.18, 2, 0.174, nil, srcGold, opened, heatGoldAlloy},
		{"gold-18k-green", "green gold 18 karat", "gold", 15.9, 2, 0.174, nil, srcGold, opened, heatGoldAlloy},
		{"platinum", "platinum", "platinum", 21.45, 0.5, 0.133, parts{"Pt": 1}, srcPlatinum, opened, heatMemory},
		{"copper-c110", "copper C11000", "copper", 8.89, 0.6, 0.385, parts{"Cu": 1}, "industry data sheet, 0.321 to 0.323 lb/in3 (from memory)", memory, heatCopper},
		{"brass-c230", "red brass C23000 (85/15)", "brass", 8.75, 0.5, 0.377, parts{"Cu": 0.85, "Zn": 0.15}, "industry data sheet, 0.316 lb/in3 (from memory)", memory, heatBrass},
		{"brass-c240", "low brass C24000 (80/20)", "brass", 8.66, 0.5, 0.377, parts{"Cu": 0.8, "Zn": 0.2}, "industry data sheet, 0.313 lb/in3 (from memory)", memory, heatBrass},
		{"brass-c260", "cartridge brass C26000 (70/30)", "brass", 8.53, 0.5, 0.375, parts{"Cu": 0.7, "Zn": 0.3}, "industry data sheet, 0.308 lb/in3 (from memory)", memory, heatBrass},
		{"brass-c353", "leaded brass C35300", "brass", 8.47, 0.5, 0.377, nil, "industry data sheet, 0.306 lb/in3 (from memory)", memory, heatBrass},
		{"tin-brass-c435", "tin brass C43500", "brass", 8.66, 0.5, 0.377, nil, "mill data sheet, 0.313 lb/in3", opened, heatBrass},
		{"bronze-c220", "commercial bronze C22000 (90/10)", "bronze", 8.8, 0.5, 0.377, parts{"Cu": 0.9, "Zn": 0.1}, "industry data sheet, 0.318 lb/in3 (from memory)", memory, heatBrass},
		{"bronze-c510", "phosphor bronze C51000", "bronze", 8.86, 0.5, 0.377, nil, "industry data sheet, 0.320 lb/in3 (from memory)", memory, heatBrass},
		{"bronze-c655", "silicon bronze C65500", "bronze", 8.53, 0.5, 0.377, nil, "industry data sheet, 0.308 lb/in3 (from memory)", memory, heatBrass},
		{"nickel-silver-c752", "nickel silver C75200 (65-18-17)", "nickel silver", 8.73, 0.5, 0.377, parts{"Cu": 0.65, "Ni": 0.18, "Zn": 0.17}, "industry data sheet, 0.316 lb/in3 (from memory)", memory, heatBrass},
		{"cupronickel-c706", "cupronickel C70600 (90/10)", "cupronickel", 8.94, 0.5, 0.377, nil, "mill data sheet, 0.323 lb/in3", opened, heatBrass},
		{"cupronickel-c715", "cupronickel C71500 (70/30)", "cupronickel", 8.94, 0.5, 0.377, nil, "mill data sheet, 0.323 lb/in3", opened, heatBrass},
		{"nickel", "nickel", "nickel", 8.9, 0.5, 0.444, parts{"Ni": 1}, "list of specific gravities, 8.90", opened, heatMemory},
		{"tin", "tin", "tin", 7.29, 0.5, 0.227, parts{"Sn": 1}, srcMemory, memory, heatMemory},
		{"zinc", "zinc", "zinc", 7.13, 0.5, 0.388, parts{"Zn": 1}, srcMemory, memory, heatMemory},
		{"aluminium", "aluminium", "aluminium", 2.7, 1, 0.897, parts{"Al": 1}, srcMemory, memory, heatAluminium},
		{"steel-carbon", "carbon steel", "steel", 7.85, 0.5, 0.452, nil, srcMemory, memory, heatSteel},
		{"steel-316", "stainless steel 316", "steel", 8.0, 1, 0.5, nil, srcMemory, memory, heatMemory},
	}
})
