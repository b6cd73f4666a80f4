package given

import "stillroom/calc/matter"

// emulsifiers and solubilisers, and what thickens water.
func emulsifiers() []matter.Ingredient {
	recalled := matter.Cite{Source: "shares as remembered, take the supplier's own", Mark: "M?"}
	dust := func(says string) []matter.Hazard { return []matter.Hazard{powder(says, sdsMemory)} }
	gum := func(key, name, inci, about string, from, to matter.Percent, also ...string) matter.Ingredient {
		return matter.Ingredient{Key: key, Name: name, INCI: inci, Also: also, About: about, Composition: pure(inci), Functions: []string{"thickener", "powder"}, Soluble: "water",
			Usual: usual(from, to, practice), Hazards: dust("fine dust flies, and is slippery when wet")}
	}
	carbomer := gum("carbomer", "carbomer", "Carbomer", "anionic; thickens only once it is neutralised; salt thins it", pct/10, pct, "carbomer powder", "carbomer gel powder")
	carbomer.PHKeeps = keeps(500, 1000, matter.Cite{Source: "thickens fully between about pH 5 and 10, widely published", Mark: "M"})
	return []matter.Ingredient{
		{Key: "glyceryl-stearate", Name: "glyceryl stearate", INCI: "Glyceryl Stearate", Also: []string{"GMS", "glyceryl monostearate", "glycerol monostearate"}, About: "gives body; holds water in oil, wants a partner for oil in water", Composition: pure("Glyceryl Stearate"),
			Functions: []string{"co-emulsifier", "structure"}, Soluble: "oil", Usual: usual(pct, 5*pct, practice), Melts: melts(54, 64, typical)},
		{Key: "glyceryl-stearate-se", Name: "glyceryl stearate SE", INCI: "Glyceryl Stearate SE", Also: []string{"GMS SE", "glyceryl monostearate SE", "self emulsifying glyceryl stearate"}, About: "holds oil in water by the soap that is in it, so it is anionic", Composition: pure("Glyceryl Stearate SE"),
			Functions: []string{"emulsifier"}, Soluble: "oil", Usual: usual(2*pct, 6*pct, practice), Melts: melts(53, 60, typical)},
		{Key: "polysorbate-20", Name: "polysorbate 20", INCI: "Polysorbate 20", Also: []string{"PS 20", "PS20"}, About: "takes scent into water; HLB 16.7", Composition: pure("Polysorbate 20"),
			Functions: []string{"solubiliser", "emulsifier"}, Soluble: "water", Usual: usual(pct/2, 10*pct, practice), Density: density(1100, typical)},
		{Key: "polysorbate-80", Name: "polysorbate 80", INCI: "Polysorbate 80", Also: []string{"PS 80", "PS80"}, About: "takes heavier oils into water; HLB 15.0", Composition: pure("Polysorbate 80"),
			Functions: []string{"solubiliser", "emulsifier"}, Soluble: "water", Usual: usual(pct/2, 10*pct, practice), Density: density(1070, typical)},
		{Key: "sorbitan-oleate", Name: "sorbitan oleate", INCI: "Sorbitan Oleate", Also: []string{"sorbitan monooleate"}, About: "holds water in oil; partner of polysorbate 80; HLB 4.3", Composition: pure("Sorbitan Oleate"),
			Functions: []string{"emulsifier"}, Soluble: "oil", Usual: usual(pct/2, 5*pct, practice), Density: density(990, typical)},
		{Key: "olivate", Name: "cetearyl olivate and sorbitan olivate blend", INCI: "Cetearyl Olivate (and) Sorbitan Olivate", Also: []string{"olivate", "olive emulsifier", "cetearyl olivate"}, About: "complete non-ionic emulsifier from olive",
			Composition: []matter.Share{share("Cetearyl Olivate", 60*pct, "yes", recalled), share("Sorbitan Olivate", 40*pct, "yes", recalled)},
			Functions:   []string{"emulsifier"}, Soluble: "oil", Usual: usual(2*pct, 8*pct, practice)},
		{Key: "ceteareth-20-blend", Name: "cetearyl alcohol and ceteareth-20 blend", INCI: "Cetearyl Alcohol (and) Ceteareth-20", Also: []string{"ceteareth 20", "ceteareth 20 blend", "emulsifying wax with ceteareth"}, About: "complete non-ionic emulsifier: 20 to 25 % of everything oily",
			Composition: []matter.Share{share("Cetearyl Alcohol", 80*pct, "yes", typical), share("Ceteareth-20", 20*pct, "yes", typical)},
			Functions:   []string{"emulsifier"}, Soluble: "oil", Usual: usual(3*pct, 10*pct, practice)},
		{Key: "peg-40-castor", Name: "PEG-40 hydrogenated castor oil", INCI: "PEG-40 Hydrogenated Castor Oil", Also: []string{"PEG 40 castor oil", "solubiliser", "solubilizer", "hydrogenated castor oil PEG 40"}, About: "takes scent into water: one part as a start, often 2 to 5", Composition: pure("PEG-40 Hydrogenated Castor Oil"),
			Functions: []string{"solubiliser"}, Soluble: "water", Usual: usual(pct/2, 10*pct, practice)},
		gum("guar", "guar gum", "Cyamopsis Tetragonoloba Gum", "thickens water, cloudy", pct/10, pct, "guar"),
		gum("hec", "hydroxyethylcellulose", "Hydroxyethylcellulose", "thickens water, clear; stands salt and cationics", pct/5, 2*pct, "HEC", "hydroxyethyl cellulose", "cellulose gum HEC"),
		carbomer,
		gum("corn-starch", "corn starch", "Zea Mays Starch", "takes the grease off the feel; thickens hot water", pct, 10*pct, "cornstarch", "maize starch", "cornflour", "starch"),
		gum("tapioca-starch", "tapioca starch", "Tapioca Starch", "takes the grease off the feel", pct, 10*pct, "tapioca", "tapioca flour"),
		gum("arrowroot", "arrowroot powder", "Maranta Arundinacea Root Powder", "takes the grease off the feel; a plant powder, so ask how it was treated", pct, 10*pct, "arrowroot", "arrowroot starch"),
	}
}
