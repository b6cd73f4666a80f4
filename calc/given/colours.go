package given

import "stillroom/calc/matter"

// colours, clays, salts and grits.
func colours() []matter.Ingredient {
	recalled := matter.Cite{Source: "shares as remembered, take the supplier's own", Mark: "M?"}
	pigment := func(key, name, inci, about string, also ...string) matter.Ingredient {
		return matter.Ingredient{Key: key, Name: name, INCI: inci, Also: also, About: about, Composition: pure(inci), Functions: []string{"colour", "powder"}, Soluble: "neither", Usual: usual(pct/100, 2*pct, practice),
			Hazards: []matter.Hazard{powder("its dust flies and stains", sdsMemory)}}
	}
	clay := func(key, name, inci, about string, also ...string) matter.Ingredient {
		return matter.Ingredient{Key: key, Name: name, INCI: inci, Also: also, About: about, Composition: pure(inci), Functions: []string{"clay", "powder"}, Soluble: "neither", Usual: usual(pct, 20*pct, practice),
			Hazards: []matter.Hazard{powder("mineral dust harms the lungs", sdsMemory)}}
	}
	grit := func(key, name, inci, about, soluble string, also ...string) matter.Ingredient {
		return matter.Ingredient{Key: key, Name: name, INCI: inci, Also: also, About: about, Composition: pure(inci), Functions: []string{"grit"}, Soluble: soluble}
	}
	oat := grit("oat-powder", "oat powder", "Avena Sativa Kernel Flour", "soft grit and skin feel; a plant powder, so ask how it was treated", "neither", "oats", "ground oats", "oatmeal", "colloidal oatmeal", "oat flour")
	oat.Functions, oat.Hazards = []string{"grit", "powder"}, []matter.Hazard{powder("fine dust flies", sdsMemory)}
	beads := grit("jojoba-beads", "jojoba beads", "Hydrogenated Jojoba Oil", "round wax grains; soften in heat and in liquid oil", "oil", "jojoba wax beads", "jojoba grains")
	beads.Melts = melts(68, 71, matter.Cite{Source: "oil chemistry handbooks", Mark: "M"})
	pearl := pigment("pearl-white", "mica pearl, white", "CI 77019 (and) CI 77891", "mica coated with titanium dioxide; shimmers", "pearl mica", "white mica", "pearl pigment", "shimmer mica")
	pearl.Composition = []matter.Share{share("CI 77019", 70*pct, "yes", recalled), share("CI 77891", 30*pct, "yes", recalled)}
	red := pigment("pearl-bronze", "mica pearl, bronze", "CI 77019 (and) CI 77491", "mica coated with iron oxide; shimmers", "bronze mica", "copper mica")
	red.Composition = []matter.Share{share("CI 77019", 65*pct, "yes", recalled), share("CI 77491", 35*pct, "yes", recalled)}
	return []matter.Ingredient{
		pigment("mica", "mica", "CI 77019", "plain mica, a soft sheen", "mica powder", "sericite mica"), pearl, red,
		pigment("iron-oxide-yellow", "iron oxide, yellow", "CI 77492", "mineral colour; does not bleed", "yellow iron oxide", "yellow oxide"),
		pigment("iron-oxide-black", "iron oxide, black", "CI 77499", "mineral colour; does not bleed", "black iron oxide", "black oxide"),
		pigment("titanium-dioxide", "titanium dioxide", "CI 77891", "white; makes every colour paler", "titanium white", "TiO2"),
		pigment("ultramarine", "ultramarine, blue", "CI 77007", "mineral colour; acid takes its colour and smells; not for lips in the US", "ultramarine blue", "ultramarine"),
		pigment("charcoal", "charcoal powder", "Charcoal Powder", "black; may bind a preservative", "activated charcoal", "charcoal"),
		clay("bentonite", "bentonite", "Bentonite", "swelling clay; may bind a preservative; keep it from metal", "bentonite clay"),
		clay("green-clay", "green clay", "Illite", "green clay; may bind a preservative", "french green clay", "illite clay"),
		grit("sea-salt", "sea salt", "Maris Sal", "soluble grit; stings broken or shaved skin", "water", "coarse sea salt", "dead sea salt", "sea salt flakes"),
		grit("epsom", "magnesium sulfate (Epsom salt)", "Magnesium Sulfate", "soluble grit and bath salt; may thin a surfactant base", "water", "Epsom salt", "Epsom", "magnesium sulfate heptahydrate", "bath salt"),
		grit("apricot-grit", "ground apricot seed", "Prunus Armeniaca Seed Powder", "sharp grit that stays; not for the face; ask how it was treated", "neither", "apricot seed powder", "apricot shell", "apricot grit", "apricot kernel powder", "apricot seed"),
		grit("coffee-grounds", "ground coffee", "Coffea Arabica Seed Powder", "grit that stays; brings microbes, so ask how it was treated", "neither", "coffee", "coffee grounds", "coffee powder"),
		grit("pumice", "pumice powder", "Pumice", "sharp mineral grit that stays; for feet and hands", "neither", "pumice", "ground pumice"),
		oat, beads,
	}
}
