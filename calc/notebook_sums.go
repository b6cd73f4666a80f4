package calc

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// page adds up what was read and makes the formula of it.
func (r *notebookReader) page() NotebookPage {
	r.volumes()
	r.unitless()
	r.together()
	inGrams, inPercent := r.count("mass"), r.count("percent")
	out := NotebookPage{Title: r.title, Lines: []NotebookLine{}, Unread: []string{}}
	switch {
	case inGrams > 0 && inPercent > 0:
		r.mixed(inGrams, inPercent)
		out.TotalSays = "nothing was added up: " + plural(inGrams, "line is", "lines are") + " by mass and " + plural(inPercent, "line is", "lines are") + " in per cent; write all of them one way"
	case inGrams > 0:
		r.grams(&out)
	default:
		r.shares(&out)
	}
	r.finish(&out)
	return out
}

func plural(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + more
}

// count counts the lines whose amount is of a kind and could be read.
func (r *notebookReader) count(kind string) int {
	n := 0
	for i := range r.lines {
		if l := &r.lines[i]; l.Kind == "ingredient" && l.amount.kind == kind {
			n++
		}
	}
	return n
}

// each runs over the lines that are part of the formula.
func (r *notebookReader) each(do func(*notebookItem)) {
	for i := range r.lines {
		if r.lines[i].Kind == "ingredient" {
			do(&r.lines[i])
		}
	}
}

// volumes turns spoons and millilitres into grams by the density of the ingredient, where that can be done at all.
func (r *notebookReader) volumes() {
	r.each(func(l *notebookItem) {
		a := &l.amount
		if a.kind != "volume" && a.kind != "spoon" {
			return
		}
		was := a.kind
		a.kind = "mass"
		if a.trouble != "" {
			return
		}
		ing := r.known.Ingredients[l.Ingredient]
		switch {
		case l.Ingredient == "":
			a.trouble = "a volume becomes grams only by a density, and it is not known which ingredient this is; weigh it"
		case does(ing, "powder") || does(ing, "grit") || does(ing, "clay"):
			a.trouble = "a volume of powder or grains may weigh anything; weigh it"
		case ing.Melts != nil && ing.Melts.HighMilliC > 30_000:
			a.trouble = "a volume of something firm may weigh anything; weigh it"
		case ing.Density == nil:
			a.trouble = "a volume becomes grams only by a density, and none is known here; weigh it"
		default:
			grams := a.ml.Mul(decimal.New(ing.Density.MgPerML, 0)) // mL × mg/mL
			if a.mass = Mass(grams.Round(0).IntPart()); a.mass <= 0 || a.mass > heaviest {
				a.mass, a.trouble = 0, a.text+" is nothing that can be weighed"
				return
			}
			a.says = ""
			if was == "spoon" {
				l.say("inexact: taken as " + a.ml.String() + " mL (common practice; spoons, cups and drops differ)")
				if does(ing, "scent") {
					l.say("a scent is weighed in grams: drops are none")
				}
			}
			l.say("by " + decimal.New(ing.Density.MgPerML, -3).StringFixed(2) + " g/mL, " + ing.Density.Cite.String() + "; weigh it once and write grams")
		}
	})
}

// unitless decides what figures without a unit are: like the other lines, or per cent when they sum to 100.
func (r *notebookReader) unitless() {
	bare := r.count("bare")
	if bare == 0 {
		return
	}
	mass, share := r.count("mass"), r.count("percent")
	kind, why := "", ""
	switch {
	case mass > 0 && share == 0:
		kind, why = "mass", "no unit stands there; taken as grams, like the other lines"
	case share > 0 && mass == 0:
		kind, why = "percent", "no unit stands there; taken as per cent, like the other lines"
	case mass == 0 && share == 0:
		sum := decimal.Decimal{}
		r.each(func(l *notebookItem) {
			if l.amount.kind == "bare" {
				sum = sum.Add(l.amount.number.decimal())
			}
		})
		if sum.Equal(decimal.New(100, 0)) {
			kind, why = "percent", "no unit stands there; taken as per cent, since the figures sum to 100"
		}
	}
	r.each(func(l *notebookItem) {
		a := &l.amount
		switch {
		case a.kind != "bare":
		case kind == "":
			if a.trouble == "" {
				a.trouble = "no unit stands behind the figure; write g or %"
			}
		default:
			again := figure{kind: kind, unit: "g", n: a.number, exact: a.number.decimal()}
			had := a.trouble
			a.kind = kind
			a.read(again)
			if had != "" {
				a.trouble = had
			} else {
				l.say(why)
			}
		}
	})
}

