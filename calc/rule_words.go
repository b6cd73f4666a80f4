package calc

import "strings"

// claims are beginnings of words that make a medicine, a biocide or a sunscreen of a cosmetic (S3), and promises that law restricts.
var claims = []struct {
	begin string
	level Level
	says  string
}{
	{"acne", Stop, "a medicine"}, {"eczema", Stop, "a medicine"}, {"psoriasis", Stop, "a medicine"}, {"heal", Stop, "a medicine"}, {"cure", Stop, "a medicine"}, {"pain", Stop, "a medicine"},
	{"antibacterial", Stop, "a biocide or a drug"}, {"antiseptic", Stop, "a biocide or a drug"}, {"repellent", Stop, "a biocide"}, {"spf", Stop, "a sunscreen, which must be tested"}, {"sunscreen", Stop, "a sunscreen, which must be tested"},
	{"hypoallergenic", Care, ""}, {"chemicalfree", Care, ""}, {"dermatologist", Care, ""}, {"parabenfree", Care, ""},
}

// ruleWords (S3): the name of a formula is printed on the label.
func ruleWords(e *evidence) []Finding {
	name := " " + strings.ToLower(e.f.Name)
	plain := strings.NewReplacer("chemical free", "chemicalfree", "chemical-free", "chemicalfree", "paraben free", "parabenfree", "paraben-free", "parabenfree", "free from parabens", "parabenfree", "anti-bacterial", "antibacterial").Replace(name)
	words := strings.FieldsFunc(plain, func(r rune) bool { return r != '-' && (r < 'a' || r > 'z') })
	for _, c := range claims {
		for _, w := range words {
			if w != c.begin && !(strings.HasPrefix(w, c.begin) && c.begin != "pain" && c.begin != "heal" && c.begin != "cure") && !contains([]string{c.begin + "s", c.begin + "ing", c.begin + "ed"}, w) {
				continue
			}
			f := Finding{Rule: "words", Level: c.level, Figure: "“" + e.f.Name + "”", Source: "Reg. (EU) 655/2013 and its technical document (read at second hand); 21 USC 321(g) (from memory)",
				Says: "“" + w + "” in the name makes it " + c.says + " in the eyes of the law", Do: "take the word out of the name, label, card and sign"}
			if c.level == Care {
				f.Says = "“" + w + "” is a promise that law restricts; it must be proved and may not run down others"
			}
			return []Finding{f}
		}
	}
	return nil
}
