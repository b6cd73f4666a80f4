package calc

// lawLimit is one maximum of the EU list of preservatives, held against the sum of its members, each counted as asAcid says.
type lawLimit struct {
	name     string
	members  []string
	asAcid   bool
	rinseOff Percent // notAllowed means not in this kind of product
	leaveOn  Percent
	entry    string
	from     Cite
}

const notAllowed Percent = -1

// lawDate is shown with every limit: law changes, and this table does not change by itself.
const lawDate = "as read for this edition; law changes, so look it up before selling"

func tenth(p Percent) Percent { return p * OnePercent / 10 }

// annexV holds the limits of Regulation (EC) 1223/2009, Annex V, that a small maker meets (standards §3). R-FR in the design is the French
// consolidated transposition of its forerunner, an official text.
var annexV = []lawLimit{
	{"phenoxyethanol", []string{"Phenoxyethanol"}, false, tenth(10), tenth(10), "29", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"benzyl alcohol", []string{"Benzyl Alcohol"}, false, tenth(10), tenth(10), "34", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"benzoic acid and sodium benzoate, as acid", []string{"Benzoic Acid", "Sodium Benzoate"}, true, tenth(25), tenth(5), "1", Cite{Source: "legislation.gov.uk copy of Annex V", Mark: "R"}},
	{"sorbic acid and potassium sorbate, as acid", []string{"Sorbic Acid", "Potassium Sorbate"}, true, tenth(6), tenth(6), "4", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"dehydroacetic acid and its sodium salt, as acid", []string{"Dehydroacetic Acid", "Sodium Dehydroacetate"}, true, tenth(6), tenth(6), "13", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"salicylic acid and salts as preservative, as acid", []string{"Salicylic Acid", "Sodium Salicylate"}, true, tenth(5), tenth(5), "3", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"methylparaben, as acid", []string{"Methylparaben"}, true, tenth(4), tenth(4), "12", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"ethylparaben, as acid", []string{"Ethylparaben"}, true, tenth(4), tenth(4), "12", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"propyl- and butylparaben together, as acid", []string{"Propylparaben", "Butylparaben"}, true, tenth(1) + 400, tenth(1) + 400, "12a", Cite{Source: "Reg. 1004/2014; ECHA page", Mark: "R"}},
	{"all parabens together, as acid", []string{"Methylparaben", "Ethylparaben", "Propylparaben", "Butylparaben"}, true, tenth(8), tenth(8), "12", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"chlorphenesin", []string{"Chlorphenesin"}, false, tenth(3), tenth(3), "50", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"DMDM hydantoin", []string{"DMDM Hydantoin"}, false, tenth(6), tenth(6), "33", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"diazolidinyl urea", []string{"Diazolidinyl Urea"}, false, tenth(5), tenth(5), "46", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"imidazolidinyl urea", []string{"Imidazolidinyl Urea"}, false, tenth(6), tenth(6), "27", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"methylisothiazolinone", []string{"Methylisothiazolinone"}, false, 15, notAllowed, "57", Cite{Source: "Reg. 2017/1224; chemwatch bulletin", Mark: "R"}},
	{"phenoxyisopropanol", []string{"Phenoxyisopropanol"}, false, tenth(10), notAllowed, "43", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"dichlorobenzyl alcohol", []string{"Dichlorobenzyl Alcohol"}, false, tenth(1) + 500, tenth(1) + 500, "22", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"benzalkonium chloride", []string{"Benzalkonium Chloride"}, false, tenth(1), tenth(1), "54", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"benzethonium chloride", []string{"Benzethonium Chloride"}, false, tenth(1), tenth(1), "53", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
	{"piroctone olamine", []string{"Piroctone Olamine"}, false, tenth(10), tenth(5), "35", Cite{Source: "French transposition of Annex VI of 76/768", Mark: "R"}},
}

// lawFor lists the limits that name a substance.
var lawFor = func() map[string][]*lawLimit {
	m := map[string][]*lawLimit{}
	for i := range annexV {
		for _, inci := range annexV[i].members {
			m[inci] = append(m[inci], &annexV[i])
		}
	}
	return m
}()

// allowed is the limit's maximum in a product that is rinsed off or left on; the lower of the two when that was not said.
func (l *lawLimit) allowed(wash string) Percent {
	switch wash {
	case "rinse-off":
		return l.rinseOff
	case "leave-on":
		return l.leaveOn
	}
	return min(l.rinseOff, l.leaveOn)
}

func (l *lawLimit) cite() string {
	return "EU 1223/2009 Annex V/" + l.entry + ": " + l.from.String() + "; " + lawDate
}