// together gathers each line's troubles and what is worth knowing, and finds a second q.s. line.
func (r *notebookReader) together() {
	qs := false
	r.each(func(l *notebookItem) {
		a := &l.amount
		l.Amount = a.text
		if a.kind == "" {
			l.trouble("no amount stands here; write for instance “" + strings.TrimSpace(short(l.words)+" 42 g") + "”")
		}
		if a.trouble != "" {
			l.trouble(a.trouble)
		}
		if a.says != "" {
			l.say(a.says)
		}
		for _, u := range a.unused {
			l.say("“" + short(u) + "” beside it was not used")
		}
		if l.QS && qs {
			l.trouble("a second q.s. line; what is left cannot be shared out")
		}
		qs = qs || l.QS
	})
}

// mixed refuses a page that is partly by mass and partly in per cent: the fewer lines are to be written like the more.
func (r *notebookReader) mixed(inGrams, inPercent int) {
	few, says := "percent", "in per cent, while "+plural(inGrams, "other line is", "other lines are")+" by mass; write grams here too"
	if inGrams < inPercent {
		few, says = "mass", "by mass, while "+plural(inPercent, "other line is", "other lines are")+" in per cent; write per cent here too"
	}
	r.each(func(l *notebookItem) {
		a := &l.amount
		if a.kind == "mass" && a.mass > 0 {
			l.Grams = a.mass.String() + " g"
		}
		if a.kind != few || a.trouble != "" {
			return
		}
		l.trouble(says)
		if few == "percent" && r.said != nil && r.said.mass > 0 {
			l.trouble(a.percent.String() + " % of the " + r.said.text + " that the page gives is " + massOf(a.percent, r.said.mass).String() + " g")
		}
	})
}

// massOf is a share of a mass, rounded to the milligram.
func massOf(p Percent, whole Mass) Mass { return Mass(roundDiv(int64(p)*int64(whole), int64(Hundred))) }

// grams adds up a page by mass; a q.s. line takes what is left of the total that the page gives.
func (r *notebookReader) grams(out *NotebookPage) {
	var sum Mass
	missing := 0
	var qs *notebookItem
	r.each(func(l *notebookItem) {
		switch {
		case l.QS && qs == nil:
			qs = l
		case l.amount.mass > 0 && !l.QS:
			sum += l.amount.mass
		default:
			missing++
		}
	})
	if qs != nil {
		switch {
		case r.said == nil || r.said.mass == 0:
			qs.trouble("q.s. on a page by mass needs the total; add a line such as “total 500 g”")
			missing++
		case r.said.mass <= sum:
			qs.trouble("the other lines weigh " + sum.String() + " g, so nothing is left of " + r.said.text + " for this one")
			missing++
		default:
			qs.amount.mass = r.said.mass - sum
			sum = r.said.mass
		}
	}
	r.shareOut()
	r.each(func(l *notebookItem) {
		if l.amount.mass > 0 && l.amount.percent >= 0 && (!l.QS || l == qs) {
			l.Grams, l.Percent = l.amount.mass.String()+" g", l.amount.percent.String()+" %"
		}
	})
	out.Total = sum.String() + " g"
	out.TotalSays = "the lines that could be read weigh " + sum.String() + " g together"
	if r.said != nil && r.said.mass > 0 {
		switch off := sum - r.said.mass; {
		case qs != nil && qs.amount.mass > 0:
			out.TotalSays = "q.s. fills it up to the " + r.said.text + " that the page gives"
		case off == 0:
			out.TotalSays = "the lines weigh the " + r.said.text + " that the page gives"
		case off < 0:
			out.TotalSays = "the page gives " + r.said.text + ", the lines weigh " + sum.String() + " g: " + (-off).String() + " g less"
		default:
			out.TotalSays = "the page gives " + r.said.text + ", the lines weigh " + sum.String() + " g: " + off.String() + " g more"
		}
	}
	if missing > 0 {
		out.TotalSays += "; " + plural(missing, "line has", "lines have") + " no amount that could be read, so the shares will still change"
	}
}

