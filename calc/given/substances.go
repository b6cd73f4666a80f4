package given

import (
	"sort"

	"stillroom/calc/matter"
)

// Substances gives what is known of the substances that the list is made of, and of some that a maker may add, in order of INCI. The slice
// is the caller's own; what it points at is not to be changed.
func Substances() []matter.Substance {
	text := matter.Cite{Source: "any surfactant or chemistry text", Mark: "M+"}
	law := matter.Cite{Source: "EU 1223/2009 Annex V lists it as a preservative", Mark: "R"}
	var out []matter.Substance
	add := func(charge matter.Charge, functions []string, incis ...string) {
		for _, inci := range incis {
			out = append(out, matter.Substance{INCI: inci, Charge: charge, ChargeFrom: text, Functions: functions})
		}
	}
	add(matter.ChargeNone, []string{"water"}, "Aqua")
	add(matter.ChargeNone, []string{"water"}, "Lavandula Angustifolia Flower Water", "Rosa Damascena Flower Water")
	add(matter.ChargeNone, []string{"humectant"}, "Glycerin", "Propanediol", "Propylene Glycol", "Sorbitol", "Sodium Lactate", "Urea", "Panthenol")
	add(matter.ChargeNone, []string{"emollient"}, "Prunus Amygdalus Dulcis Oil", "Olea Europaea Fruit Oil", "Simmondsia Chinensis Seed Oil", "Ricinus Communis Seed Oil", "Persea Gratissima Oil", "Vitis Vinifera Seed Oil",
		"Prunus Armeniaca Kernel Oil", "Caprylic/Capric Triglyceride", "Squalane", "Theobroma Cacao Seed Butter", "Mangifera Indica Seed Butter", "Tocopheryl Acetate")
	add(matter.ChargeNone, []string{"structure"}, "Euphorbia Cerifera Cera", "Cetyl Alcohol")
	add(matter.ChargeNone, []string{"grit"}, "Maris Sal", "Magnesium Sulfate", "Prunus Armeniaca Seed Powder", "Coffea Arabica Seed Powder", "Pumice", "Avena Sativa Kernel Flour", "Hydrogenated Jojoba Oil")
	add(matter.ChargeNone, []string{"colour"}, "CI 77019", "CI 77492", "CI 77499", "CI 77891", "CI 77007", "Charcoal Powder")
	add(matter.ChargeNone, []string{"other"}, "Niacinamide", "Allantoin", "Sodium Hydroxide", "Sodium Citrate", "Sodium Bicarbonate", "Tetrasodium Glutamate Diacetate", "Disodium EDTA", "Sodium Sulfate", "Bentonite", "Illite",
		"Citrus Aurantium Dulcis Peel Oil", "Mentha Piperita Oil", "Caprylyl Glycol", "Zea Mays Starch", "Tapioca Starch", "Maranta Arundinacea Root Powder")
	add(matter.Anionic, []string{"emulsifier"}, "Glyceryl Stearate SE")
	add(matter.NonIonic, []string{"emulsifier"}, "Glyceryl Stearate", "Polysorbate 20", "Polysorbate 80", "Sorbitan Oleate", "Cetearyl Olivate", "Sorbitan Olivate", "Ceteareth-20", "PEG-40 Hydrogenated Castor Oil")
	add(matter.NonIonic, []string{"thickener"}, "Cyamopsis Tetragonoloba Gum", "Hydroxyethylcellulose")
	add(matter.Amphoteric, []string{"surfactant"}, "Cocamidopropyl Hydroxysultaine")
	add(matter.CationicPolymer, []string{"conditioning"}, "Guar Hydroxypropyltrimonium Chloride")
	add(matter.ChargeNone, []string{"emollient"}, "Butyrospermum Parkii Butter", "Cocos Nucifera Oil", "Helianthus Annuus Seed Oil", "Cera Alba")
	add(matter.ChargeNone, []string{"structure"}, "Stearic Acid", "Palmitic Acid", "Cetearyl Alcohol", "Coconut Acid")
	add(matter.ChargeNone, []string{"grit"}, "Sucrose", "Sodium Chloride")
	add(matter.ChargeNone, []string{"other"}, "Aloe Barbadensis Leaf Juice", "Lactic Acid", "Citric Acid", "Sodium Isethionate", "Parfum", "CI 77491", "Kaolin", "Ethylhexylglycerin", "Alcohol", "Alcohol Denat.", "Ascorbic Acid", "Erythorbic Acid")
	add(matter.Anionic, []string{"surfactant"}, "Sodium Cocoyl Isethionate", "Sodium Lauroyl Methyl Isethionate", "Sodium Lauroyl Sarcosinate", "Disodium Laureth Sulfosuccinate", "Sodium Laureth Sulfate",
		"Sodium C14-16 Olefin Sulfonate", "Sodium Coco-Sulfate", "Sodium Cocoyl Glutamate")
	add(matter.Anionic, []string{"thickener"}, "Xanthan Gum", "Carbomer")
	add(matter.Amphoteric, []string{"surfactant"}, "Cocamidopropyl Betaine", "Sodium Cocoamphoacetate")
	add(matter.NonIonic, []string{"surfactant"}, "Decyl Glucoside", "Coco-Glucoside", "Lauryl Glucoside", "Caprylyl/Capryl Glucoside", "Polysorbate 60")
	add(matter.Cationic, []string{"conditioning"}, "Behentrimonium Methosulfate", "Cetrimonium Chloride")
	add(matter.CationicPolymer, []string{"conditioning"}, "Polyquaternium-7", "Polyquaternium-10")
	add(matter.ChargeNone, []string{"antioxidant"}, "Tocopherol")

	keeping := func(charge matter.Charge, incis ...string) {
		for _, inci := range incis {
			out = append(out, matter.Substance{INCI: inci, Charge: charge, ChargeFrom: text, Functions: []string{"preservative"}, Keeping: "preservative", KeepingFrom: law})
		}
	}
	keeping(matter.ChargeNone, "Phenoxyethanol", "Benzyl Alcohol", "Benzoic Acid", "Sodium Benzoate", "Sorbic Acid", "Potassium Sorbate", "Dehydroacetic Acid", "Sodium Dehydroacetate",
		"Salicylic Acid", "Methylparaben", "Ethylparaben", "Propylparaben", "Butylparaben", "Chlorphenesin", "Methylisothiazolinone")
	keeping(matter.Cationic, "Benzalkonium Chloride", "Benzethonium Chloride")

	// sold and used to keep products on the sour side, and not on the EU list of preservatives
	for _, inci := range []string{"Sodium Levulinate", "Sodium Anisate"} {
		out = append(out, matter.Substance{INCI: inci, Charge: matter.ChargeNone, ChargeFrom: text, Functions: []string{"preservative"}, Keeping: "preservative", KeepingFrom: practice})
	}

	notCounted(&out)
	sort.Slice(out, func(a, b int) bool { return out[a].INCI < out[b].INCI })
	return out
}

