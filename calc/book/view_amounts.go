package book

import (
	"encoding/json"
	"strings"

	"stillroom/calc"
)

// viewAmounts answers how much can be made of a draft: all that the shelf allows, and the largest batch that a vessel holds.
func (s *State) viewAmounts(ctx Context, args []byte) (any, *Refusal) {
	var a struct {
		Draft           calc.Draft
		Vessel, Density string
	}
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	f, k, no := s.readWhole(a.Draft)
	if no != nil {
		return nil, no
	}
	typed := s.withStep(a.Draft.Plan)
	typed.Jars = "1" // how many is what is asked here
	plan, e := calc.ReadPlan(typed)
	if e != nil {
		return nil, unseen("misread", e.Field, e.Says, e.Want)
	}
	return AmountsView{Stock: s.stockAmount(ctx, f, k, plan), Vessel: s.vesselAmount(a.Draft.Key, a.Vessel, a.Density, plan)}, nil
}

func (s *State) stockAmount(ctx Context, f calc.Formula, k calc.Known, plan calc.PlanRead) Amount {
	have := s.usable(dayOf(ctx.Now, ctx.Zone))
	w, e := calc.StockAllows(f, k, have, plan)
	if e != nil {
		return Amount{Says: sentence(e.Says), Not: sentence(e.Want)}
	}
	name := s.lineName(w.Limit, "")
	says := name + " runs out first"
	if w.Jars == 0 {
		says = "not one jar: too little of " + name
	}
	a := s.amount(says, w, plan, "of "+name+" there are "+s.mass(int64(have[w.Limit]), int64(plan.Step))+", which is enough for "+s.mass(int64(w.Most), int64(plan.Step))+" of this formula")
	if len(w.Uncounted) > 0 {
		names := make([]string, 0, len(w.Uncounted))
		for _, key := range w.Uncounted {
			names = append(names, s.lineName(key, ""))
		}
		a.Not = "Not counted, since no lot of it is in this book: " + listed(names) + "."
	}
	return a
}

// vesselAmount takes the density as typed, or else the median of earlier batches: it is never guessed.
func (s *State) vesselAmount(formula, vessel, density string, plan calc.PlanRead) Amount {
	if strings.TrimSpace(vessel) == "" {
		return Amount{Says: "Say how far your bowl may be filled, in mL."}
	}
	volume, e := calc.ReadVolume(vessel)
	if e != nil {
		return Amount{Says: sentence(e.Says), Not: sentence(e.Want)}
	}
	from := "as you wrote it"
	var perML int64
	if strings.TrimSpace(density) != "" {
		if perML, e = calc.ReadDensity(density); e != nil {
			return Amount{Says: sentence(e.Says), Not: sentence(e.Want)}
		}
	} else {
		cast := s.forecast(formula)
		perML, from = cast.MgPerML, "median of "+counted(cast.DensityN, "earlier batch", "earlier batches")
	}
	w, e := calc.VesselAllows(volume, perML, plan)
	if e != nil {
		return Amount{Says: sentence(e.Says), Not: sentence(e.Want)}
	}
	says := "at " + fixed(perML, 3, 2) + " g/mL, " + from
	if w.Jars == 0 {
		says = "not one jar: " + says
	}
	return s.amount(says, w, plan, plain(volume, 3)+" mL × "+fixed(perML, 3, 2)+" g/mL = "+s.mass(int64(w.Most), int64(plan.Step))+" at most")
}

func (s *State) amount(says string, w calc.Allowed, plan calc.PlanRead, sum string) Amount {
	a := Amount{Says: says, Mass: Figure{Text: pieces(int64(w.Jars), "jar"), Sum: sum + "; " + pieces(int64(w.Jars), "jar") + " of " + s.mass(int64(plan.Fill), 100) + " take " + s.mass(int64(w.Batch), int64(plan.Step))}}
	if w.Jars > 0 {
		a.Jars = plain(int64(w.Jars), 0)
	}
	return a
}
