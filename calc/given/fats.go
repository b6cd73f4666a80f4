package given

import "stillroom/calc/matter"

// fats: oils, butters, waxes and what hardens.
func fats() []matter.Ingredient {
	fatMelts := matter.Cite{Source: "oil chemistry handbooks", Mark: "M"}
	return []matter.Ingredient{
		{Key: "stearic-50", Name: "stearic acid (grade 50)", INCI: "Stearic Acid", Also: []string{"stearic acid", "stearin", "stearic", "stearic acid 50"}, About: "hardens and gives structure; about half is palmitic",
			Composition: []matter.Share{share("Stearic Acid", 50*pct, "yes", matter.Cite{Source: "grade 50 of Ph. Eur. 1474 as quoted", Mark: "R~"}), share("Palmitic Acid", 50*pct, "", matter.Cite{Source: "the rest of 100 %", Mark: "C"})},
			Functions:   []string{"structure", "co-emulsifier"}, Soluble: "oil", Usual: usual(2*pct, 20*pct, practice),
			Melts: melts(53, 59, matter.Cite{Source: "Ph. Eur. 1474 as quoted (stearicacid.biz, epitochemint.com)", Mark: "R~"})},
		{Key: "cetearyl-alcohol", Name: "cetearyl alcohol", INCI: "Cetearyl Alcohol", Also: []string{"cetearyl", "cetostearyl alcohol"}, About: "thickens and opacifies", Composition: pure("Cetearyl Alcohol"),
			Functions: []string{"structure", "co-emulsifier"}, Soluble: "oil", Usual: usual(pct, 8*pct, practice), Melts: melts(48, 56, typical)},
		{Key: "shea", Name: "shea butter", INCI: "Butyrospermum Parkii Butter", Also: []string{"shea", "karite butter", "karité", "refined shea butter"}, About: "soft butter; may turn grainy when it cools slowly", Composition: pure("Butyrospermum Parkii Butter"),
			Functions: []string{"emollient"}, Soluble: "oil", Melts: melts(32, 45, fatMelts), Density: density(910, fatMelts)},
		{Key: "coconut-oil", Name: "coconut oil", INCI: "Cocos Nucifera Oil", Also: []string{"coconut", "virgin coconut oil", "coconut oil 76"}, About: "hard in a cool room, liquid in a warm one", Composition: pure("Cocos Nucifera Oil"),
			Functions: []string{"emollient"}, Soluble: "oil", Melts: melts(23, 26, fatMelts), Density: density(920, fatMelts)},
		{Key: "sunflower-oil", Name: "sunflower oil", INCI: "Helianthus Annuus Seed Oil", Also: []string{"sunflower", "sunflower seed oil", "high oleic sunflower oil"}, About: "light liquid oil", Composition: pure("Helianthus Annuus Seed Oil"),
			Functions: []string{"emollient"}, Soluble: "oil", Density: density(919, fatMelts)},
		{Key: "beeswax", Name: "beeswax", INCI: "Cera Alba", Also: []string{"white beeswax", "yellow beeswax", "bees wax", "beeswax pellets"}, About: "stiffens balms", Composition: pure("Cera Alba"),
			Functions: []string{"structure"}, Soluble: "oil", Usual: usual(2*pct, 25*pct, practice), Melts: melts(61, 65, matter.Cite{Source: "pharmacopoeia drop point, widely published", Mark: "M+"})},
		{Key: "tocopherol", Name: "tocopherol (mixed)", INCI: "Tocopherol", Also: []string{"vitamin e", "vit e", "mixed tocopherols", "vitamin e oil"}, About: "keeps oils from turning rancid; keeps no microbes away",
			Composition: []matter.Share{share("Tocopherol", 70*pct, "yes", typical), share("Helianthus Annuus Seed Oil", 30*pct, "yes", typical)},
			Functions:   []string{"antioxidant"}, Soluble: "oil", Usual: usual(pct/20, pct, practice)},
	}
}