// notCounted marks what is often taken for a preservative and is none (K1).
func notCounted(out *[]matter.Substance) {
	why := map[string]string{
		"Tocopherol":                       "it keeps oils from turning rancid and does nothing against microbes",
		"Glycerin":                         "under about 60 % of glycerin and water it does not bind enough water",
		"Caprylyl Glycol":                  "it helps a preservative and is none by itself",
		"Citrus Aurantium Dulcis Peel Oil": "at a dose that skin bears an essential oil does not keep a product",
		"Mentha Piperita Oil":              "at a dose that skin bears an essential oil does not keep a product",
		"Tocopheryl Acetate":               "it is for the skin; it does nothing against microbes",
		"Ethylhexylglycerin":               "it helps a preservative and is none by itself",
		"Alcohol":                          "below 20 % it does not keep a product",
		"Alcohol Denat.":                   "below 20 % it does not keep a product",
	}
	for i := range *out {
		if s := &(*out)[i]; why[s.INCI] != "" {
			s.Keeping, s.KeepingWhy, s.KeepingFrom = "not counted", why[s.INCI], practice
		}
	}
	for _, extra := range []struct{ inci, why string }{
		{"Rosmarinus Officinalis Leaf Extract", "an antioxidant for oils, too weak against microbes"},
		{"Citrus Grandis Seed Extract", "what works in it, if anything, are preservatives that are not named"},
		{"Mel", "once diluted with water it spoils"},
		{"Melaleuca Alternifolia Leaf Oil", "at a dose that skin bears an essential oil does not keep a product"},
		{"Lavandula Angustifolia Oil", "at a dose that skin bears an essential oil does not keep a product"},
	} {
		*out = append(*out, matter.Substance{INCI: extra.inci, Charge: matter.ChargeNone, ChargeFrom: matter.Cite{Source: "any chemistry text", Mark: "M+"}, Functions: []string{"other"},
			Keeping: "not counted", KeepingWhy: extra.why, KeepingFrom: practice})
	}
}
