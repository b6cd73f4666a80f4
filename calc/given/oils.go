package given

import "stillroom/calc/matter"

// oils: liquid oils, butters and waxes beyond the first few. No usual range is given for a plain oil: a balm may be made of it.
func oils() []matter.Ingredient {
	handbook := matter.Cite{Source: "oil chemistry handbooks", Mark: "M"}
	roughly := matter.Cite{Source: "oil chemistry handbooks; harvests and grades differ", Mark: "M?"}
	oil := func(key, name, inci, about string, mgPerML int64, also ...string) matter.Ingredient {
		i := matter.Ingredient{Key: key, Name: name, INCI: inci, Also: also, About: about, Composition: pure(inci), Functions: []string{"emollient"}, Soluble: "oil"}
		if mgPerML > 0 {
			i.Density = density(mgPerML, handbook)
		}
		return i
	}
	set := func(i matter.Ingredient, low, high int64, from matter.Cite) matter.Ingredient {
		i.Melts = melts(low, high, from)
		return i
	}
	wax := func(i matter.Ingredient, function string, from, to matter.Percent) matter.Ingredient {
		i.Functions, i.Usual = []string{function}, usual(from, to, practice)
		return i
	}
	return []matter.Ingredient{
		oil("almond-oil", "sweet almond oil", "Prunus Amygdalus Dulcis Oil", "medium liquid oil; from a nut, which customers ask about", 917, "almond oil", "sweet almond"),
		oil("olive-oil", "olive oil", "Olea Europaea Fruit Oil", "heavier liquid oil", 913, "olive", "extra virgin olive oil", "pomace olive oil"),
		oil("jojoba-oil", "jojoba oil", "Simmondsia Chinensis Seed Oil", "a liquid wax that keeps long; turns firm in the cold", 865, "jojoba", "golden jojoba oil", "clear jojoba oil"),
		oil("castor-oil", "castor oil", "Ricinus Communis Seed Oil", "thick, glossy and polar", 960, "castor"),
		oil("avocado-oil", "avocado oil", "Persea Gratissima Oil", "rich liquid oil", 915, "avocado"),
		oil("grapeseed-oil", "grape seed oil", "Vitis Vinifera Seed Oil", "light liquid oil; turns rancid soon", 921, "grapeseed oil", "grapeseed", "grape seed"),
		oil("apricot-oil", "apricot kernel oil", "Prunus Armeniaca Kernel Oil", "light liquid oil", 916, "apricot oil", "apricot kernel"),
		oil("mct-oil", "caprylic/capric triglyceride", "Caprylic/Capric Triglyceride", "light oil without smell; coconut oil that never sets", 945, "MCT oil", "fractionated coconut oil", "MCT", "medium chain triglycerides"),
		oil("squalane", "squalane", "Squalane", "very light, keeps long", 810, "olive squalane", "sugarcane squalane"),
		set(oil("cocoa-butter", "cocoa butter", "Theobroma Cacao Seed Butter", "hard, brittle butter; smells of chocolate when it is not deodorised", 0, "cacao butter", "cocoa"), 31, 36, handbook),
		set(oil("mango-butter", "mango butter", "Mangifera Indica Seed Butter", "firm butter; may turn grainy when it cools slowly", 0, "mango"), 31, 42, roughly),
		wax(set(oil("candelilla", "candelilla wax", "Euphorbia Cerifera Cera", "hard plant wax; stiffens more than beeswax does", 0, "candelilla"), 68, 73, handbook), "structure", pct, 15*pct),
		wax(set(oil("cetyl-alcohol", "cetyl alcohol", "Cetyl Alcohol", "thickens and opacifies", 0, "cetyl"), 46, 52, roughly), "structure", pct, 6*pct),
		{Key: "alcohol-96", Name: "alcohol 96 %, denatured", INCI: "Alcohol Denat.", Also: []string{"alcohol", "denatured alcohol", "ethanol", "spirit", "perfumer's alcohol"}, About: "solvent; burns, so no hot plate near it",
			Composition: []matter.Share{share("Alcohol Denat.", 94*pct, "yes", matter.Cite{Source: "96 % by volume is about 94 % by weight, alcohol tables", Mark: "M"}), share("Aqua", 6*pct, "yes", rest)},
			Functions:   []string{"solvent"}, Soluble: "both", Density: density(807, matter.Cite{Source: "alcohol tables, 20 °C", Mark: "M"}),
			Hazards: []matter.Hazard{{Kind: "flammable", Says: "highly flammable liquid and vapour", Wear: "no flame, spark or hot plate in the room; let wiped surfaces dry first", Cite: sdsMemory}, eye("irritates the eyes (H319)", sdsMemory)}},
		essential("lavender-oil", "lavender essential oil", "Lavandula Angustifolia Oil", "scent; weighed in grams, never counted in drops", "lavender oil", "lavender essential oil"),
		essential("orange-oil", "sweet orange essential oil", "Citrus Aurantium Dulcis Peel Oil", "scent; turns stale within a year of opening", "sweet orange oil", "orange oil", "orange essential oil"),
		essential("peppermint-oil", "peppermint essential oil", "Mentha Piperita Oil", "cooling scent; not near eyes or for small children", "peppermint oil", "peppermint"),
	}
}

func essential(key, name, inci, about string, also ...string) matter.Ingredient {
	return matter.Ingredient{Key: key, Name: name, INCI: inci, Also: also, About: about, Composition: pure(inci), Functions: []string{"scent"}, Soluble: "oil",
		Usual: usual(pct/10, pct, practice), Highest: hundredF(),
		Hazards: []matter.Hazard{{Kind: "skin", Says: "undiluted it irritates and can sensitise the skin", Wear: "gloves on before it is opened; keep it away from a flame or hot plate", Cite: sdsMemory}}}
}
