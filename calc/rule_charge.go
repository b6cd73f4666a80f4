package calc

import "stillroom/calc/matter"

// chargeSource: compatibility of charges, standards §5 (from memory, in any surfactant text).
const chargeSource = "surfactant texts, e.g. Cornwell, Int. J. Cosmet. Sci. 2018 (from memory)"

// ruleCharge: an anionic and a cationic substance usually fall out of solution together and lose what they were there for; preservatives too
// (K4). A cationic polymer in much anionic surfactant is used on purpose, so it weighs less. A line that the maker marked as stated
// compatible by its supplier is passed.
func ruleCharge(e *evidence) []Finding {
	type hit struct {
		line, inci string
		charge     Charge
	}
	var minus, plus []hit
	var unknown []string
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		s := e.k.Substances[p.Key]
		if s == nil {
			unknown = append(unknown, p.Key)
			continue
		}
		for _, id := range p.Lines {
			if p.Percent.IsZero() {
				continue
			}
			switch s.Charge {
			case matter.Anionic:
				minus = append(minus, hit{id, p.Key, s.Charge})
			case matter.Cationic, matter.CationicPolymer:
				plus = append(plus, hit{id, p.Key, s.Charge})
			}
		}
	}
	var out []Finding
	for _, c := range plus {
		if l := e.line(c.line); l != nil && l.Compatible {
			continue
		}
		var against []string
		said, strong := "", false // strong: a surfactant is among them, not only a gum
		for _, a := range minus {
			if l := e.line(a.line); l != nil && l.Compatible || contains(against, a.line) {
				continue
			}
			against = append(against, a.line)
			strong = strong || e.k.Substances[a.inci].Does("surfactant")
			if said == "" {
				said = a.inci
			}
		}
		if len(against) == 0 {
			continue
		}
		f := Finding{Rule: "charge", Level: Stop, Subject: c.line, Phase: e.phaseOf(c.line), Source: chargeSource,
			Says:   e.nameLines([]string{c.line}) + " is cationic, positively charged (" + c.inci + "); " + e.nameLines(against) + " is anionic, negatively charged (" + said + "): the two usually clump and settle, and neither works",
			Figure: show(e.amount(c.inci)) + " % against " + show(e.amount(said)) + " %",
			Do:     "take one of them out, or mark the line when its supplier states that the two go together"}
		if s := e.k.Substances[c.inci]; s.Does("preservative") {
			f.Says += "; the product would not be kept"
		}
		if !strong {
			f.Level = Care
			f.Do = "take another thickener, or make 100 g and look after a day"
		}
		if c.charge == matter.CationicPolymer {
			f.Level = Care
			f.Says = e.nameLines([]string{c.line}) + " is a cationic polymer, a long positively charged chain (" + c.inci + "); " + e.nameLines(against) + " is anionic, negatively charged (" + said + "): used on purpose beside much surfactant, but it may cloud, settle or separate on dilution"
			f.Do = "make 100 g and look after a day, or mark the line when its supplier states that the two go together"
		}
		out = append(out, f)
	}
	if len(unknown) > 0 && (len(minus) > 0 || len(plus) > 0) {
		out = append(out, Finding{Rule: "charge", Level: Unchecked, Says: "not checked: the charge of " + list(unknown) + " is missing", Source: chargeSource, Do: "look it up with the supplier"})
	}
	return out
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
