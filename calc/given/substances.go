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
	add(matter.ChargeNone, []string{"humectant"}, "Glycerin", "Propanediol", "Propylene Glycol")
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

	notCounted(&out)
	sort.Slice(out, func(a, b int) bool { return out[a].INCI < out[b].INCI })
	return out
}

// notCounted marks what is often taken for a preservative and is none (K1).
func notCounted(out *[]matter.Substance) {
	why := map[string]string{
		"Tocopherol":         "it keeps oils from turning rancid and does nothing against microbes",
		"Glycerin":           "under about 60 % of glycerin and water it does not bind enough water",
		"Ethylhexylglycerin": "it helps a preservative and is none by itself",
		"Alcohol":            "below 20 % it does not keep a product",
		"Alcohol Denat.":     "below 20 % it does not keep a product",
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
