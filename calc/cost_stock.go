package calc

import (
	"math/big"
	"strconv"

	"github.com/shopspring/decimal"
)

// CostMove is something bought or used of one item, in the order in which it happened. Amounts are whole: mg or pieces.
type CostMove struct {
	In   int64
	Paid int64 // for all of In, in minor units of money
	Out  int64
	Lot  string // of what came in; on what goes out the lot that it was taken from, "" for the oldest
	For  string // the batch that it went into, "" for anything else
}

// CostedStock is what purchases became. Purchases = Used + Left, to the minor unit.
type CostedStock struct {
	Purchases, Used, Left int64 // minor units
	LeftAmount            int64
	Issues                []int64           // minor units, by move; 0 for what came in
	Exact                 []decimal.Decimal // the same before rounding, to 15 decimals
}

// mostMoves keeps exact fractions from growing beyond what a request deserves.
const mostMoves = 500

// layer is what is left of one purchase.
type layer struct {
	lot    string
	amount int64
	each   *big.Rat // minor units for one mg or piece, exact
}

// CostStock values what went out by "fifo" (oldest first, or the lot that was named) or by "average" (after each purchase anew), exactly; only
// the running sum is rounded, so that nothing is lost or made up between purchases, use and stock.
func CostStock(moves []CostMove, method string) (CostedStock, *FieldError) {
	var out CostedStock
	if len(moves) > mostMoves {
		return out, &FieldError{Field: "moves", Says: "that is too much at once", Want: "write at most " + strconv.Itoa(mostMoves) + " purchases and uses of one item; begin with what was there as one purchase"}
	}
	var layers []layer
	used := new(big.Rat)
	for i, m := range moves {
		at := "moves[" + strconv.Itoa(i) + "]"
		exact := new(big.Rat)
		switch {
		case m.In > 0 && m.Out == 0 && m.Paid >= 0:
			out.Purchases += m.Paid
			out.LeftAmount += m.In
			layers = append(layers, layer{m.Lot, m.In, big.NewRat(m.Paid, m.In)})
			if method == "average" {
				layers = average(layers)
			}
		case m.Out > 0 && m.In == 0:
			if m.Out > out.LeftAmount {
				return out, &FieldError{Field: at + ".out", Says: "more is used than was there", Want: "write the purchase before its use, or what was there at the beginning as a purchase"}
			}
			var ok bool
			if layers, ok = issue(layers, m, exact); !ok {
				return out, &FieldError{Field: at + ".lot", Says: "the lot “" + short(m.Lot) + "” does not hold that much", Want: "name the lot that it was taken from, or none for the oldest"}
			}
			out.LeftAmount -= m.Out
		default:
			return out, &FieldError{Field: at, Says: "neither bought nor used", Want: "write in with paid, or out, each above 0"}
		}
		before := minorUnits(used)
		used.Add(used, exact)
		out.Issues = append(out.Issues, minorUnits(used)-before)
		out.Exact = append(out.Exact, fraction(exact))
	}
	out.Used = minorUnits(used)
	out.Left = out.Purchases - out.Used
	return out, nil
}

// average melts all layers into one.
func average(layers []layer) []layer {
	one := layer{each: new(big.Rat)}
	for _, l := range layers {
		one.amount += l.amount
		one.each.Add(one.each, new(big.Rat).Mul(l.each, big.NewRat(l.amount, 1)))
	}
	one.each.Quo(one.each, big.NewRat(one.amount, 1))
	return []layer{one}
}

// issue takes from the layers and adds what it cost. A lot that was named is only sought where layers still have lots.
func issue(layers []layer, m CostMove, cost *big.Rat) ([]layer, bool) {
	left := m.Out
	kept := layers[:0]
	pooled := len(layers) == 1 && layers[0].lot == ""
	for _, l := range layers {
		if left > 0 && (m.Lot == "" || pooled || l.lot == m.Lot) {
			take := min(left, l.amount)
			cost.Add(cost, new(big.Rat).Mul(l.each, big.NewRat(take, 1)))
			left, l.amount = left-take, l.amount-take
		}
		if l.amount > 0 {
			kept = append(kept, l)
		}
	}
	return kept, left == 0
}

// minorUnits rounds half away from zero; nothing here is below nothing.
func minorUnits(r *big.Rat) int64 {
	twice := new(big.Int).Mul(r.Num(), big.NewInt(2))
	twice.Add(twice, r.Denom())
	return twice.Quo(twice, new(big.Int).Mul(r.Denom(), big.NewInt(2))).Int64()
}

// fraction writes an exact fraction to 15 decimals.
func fraction(r *big.Rat) decimal.Decimal {
	return decimal.NewFromBigInt(r.Num(), 0).DivRound(decimal.NewFromBigInt(r.Denom(), 0), quotientPlaces)
}
