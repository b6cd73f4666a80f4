package book

// Decide turns a command into the entries that it means, or refuses it with a reason. It changes nothing: the drafts
// become true when they are numbered, kept and applied. A command that would say what the book says already answers
// with no drafts, so that a key pressed twice is harmless. value is what stands behind the command in contract.ts.
func (s *State) Decide(ctx Context, command string, args []byte) (drafts []Draft, value any, no *Refusal) {
	switch command {
	case "formula.save":
		drafts, value, no = s.saveFormula(ctx, args)
	case "formula.fork":
		drafts, value, no = s.forkFormula(ctx, args)
	case "formula.challenge":
		drafts, value, no = s.writeChallenge(ctx, args)
	case "formulas.import":
		drafts, value, no = s.importFormulas(ctx, args)
	case "ingredient.define":
		drafts, value, no = s.defineIngredient(ctx, args)
	case "container.define":
		drafts, value, no = s.defineContainer(ctx, args)
	case "lot.receive":
		drafts, value, no = s.receiveLot(ctx, args)
	case "lot.hold":
		drafts, value, no = s.holdLot(ctx, args)
	case "batch.start":
		drafts, value, no = s.startBatch(ctx, args)
	case "batch.weigh":
		drafts, value, no = s.weigh(ctx, args)
	case "batch.add":
		drafts, value, no = s.addToPot(ctx, args)
	case "batch.topup":
		drafts, value, no = s.writeTopUp(ctx, args)
	case "batch.trial":
		drafts, value, no = s.keepTrial(ctx, args)
	case "batch.adjust":
		drafts, value, no = s.adjustPot(ctx, args)
	case "batch.net":
		drafts, value, no = s.weighNet(ctx, args)
	case "batch.cooling":
		drafts, value, no = s.markCooling(ctx, args)
	case "batch.rescue":
		drafts, value, no = s.rescue(ctx, args)
	case "batch.wear":
		drafts, value, no = s.wear(ctx, args)
	case "batch.temperature":
		drafts, value, no = s.temperature(ctx, args)
	case "batch.ph":
		drafts, value, no = s.measurePH(ctx, args)
	case "batch.density":
		drafts, value, no = s.measureDensity(ctx, args)
	case "batch.treated":
		drafts, value, no = s.treated(ctx, args)
	case "batch.note":
		drafts, value, no = s.note(ctx, args)
	case "photo.keep":
		drafts, value, no = s.keepPhoto(ctx, args)
	case "batch.words":
		drafts, value, no = s.printWords(ctx, args)
	case "batch.fill":
		drafts, value, no = s.fill(ctx, args)
	case "batch.hold":
		drafts, value, no = s.holdBatch(ctx, args)
	case "batch.release":
		drafts, value, no = s.release(ctx, args)
	case "correct":
		drafts, value, no = s.correct(ctx, args)
	case "batch.look":
		drafts, value, no = s.lookAt(ctx, args)
	case "batch.age":
		drafts, value, no = s.writeAged(ctx, args)
	case "jars.move":
		drafts, value, no = s.moveJars(ctx, args)
	case "jars.count":
		drafts, value, no = s.countJars(ctx, args)
	case "stall.sell":
		drafts, value, no = s.sell(ctx, args)
	case "stall.undo":
		drafts, value, no = s.undo(ctx, args)
	case "product.price":
		drafts, value, no = s.price(ctx, args)
	case "place.name":
		drafts, value, no = s.namePlace(ctx, args)
	case "demo.remove":
		drafts, value, no = s.removeDemo(ctx, args)
	case "waiting.accept":
		drafts, value, no = s.acceptWaiting()
	case "workshop.choose":
		drafts, value, no = s.choose(args)
	case "workshop.name":
		drafts, value, no = s.nameWorkshop(ctx, args)
	default:
		return nil, nil, refuse("unknown command", "", "this program knows no command "+command, "update the app")
	}
	if no != nil {
		return nil, nil, no
	}
	for _, d := range drafts {
		if ctx.Role != "" && !MayWrite(ctx.Role, d.Kind) {
			return nil, nil, refuse("role", "", "this device has the role "+ctx.Role+" and does not write that", "ask the owner of the book, or use the owner's device")
		}
	}
	return drafts, value, nil
}

// nothing is the value of a command that answers with no more than that it was done.
type nothing struct{}

type entryValue struct {
	Entry string `json:"entry"`
}

// one is a command that writes a single row of the workshop.
func (s *State) one(ctx Context, kind uint32, b visitable) ([]Draft, any, *Refusal) {
	d, no := draft(kind, b)
	if no != nil {
		return nil, nil, no
	}
	return []Draft{d}, entryValue{s.next(ctx, Workshop, 0).String()}, nil
}

// several are bodies written in one go, each to the stream of its kind.
func several(bodies ...kindBody) ([]Draft, *Refusal) {
	out := make([]Draft, 0, len(bodies))
	for _, b := range bodies {
		d, no := draft(b.kind, b.body)
		if no != nil {
			return nil, no
		}
		out = append(out, d)
	}
	return out, nil
}

type kindBody struct {
	kind uint32
	body visitable
}
