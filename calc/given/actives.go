package given

import "stillroom/calc/matter"

// actives: humectants, what is added for the skin, acids, alkalis, chelating agents, hydrosols, and preservatives beyond the first few.
func actives() []matter.Ingredient {
	recalled := matter.Cite{Source: "shares as remembered, take the supplier's own", Mark: "M?"}
	named := matter.Cite{Source: "strength as named", Mark: "own"}
	crc := matter.Cite{Source: "CRC Handbook, 20 °C", Mark: "M"}
	dusty := []matter.Hazard{eye("crystals and dust irritate the eyes", sdsMemory)}
	hydrosol := func(key, name, inci string, also ...string) matter.Ingredient {
		return matter.Ingredient{Key: key, Name: name, INCI: inci, Also: also, About: "counts as water, and as food for microbes", Composition: pure(inci), Functions: []string{"water", "scent"}, Soluble: "water", Highest: below(40_000, "40 C", practice)}
	}
	return []matter.Ingredient{
		hydrosol("lavender-water", "lavender hydrosol", "Lavandula Angustifolia Flower Water", "lavender water", "lavender floral water", "lavender hydrolat"),
		hydrosol("rose-water", "rose hydrosol", "Rosa Damascena Flower Water", "rose water", "rosewater", "rose floral water", "rose hydrolat"),
		{Key: "propanediol", Name: "propanediol", INCI: "Propanediol", Also: []string{"1,3 propanediol", "propanediol 1,3"}, About: "humectant and solvent, less sticky than glycerin", Composition: pure("Propanediol"),
			Functions: []string{"humectant", "solvent"}, Soluble: "water", Usual: usual(2*pct, 10*pct, practice), Density: density(1053, crc)},
		{Key: "sorbitol-70", Name: "sorbitol solution 70 %", INCI: "Sorbitol", Also: []string{"sorbitol", "sorbitol syrup"}, About: "humectant, syrupy", Composition: solution("Sorbitol", 70*pct, named),
			Functions: []string{"humectant"}, Soluble: "water", Usual: usual(2*pct, 10*pct, practice), Density: density(1290, typical)},
		{Key: "sodium-lactate-60", Name: "sodium lactate solution 60 %", INCI: "Sodium Lactate", Also: []string{"sodium lactate"}, About: "humectant; holds a pH together with lactic acid", Composition: solution("Sodium Lactate", 60*pct, named),
			Functions: []string{"humectant", "buffer"}, Soluble: "water", Usual: usual(pct, 4*pct, practice), Density: density(1310, typical)},
		{Key: "urea", Name: "urea", INCI: "Urea", Also: []string{"carbamide"}, About: "humectant; slowly turns alkaline, more so when it was heated", Composition: pure("Urea"),
			Functions: []string{"humectant"}, Soluble: "water", Usual: usual(2*pct, 10*pct, practice), Highest: below(40_000, "40 C", practice)},
		{Key: "panthenol", Name: "panthenol", INCI: "Panthenol", Also: []string{"provitamin B5", "d panthenol", "vitamin B5", "dl panthenol"}, About: "humectant; soothing feel", Composition: pure("Panthenol"),
			Functions: []string{"humectant", "skin feel"}, Soluble: "water", Usual: usual(pct/2, 5*pct, practice), PHKeeps: keeps(400, 700, typical)},
		{Key: "niacinamide", Name: "niacinamide", INCI: "Niacinamide", Also: []string{"vitamin B3", "nicotinamide"}, About: "keeps near neutral; in acid it turns to niacin, which flushes", Composition: pure("Niacinamide"),
			Functions: []string{"skin feel"}, Soluble: "water", Usual: usual(2*pct, 5*pct, practice), PHKeeps: keeps(500, 700, practice), Hazards: dusty},
		{Key: "allantoin", Name: "allantoin", INCI: "Allantoin", About: "soothing feel; about half a part dissolves in 100 of water, the rest comes back as grains", Also: []string{"allantoin powder"}, Composition: pure("Allantoin"),
			Functions: []string{"skin feel"}, Soluble: "water", Usual: usual(pct/10, pct/2, practice)},
		{Key: "tocopheryl-acetate", Name: "tocopheryl acetate", INCI: "Tocopheryl Acetate", Also: []string{"vitamin E acetate", "vit E acetate"}, About: "for the skin; protects no oil and keeps no microbes away", Composition: pure("Tocopheryl Acetate"),
			Functions: []string{"skin feel"}, Soluble: "oil", Usual: usual(pct/2, 5*pct, practice), Density: density(960, typical)},
		{Key: "naoh-10", Name: "sodium hydroxide solution 10 %", INCI: "Sodium Hydroxide", Also: []string{"sodium hydroxide", "lye solution", "NaOH", "NaOH solution", "caustic soda solution"}, About: "brings the pH up, drop by drop", Composition: solution("Sodium Hydroxide", 10*pct, named),
			Functions: []string{"pH adjuster"}, Soluble: "water", Density: density(1109, crc), PHSupplied: supplied(1300, 1400, "as supplied", matter.Cite{Source: "any chemistry text: a strong base at about 2.8 mol/L", Mark: "M+"}),
			Hazards: []matter.Hazard{corrosive("burns skin and eyes badly (H314)", sdsMemory)}},
		{Key: "sodium-citrate", Name: "sodium citrate", INCI: "Sodium Citrate", Also: []string{"trisodium citrate"}, About: "holds a pH together with citric acid", Composition: pure("Sodium Citrate"),
			Functions: []string{"buffer", "chelating agent"}, Soluble: "water", Usual: usual(pct/10, 2*pct, practice)},
		{Key: "sodium-bicarbonate", Name: "sodium bicarbonate", INCI: "Sodium Bicarbonate", Also: []string{"bicarb", "baking soda", "bicarbonate of soda", "bicarbonate"}, About: "mild alkali; fizzes with acid, also in a closed jar", Composition: pure("Sodium Bicarbonate"),
			Functions: []string{"pH adjuster", "powder"}, Soluble: "water", PHSupplied: supplied(800, 860, "1 % in water", matter.Cite{Source: "handbooks print about 8.3", Mark: "M"}), Hazards: []matter.Hazard{powder("fine dust flies", sdsMemory)}},
		{Key: "glda-47", Name: "tetrasodium glutamate diacetate solution 47 %", INCI: "Tetrasodium Glutamate Diacetate", Also: []string{"GLDA", "tetrasodium glutamate diacetate", "chelator", "glutamate diacetate"}, About: "binds metals, so that preservatives and scent last; alkaline",
			Composition: solution("Tetrasodium Glutamate Diacetate", 47*pct, typical), Functions: []string{"chelating agent"}, Soluble: "water", Usual: usual(pct/10, pct/2, practice),
			PHSupplied: supplied(1100, 1200, "as supplied", typical), Hazards: []matter.Hazard{eye("alkaline as supplied; irritates the eyes", sdsMemory)}},
		{Key: "disodium-edta", Name: "disodium EDTA", INCI: "Disodium EDTA", Also: []string{"EDTA", "edetate"}, About: "binds metals, so that preservatives and scent last", Composition: pure("Disodium EDTA"),
			Functions: []string{"chelating agent"}, Soluble: "water", Usual: usual(pct/20, pct/5, practice), PHSupplied: supplied(400, 500, "5 % in water", typical), Hazards: dusty},
		{Key: "phenoxyethanol-caprylyl", Name: "phenoxyethanol and caprylyl glycol blend", INCI: "Phenoxyethanol (and) Caprylyl Glycol", Also: []string{"phenoxyethanol caprylyl glycol", "caprylyl glycol blend"}, About: "broad preservative over a wide pH",
			Composition: []matter.Share{share("Phenoxyethanol", 70*pct, "yes", recalled), share("Caprylyl Glycol", 30*pct, "yes", recalled)}, Functions: []string{"preservative"}, Soluble: "both",
			Usual: usual(pct/2, 14*pct/10, recalled), PHKeeps: keeps(300, 800, recalled), Highest: hundredF(), Hazards: []matter.Hazard{eye("can damage the eyes as supplied", sdsMemory)}},
		{Key: "caprylyl-glycol", Name: "caprylyl glycol", INCI: "Caprylyl Glycol", Also: []string{"octanediol", "1,2 octanediol"}, About: "helps a preservative and softens the feel; none by itself", Composition: pure("Caprylyl Glycol"),
			Functions: []string{"booster", "skin feel"}, Soluble: "both", Usual: usual(pct/5, pct, practice), Hazards: []matter.Hazard{eye("can damage the eyes as supplied", sdsMemory)}},
		{Key: "sodium-dehydroacetate", Name: "sodium dehydroacetate", INCI: "Sodium Dehydroacetate", Also: []string{"dehydroacetate"}, About: "against moulds and yeasts, on the sour side; not for sprays", Composition: pure("Sodium Dehydroacetate"),
			Functions: []string{"preservative", "powder"}, Soluble: "water", Usual: usual(pct/10, 6*pct/10, practice), PHKeeps: keeps(300, 600, practice), Hazards: []matter.Hazard{powder("its dust irritates the airways", sdsMemory)}},
		{Key: "levulinate-anisate", Name: "sodium levulinate and sodium anisate blend", INCI: "Aqua (and) Sodium Levulinate (and) Sodium Anisate", Also: []string{"sodium levulinate", "levulinate anisate", "sodium anisate", "levulinate", "anisate"}, About: "for the sour side; often with another preservative; not on the EU list of preservatives",
			Composition: []matter.Share{share("Sodium Levulinate", 40*pct, "yes", recalled), share("Sodium Anisate", 10*pct, "yes", recalled), share("Aqua", 50*pct, "yes", rest)}, Functions: []string{"preservative"}, Soluble: "water",
			Usual: usual(2*pct, 4*pct, recalled), PHKeeps: keeps(400, 550, practice), Highest: hundredF()},
	}
}
