package given

import "stillroom/calc/matter"

// solids: grit, salts, colour, clay and thickener.
func solids() []matter.Ingredient {
	return []matter.Ingredient{
		{Key: "sucrose", Name: "sucrose (sugar)", INCI: "Sucrose", Also: []string{"sugar", "white sugar", "caster sugar", "granulated sugar", "cane sugar", "brown sugar"}, About: "soluble grit: water takes it in time, coarse grains only later", Composition: pure("Sucrose"),
			Functions: []string{"grit"}, Soluble: "water", Density: density(1587, matter.Cite{Source: "CRC Handbook", Mark: "M+"})},
		{Key: "salt", Name: "sodium chloride (salt)", INCI: "Sodium Chloride", Also: []string{"salt", "table salt", "fine salt", "NaCl"}, About: "soluble grit; stings broken or shaved skin", Composition: pure("Sodium Chloride"),
			Functions: []string{"grit", "thickener"}, Soluble: "water", Density: density(2170, matter.Cite{Source: "CRC Handbook", Mark: "M+"})},
		{Key: "iron-oxide-red", Name: "iron oxide, red", INCI: "CI 77491", Also: []string{"red iron oxide", "red oxide"}, About: "mineral colour; does not bleed", Composition: pure("CI 77491"),
			Functions: []string{"colour", "powder"}, Soluble: "neither", Usual: usual(pct/100, 2*pct, practice),
			Hazards: []matter.Hazard{powder("its dust flies and stains", sdsMemory)}},
		{Key: "kaolin", Name: "kaolin", INCI: "Kaolin", Also: []string{"white clay", "kaolin clay", "china clay"}, About: "white clay; may bind a preservative", Composition: pure("Kaolin"),
			Functions: []string{"clay", "powder"}, Soluble: "neither", Usual: usual(pct, 20*pct, practice),
			Hazards: []matter.Hazard{powder("mineral dust harms the lungs", sdsMemory)}},
		{Key: "xanthan", Name: "xanthan gum", INCI: "Xanthan Gum", Also: []string{"xanthan"}, About: "thickens water; wet it with glycerin first", Composition: pure("Xanthan Gum"),
			Functions: []string{"thickener", "powder"}, Soluble: "water", Usual: usual(pct/10, pct, practice),
			Hazards: []matter.Hazard{powder("fine dust flies, and is slippery when wet", sdsMemory)}},
	}
}
