package calc

// namesUS are the names that the US prints where they differ from the INCI of the EU (from memory; 21 CFR 701.3 and 73 for colours).
var namesUS = map[string]string{
	"Aqua": "Water", "Parfum": "Fragrance", "Aroma": "Flavor", "Cera Alba": "Beeswax", "Mel": "Honey",
	"Helianthus Annuus Seed Oil":          "Helianthus Annuus (Sunflower) Seed Oil",
	"Cocos Nucifera Oil":                  "Cocos Nucifera (Coconut) Oil",
	"Butyrospermum Parkii Butter":         "Butyrospermum Parkii (Shea) Butter",
	"Theobroma Cacao Seed Butter":         "Theobroma Cacao (Cocoa) Seed Butter",
	"Prunus Amygdalus Dulcis Oil":         "Prunus Amygdalus Dulcis (Sweet Almond) Oil",
	"Olea Europaea Fruit Oil":             "Olea Europaea (Olive) Fruit Oil",
	"Ricinus Communis Seed Oil":           "Ricinus Communis (Castor) Seed Oil",
	"Simmondsia Chinensis Seed Oil":       "Simmondsia Chinensis (Jojoba) Seed Oil",
	"Lavandula Angustifolia Oil":          "Lavandula Angustifolia (Lavender) Oil",
	"Melaleuca Alternifolia Leaf Oil":     "Melaleuca Alternifolia (Tea Tree) Leaf Oil",
	"Rosmarinus Officinalis Leaf Extract": "Rosmarinus Officinalis (Rosemary) Leaf Extract",
	"Citrus Grandis Seed Extract":         "Citrus Grandis (Grapefruit) Seed Extract",
	"CI 77491":                            "Iron Oxides", "CI 77492": "Iron Oxides", "CI 77499": "Iron Oxides", "CI 77891": "Titanium Dioxide", "CI 77019": "Mica",
	"CI 77007": "Ultramarines", "CI 77288": "Chromium Oxide Greens", "CI 77289": "Chromium Hydroxide Green", "CI 77742": "Manganese Violet",
	"CI 77947": "Zinc Oxide", "CI 77510": "Ferric Ferrocyanide", "CI 75470": "Carmine", "CI 75120": "Annatto",
}

func nameUS(inci string) string { return nameOr(namesUS[inci], inci) }
