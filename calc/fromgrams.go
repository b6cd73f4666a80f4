package calc

import (
	"sort"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// NotedLine is a line of a recipe as it was noted: "130 g", "4 oz", "15 mL", "2 tsp", "20 drops".
type NotedLine struct {
	ID, Name   string
	Ingredient string // key, "" when not known: gives the density of a volume
	Amount     string
	Density    string // g/mL as typed, "" to take the ingredient's own
}

// NotedShare is what a noted line is in grams and in per cent.
type NotedShare struct {
	ID, Name, Ingredient string
	Grams                decimal.Decimal // exact where it ends within 15 decimals
	Percent              Percent
	Inexact              bool   // spoons, cups and drops
	Sum                  string // how the grams came about
	Trouble              string // why it could not be read, "" when it could
	field                string
}

// Noted is a recipe in per cent. The shares sum to exactly 100 when at least one line could be read.
type Noted struct {
	Lines    []NotedShare
	Grams    decimal.Decimal
	Findings []Finding
}

// kitchen measures in millilitres. None of them is exact: a spoon is heaped or not, a drop depends on the dropper.
var kitchen = map[string]decimal.Decimal{
	"tsp": decimal.New(5, 0), "teaspoon": decimal.New(5, 0), "teaspoons": decimal.New(5, 0),
	"tbsp": decimal.New(15, 0), "tablespoon": decimal.New(15, 0), "tablespoons": decimal.New(15, 0),
	"cup": decimal.New(240, 0), "cups": decimal.New(240, 0),
	"drop": decimal.New(5, -2), "drops": decimal.New(5, -2),
}

const kitchenSource = "common practice: teaspoon 5 mL, tablespoon 15 mL, cup 240 mL, 20 drops to the millilitre"

// FromGrams turns an existing recipe into per cent by weight, to 0.0001 %: in g, kg, mg, oz and lb, in mL, L and fl oz with a density (the
// line's, else its ingredient's), in spoons, cups and drops flagged as inexact. A figure without a unit is in grams. What rounding leaves
// goes to the lines with the largest remainders. A line that cannot be read is said beside it and left out of the sum.
func FromGrams(lines []NotedLine, k Known) Noted {
	out := Noted{Lines: make([]NotedShare, len(lines))}
	for i := range lines {
		out.Lines[i] = readNoted(&lines[i], k)
		out.Grams = out.Grams.Add(out.Lines[i].Grams)
	}
	if out.Grams.IsPositive() {
		out.share()
	}
	for i, l := range out.Lines {
		switch {
		case l.Inexact:
			out.Findings = append(out.Findings, Finding{Rule: "inexact", Level: Care, Subject: l.ID, Says: nameOr(l.Name, "line "+strconv.Itoa(i+1)) + " was measured by spoon or drop: the figure is a guess",
				Figure: l.Percent.String() + " %", Source: kitchenSource, Do: "weigh it once, and write grams"})
		case l.Trouble == "" && l.Percent == 0:
			out.Findings = append(out.Findings, Finding{Rule: "inexact", Level: Care, Subject: l.ID, Says: nameOr(l.Name, "line "+strconv.Itoa(i+1)) + " is less than 0.0001 % and is lost", Figure: l.Grams.String() + " g",
				Limit: "0.0001 %", Source: "this book's own rule", Do: "leave it out, or weigh it in a dilution"})
		}
	}
	return out
}

// share gives each line its part of 100 % by the largest remainder.
func (n *Noted) share() {
	left := Hundred
	rest := make([]decimal.Decimal, len(n.Lines))
	order := make([]int, 0, len(n.Lines))
	for i := range n.Lines {
		exact := n.Lines[i].Grams.Mul(decimal.New(int64(Hundred), 0)).DivRound(n.Grams, 20)
		whole := exact.RoundFloor(0)
		n.Lines[i].Percent = Percent(whole.IntPart())
		rest[i] = exact.Sub(whole)
		left -= n.Lines[i].Percent
		if n.Lines[i].Grams.IsPositive() {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return rest[order[a]].GreaterThan(rest[order[b]]) })
	for _, i := range order {
		if left <= 0 {
			break
		}
		n.Lines[i].Percent++
		left--
	}
}

func readNoted(l *NotedLine, k Known) NotedShare {
	out := NotedShare{ID: l.ID, Name: l.Name, Ingredient: l.Ingredient, field: "amount"}
	wrong := func(field string, err *FieldError) NotedShare {
		out.field, out.Trouble = field, err.Says+"; "+err.Want
		return out
	}
	n, err := readNumber(l.Amount)
	if err != nil {
		return wrong("amount", err)
	}
	if n.unit == "" {
		n.unit = "g"
	}
	density, from, err := notedDensity(l, k)
	if err != nil {
		return wrong("density", err)
	}
	asked := n
	if ml, ok := kitchen[strings.ToLower(strings.Trim(n.unit, ". "))]; ok {
		out.Inexact = true
		v := n.decimal().Mul(ml)
		if v.IsNegative() {
			return wrong("amount", &FieldError{Says: "less than nothing", Want: "write 0 or more"})
		}
		n, _ = readNumber(v.String())
		n.unit = "mL"
	}
	grams, err := convert(n, "g", density)
	switch {
	case err != nil && err.Field == "density":
		return wrong("density", &FieldError{Says: "how heavy a millilitre is, is missing", Want: "give its density in g/mL, or weigh it"})
	case err != nil:
		return wrong("amount", err)
	case grams.Shift(3).GreaterThan(heaviestDecimal):
		return wrong("amount", &FieldError{Says: short(l.Amount) + " is more than a tonne", Want: "write grams: 300.0"})
	}
	out.Grams = grams
	out.Sum = grams.Round(4).String() + " g"
	if u, ok := findUnit(n.unit); ok && u.kind == "volume" {
		out.Sum = strings.TrimSpace(figureText(asked)+" "+asked.unit) + " × " + density.String() + " g/mL (" + from + ") = " + out.Sum
		if out.Inexact {
			out.Sum = "about " + out.Sum
		}
	} else if ok && u.name != unitG.name {
		out.Sum = strings.TrimSpace(figureText(asked)+" "+asked.unit) + " = " + out.Sum
	}
	return out
}

// notedDensity is the line's own density, else its ingredient's, with where it comes from; nil when neither is known.
func notedDensity(l *NotedLine, k Known) (*decimal.Decimal, string, *FieldError) {
	if l.Density != "" {
		mg, err := ReadDensity(l.Density)
		if err != nil {
			return nil, "", err
		}
		d := decimal.New(mg, -3)
		return &d, "as given", nil
	}
	if ing := k.Ingredients[l.Ingredient]; ing != nil && ing.Density != nil {
		d := decimal.New(ing.Density.MgPerML, -3)
		return &d, ing.Density.Cite.String(), nil
	}
	return nil, "", nil
}
