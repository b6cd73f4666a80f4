package given

import "stillroom/calc/matter"

// cleansers: surfactants as solutions, and two cationic conditioners. Active and pH are the published bands of the design's surfactant table,
// one value within them; the certificate of the lot decides.
func cleansers() []matter.Ingredient {
	band := func(says, mark string) matter.Cite {
		return matter.Cite{Source: "published supplier ranges: " + says + "; take the lot's certificate", Mark: mark}
	}
	glucoside := func(key, name, inci, about string, also ...string) matter.Ingredient {
		return matter.Ingredient{Key: key, Name: name, INCI: inci, Also: also, About: about, Composition: solution(inci, 52*pct, band("50 to 53 active", "M+")), Functions: []string{"surfactant"}, Soluble: "water",
			PHSupplied: supplied(1150, 1250, "20 % in water", band("11.5 to 12.5", "M+")), Hazards: []matter.Hazard{corrosive("alkaline as supplied; can damage the eyes", sdsMemory)}}
	}
	sulfates := matter.Cite{Source: "sulfates come apart below about pH 4 (practice page); upper end as supplied", Mark: "R~"}
	irritates := []matter.Hazard{eye("can damage the eyes as supplied", sdsMemory)}
	return []matter.Ingredient{
		glucoside("coco-glucoside", "coco-glucoside solution 52 %", "Coco-Glucoside", "non-ionic, mild; arrives alkaline, adjust before it meets an ester", "coco glucoside", "cocoglucoside"),
		glucoside("lauryl-glucoside", "lauryl glucoside solution 52 %", "Lauryl Glucoside", "non-ionic, thick; arrives alkaline; warm it to pour", "lauryl glucoside"),
		{Key: "capryl-glucoside", Name: "caprylyl/capryl glucoside solution 60 %", INCI: "Caprylyl/Capryl Glucoside", Also: []string{"capryl glucoside", "caprylyl glucoside", "caprylyl capryl glucoside"}, About: "non-ionic; thin, clear, also takes up a little scent",
			Composition: solution("Caprylyl/Capryl Glucoside", 60*pct, band("58 to 62 active", "M?")), Functions: []string{"surfactant", "solubiliser"}, Soluble: "water",
			PHSupplied: supplied(550, 900, "as supplied", band("5.5 to 9", "M?")), Hazards: irritates},
		{Key: "sarcosinate-30", Name: "sodium lauroyl sarcosinate solution 30 %", INCI: "Sodium Lauroyl Sarcosinate", Also: []string{"sodium lauroyl sarcosinate", "sarcosinate", "lauroyl sarcosinate"}, About: "anionic, mild, soft foam",
			Composition: solution("Sodium Lauroyl Sarcosinate", 30*pct, band("29 to 31 active", "M+")), Functions: []string{"surfactant"}, Soluble: "water",
			PHSupplied: supplied(700, 850, "as supplied", band("7.0 to 8.5", "M+")), Hazards: irritates},
		{Key: "olefin-sulfonate-40", Name: "sodium C14-16 olefin sulfonate solution 39 %", INCI: "Sodium C14-16 Olefin Sulfonate", Also: []string{"olefin sulfonate", "sodium olefin sulfonate", "AOS", "AOS solution"}, About: "anionic, strong foam, stands acid",
			Composition: solution("Sodium C14-16 Olefin Sulfonate", 39*pct, band("38 to 40 active", "R~")), Functions: []string{"surfactant"}, Soluble: "water",
			PHSupplied: supplied(750, 900, "as supplied", band("7.5 to 9", "M")), Hazards: irritates},
		{Key: "coco-sulfate", Name: "sodium coco-sulfate needles", INCI: "Sodium Coco-Sulfate", Also: []string{"sodium coco sulfate", "coco sulfate", "SCS"}, About: "anionic, strong foam; its dust flies",
			Composition: []matter.Share{share("Sodium Coco-Sulfate", 92*pct, "yes", band("90 to 95 active", "M")), share("Sodium Sulfate", 5*pct, "no", typical), share("Aqua", 3*pct, "no", rest)},
			Functions:   []string{"surfactant", "powder"}, Soluble: "water", PHSupplied: supplied(900, 1100, "in water", band("9 to 11", "M")), PHKeeps: keeps(400, 1100, sulfates),
			Hazards: []matter.Hazard{powder("its dust irritates the airways", sdsMemory), eye("can damage the eyes", sdsMemory)}},
		{Key: "laureth-sulfosuccinate-35", Name: "disodium laureth sulfosuccinate solution 35 %", INCI: "Disodium Laureth Sulfosuccinate", Also: []string{"disodium laureth sulfosuccinate", "sulfosuccinate", "laureth sulfosuccinate"}, About: "anionic ester, mild; does not last far from neutral",
			Composition: solution("Disodium Laureth Sulfosuccinate", 35*pct, band("30 to 40 active", "M")), Functions: []string{"surfactant"}, Soluble: "water",
			PHSupplied: supplied(550, 700, "as supplied", band("5.5 to 7.0", "M")), Hazards: irritates},
		{Key: "cocoyl-glutamate-30", Name: "sodium cocoyl glutamate solution 30 %", INCI: "Sodium Cocoyl Glutamate", Also: []string{"sodium cocoyl glutamate", "cocoyl glutamate", "SCG", "glutamate surfactant"}, About: "anionic, very mild, little foam",
			Composition: solution("Sodium Cocoyl Glutamate", 30*pct, band("25 to 40 active", "M?")), Functions: []string{"surfactant"}, Soluble: "water",
			PHSupplied: supplied(500, 650, "as supplied", band("5 to 6.5 for the mono-sodium solution", "M?")), Hazards: irritates},
		{Key: "hydroxysultaine-42", Name: "cocamidopropyl hydroxysultaine solution 42 %", INCI: "Cocamidopropyl Hydroxysultaine", Also: []string{"cocamidopropyl hydroxysultaine", "hydroxysultaine", "sultaine"}, About: "amphoteric; lifts and steadies foam",
			Composition: []matter.Share{share("Cocamidopropyl Hydroxysultaine", 42*pct, "yes", band("about 42 active", "M?")), share("Sodium Chloride", 6*pct, "no", band("salt left from making it", "M?")), share("Aqua", 52*pct, "yes", rest)},
			Functions:   []string{"surfactant", "foam booster"}, Soluble: "water", Hazards: irritates},
		{Key: "cocoamphoacetate-35", Name: "sodium cocoamphoacetate solution 35 %", INCI: "Sodium Cocoamphoacetate", Also: []string{"sodium cocoamphoacetate", "cocoamphoacetate", "amphoacetate"}, About: "amphoteric, very mild; arrives alkaline",
			Composition: []matter.Share{share("Sodium Cocoamphoacetate", 35*pct, "yes", band("30 to 40 active", "M")), share("Sodium Chloride", 7*pct, "no", band("salt left from making it", "M?")), share("Aqua", 58*pct, "yes", rest)},
			Functions:   []string{"surfactant"}, Soluble: "water", PHSupplied: supplied(800, 1000, "as supplied", band("8 to 10", "M")), Hazards: irritates},
		{Key: "sles-27", Name: "sodium laureth sulfate solution 27 %", INCI: "Sodium Laureth Sulfate", Also: []string{"sodium laureth sulfate", "sodium lauryl ether sulfate", "SLES", "laureth sulfate"}, About: "anionic, thickens with salt",
			Composition: solution("Sodium Laureth Sulfate", 27*pct, band("26 to 28 active", "M+")), Functions: []string{"surfactant"}, Soluble: "water",
			PHSupplied: supplied(650, 850, "as supplied", band("6.5 to 8.5", "M+")), PHKeeps: keeps(400, 850, sulfates), Hazards: irritates},
		{Key: "cetrimonium-29", Name: "cetrimonium chloride solution 29 %", INCI: "Cetrimonium Chloride", Also: []string{"cetrimonium chloride", "cetrimonium", "CTAC"}, About: "cationic; combs hair smooth; not with anionic surfactants",
			Composition: solution("Cetrimonium Chloride", 29*pct, band("by grade, often 25 to 30", "M+")), Functions: []string{"conditioning", "emulsifier"}, Soluble: "water", Usual: usual(pct, 5*pct, practice),
			PHSupplied: supplied(500, 700, "in water", band("5 to 7", "M+")), Hazards: []matter.Hazard{corrosive("burns skin and eyes as supplied", sdsMemory)}},
		{Key: "cationic-guar", Name: "guar hydroxypropyltrimonium chloride", INCI: "Guar Hydroxypropyltrimonium Chloride", Also: []string{"cationic guar", "guar hydroxypropyltrimonium"}, About: "cationic polymer; whether it suits an anionic base is stated per use", Composition: pure("Guar Hydroxypropyltrimonium Chloride"),
			Functions: []string{"conditioning", "thickener", "powder"}, Soluble: "water", Usual: usual(pct/10, pct/2, practice), Hazards: []matter.Hazard{powder("fine dust flies, and is slippery when wet", sdsMemory)}},
		{Key: "polyquaternium-10", Name: "polyquaternium-10", INCI: "Polyquaternium-10", Also: []string{"PQ 10", "polyquat 10"}, About: "cationic polymer; whether it suits an anionic base is stated per use", Composition: pure("Polyquaternium-10"),
			Functions: []string{"conditioning", "powder"}, Soluble: "water", Usual: usual(pct/10, pct/2, practice), Hazards: []matter.Hazard{powder("fine dust flies, and is slippery when wet", sdsMemory)}},
	}
}
