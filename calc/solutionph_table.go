package calc

// protolyte is an acid with its pKa values at 25 °C, from the form that holds all its protons and no charge.
type protolyte struct {
	name string
	pKa  []float64
	from Cite
}

// protolytes: acids that a bench meets (standards §4.1); those that keep products are in acids.
var protolytes = []protolyte{
	{"acetic acid", []float64{4.756}, Cite{Source: "LibreTexts Chemistry, table E1 (acid dissociation constants at 25 °C)", Mark: "R"}},
	{"lactic acid", []float64{3.86}, Cite{Source: "aqion, table of acidity constants", Mark: "R"}},
	{"glycolic acid", []float64{3.83}, Cite{Source: "aqion, table of acidity constants", Mark: "R"}},
	{"citric acid", []float64{3.13, 4.76, 6.40}, Cite{Source: "LibreTexts Chemistry, table E1 (acid dissociation constants at 25 °C)", Mark: "R"}},
	{"phosphoric acid", []float64{2.148, 7.198, 12.35}, Cite{Source: "a published table of acids at 25 °C, 2.148; the others within the ranges printed there and in handbooks", Mark: "R~"}},
	{"malic acid", []float64{3.40, 5.2}, Cite{Source: "aqion, table of acidity constants", Mark: "R"}},
	{"tartaric acid", []float64{2.98, 4.34}, Cite{Source: "aqion, table of acidity constants", Mark: "R"}},
	{"carbonic acid", []float64{6.35, 10.33}, Cite{Source: "LibreTexts Chemistry, table E1 (acid dissociation constants at 25 °C)", Mark: "R"}},
	{"phthalic acid", []float64{2.95, 5.408}, Cite{Source: "NIST buffer tables, widely published", Mark: "M+"}},
}

func findProtolyte(name string) *protolyte {
	for i := range protolytes {
		if protolytes[i].name == name {
			return &protolytes[i]
		}
	}
	if a := findAcid(name); a != nil && a.pKa > 0 {
		return &protolyte{a.name, []float64{a.pKa}, a.from}
	}
	return nil
}

// solute is what is weighed into water: how much of an acid it brings, and the charge of the strong ions that come with it.
type solute struct {
	name  string
	molar int64 // mg/mol, IUPAC atomic masses (computed)
	acid  string
	ions  int // sodium or potassium less chloride, per molecule
	// spectator is sodium, potassium and chloride together, per molecule: what they add to the ionic strength.
	spectator int
}

var solutes = []solute{
	{"acetic acid", 60_052, "acetic acid", 0, 0},
	{"sodium acetate", 82_034, "acetic acid", 1, 1},
	{"lactic acid", 90_078, "lactic acid", 0, 0},
	{"sodium lactate", 112_060, "lactic acid", 1, 1},
	{"glycolic acid", 76_051, "glycolic acid", 0, 0},
	{"citric acid", 192_123, "citric acid", 0, 0},
	{"citric acid monohydrate", 210_138, "citric acid", 0, 0},
	{"sodium dihydrogen citrate", 214_105, "citric acid", 1, 1},
	{"disodium hydrogen citrate", 236_087, "citric acid", 2, 2},
	{"trisodium citrate", 258_069, "citric acid", 3, 3},
	{"trisodium citrate dihydrate", 294_099, "citric acid", 3, 3},
	{"phosphoric acid", 97_994, "phosphoric acid", 0, 0},
	{"sodium dihydrogen phosphate", 119_976, "phosphoric acid", 1, 1},
	{"potassium dihydrogen phosphate", 136_084, "phosphoric acid", 1, 1},
	{"disodium hydrogen phosphate", 141_958, "phosphoric acid", 2, 2},
	{"malic acid", 134_087, "malic acid", 0, 0},
	{"tartaric acid", 150_086, "tartaric acid", 0, 0},
	{"sodium bicarbonate", 84_006, "carbonic acid", 1, 1},
	{"sodium carbonate", 105_988, "carbonic acid", 2, 2},
	{"potassium hydrogen phthalate", 204_222, "phthalic acid", 1, 1},
	{"benzoic acid", 122_123, "benzoic acid", 0, 0},
	{"sodium benzoate", 144_105, "benzoic acid", 1, 1},
	{"sorbic acid", 112_128, "sorbic acid", 0, 0},
	{"potassium sorbate", 150_218, "sorbic acid", 1, 1},
	{"salicylic acid", 138_122, "salicylic acid", 0, 0},
	{"sodium salicylate", 160_104, "salicylic acid", 1, 1},
	{"levulinic acid", 116_116, "levulinic acid", 0, 0},
	{"sodium levulinate", 138_098, "levulinic acid", 1, 1},
	{"p-anisic acid", 152_149, "p-anisic acid", 0, 0},
	{"sodium anisate", 174_131, "p-anisic acid", 1, 1},
	{"dehydroacetic acid", 168_148, "dehydroacetic acid", 0, 0},
	{"sodium dehydroacetate", 190_130, "dehydroacetic acid", 1, 1},
	{"sodium hydroxide", 39_997, "", 1, 1},
	{"potassium hydroxide", 56_105, "", 1, 1},
	{"hydrochloric acid", 36_458, "", -1, 1},
	{"sodium chloride", 58_440, "", 0, 2},
}

func findSolute(name string) *solute {
	for i := range solutes {
		if solutes[i].name == name {
			return &solutes[i]
		}
	}
	return nil
}
