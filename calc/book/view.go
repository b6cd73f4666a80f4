package book

// View answers what a screen shows, in the words of contract.ts. Every figure is written for a person to read; the
// caller computes with none of them. Without the workshop (a stall device) only what the shelf says is shown.
func (s *State) View(ctx Context, name string, args []byte) (any, *Refusal) {
	switch name {
	case "today":
		return s.viewToday(ctx), nil
	case "formulas":
		return s.viewFormulas(ctx), nil
	case "formula":
		return s.viewFormula(ctx, args)
	case "sheet":
		return s.viewSheet(args)
	case "swap":
		return s.viewSwap(args)
	case "ruler":
		return s.viewRuler(args)
	case "holding":
		return s.viewHolding(args)
	case "aim":
		return s.viewAim(ctx, args)
	case "amounts":
		return s.viewAmounts(ctx, args)
	case "ingredients":
		return s.viewIngredients(args)
	case "challenges":
		return s.viewChallenges(ctx, args)
	case "compare":
		return s.viewCompare(args)
	case "ingredient":
		return s.viewIngredient(args)
	case "share":
		return s.viewShare(args)
	case "card":
		return s.viewCard(args)
	case "class":
		return s.viewClass(args)
	case "import":
		return s.viewImport(ctx, args)
	case "containers":
		return s.viewContainers(), nil
	case "notebook":
		return s.viewNotebook(args)
	case "waiting":
		return s.viewWaiting(ctx), nil
	case "batches":
		return s.viewBatches(ctx), nil
	case "batch":
		return s.viewBatch(ctx, args)
	case "photos":
		return s.viewPhotos(ctx, args)
	case "bench":
		return s.viewBench(ctx, args)
	case "addition":
		return s.viewAddition(ctx, args)
	case "adjust":
		return s.viewAdjust(ctx, args)
	case "nets":
		return s.viewNets(args)
	case "topup":
		return s.viewTopUp(args)
	case "cooling":
		return s.viewCooling(args)
	case "combining":
		return s.viewCombining(args)
	case "cost":
		return s.viewCost(args)
	case "rescue":
		return s.viewRescue(args)
	case "cup":
		return s.viewCup(args)
	case "moves":
		return s.viewMoves(ctx, args)
	case "tonight":
		return s.viewTonight(args)
	case "ageing":
		return s.viewAgeing(ctx, args)
	case "agedbeside":
		return s.viewAgedBeside(ctx, args)
	case "lots":
		return s.viewLots(), nil
	case "lot":
		return s.viewLot(ctx, args)
	case "jar":
		return s.viewJar(ctx, args)
	case "stall":
		return s.viewStall(ctx, args)
	case "places":
		return s.viewPlaces(ctx), nil
	case "attend":
		return s.viewAttend(ctx), nil
	case "printed":
		return s.viewPrinted(args)
	case "law":
		return s.viewLaw(), nil
	case "habits":
		return s.viewHabits(), nil
	case "workshop":
		w := s.workshop()
		return WorkshopView{w.Maker, w.Address, w.Contact, w.Region}, nil
	}
	return nil, unseen("unknown view", "", "this program has no view "+name, "update the app")
}

type keyArgs struct {
	Key      string `json:"key"`
	Revision string `json:"revision"`
	Q        string `json:"q"`
	Code     string `json:"code"`
}

// viewArgs reads what a view is asked for. Its refusal does not speak of writing: there was nothing to write.
func viewArgs(args []byte) (keyArgs, *Refusal) {
	a, no := arguments[keyArgs](args)
	if no != nil {
		return a, unreadable()
	}
	return a, nil
}

func unreadable() *Refusal {
	return unseen("request", "", "the app asked in words that this program does not understand", "reload the app; if it stays, the app and its engine are of different versions")
}

// by is who wrote an entry, by the letter of the device.
func (s *State) by(ctx Context, o origin) string {
	if l := s.letters.get(o.ref.Device); l != nil {
		return l.s
	}
	if o.ref.Device == ctx.Device && ctx.Letter != "" {
		return ctx.Letter
	}
	return "device " + o.ref.Device.String()[:4]
}
