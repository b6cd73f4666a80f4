package calc

// ruleCase is a small formula that a rule must speak on, or must not. Lines are "ingredient percent", "=base percent", "ingredient qs"; a
// leading letter and colon names the phase, a trailing ! marks the line as stated compatible. Phases are "letter do temperature".
type ruleCase struct {
	name   string
	lines  string
	phases string
	wash   string
	age    string
	site   string
	region string // whose law; the EU's when ""
	pH     int
	batch  Mass
	step   Mass
	level  Level // "" when the rule must say nothing
	line   string
	says   string
}

var ruleCases = map[string][]ruleCase{
	"base": {
		{name: "in itself", lines: "=ring 50, water qs", level: Stop, line: "1", says: "ring → ring"},
		{name: "unknown", lines: "=nowhere 50, water qs", level: Stop, line: "1", says: "not known"},
		{name: "not full", lines: "=airy 50, water qs", level: Stop, line: "1", says: "air under the rim"},
		{name: "unknown ingredient", lines: "moondust 10, water qs", level: Unchecked, line: "1", says: "missing, and with it all that follows: its limits by law, its charge"},
		{name: "sound", lines: "=whip 50, sucrose qs"},
	},
	"undescribed": {
		{name: "only its name is known", lines: "water qs, mystery 3", level: Unchecked, line: "2", says: "what Mysterium does is missing"},
		{name: "not in it yet", lines: "water qs, mystery 0"},
		{name: "known", lines: "water qs, glycerin 3"},
	},
	"charge": {
		{name: "both", lines: "water qs, sci-powder 15, betaine-30 30, btms 4", level: Stop, line: "4", says: "sodium cocoyl isethionate powder is anionic"},
		{name: "inside a base", lines: "=whip 50, btms 4, water qs", level: Stop, line: "2", says: "whipped base is anionic"},
		{name: "preservative too", lines: "water qs, sci-powder 15, quat 0.1", level: Stop, line: "3", says: "would not be kept"},
		{name: "polymer weighs less", lines: "water qs, sci-powder 15, polyquaternium-7 3", level: Care, line: "3", says: "separate on dilution"},
		{name: "gum weighs less", lines: "water qs, xanthan 0.3, btms 4", level: Care, line: "3"},
		{name: "marked", lines: "water qs, sci-powder 15, polyquaternium-7 3!"},
		{name: "marked on the other", lines: "water qs, sci-powder 15!, btms 3"},
		{name: "none of it yet", lines: "water qs, sci-powder 15, btms 0"},
		{name: "amphoteric and anionic", lines: "water qs, sci-powder 15, betaine-30 30"},
		{name: "cationic and non-ionic", lines: "water qs, btms 4, decyl-glucoside 10"},
		{name: "charge not known", lines: "water qs, sci-powder 15, mystery 3", level: Unchecked, says: "Mysterium"},
	},
	"preservative": {
		{name: "none", lines: "water qs, glycerin 5", level: Stop, line: "1", says: "no preservative"},
		{name: "water inside a solution", lines: "betaine-30 20, sucrose qs", level: Stop, line: "1"},
		{name: "water inside a base", lines: "=whip 50, sucrose qs", level: Stop, line: "1"},
		{name: "tocopherol is none", lines: "water qs, tocopherol 1", level: Stop, line: "1", says: "rancid"},
		{name: "little water", lines: "lactic-80 1, sunflower-oil qs", level: Care, line: "1", says: "little water"},
		{name: "much glycerin", lines: "water 30, glycerin 70", level: Unchecked, says: "water activity"},
		{name: "no water at all", lines: "shea 50, sunflower-oil qs", level: Note, says: "wet hands"},
		{name: "a balm that stays on a dry body", lines: "shea 50, sunflower-oil qs", wash: "leave-on", site: "body", level: Note, says: "wet hands"},
		{name: "an oil scrub for the shower", lines: "sucrose 50, sunflower-oil qs", wash: "rinse-off", level: Care, says: "will be used with wet hands"},
		{name: "a balm for hands", lines: "shea 50, sunflower-oil qs", wash: "leave-on", site: "hand", level: Care, says: "will be used with wet hands"},
		{name: "kept", lines: "water qs, phenoxyethanol-ehg 1"},
		{name: "kept by alcohol", lines: "water qs, alcohol-96 30"},
		{name: "only what an extract brings for itself", lines: "water qs, kept-juice 20", level: Stop, line: "2", says: "what kept-juice brings for itself, and that is too little"},
		{name: "so much of it that it keeps the whole", lines: "kept-juice qs"},
		{name: "an extract and a preservative", lines: "water qs, kept-juice 20, phenoxyethanol-ehg 0.5"},
		{name: "an extract kept by what no range is known of", lines: "water qs, odd-juice 20", level: Unchecked, line: "2", says: "the least that keeps a product is missing"},
		{name: "not known whether wet", lines: "moondust 10, sucrose qs", level: Unchecked, says: "“moondust” is made of is missing"},
		{name: "a name alone does not tell whether it is wet", lines: "mystery 10, sucrose qs", level: Unchecked, says: "what mystery is made of is missing"},
		{name: "an oil that nobody described is not wet", lines: "strange-fat 10, sunflower-oil qs", wash: "leave-on", site: "body", level: Note, says: "no water in it"},
	},
	"range": {
		{name: "diluted base", lines: "=kept 50, sucrose qs", level: Stop, line: "1", says: "dilutes"},
		{name: "above the maximum", lines: "water qs, phenoxyethanol-ehg 1.2", level: Stop, line: "2", says: "maximum"},
		{name: "unusual", lines: "water qs, glycerin 15", level: Note, line: "2"},
		{name: "usual", lines: "water qs, glycerin 5, benzyl-dehydroacetic 1"},
		{name: "range not known", lines: "water qs, quat 0.1", level: Unchecked, line: "2", says: "missing"},
	},
	"keeping-ph": {
		{name: "not measured", lines: "water qs, sodium-benzoate 0.5", level: Unchecked, line: "2", says: "pH of the product is missing"},
		{name: "useless", lines: "water qs, sodium-benzoate 0.5", pH: 600, level: Stop, line: "2", says: "almost none"},
		{name: "weak", lines: "water qs, sodium-benzoate 0.5", pH: 500, level: Care, line: "2", says: "little"},
		{name: "good", lines: "water qs, sodium-benzoate 0.5", pH: 450},
		{name: "no water", lines: "sunflower-oil qs, sodium-benzoate 0.5"},
	},
	"keeping-window": {
		{name: "clash", lines: "water qs, sci-powder 10, sour 1", level: Care, line: "3", says: "no pH suits both: sour wants at most 4.5, sodium cocoyl isethionate powder at least 5.0"},
		{name: "surfactant outside", lines: "water qs, sci-powder 10", pH: 420, level: Care, line: "2", says: "does not keep or work"},
		{name: "one window", lines: "water qs, sci-powder 10, phenoxyethanol-ehg 1", level: Unchecked, says: "from pH 5.0 to 6.5"},
		{name: "window not known of one", lines: "water qs, sci-powder 10, betaine-30 30", level: Unchecked, says: "not known of cocamidopropyl betaine"},
		{name: "only the skin minds", lines: "water qs, alkaline 1", level: Note, line: "2", says: "no pH suits both: skin"},
		{name: "not usual for skin", lines: "water qs, phenoxyethanol-ehg 1", pH: 800, level: Note, says: "usual pH for skin"},
		{name: "inside the window", lines: "water qs, sci-powder 10", pH: 550},
		{name: "an acid has said it", lines: "water qs, sodium-benzoate 0.5"},
		{name: "no water", lines: "sunflower-oil qs, sour 1, alkaline 1"},
	},
	"alkaline": {
		{name: "meets an ester", lines: "water qs, decyl-glucoside 10, sci-powder 10", level: Care, line: "2", says: "can split sodium cocoyl isethionate"},
		{name: "no ester", lines: "water qs, decyl-glucoside 10, betaine-30 10"},
		{name: "not alkaline", lines: "water qs, betaine-30 10, sci-powder 10"},
	},
	"smallest": {
		{name: "coarse scale", lines: "water qs, benzyl-dehydroacetic 0.95", batch: 20 * Gram, step: 100, level: Care, line: "2", says: "too little"},
		{name: "larger batch", lines: "water qs, benzyl-dehydroacetic 0.95", batch: 300 * Gram, step: 100},
		{name: "no limit to break", lines: "water qs, glycerin 3, benzyl-dehydroacetic 0.95", batch: 100 * Gram, step: 10},
		{name: "no plan yet", lines: "water qs, benzyl-dehydroacetic 0.95"},
	},
	"mixing": {
		{name: "no water in a melt", lines: "A:shea qs, A:glycerin 5", phases: "A melt 75 C", level: Care, line: "2", says: "no water"},
		{name: "oil in water alone", lines: "A:water qs, A:sunflower-oil 5", phases: "A mix ", level: Care, line: "2", says: "no oil and no surfactant"},
		{name: "wax takes it", lines: "A:water qs, A:sunflower-oil 5, A:emulsifying-wax 2", phases: "A heat 75 C"},
		{name: "stearic in surfactant", lines: "A:water qs, A:betaine-30 30, A:stearic-50 10", phases: "A heat 75 C"},
		{name: "cooled phase meets the water before it", lines: "A:water qs, B:sodium-benzoate 0.5", phases: "A heat 75 C; B cool 40 C"},
		{name: "fats alone", lines: "A:shea qs, A:stearic-50 10", phases: "A melt 75 C"},
	},
	"emulsion": {
		{name: "nothing holds it", lines: "water qs, sunflower-oil 10", level: Care, line: "2", says: "they part"},
		{name: "surfactants carry it", lines: "water qs, betaine-30 30, sunflower-oil 5", level: Note, line: "3", says: "HLB does not answer"},
		{name: "little wax", lines: "water qs, sunflower-oil 20, emulsifying-wax 3", level: Care, line: "3", says: "may part"},
		{name: "much wax", lines: "water qs, sunflower-oil 4, emulsifying-wax 3", level: Note, line: "3", says: "stiff"},
		{name: "pair loves oil", lines: "water qs, beeswax 15, polysorbate-80 1, sorbitan-oleate 3", level: Care, line: "4", says: "love oil"},
		{name: "pair loves water", lines: "water qs, sunflower-oil 15, polysorbate-80 3, sorbitan-oleate 1", level: Care, line: "4", says: "love water"},
		{name: "pair fits", lines: "water qs, sunflower-oil 15, polysorbate-80 0.8, sorbitan-oleate 3.2", level: Note, line: "4", says: "within one point"},
		{name: "a scent has no HLB", lines: "water qs, sunflower-oil 15, parfum 1, polysorbate-80 0.8, sorbitan-oleate 3.2", level: Unchecked, says: "the HLB of parfum is missing"},
		{name: "mist floats", lines: "water qs, parfum 1, peg-40-castor 0.5", level: Care, line: "3", says: "may float"},
		{name: "mist", lines: "water qs, parfum 0.5, polysorbate-20 2", level: Note, line: "3", says: "only a glass tells"},
		{name: "helper alone", lines: "water qs, parfum 1, stearic-50 5", level: Care, line: "3", says: "1 to 2 % of scent"},
		{name: "wax in its range", lines: "water qs, sunflower-oil 20, emulsifying-wax 5"},
		{name: "balm", lines: "shea 50, sunflower-oil qs"},
		{name: "no oil", lines: "water qs, glycerin 5"},
	},
	"water-activity": {
		{name: "full sugar solution", lines: "water qs, sucrose 66", level: Care, line: "2", says: "not dry enough to keep by itself"},
		{name: "salt scrub with a little water", lines: "water 10, salt 60, sunflower-oil qs", level: Care, line: "2", says: "saturated salt at about 0.75"},
		{name: "preserved syrup", lines: "water qs, sucrose 66, phenoxyethanol-ehg 1"},
		{name: "thin syrup", lines: "water qs, sucrose 30"},
		{name: "glycerin is never full", lines: "water qs, glycerin 60"},
		{name: "no water", lines: "sucrose 60, sunflower-oil qs"},
	},
	"grit": {
		{name: "sugar in water", lines: "water qs, sucrose 46, shea 34.87", level: Care, line: "2", says: "at most 39 of these 46 %, in time. Coarse only slows it. A grit that does not dissolve stays."},
		{name: "water inside a solution", lines: "betaine-30 29.43, sucrose 46, shea qs", level: Care, line: "2", says: "at most 39 of these 46 %"},
		{name: "all of it", lines: "water qs, sucrose 10", level: Care, line: "2", says: "all of these 10 %"},
		{name: "no table", lines: "water qs, urea 30", level: Unchecked, line: "2", says: "missing"},
		{name: "no water", lines: "sunflower-oil qs, sucrose 60"},
		{name: "a pinch thickens", lines: "water qs, salt 2"},
		{name: "sand stays", lines: "water qs, sand 30"},
	},
	"grit-hot": {
		{name: "hot with water", lines: "A:water qs, A:sucrose 20", phases: "A heat 70 C", level: Care, line: "2", says: "dissolves"},
		{name: "folded in cool", lines: "A:water qs, B:sucrose 20", phases: "A heat 70 C; B fold "},
		{name: "hot without water", lines: "A:shea qs, A:sucrose 20", phases: "A melt 70 C"},
	},
	"grit-order": {
		{name: "preservative last", lines: "A:water qs, B:sucrose 40, C:phenoxyethanol-ehg 1", phases: "A mix ; B fold ; C mix ", level: Care, line: "3", says: "after the grit"},
		{name: "written before, goes in after", lines: "C:phenoxyethanol-ehg 1, A:water qs, B:sucrose 40", phases: "A mix ; B fold ; C mix ", level: Care, line: "1"},
		{name: "grit last", lines: "A:water qs, C:sucrose 40, B:phenoxyethanol-ehg 1", phases: "A mix ; B mix ; C fold "},
	},
	"free-oil": {
		{name: "much oil", lines: "A:water qs, A:betaine-30 30, A:sunflower-oil 8", phases: "A whip ", level: Note, line: "3", says: "denser"},
		{name: "with wax", lines: "A:water qs, A:betaine-30 30, A:sunflower-oil 2, A:emulsifying-wax 3", phases: "A whip ", level: Note, line: "3"},
		{name: "little oil", lines: "A:water qs, A:betaine-30 30, A:sunflower-oil 4", phases: "A whip "},
		{name: "not whipped", lines: "A:water qs, A:betaine-30 30, A:sunflower-oil 8", phases: "A mix "},
	},
	"firmer": {
		{name: "stearic", lines: "water qs, betaine-30 30, stearic-50 11", level: Note, line: "3", says: "tomorrow"},
		{name: "little", lines: "water qs, betaine-30 30, stearic-50 2"},
	},
	"water-named": {
		{name: "not said", lines: "tap qs", level: Note, line: "1", says: "not said"},
		{name: "aloe", lines: "water qs, aloe-juice 10", level: Note, line: "2", says: "food for microbes"},
		{name: "distilled", lines: "water qs"},
	},
	"added-hot": {
		{name: "hot", lines: "A:water qs, A:phenoxyethanol-ehg 1", phases: "A heat 75 C", level: Care, line: "2", says: "hotter than it stands"},
		{name: "38 °C is above 100 °F", lines: "A:water qs, A:phenoxyethanol-ehg 1", phases: "A cool 38 C", level: Care, line: "2"},
		{name: "100 °F is 100 °F", lines: "A:water qs, A:phenoxyethanol-ehg 1", phases: "A cool 100 F"},
		{name: "not said", lines: "A:water qs, B:phenoxyethanol-ehg 1", phases: "A heat 75 C; B mix ", level: Unchecked, line: "2", says: "missing"},
		{name: "nothing is heated", lines: "A:water qs, A:phenoxyethanol-ehg 1", phases: "A mix "},
	},
	"melts": {
		{name: "not hot enough", lines: "A:stearic-50 10, A:sunflower-oil qs", phases: "A melt 50 C", level: Care, line: "1", says: "does not melt"},
		{name: "in its range", lines: "A:stearic-50 10, A:sunflower-oil qs", phases: "A melt 57 C", level: Care, line: "1", says: "may not melt whole"},
		{name: "cold", lines: "A:water qs, B:stearic-50 10", phases: "A heat 70 C; B mix ", level: Care, line: "2", says: "without melting"},
		{name: "hot", lines: "A:stearic-50 10, A:sunflower-oil qs", phases: "A melt 75 C"},
		{name: "not said yet", lines: "A:stearic-50 10, A:sunflower-oil qs"},
	},
	"flammable": {
		{name: "alcohol in a hot phase", lines: "A:alcohol-96 30, A:water qs", phases: "A heat 60 C", level: Stop, line: "1", says: "catch fire"},
		{name: "alcohol beside a hot phase", lines: "A:water qs, B:alcohol-96 30", phases: "A heat 60 C; B mix ", level: Wear, line: "2"},
		{name: "scent above its flash point", lines: "A:shea qs, A:flashy 1", phases: "A melt 70 C", level: Stop, line: "2", says: "flash point"},
		{name: "scent near it", lines: "A:shea qs, B:flashy 1", phases: "A melt 70 C; B cool 47 C", level: Wear, line: "2"},
		{name: "scent without a figure in the melt", lines: "A:shea qs, A:smelly 1", phases: "A melt 70 C", level: Unchecked, line: "2", says: "flash point of smelly, from which its vapour can catch fire, is missing"},
		{name: "cool", lines: "A:shea qs, B:flashy 1", phases: "A melt 70 C; B cool 40 C"},
		{name: "little alcohol", lines: "A:water qs, A:alcohol-96 5", phases: "A heat 60 C"},
	},
	"isethionate": {
		{name: "no liquid surfactant", lines: "A:water qs, A:sci-powder 15", level: Care, line: "2", says: "grains"},
		{name: "in another phase", lines: "A:sci-powder 15, B:betaine-30 30, A:water qs", level: Care, line: "1", says: "same phase"},
		{name: "before it", lines: "A:water qs, A:betaine-30 30, A:sci-powder 15"},
	},
	"benzoate-ascorbic": {
		{name: "both", lines: "water qs, sodium-benzoate 0.5, vitamin-c 1", level: Care, line: "2", says: "benzene"},
		{name: "one", lines: "water qs, sodium-benzoate 0.5"},
	},
	"free-alkali": {
		{name: "more than stearic takes", lines: "water qs, stearic-pure 13, lye 2", level: Stop, line: "3", says: "free alkali"},
		{name: "between the ends of the range", lines: "water qs, stearic-pure 13, lye 1.85", level: Stop, line: "3", says: "free alkali"},
		{name: "all of it taken", lines: "water qs, stearic-pure 13, lye 1.7", level: Care, line: "3", says: "makes soap"},
		{name: "fat without a value", lines: "water qs, strange-fat 13, lye 1", level: Stop, line: "3", says: "do not make it"},
		{name: "a little for the pH", lines: "water qs, stearic-pure 13, lye 0.05"},
		{name: "no fat", lines: "water qs, lye 1"},
	},
	"binding": {
		{name: "clay", lines: "water qs, phenoxyethanol-ehg 1, kaolin 5", level: Care, line: "3", says: "may bind the preservative"},
		{name: "polysorbate with a paraben", lines: "water qs, paraben 0.2, polysorbate-20 3", level: Care, line: "3", says: "parabens"},
		{name: "polysorbate with phenoxyethanol", lines: "water qs, phenoxyethanol-ehg 1, polysorbate-20 3"},
		{name: "a pinch of clay", lines: "water qs, phenoxyethanol-ehg 1, kaolin 0.5"},
	},
	"amines": {
		{name: "with bronopol", lines: "water qs, tea 1, bronopol 0.1", level: Stop, line: "2", says: "nitrosamines"},
		{name: "too much left on", lines: "water qs, tea 3", wash: "leave-on", level: Stop, line: "2", says: "stays on the skin"},
		{name: "at the limit", lines: "water qs, tea 2.5", wash: "leave-on"},
		{name: "rinsed off", lines: "water qs, tea 3", wash: "rinse-off"},
	},
	"crystals": {
		{name: "sorbate at low pH", lines: "water qs, potassium-sorbate 0.5", pH: 400, level: Care, line: "2", says: "crystals"},
		{name: "sorbate at its usual pH", lines: "water qs, potassium-sorbate 0.2", pH: 500},
		{name: "not measured", lines: "water qs, potassium-sorbate 0.5"},
	},
	"soap-word": {
		{name: "Whipped soap", lines: "water qs, betaine-30 30", level: Note, says: "called soap"},
		{name: "Liquid soap", lines: "water qs, stearic-pure 13, lye 1.7"},
		{name: "Soapwort wash", lines: "water qs, betaine-30 30"},
	},
	"salt": {
		{name: "salt scrub in a wash", lines: "water qs, betaine-30 30, salt 20", level: Note, line: "3", says: "thin or break"},
		{name: "only what the betaine brings", lines: "water qs, betaine-30 30"},
		{name: "no surfactant", lines: "water qs, salt 20"},
	},
	"grainy": {
		{name: "shea balm", lines: "A:shea 40, A:sunflower-oil qs", phases: "A melt 60 C", level: Note, line: "1", says: "grainy"},
		{name: "cooled", lines: "A:shea 40, A:sunflower-oil qs", phases: "A melt 60 C; B cool 20 C"},
		{name: "no butter", lines: "A:beeswax 20, A:sunflower-oil qs", phases: "A melt 75 C"},
	},
	"softer": {
		{name: "balm", lines: "shea 40, sunflower-oil qs", level: Note, says: "summer market"},
		{name: "cream", lines: "water qs, sunflower-oil 10"},
	},
	"under-three": {
		{name: "under three", lines: "water qs", age: "under 3", level: Stop, says: "special assessment"},
		{name: "intimate", lines: "water qs", age: "adults", site: "intimate", level: Stop, says: "intimate use"},
		{name: "adults", lines: "water qs", age: "adults"},
	},
	"mist": {
		{name: "scent alone in water", lines: "water qs, parfum 0.5", site: "spray or mist", level: Care, line: "2", says: "without a solubiliser"},
		{name: "oil alone in water", lines: "water qs, sunflower-oil 1", site: "spray or mist", level: Care, line: "2", says: "undiluted"},
		{name: "sand", lines: "water qs, sand 2", site: "spray or mist", level: Stop, line: "2", says: "does not dissolve"},
		{name: "acid not for aerosols", lines: "water qs, benzyl-dehydroacetic 0.8", site: "spray or mist", level: Care, line: "2", says: "aerosol"},
		{name: "droplets", lines: "water qs, glycerin 3", site: "spray or mist", level: Unchecked, says: "droplets is missing"},
		{name: "not sprayed", lines: "water qs, parfum 0.5, sand 2", site: "body"},
	},
	"own-keeper": {
		{name: "nothing said of it", lines: "water qs, own-keeper 1", level: Unchecked, line: "2", says: "at which pH works own-keeper"},
		{name: "no temperature", lines: "water qs, own-keeper 1", level: Unchecked, line: "2", says: "highest temperature is missing"},
		{name: "not in it yet", lines: "water qs, own-keeper 0"},
		{name: "of the given list", lines: "water qs, phenoxyethanol-ehg 1"},
	},
	"counts-as": {
		{name: "much plant powder", lines: "water qs, oat-dust 1", level: Care, line: "2", says: "from 1 % on"},
		{name: "less for small children", lines: "water qs, oat-dust 0.1", age: "under 3", level: Care, line: "2", says: "from 0.1 % on"},
		{name: "less at the eye", lines: "water qs, oat-dust 0.5", site: "eye area", level: Care, line: "2"},
		{name: "little plant powder", lines: "water qs, oat-dust 0.99"},
		{name: "food", lines: "water qs, honey-water 5", level: Note, line: "2", says: "feeds microbes"},
		{name: "own colour", lines: "water qs, own-red 1", level: Unchecked, line: "2", says: "CI number"},
		{name: "none of it", lines: "water qs, glycerin 5"},
	},
	"wear-powder": {
		{name: "isethionate", lines: "water qs, sci-powder 15", level: Wear, line: "2", says: "respirator, before the tub is opened"},
		{name: "inside a base it is bound", lines: "=whip 50, water qs"},
		{name: "no powder", lines: "water qs, glycerin 5"},
	},
	"wear-eyes": {
		{name: "strong acid", lines: "water qs, lactic-80 1", level: Wear, line: "2", says: "burns"},
		{name: "nothing", lines: "water qs, sucrose 5"},
	},
	"wear-hot": {
		{name: "melt", lines: "A:shea qs", phases: "A melt 80 C", level: Wear, says: "hot"},
		{name: "Fahrenheit", lines: "A:shea qs", phases: "A melt 167 F", level: Wear},
		{name: "warm", lines: "A:shea qs", phases: "A melt 45 C"},
		{name: "cooled", lines: "A:shea qs", phases: "A cool 40 C"},
		{name: "melt without a figure", lines: "A:shea qs", phases: "A melt ", level: Wear},
	},
}
