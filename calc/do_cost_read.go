package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

func (a *askCost) read() (CostAsk, []costItem, *FieldError) {
	out, items := CostAsk{Places: 2}, []costItem{}
	var err *FieldError
	if a.Decimals != "" {
		n, err := readNumber(string(a.Decimals))
		if err != nil {
			return out, nil, err.under("decimals")
		}
		v, whole, fits := n.fixed(0, 3)
		if !whole || !fits || v < 0 || n.unit != "" {
			return out, nil, &FieldError{Field: "decimals", Says: "no money here has “" + short(string(a.Decimals)) + "” decimals", Want: "write 0, 2 or 3"}
		}
		out.Places = int32(v)
	}
	if a.Method != "" && a.Method != "average" && a.Method != "fifo" {
		return out, nil, &FieldError{Field: "method", Says: "“" + short(a.Method) + "” is not a method known here", Want: "average or fifo"}
	}
	all := 0
	for i := range a.Items {
		if all += len(a.Items[i].Moves); all > 4*mostMoves {
			return out, nil, &FieldError{Field: "items", Says: "that is too much at once", Want: "write at most " + strconv.Itoa(4*mostMoves) + " purchases and uses in all"}
		}
		part, item, err := a.item(&a.Items[i], int(out.Places))
		if err != nil {
			return out, nil, err.under("items[" + strconv.Itoa(i) + "]")
		}
		items = append(items, item)
		if !part.Amount.IsZero() {
			out.Parts = append(out.Parts, part)
		}
	}
	if err = a.others(&out); err != nil {
		return out, nil, err
	}
	for _, j := range []struct {
		field string
		text  typed
		into  *int
	}{{"jarsMade", a.JarsMade, &out.Made}, {"jarsSold", a.JarsSold, &out.Sold}} {
		if j.field == "jarsSold" && j.text == "" {
			continue
		}
		if *j.into, err = ReadCount(string(j.text)); err != nil {
			return out, nil, err.under(j.field)
		}
	}
	if a.Margin != "" {
		p, err := ReadPercent(string(a.Margin))
		if err != nil {
			return out, nil, err.under("margin")
		}
		out.Margin = &p
	}
	if a.Markup != "" {
		n, err := readNumber(string(a.Markup))
		if err != nil {
			return out, nil, err.under("markup")
		}
		v, whole, fits := n.fixed(4, 100*int64(Hundred))
		if !whole || !fits || v < 0 || n.unit != "" && n.unit != "%" {
			return out, nil, &FieldError{Field: "markup", Says: "“" + short(string(a.Markup)) + "” is not a mark-up in per cent", Want: "write 0 to 10000, such as 150"}
		}
		p := Percent(v)
		out.Markup = &p
	}
	for _, m := range []struct {
		field string
		text  typed
		into  **decimal.Decimal
	}{{"price", a.Price, &out.Price}, {"stallFee", a.StallFee, &out.Fee}} {
		if m.text == "" {
			continue
		}
		v, err := readMoney(string(m.text), int(out.Places))
		if err != nil {
			return out, nil, err.under(m.field)
		}
		d := decimal.New(v, -out.Places)
		*m.into = &d
	}
	return out, items, nil
}

// item values one item's uses, and what of them went into the batch.
func (a *askCost) item(item *askCostItem, places int) (CostPart, costItem, *FieldError) {
	part := CostPart{Name: item.Name, Kind: "ingredient"}
	amount := func(text typed) (int64, *FieldError) {
		if item.Unit == "pieces" {
			n, err := ReadCount(string(text))
			return int64(n), err
		}
		m, err := ReadGrams(string(text))
		return int64(m), err
	}
	show := func(v int64) string { return Mass(v).String() + " g" }
	switch item.Unit {
	case "pieces":
		part.Kind, show = "packaging", func(v int64) string { return strconv.FormatInt(v, 10) }
	case "", "g":
	default:
		return part, costItem{}, &FieldError{Field: "unit", Says: "“" + short(item.Unit) + "” is not a unit known here", Want: "g or pieces"}
	}
	moves := make([]CostMove, len(item.Moves))
	for i, m := range item.Moves {
		at := "moves[" + strconv.Itoa(i) + "]"
		moves[i] = CostMove{Lot: m.Lot, For: m.For}
		var err *FieldError
		if m.In != "" {
			if moves[i].In, err = amount(m.In); err != nil {
				return part, costItem{}, err.under(at + ".in")
			}
			if moves[i].Paid, err = readMoney(string(m.Paid), places); err != nil {
				return part, costItem{}, err.under(at + ".paid")
			}
		}
		if m.Out != "" {
			if moves[i].Out, err = amount(m.Out); err != nil {
				return part, costItem{}, err.under(at + ".out")
			}
		}
	}
	s, err := CostStock(moves, nameOr(a.Method, "average"))
	if err != nil {
		return part, costItem{}, err
	}
	for i, m := range moves {
		if m.Out > 0 && (a.Batch == "" || m.For == a.Batch) {
			part.Amount = part.Amount.Add(s.Exact[i].Shift(-int32(places)))
		}
	}
	money := func(v int64) string { return decimal.New(v, -int32(places)).StringFixed(int32(places)) }
	return part, costItem{item.Name, money(s.Purchases), money(s.Used), money(s.Left), show(s.LeftAmount)}, nil
}

// others reads packaging by the piece, labour and overhead.
func (a *askCost) others(out *CostAsk) *FieldError {
	const fine = 6 // a label may cost a part of a cent
	for i, p := range a.Packaging {
		at := "packaging[" + strconv.Itoa(i) + "]"
		n, err := ReadCount(string(p.Count))
		if err != nil {
			return err.under(at + ".count")
		}
		each, err := readMoney(string(p.Each), fine)
		if err != nil {
			return err.under(at + ".each")
		}
		out.Parts = append(out.Parts, CostPart{p.Name, "packaging", decimal.New(each, -fine).Mul(decimal.New(int64(n), 0))})
	}
	if a.Labour != nil {
		minutes, err := readMinutes(string(a.Labour.Minutes))
		if err != nil {
			return err.under("labour.minutes")
		}
		hour, err := readMoney(string(a.Labour.Hour), fine)
		if err != nil {
			return err.under("labour.hour")
		}
		out.Parts = append(out.Parts, CostPart{"labour", "labour", decimal.New(hour, -fine).Mul(minutes).DivRound(decimal.New(60, 0), quotientPlaces)})
	}
	if a.Overhead != "" {
		v, err := readMoney(string(a.Overhead), fine)
		if err != nil {
			return err.under("overhead")
		}
		out.Parts = append(out.Parts, CostPart{"overhead", "overhead", decimal.New(v, -fine)})
	}
	return nil
}
