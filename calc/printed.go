package calc

import "strings"

// Printed is what will stand on a product as the EU, or the UK, and the US want it, side by side, and where the two differ.
type Printed struct {
	Sides    []PrintedSide       `json:"sides"`
	Differ   []PrintedDifference `json:"differ"`
	LeftOut  []string            `json:"leftOut"`
	Findings []MarginNote        `json:"findings"`
}

// PrintedSide is one region's list of ingredients and cautions.
type PrintedSide struct {
	// Region is EU, UK or US; Title what it is called on the screen.
	Region string `json:"region"`
	Title  string `json:"title"`
	Text   string `json:"text"`
	// Entries are the names of Text in its order.
	Entries []PrintedName `json:"entries"`
	// Order says which of them may stand in any order, and by which source. Also says how the other of EU and UK differs, "" for not at all.
	Order    string        `json:"order"`
	Source   string        `json:"source"`
	Also     string        `json:"also"`
	Memory   string        `json:"memory"`
	Cautions []PrintedText `json:"cautions"`
}

// PrintedName is one name of a list.
type PrintedName struct {
	Print   string `json:"print"`
	Percent string `json:"percent"`
	Where   string `json:"where"` // fixed, any order or colour
	// Differs: the other side prints it otherwise, elsewhere or not at all.
	Differs bool `json:"differs"`
}

// PrintedText is one sentence of the cautions.
type PrintedText struct {
	Says   string `json:"says"`
	Why    string `json:"why"`
	Source string `json:"source"`
	Date   string `json:"date"`
	// Law: a table of law asks for it. Differs: the other side has no such sentence.
	Law     bool `json:"law"`
	Differs bool `json:"differs"`
}

// PrintedDifference is one substance that the two sides print otherwise; "–" where one does not name it.
type PrintedDifference struct {
	First  string `json:"first"`
	Second string `json:"second"`
	Why    string `json:"why"`
}

// PrintedOf writes a product's ingredient list and cautions for the maker's own of EU and UK, and for the US. in is what is listed; f is the
// same product as a formula, for the cautions; with no in the formula is listed as it is planned. Nothing is said to be lawful: what is from memory, not listed and not checked stands beside.
func PrintedOf(in []WentIn, f Formula, k Known) (Printed, *FieldError) {
	home, away := "EU", "UK"
	if k.region() == "UK" {
		home, away = away, home
	}
	if len(in) == 0 {
		t := Total(f.Lines)
		if len(t.Findings) > 0 {
			return Printed{}, &FieldError{Field: "lines", Says: t.Findings[0].Says, Want: t.Findings[0].Do}
		}
		for _, l := range t.Lines {
			in = append(in, WentIn{l.Ingredient, l.Base, Mass(l.Percent)})
		}
	}
	var out Printed
	lists := map[string]INCIList{}
	for _, region := range []string{home, away, "US"} {
		l, err := IngredientList(in, k, region, f.Wash)
		if err != nil {
			return Printed{}, err
		}
		lists[region] = l
	}
	found := append([]Finding{}, lists[home].Findings...)
	if f.Wash == "" {
		found = append(found, Finding{Rule: "ingredient-list", Level: Unchecked, Says: "not checked: whether it is rinsed off or left on is missing; allergens are named here as for one that is left on", Source: allergenSource, Date: tableDate("allergens"), Do: "say which it is"})
	}
	out.Findings = Margin(append(found, lists["US"].Findings...))
	out.LeftOut = append([]string{}, lists[home].LeftOut...)
	a, b := lists[home], lists["US"]
	out.Sides = []PrintedSide{side(home, a), side("US", b)}
	out.Sides[0].Also = alsoSays(away, a, lists[away])
	if out.Sides[0].Also == "" {
		out.Sides[0].Title = "EU and UK"
	}
	out.Differ = differences(&a, &b, &out)
	out.cautions(&f, k, home)
	return out, nil
}

func side(region string, l INCIList) PrintedSide {
	s := PrintedSide{Region: region, Title: region, Text: l.Text, Entries: []PrintedName{}, Order: "under 1 % in any order, colours last", Source: listEU, Cautions: []PrintedText{}}
	if region == "US" {
		s.Order, s.Source = "1 % or less in any order, colours in any order after the rest", listUS
	}
	var memory []string
	seen := map[string]bool{}
	for _, e := range l.Entries {
		if e.Memory && !contains(memory, e.Print) {
			memory = append(memory, e.Print)
		}
		if !seen[e.Print] {
			seen[e.Print] = true
			s.Entries = append(s.Entries, PrintedName{Print: e.Print, Percent: show(e.Percent) + " %", Where: e.Where})
		}
	}
	if len(memory) > 0 {
		s.Memory = "From memory, look them up before printing: " + list(memory) + "."
	}
	return s
}

// alsoSays tells how the other of EU and UK prints the list: they differ in the allergens that they name.
func alsoSays(away string, home, other INCIList) string {
	only := func(a, b INCIList) []string {
		var out []string
		for _, e := range a.Entries {
			if at(b.Entries, e.INCI) == nil {
				out = append(out, e.Print)
			}
		}
		return out
	}
	var says []string
	if n := only(home, other); len(n) > 0 {
		says = append(says, "without "+list(n))
	}
	if n := only(other, home); len(n) > 0 {
		says = append(says, "with "+list(n)+" as well")
	}
	if len(says) == 0 {
		return ""
	}
	return "For the " + away + " the same list " + strings.Join(says, ", ") + "."
}

func at(entries []Listed, inci string) *Listed {
	for i := range entries {
		if entries[i].INCI == inci {
			return &entries[i]
		}
	}
	return nil
}

// differences marks and names what the two sides print otherwise.
func differences(a, b *INCIList, out *Printed) []PrintedDifference {
	differ, home := []PrintedDifference{}, out.Sides[0].Title
	say := func(first, second, why string) {
		differ = append(differ, PrintedDifference{first, second, why})
		for i, name := range []string{first, second} {
			for n := range out.Sides[i].Entries {
				if e := &out.Sides[i].Entries[n]; e.Print == name {
					e.Differs = true
				}
			}
		}
	}
	for i := range a.Entries {
		x := &a.Entries[i]
		y := at(b.Entries, x.INCI)
		switch {
		case y == nil && x.Allergen:
			say(x.Print, "–", "an allergen of the scent, "+few4(x.Percent)+" %: named above the threshold; the US has no such list in this book")
		case y == nil:
			say(x.Print, "–", "listed in the "+home+" only")
		case x.Where != y.Where && x.Print != y.Print:
			say(x.Print, y.Print, "another name; and exactly 1 %: in the "+home+" it keeps its place, in the US it may stand in any order")
		case x.Where != y.Where:
			say(x.Print, y.Print, "exactly 1 %: in the "+home+" it keeps its place, in the US it may stand in any order")
		case x.Print != y.Print && x.Where == "colour":
			say(x.Print, y.Print, "a colour: by its number in the "+home+", by its listed name in the US")
		case x.Print != y.Print:
			say(x.Print, y.Print, "another name")
		}
	}
	return differ
}

// cautions puts the sentences beside the lists; what only one side has is marked.
func (p *Printed) cautions(f *Formula, k Known, home string) {
	of := [2][]Caution{cautionsOf(f, k, home), cautionsOf(f, k, "US")}
	for i, mine := range of {
		for _, c := range mine {
			same := false
			for _, other := range of[1-i] {
				same = same || other.Says == c.Says
			}
			p.Sides[i].Cautions = append(p.Sides[i].Cautions, PrintedText{c.Says, c.Why, c.Source, c.Date, c.Law, !same})
		}
	}
}
