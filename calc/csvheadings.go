package calc

import "strings"

// csvHeadings are the words that a heading may be, without case and accents, in the languages that makers keep their spreadsheets in
// (from memory). Tokens lose a plural s, so only one of each is needed.
var csvHeadings = map[string]string{
	"formula": "formula", "formule": "formula", "formel": "formula", "rezeptur": "formula", "rezept": "formula", "recipe": "formula", "recette": "formula", "receta": "formula", "ricetta": "formula",
	"receita": "formula", "recept": "formula", "receptura": "formula", "product": "formula", "produkt": "formula", "produit": "formula", "producto": "formula", "prodotto": "formula", "produto": "formula",
	"phase": "phase", "fase": "phase", "faza": "phase", "faze": "phase", "fas": "phase", "vaihe": "phase", "pot": "phase",
	"ingredient": "name", "zutat": "name", "zutaten": "name", "rohstoff": "name", "rohstoffe": "name", "inhaltsstoff": "name", "inhaltsstoffe": "name", "ingrediente": "name", "ingredienten": "name", "ingredienser": "name", "ingrediens": "name",
	"grondstof": "name", "grondstoffen": "name", "material": "name", "matiere": "name", "materia": "name", "materie": "name", "skladnik": "name", "surowiec": "name", "surovina": "name", "ravara": "name", "raakaaine": "name", "raavare": "name",
	"name": "generic", "nom": "generic", "nombre": "generic", "nome": "generic", "naam": "generic", "nazwa": "generic", "item": "name", "what": "name", "bezeichnung": "generic",
	"inci":    "inci",
	"percent": "%", "pct": "%", "percentage": "%", "prozent": "%", "anteil": "%", "pourcentage": "%", "pourcent": "%", "porcentaje": "%", "percentuale": "%", "porcentagem": "%", "procent": "%", "procenten": "%", "share": "%", "prosent": "%",
	"g": "g", "gr": "g", "gram": "g", "gramm": "g", "gramme": "g", "gramo": "g", "grammi": "g", "grama": "g", "gramy": "g", "mg": "mg", "kg": "kg", "oz": "oz", "ounce": "oz", "lb": "lb",
	"weight": "amount", "gewicht": "amount", "poid": "amount", "peso": "amount", "mass": "amount", "masse": "amount", "massa": "amount", "amount": "amount", "menge": "amount", "quantity": "amount", "qty": "amount",
	"quantite": "amount", "cantidad": "amount", "quantita": "amount", "quantidade": "amount", "hoeveelheid": "amount", "ilosc": "amount", "mangd": "amount", "waga": "amount",
	"note": "note", "notiz": "note", "notizen": "note", "bemerkung": "note", "kommentar": "note", "comment": "note", "remark": "note", "remarque": "note", "nota": "note", "why": "note", "opmerking": "note", "uwagi": "note", "commentaire": "note", "comentario": "note",
	"treatment": "treatment", "behandlung": "treatment", "traitement": "treatment", "tratamiento": "treatment", "trattamento": "treatment", "behandeling": "treatment",
	"use": "kind", "wash": "kind", "skin": "kind",
	"credit": "credit",
}

// csvUnits tell what the figures of a column of amounts are.
var csvUnits = map[string]bool{"%": true, "g": true, "mg": true, "kg": true, "oz": true, "lb": true}

// headingOf reads what a column holds, "" when its heading is not known. A unit beside a word decides: "weight %" is per cent, "Menge (g)" grams.
func headingOf(text string) string {
	words := tokens(text)
	if len(words) > 6 {
		return ""
	}
	if strings.Contains(text, "%") {
		return "%"
	}
	for _, w := range words { // the plainest word for a substance goes before what stands around it: "INCI name"
		if csvHeadings[w] == "inci" {
			return "inci"
		}
	}
	found := ""
	for _, w := range words {
		is := csvHeadings[w]
		switch {
		case is == "":
			if w == "w" || w == "wt" { // w/w
				found = nameOr(found, "amount")
			}
		case is == "generic" && len(words) > 1: // "trade name", "formula name"
			found = nameOr(found, "name")
			if found == "generic" {
				found = "name"
			}
		case csvUnits[is] && len(words) > 3: // "5 g of the batch as a test"
		case csvUnits[is]:
			return is
		case found == "" || found == "amount":
			found = is
		}
	}
	for _, w := range words { // what a thing costs, or how much of it is on the shelf, is not how much of it goes in
		if notAmounts[w] {
			return ""
		}
	}
	return found
}

// notAmounts are words that make a heading one of money, stock or papers, which a formula has no place for.
var notAmounts = map[string]bool{"cost": true, "price": true, "preis": true, "prix": true, "precio": true, "prezzo": true, "kosten": true, "cout": true, "coste": true, "costo": true, "stock": true, "lager": true, "lot": true, "charge": true,
	"supplier": true, "lieferant": true, "fournisseur": true, "proveedor": true, "fornitore": true, "eur": true, "usd": true, "gbp": true, "max": true, "min": true, "density": true}

// csvTotals are what the last row is called in spreadsheets, beside the words of a notebook.
var csvTotals = map[string]bool{"total": true, "sum": true, "summe": true, "gesamt": true, "somme": true, "suma": true, "somma": true, "soma": true, "totaal": true, "totale": true, "razem": true, "summa": true, "insgesamt": true}

// csvSubtotals are words for a sum of part of the rows; csvParts make such a sum of the word total: "total phase A".
var (
	csvSubtotals = map[string]bool{"subtotal": true, "zwischensumme": true, "teilsumme": true, "tussentotaal": true, "subtotaal": true, "soustotal": true}
	csvParts     = map[string]bool{"sub": true, "sous": true, "parcial": true, "partial": true, "phase": true, "fase": true, "faza": true}
)

// isSum tells whether a row is a sum of rows above it, and whether of all of them.
func isSum(words []string) (sum, all bool) {
	if len(words) > 4 {
		return false, false
	}
	all = true
	for _, w := range words {
		sum = sum || csvTotals[w] || csvSubtotals[w]
		all = all && !csvSubtotals[w] && !csvParts[w] && len(w) != 1
	}
	return sum, all
}

// isRest tells whether a cell is a word for what is left to 100 %.
func isRest(text string) bool {
	switch strings.Join(strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return strings.ContainsRune(" .%()", c) }), " ") {
	case "qs", "q s", "q s p", "qsp", "csp", "c s p", "q s ad 100", "qs ad 100", "q s to 100", "qs to 100", "qsp 100", "q s p 100", "csp 100", "ad 100", "to 100", "up to 100", "a 100", "auf 100", "rest", "balance", "remainder", "reste", "resto", "hasta 100", "ad100", "to100", "qs100", "q s 100", "qs 100", "q s ad", "qs ad", "add 100", "add to 100", "make up to 100", "bis 100", "ergänzen auf 100", "auffüllen auf 100", "jusqu'à 100", "fino a 100":
		return true
	}
	return false
}
