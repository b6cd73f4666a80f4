package book

import "strings"

type stateArgs struct {
	Batch  string `json:"batch"`
	Reason string `json:"reason"`
	By     string `json:"by"`
	Looked string `json:"looked"`
	Sale   string `json:"sale"` // why a trial may be sold, "" for what is no trial or stays one
}

func (s *State) stateArgs(args []byte) (stateArgs, *batch, *Refusal) {
	a, no := arguments[stateArgs](args)
	if no != nil {
		return a, nil, no
	}
	b := s.batches.get(a.Batch)
	if b == nil {
		return a, nil, noBatch()
	}
	if b.state == Discarded {
		return a, nil, refuse("discarded", "batch", "batch "+b.body.Code+" was discarded", "start a new batch")
	}
	return a, b, nil
}

func (s *State) holdBatch(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, b, no := s.stateArgs(args)
	if no != nil {
		return nil, nil, no
	}
	if strings.TrimSpace(a.Reason) == "" {
		return nil, nil, refuse("reason missing", "reason", "a batch is held for a reason, and none was given", "write in a few words what happened")
	}
	if b.state == Held && b.why == strings.TrimSpace(a.Reason) {
		return nil, nothing{}, nil
	}
	return s.setState(&BatchState{Batch: a.Batch, State: Held, Reason: strings.TrimSpace(a.Reason), By: ctx.Who})
}

func (s *State) release(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, b, no := s.stateArgs(args)
	if no != nil {
		return nil, nil, no
	}
	why := strings.TrimSpace(a.Sale)
	if b.body.Purpose != "trial" {
		why = ""
	}
	switch {
	case b.state == Released && b.body.Purpose == "trial" && !b.forSale && why == "":
		return nil, nil, refuse("released", "sale", "batch "+b.body.Code+" was already released by "+b.by+" and stays a trial", "write why it may be sold, if it is to be sold")
	case b.state == Released && (why == "" || b.forSale):
		return nil, nil, refuse("released", "batch", "batch "+b.body.Code+" was already released by "+b.by, "hold it if something is wrong with it")
	case b.fill.Seq == 0:
		return nil, nil, refuse("not filled", "batch", "batch "+b.body.Code+" is not filled yet, so there is nothing to release", "fill it at the bench first")
	case strings.TrimSpace(a.By) == "":
		return nil, nil, refuse("name missing", "by", "a batch is released by name, and none was given", "write the name of the one who looked at it")
	}
	if held := s.heldByLots()[a.Batch]; held != "" {
		return nil, nil, refuse("lot held", "batch", "batch "+b.body.Code+" stays held: "+held, "let that lot go first, with a reason, or discard the batch")
	}
	looked := strings.TrimSpace(a.Looked)
	if l := b.lastLook(); l != nil {
		looked = join(looked, "looked at on "+showDay(l.Day)+": "+lookSays(l))
	} else {
		looked = join(looked, noLook)
	}
	out, value, no := s.setState(&BatchState{Batch: a.Batch, State: Released, Reason: why, By: strings.TrimSpace(a.By), Looked: looked, ForSale: why != ""})
	if no != nil {
		return nil, nil, no
	}
	// What was learned since the filling, a scent's certificate or the maker's new address, belongs on labels and card.
	again, no := s.shelfDiffers(s.making(a.Batch))
	return append(out, again...), value, no
}

// setState writes a state to the workshop and its copy to the shelf.
func (s *State) setState(b *BatchState) ([]Draft, any, *Refusal) {
	out, no := several(
		kindBody{KindBatchState, b},
		kindBody{KindBatchBarred, &BatchBarred{Batch: b.Batch, Barred: b.State == Held || b.State == Discarded, State: b.State, Reason: b.Reason, ForSale: b.ForSale}},
	)
	return out, nothing{}, no
}