// shareOut turns the masses into shares of their sum.
func (r *notebookReader) shareOut() {
	var noted []NotedLine
	var of []*notebookItem
	r.each(func(l *notebookItem) {
		if l.amount.mass > 0 && (!l.QS || l.Trouble == "") {
			noted, of = append(noted, NotedLine{Amount: decimal.New(int64(l.amount.mass), -3).String() + " g"}), append(of, l)
		}
	})
	for i, l := range FromGrams(noted, Known{}).Lines {
		of[i].amount.percent = l.Percent
	}
}

// shares adds up a page in per cent; with a total in grams each line is told in grams too.
func (r *notebookReader) shares(out *NotebookPage) {
	var sum Percent
	missing, read := 0, 0
	var qs *notebookItem
	r.each(func(l *notebookItem) {
		switch {
		case l.QS && qs == nil:
			qs = l
		case l.amount.kind == "percent" && l.amount.trouble == "":
			sum += l.amount.percent
			read++
		default:
			missing++
		}
	})
	if qs == nil && read+missing == 0 {
		out.TotalSays = "nothing on the page was read as an amount"
		return
	}
	if qs != nil {
		if left := Hundred - sum; left < 0 {
			qs.trouble("the other lines sum to " + sum.String() + " %, so nothing is left for this one")
		} else {
			qs.amount.percent = left
			sum = Hundred
		}
	}
	r.each(func(l *notebookItem) {
		if l == qs && l.Trouble == "" || l.amount.kind == "percent" && l.amount.trouble == "" {
			l.Percent = l.amount.percent.String() + " %"
			if r.said != nil && r.said.mass > 0 {
				l.Grams = massOf(l.amount.percent, r.said.mass).String() + " g"
			}
		}
	})
	out.Total = sum.String() + " %"
	switch gap := Hundred - sum; {
	case qs != nil && gap == 0:
		out.TotalSays = "q.s. fills it up to 100 %"
	case gap == 0:
		out.TotalSays = "the lines fill the jar exactly"
	default:
		out.TotalSays = Totals{Gap: gap}.GapSays()
	}
	if r.said != nil && r.said.kind == "percent" && r.said.percent != sum {
		out.TotalSays += "; the page gives " + r.said.text
	}
	if missing > 0 {
		out.TotalSays += "; " + plural(missing, "line has", "lines have") + " no amount that could be read"
	}
}

// finish writes the lines out and makes the draft.
func (r *notebookReader) finish(out *NotebookPage) {
	phases := append([]DraftPhase(nil), r.phases...)
	seen := map[string]bool{}
	for _, p := range phases {
		seen[p.Letter] = true
	}
	d := Draft{Name: r.title, Plan: r.plan, Lines: []DraftLine{}}
	qs := false
	for i := range r.lines {
		l := &r.lines[i]
		if l.Kind == "unread" {
			out.Unread = append(out.Unread, l.Typed)
		}
		if l.Kind == "total" {
			l.Amount = l.amount.text
		}
		out.Lines = append(out.Lines, l.NotebookLine)
		if l.Kind != "ingredient" {
			continue
		}
		if !seen[l.Phase] { // lines before any heading stand first
			seen[l.Phase] = true
			phases = append([]DraftPhase{{Letter: l.Phase}}, phases...)
		}
		line := DraftLine{ID: "n" + strconv.Itoa(len(d.Lines)+1), Phase: l.Phase, Ingredient: l.Ingredient, Base: l.Base, QS: l.QS && !qs && (l.Percent != "" || l.amount.mass == 0), Note: l.note}
		qs = qs || line.QS
		if l.Percent != "" && !line.QS {
			line.Percent = plain(l.amount.percent)
		}
		if l.Ingredient == "" && l.Base == "" {
			line.Note = strings.TrimSpace("typed: " + l.Typed)
		}
		d.Lines = append(d.Lines, line)
	}
	if len(phases) == 0 {
		phases = []DraftPhase{{Letter: "A"}}
	}
	d.Phases = phases
	out.Draft = d
}
