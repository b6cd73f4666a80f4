package given

import "stillroom/calc/matter"

// waters: water, and what is mostly water or draws it.
func waters() []matter.Ingredient {
	return []matter.Ingredient{
		{Key: "water", Name: "water, distilled", INCI: "Aqua", Also: []string{"water", "distilled water", "deionised water", "deionized water", "demineralised water", "purified water", "dist. water", "DI water", "H2O"}, About: "the body of anything with a water phase", Composition: pure("Aqua"),
			Functions: []string{"water"}, Soluble: "water", Density: density(998, matter.Cite{Source: "CRC Handbook, 20 °C", Mark: "M+"})},
		{Key: "glycerin", Name: "glycerin", INCI: "Glycerin", Also: []string{"glycerine", "glycerol", "vegetable glycerin", "glicerin"}, About: "the usual humectant; clings to the cup", Composition: pure("Glycerin"),
			Functions: []string{"humectant"}, Soluble: "water", Usual: usual(2*pct, 10*pct, practice), Density: density(1261, matter.Cite{Source: "CRC Handbook, 20 °C", Mark: "M+"})},
		{Key: "aloe-juice", Name: "aloe leaf juice", INCI: "Aloe Barbadensis Leaf Juice", Also: []string{"aloe", "aloe juice", "aloe vera juice", "aloe vera"}, About: "counts as water, and as food for microbes",
			Composition: []matter.Share{share("Aqua", 99*pct+pct/2, "yes", typical), share("Aloe Barbadensis Leaf Juice", pct/2, "yes", typical)},
			Functions:   []string{"water", "skin feel"}, Soluble: "water", PHSupplied: supplied(350, 470, "as supplied", typical), Highest: below(40_000, "40 C", practice)},
		{Key: "lactic-80", Name: "lactic acid 80 %", INCI: "Lactic Acid", Also: []string{"lactic acid", "lactic"}, About: "brings the pH down, drop by drop",
			Composition: []matter.Share{share("Lactic Acid", 80*pct, "yes", typical), share("Aqua", 20*pct, "yes", typical)},
			Functions:   []string{"pH adjuster"}, Soluble: "water", Usual: usual(pct/10, 2*pct, practice), Density: density(1190, typical),
			PHSupplied: supplied(0, 100, "as supplied", typical),
			Hazards:    []matter.Hazard{corrosive("burns skin and eyes as supplied", sdsMemory)}},
		{Key: "citric-acid", Name: "citric acid", INCI: "Citric Acid", Also: []string{"citric"}, About: "brings the pH down; dissolve it in water first", Composition: pure("Citric Acid"),
			Functions: []string{"pH adjuster", "chelating agent"}, Soluble: "water", Usual: usual(pct/20, pct, practice),
			PHSupplied: supplied(220, 230, "1 % in water", matter.Cite{Source: "handbooks print 2.2; charge balance gives 2.23", Mark: "C"}),
			Hazards:    []matter.Hazard{eye("crystals and dust irritate the eyes", sdsMemory)}},
	}
}
