package calc

import "strings"

// claim is a word on a product that says more than a cosmetic may, in lower case; each stands for its own word only.
type claim struct {
	words  []string
	level  Level
	says   string
	source string
	do     string
}

// claims (S3): what makes a medicine, a biocide or a drug of it, and what the EU's criteria for claims look at closely.
var claims = []claim{
	{[]string{"acne", "eczema", "psoriasis", "dermatitis", "heal", "heals", "healing", "cure", "cures", "antibacterial", "antiseptic", "disinfecting", "pain", "spf", "sunscreen", "repellent", "antifungal"}, Stop,
		"is a word of a medicine, a biocide or a sunscreen, which a cosmetic may not use", "Reg. 655/2013 and its technical document (read at second hand); 21 USC 321(g) (from memory)", "say what it does as a cosmetic: cleans, scents, keeps soft; or give the reason if it is meant otherwise"},
	{[]string{"hypoallergenic", "chemical-free", "paraben-free", "dermatologist"}, Care,
		"is a claim that must be proved, or says ill of other products", "Reg. 655/2013 and its technical document (read at second hand)", "leave it out, or keep the proof at hand"},
}

// oneWord writes a claim of several words, or of two spellings, as the one that the table knows.
var oneWord = strings.NewReplacer("chemical free", "chemical-free", "paraben free", "paraben-free", "free from parabens", "paraben-free", "anti-bacterial", "antibacterial", "dermatologically", "dermatologist")

// ClaimsIn judges the words of a name, label, card or sign. Nothing is judged by a part of a word: “health” is not “heal”.
func ClaimsIn(text string) []Finding {
	var out []Finding
	var said []string
	words := wordsOf(oneWord.Replace(strings.ToLower(text)))
	for _, c := range claims {
		for _, w := range words {
			if contains(c.words, w) && !contains(said, w) {
				said = append(said, w)
				out = append(out, Finding{Rule: "words", Level: c.level, Says: "“" + w + "” " + c.says, Figure: w, Source: c.source, Do: c.do})
			}
		}
	}
	return out
}

// wordsOf parts a text into its words, in lower case; a hyphen belongs to a word.
func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return (r < 'a' || r > 'z') && r != '-' })
}

// PrintedWords judges all that is to be printed of a product, name, notes and whatever stands on its label: claims that a cosmetic may not
// make, and names like food. Only Stop bars a print, and a person may lift that with a reason.
func PrintedWords(texts ...string) []Finding {
	all := strings.Join(texts, "\n")
	out := ClaimsIn(all)
	for _, t := range texts {
		if f := foodIn(t); f != nil {
			return append(out, *f)
		}
	}
	return out
}

// ruleWords (S3) reads what is printed of a formula: its name, which stands on label, card and sign, and the notes of its lines, which stand
// on the card and on class sheets.
func ruleWords(e *evidence) []Finding {
	out := ClaimsIn(e.f.Name)
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		for _, f := range ClaimsIn(l.Note) {
			f.Subject, f.Phase, f.Says = l.ID, l.Phase, "in the note: "+f.Says
			out = append(out, f)
		}
	}
	return out
}

// ruleSoapWord (S2): the word soap on what does not clean by soap.
func ruleSoapWord(e *evidence) []Finding {
	named := false
	for _, w := range strings.FieldsFunc(strings.ToLower(e.f.Name), func(r rune) bool { return r < 'a' || r > 'z' }) {
		named = named || w == "soap"
	}
	if !named || len(e.apart.unknown) > 0 || len(e.apart.Substances) == 0 {
		return nil
	}
	for i := range e.apart.Substances {
		key := e.apart.Substances[i].Key
		for _, soap := range []string{"Sodium Cocoate", "Sodium Palmate", "Sodium Olivate", "Sodium Stearate", "Sodium Tallowate", "Sodium Palm Kernelate", "Potassium Cocoate", "Potassium Oleate", "Sodium Hydroxide", "Potassium Hydroxide"} {
			if key == soap {
				return nil
			}
		}
	}
	return []Finding{{Rule: "soap-word", Level: Note, Says: "it is called soap and does not clean by soap: the US allows that and treats it as a cosmetic, with a cosmetic's whole label", Figure: e.f.Name, Source: "21 CFR 701.20", Do: "label it as a cosmetic, or call it a cleansing bar or wash"}}
}
