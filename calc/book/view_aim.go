package book

import (
	"encoding/json"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

// aimArgs are a draft and what is wanted of it, as typed.
type aimArgs struct {
	Draft   calc.Draft
	Targets []struct{ What, Line, Low, High string }
	// Fixed are the lines that stay; nil takes the likeliest.
	Fixed []string
	// Shelf asks for no more of a line than what is on the shelf.
	Shelf bool
}

// keep are the functions of a line whose share somebody chose for what it does at that share.
var keep = []string{"preservative", "chelating agent", "pH adjuster", "antioxidant", "scent", "colour", "booster", "buffer"}

// viewAim answers the nearest formula to the draft that meets what is wanted, or which of it fails and by how much.
func (s *State) viewAim(ctx Context, args []byte) (any, *Refusal) {
	var a aimArgs
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	f, k, no := s.readWhole(a.Draft)
	if no != nil {
		return nil, no
	}
	cost, without := s.costs(f, k)
	v := AimView{Targets: []AimTarget{}, Beside: []calc.LineBeside{}, Figures: []calc.FigureBeside{}, Come: []Note{}, Gone: []Note{}, Notes: []Note{}, Take: []calc.DraftLine{}}
	fixed := map[string]bool{}
	for _, l := range f.Lines {
		x := AimLine{Line: l.ID, Name: s.lineName(l.Ingredient, l.Base), Percent: l.Percent.String() + " %", Stays: slices.Contains(a.Fixed, l.ID)}
		if a.Fixed == nil {
			x.Stays = stays(k.Ingredients[l.Ingredient])
		}
		fixed[l.ID] = x.Stays
		v.Lines = append(v.Lines, x)
	}
	v.Cost = "Cost is of 100 g, by the newest lot with a price; water without a price counts as nothing."
	if len(without) > 0 {
		v.Cost = "Cost cannot be aimed at: no lot with a price of " + listed(without) + "."
	}
	shelf, says := s.shelfOf(ctx, a.Draft.Plan, f)
	if v.Shelf = says; !a.Shelf {
		shelf = nil
	}
	v.Offers = offers(f, k, cost, without, s.habits().Money)
	var targets []calc.Target
	for _, t := range a.Targets {
		if strings.TrimSpace(t.Low+t.High) == "" {
			continue
		}
		g, e := calc.ReadTarget(t.What, t.Line, strings.TrimSpace(t.Low), strings.TrimSpace(t.High))
		if e != nil {
			no := notReckoned(e)
			no.Field = t.What + t.Line + "-" + e.Field
			return nil, no
		}
		targets = append(targets, g)
	}
	if v.Asked = len(targets) > 0 || a.Shelf && len(shelf) > 0; !v.Asked {
		return v, nil
	}
	x, e := calc.Aim(f, k, targets, fixed, cost, shelf)
	if e != nil {
		return nil, notReckoned(e)
	}
	v.Met = true
	for _, r := range x.Targets {
		t := AimTarget{Says: r.Says(f, k), Before: "not known", After: "not known", Met: r.Known && !r.ShortBy.IsPositive()}
		if r.Known {
			t.Before, t.After = r.Before.StringFixed(2), r.After.StringFixed(2)
			t.BeforeSum, t.AfterSum = r.Sum(x.Before, k, cost, t.Before), r.Sum(x.After, k, cost, t.After)
		}
		if r.ShortBy.IsPositive() {
			t.Missed = "missed by " + r.ShortBy.StringFixed(2)
		}
		v.Met = v.Met && t.Met
		v.Targets = append(v.Targets, t)
	}
	v.Beside, v.Figures, v.Take = calc.LinesBeside(x.Before, x.After, k), calc.FiguresBeside(x.Before, x.After, k), taken(a.Draft, x.Before, x.After)
	v.Come, v.Gone = besides(x.Before, x.After, k)
	v.Notes = calc.Margin(x.Findings)
	return v, nil
}

func stays(i *calc.Ingredient) bool {
	return i != nil && slices.ContainsFunc(keep, func(function string) bool { return slices.Contains(i.Functions, function) })
}

// offers are the figures that can be aimed at, each as it stands now.
func offers(f calc.Formula, k calc.Known, cost map[string]decimal.Decimal, without []string, money string) []AimOffer {
	out := []AimOffer{{What: "active matter", Name: "active matter", Unit: "%"}, {What: "water", Name: "water", Unit: "%"}, {What: "oil", Name: "oils and what is solid in them", Unit: "%"}, {What: "hlb", Name: "HLB of the emulsifiers"}}
	if len(without) == 0 {
		out = append(out, AimOffer{What: "cost", Name: "cost of 100 g", Unit: money})
	}
	shown := out[:0]
	for _, o := range out {
		if now, known := calc.FigureNow(f, k, o.What, cost); known {
			o.Now = now.StringFixed(2)
			o.Sum = calc.Target{What: o.What}.Sum(f, k, cost, o.Now)
			shown = append(shown, o)
		}
	}
	return shown
}

// shelfOf is the most per cent of each line that the shelf allows in a batch of the plan. An ingredient on several lines is shared by what they hold now.
func (s *State) shelfOf(ctx Context, typed calc.Plan, f calc.Formula) (map[string]calc.Percent, string) {
	plan, e := calc.ReadPlan(s.withStep(typed))
	if e != nil {
		return nil, "What the shelf allows follows from the plan: say how many jars first."
	}
	have := s.usable(dayOf(ctx.Now, ctx.Zone))
	sum := map[string]calc.Percent{}
	for _, l := range f.Lines {
		sum[l.Ingredient+l.Base] += l.Percent
	}
	out := map[string]calc.Percent{}
	var uncounted []string
	for _, l := range f.Lines {
		key := l.Ingredient + l.Base
		mass, counted := have[key]
		switch {
		case !counted:
			uncounted = append(uncounted, s.lineName(l.Ingredient, l.Base))
		case sum[key] > 0:
			most := decimal.New(int64(mass), 0).Mul(decimal.New(int64(l.Percent), 0)).Mul(decimal.New(int64(calc.Hundred), 0)).Div(decimal.New(int64(plan.Batch)*int64(sum[key]), 0))
			if most.LessThan(decimal.New(int64(calc.Hundred), 0)) {
				out[l.ID] = calc.Percent(most.Floor().IntPart())
			}
		}
	}
	says := "The shelf is that of today, for " + s.mass(int64(plan.Batch), int64(plan.Step)) + "; held lots and lots past their date are left out."
	if len(uncounted) > 0 {
		says += " Not counted, since no lot of it is in this book: " + listed(uncounted) + "."
	}
	return out, says
}
