package given

import "stillroom/calc/matter"

// keepers: preservatives, and scent that goes in with them.
func keepers() []matter.Ingredient {
	return []matter.Ingredient{
		{Key: "phenoxyethanol-ehg", Name: "phenoxyethanol and ethylhexylglycerin 90/10", INCI: "Phenoxyethanol (and) Ethylhexylglycerin", Also: []string{"phenoxyethanol", "phenoxyethanol blend", "phenoxyethanol with ethylhexylglycerin", "phenoxyethanol EHG"}, About: "broad preservative over a wide pH",
			Composition: []matter.Share{share("Phenoxyethanol", 90*pct, "yes", typical), share("Ethylhexylglycerin", 10*pct, "yes", typical)},
			Functions:   []string{"preservative"}, Soluble: "both", Usual: usual(pct/2, pct+pct/10, typical), Maximum: most(pct+pct/10, typical),
			PHKeeps: keeps(300, 1000, typical), Highest: hundredF(), Density: density(1100, typical),
			Hazards: []matter.Hazard{eye("can damage the eyes as supplied", sdsMemory)}},
		{Key: "benzyl-dehydroacetic", Name: "benzyl alcohol and dehydroacetic acid blend", INCI: "Benzyl Alcohol (and) Dehydroacetic Acid", Also: []string{"benzyl alcohol DHA", "benzyl alcohol dehydroacetic acid", "benzyl alcohol and DHA", "DHA preservative"}, About: "preservative for the sour side; not for sprays",
			Composition: []matter.Share{share("Benzyl Alcohol", 86*pct, "yes", typical), share("Dehydroacetic Acid", 8*pct, "yes", typical), share("Aqua", 6*pct, "no", typical)},
			Functions:   []string{"preservative"}, Soluble: "both", Usual: usual(8*pct/10, pct+pct/10, typical),
			Maximum: most(pct+pct/10, typical), PHKeeps: keeps(200, 700, typical), Highest: hundredF(),
			Hazards: []matter.Hazard{eye("irritates the eyes as supplied", sdsMemory)}},
		{Key: "sodium-benzoate", Name: "sodium benzoate", INCI: "Sodium Benzoate", Also: []string{"benzoate", "na benzoate"}, About: "works only on the sour side; seldom alone", Composition: pure("Sodium Benzoate"),
			Functions: []string{"preservative", "powder"}, Soluble: "water", Usual: usual(pct/5, pct, practice), PHKeeps: keeps(300, 500, practice),
			Hazards: []matter.Hazard{powder("its dust irritates the airways", sdsMemory), eye("irritates the eyes (H319)", sdsMemory)}},
		{Key: "potassium-sorbate", Name: "potassium sorbate", INCI: "Potassium Sorbate", Also: []string{"sorbate", "k sorbate"}, About: "against moulds and yeasts, on the sour side", Composition: pure("Potassium Sorbate"),
			Functions: []string{"preservative", "powder"}, Soluble: "water", Usual: usual(pct/5, 8*pct/10, practice), PHKeeps: keeps(300, 550, practice),
			Hazards: []matter.Hazard{eye("irritates the eyes (H319)", sdsMemory)}},
		{Key: "parfum", Name: "parfum", INCI: "Parfum", Also: []string{"perfume", "fragrance", "fragrance oil", "scent", "perfume oil"}, About: "scent; its certificate gives the maximum and the allergens", Composition: pure("Parfum"),
			Functions: []string{"scent"}, Soluble: "oil", Usual: usual(pct/5, pct, practice), Highest: hundredF(),
			Hazards: []matter.Hazard{{Kind: "skin", Says: "undiluted scent irritates and can sensitise the skin", Wear: "gloves on before it is opened; keep it away from a flame or hot plate", Cite: sdsMemory}}},
	}
}
