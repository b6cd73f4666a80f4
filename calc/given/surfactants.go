package given

import "stillroom/calc/matter"

// surfactants and conditioning agents, by charge.
func surfactants() []matter.Ingredient {
	sciFrom := matter.Cite{Source: "composition read in a supplier's scanned copy: 78 to 84 active, 8 to 14 coconut acid, 4 to 7 isethionate, water below 1; one value within it", Mark: "R~"}
	sections5 := matter.Cite{Source: "published supplier ranges vary, take the lot's certificate", Mark: "M+"}
	return []matter.Ingredient{
		{Key: "sci-powder", Name: "sodium cocoyl isethionate powder", INCI: "Sodium Cocoyl Isethionate", Also: []string{"SCI", "isethionate", "isethionate powder", "sodium cocoyl isethionate", "SCI powder", "cocoyl isethionate"}, About: "mild anionic surfactant; its dust flies",
			Composition: []matter.Share{share("Sodium Cocoyl Isethionate", 82*pct, "yes", sciFrom), share("Coconut Acid", 11*pct, "", sciFrom),
				share("Sodium Isethionate", 6*pct, "", sciFrom), share("Aqua", pct/2, "no", sciFrom), share("Sodium Chloride", pct/2, "no", sciFrom)},
			Functions: []string{"surfactant", "powder"}, Soluble: "water",
			PHSupplied: supplied(450, 650, "10 % in water", matter.Cite{Source: "published supplier ranges", Mark: "M"}),
			PHKeeps:    keeps(500, 800, matter.Cite{Source: "encyclopaedia article citing AOCS 2004 ch. 5; one supplier page says 6 to 8", Mark: "R"}),
			Maximum:    most(50*pct, matter.Cite{Source: "CIR panel, rinse-off (17 % for leave-on), older conclusion", Mark: "R~"}),
			Hazards: []matter.Hazard{powder("its dust flies and irritates the airways", matter.Cite{Source: "not a phrase of the data sheet; known at the bench", Mark: "M+"}),
				eye("irritates the eyes (H319)", matter.Cite{Source: "a supplier's safety data sheet", Mark: "R~"})}},
		{Key: "betaine-30", Name: "cocamidopropyl betaine solution 30 %", INCI: "Cocamidopropyl Betaine", Also: []string{"betaine", "CAPB", "cocamidopropyl betaine", "betaine solution", "coco betaine", "cocobetaine", "betaine 30 %"}, About: "amphoteric; lifts foam and makes it milder",
			Composition: []matter.Share{share("Aqua", 65*pct, "yes", matter.Cite{Source: "the rest of 100 %", Mark: "C"}), share("Cocamidopropyl Betaine", 30*pct, "yes", matter.Cite{Source: "heraproject.com: up to about 30 % active", Mark: "R"}),
				share("Sodium Chloride", 5*pct, "no", typical)},
			Functions: []string{"surfactant", "foam booster"}, Soluble: "water", Density: density(1040, typical),
			PHSupplied: supplied(450, 600, "as supplied", matter.Cite{Source: "published supplier ranges", Mark: "M"}),
			Hazards:    []matter.Hazard{eye("about 30 % active irritates skin and eyes", matter.Cite{Source: "heraproject.com", Mark: "R"})}},
		{Key: "decyl-glucoside", Name: "decyl glucoside solution 52 %", INCI: "Decyl Glucoside", Also: []string{"decyl glucoside", "decylglucoside", "decyl"}, About: "non-ionic; arrives alkaline, adjust before it meets an ester",
			Composition: []matter.Share{share("Decyl Glucoside", 52*pct, "yes", sections5), share("Aqua", 48*pct, "yes", sections5)},
			Functions:   []string{"surfactant"}, Soluble: "water", PHSupplied: supplied(1150, 1250, "20 % in water", sections5), Density: density(1100, typical),
			Hazards: []matter.Hazard{corrosive("alkaline as supplied; can damage the eyes", sdsMemory)}},
		{Key: "btms", Name: "behentrimonium methosulfate blend", INCI: "Cetearyl Alcohol (and) Behentrimonium Methosulfate", Also: []string{"BTMS", "conditioning emulsifier", "behentrimonium methosulfate"}, About: "cationic; conditions and holds oil in water",
			Composition: []matter.Share{share("Cetearyl Alcohol", 75*pct, "yes", typical), share("Behentrimonium Methosulfate", 25*pct, "yes", typical)},
			Functions:   []string{"emulsifier", "conditioning"}, Soluble: "oil", Usual: usual(2*pct, 10*pct, practice),
			PHSupplied: supplied(500, 700, "in water", sections5), Melts: melts(60, 70, typical),
			Hazards: []matter.Hazard{eye("can damage the eyes as supplied", sdsMemory)}},
		{Key: "polyquaternium-7", Name: "polyquaternium-7 solution", INCI: "Polyquaternium-7", Also: []string{"PQ 7", "polyquat 7", "polyquaternium-7"}, About: "cationic polymer; whether it suits an anionic base is stated per use",
			Composition: []matter.Share{share("Aqua", 91*pct, "yes", typical), share("Polyquaternium-7", 9*pct, "yes", typical)},
			Functions:   []string{"conditioning"}, Soluble: "water", Usual: usual(pct, 5*pct, practice), PHSupplied: supplied(500, 700, "as supplied", sections5)},
		{Key: "emulsifying-wax", Name: "emulsifying wax", INCI: "Cetearyl Alcohol (and) Polysorbate 60", Also: []string{"e wax", "ewax", "emulsifying wax", "emulsifying wax NF"}, About: "complete non-ionic emulsifier: 20 to 25 % of everything oily",
			Composition: []matter.Share{share("Cetearyl Alcohol", 80*pct, "yes", typical), share("Polysorbate 60", 20*pct, "yes", typical)},
			Functions:   []string{"emulsifier"}, Soluble: "oil", Usual: usual(3*pct, 10*pct, practice), Melts: melts(48, 54, typical)},
	}
}
