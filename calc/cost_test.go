package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

// costMoves reads "+100@5000;-420" with money to two decimals, as minor units.
func costMoves(t *testing.T, text string) (out []calc.CostMove) {
	t.Helper()
	for _, part := range strings.Split(text, ";") {
		amount, paid, in := strings.Cut(part[1:], "@")
		n, err := strconv.ParseInt(amount, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		m := calc.CostMove{Out: n}
		if in {
			m = calc.CostMove{In: n, Paid: decimal.RequireFromString(paid).Shift(2).IntPart()}
		}
		out = append(out, m)
	}
	return out
}

func TestPublishedCosts(t *testing.T) {
	for _, row := range published(t, "cost") {
		s, err := calc.CostStock(costMoves(t, row["moves"]), row["method"])
		if err != nil {
			t.Fatalf("check %s: %v", row["check"], err)
		}
		figures := strings.Split(row["figure"], ";")
		number := func(i int) *decimal.Decimal { d := decimal.RequireFromString(figures[i]); return &d }
		ask := calc.CostAsk{Places: 2, Parts: []calc.CostPart{{Name: "stock", Kind: "ingredient", Amount: decimal.New(s.Used, -2)}}}
		ask.Made, _ = strconv.Atoi(row["made"])
		ask.Sold, _ = strconv.Atoi(row["sold"])
		switch row["what"] {
		case "used":
			near(t, row, decimal.New(s.Used, -2))
			continue
		case "left":
			near(t, row, decimal.New(s.Left, -2))
			continue
		case "total", "made", "sold":
			for i := range figures {
				ask.Parts = append(ask.Parts, calc.CostPart{Name: "x", Kind: "packaging", Amount: *number(i)})
			}
		case "markup of", "margin of":
			ask.Price = number(0)
		case "price by markup":
			p := percent(t, row["figure"])
			ask.Markup = &p
		case "price by margin":
			p := percent(t, row["figure"])
			ask.Margin = &p
		case "even":
			ask.Fee, ask.Price = number(0), number(1)
		}
		c, err := calc.Cost(ask)
		if err != nil {
			t.Fatalf("check %s: %v", row["check"], err)
		}
		near(t, row, map[string]decimal.Decimal{"total": c.Total, "made": c.PerMade, "sold": c.PerSold, "markup of": c.Markup, "margin of": c.Margin, "price by markup": c.Suggested, "price by margin": c.Suggested,
			"even": decimal.New(int64(c.BreakEven), 0)}[row["what"]])
	}
}

func TestWhatAPriceLeavesIsSaid(t *testing.T) {
	two, three, fee := decimal.New(2, 0), decimal.New(3, 0), decimal.New(25, 0)
	part := []calc.CostPart{{Name: "all", Kind: "ingredient", Amount: decimal.New(20, 0)}}
	work := []calc.CostPart{{Name: "all", Kind: "labour", Amount: decimal.New(20, 0)}}
	for _, c := range []struct {
		name string
		ask  calc.CostAsk
		rule string
		says string
	}{
		{"a price above cost", calc.CostAsk{Parts: work, Made: 10, Price: &three}, "", ""},
		{"just the cost", calc.CostAsk{Parts: work, Made: 10, Price: &two}, "cost-price", "just what it cost"},
		{"a loss", calc.CostAsk{Parts: work, Made: 5, Price: &three}, "cost-price", "loses 1.00"},
		{"own time", calc.CostAsk{Parts: part, Made: 10}, "cost-labour", "your own time"},
		{"lost jars", calc.CostAsk{Parts: work, Made: 10, Sold: 8}, "cost-lost", "2 of 10"},
		{"a stall too dear", calc.CostAsk{Parts: work, Made: 10, Price: &three, Fee: &fee}, "cost-stall", "does not pay"},
	} {
		c.ask.Places = 2
		got, err := calc.Cost(c.ask)
		rule, says := "", ""
		if len(got.Findings) > 0 {
			rule, says = got.Findings[0].Rule, got.Findings[0].Says
		}
		if err != nil || rule != c.rule || !strings.Contains(says, c.says) {
			t.Errorf("%s: %+v %v", c.name, got.Findings, err)
		}
	}
	all := calc.Hundred
	for name, ask := range map[string]calc.CostAsk{"no jar": {}, "more sold": {Made: 1, Sold: 2}, "both": {Made: 1, Margin: &all, Markup: &all}, "margin of all": {Made: 1, Margin: &all}} {
		if _, err := calc.Cost(ask); err == nil || err.Want == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, moves := range map[string][]calc.CostMove{"more than there": {{In: 5, Paid: 5}, {Out: 6}}, "lot too small": {{In: 5, Paid: 5, Lot: "a"}, {In: 5, Paid: 5, Lot: "b"}, {Out: 6, Lot: "a"}}, "nothing": {{}}} {
		if _, err := calc.CostStock(moves, "fifo"); err == nil || err.Want == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	named, err := calc.CostStock([]calc.CostMove{{In: 10, Paid: 10, Lot: "a"}, {In: 10, Paid: 30, Lot: "b"}, {Out: 5, Lot: "b"}, {Out: 10}}, "fifo")
	if err != nil || named.Issues[2] != 15 || named.Issues[3] != 10 {
		t.Errorf("the named lot is taken from: %+v %v", named, err)
	}
}

// TestNothingIsLostBetweenPurchasesAndStock: to the cent, by both methods, whatever was bought and used; rows sum to their total.
func TestNothingIsLostBetweenPurchasesAndStock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var moves []calc.CostMove
		have := int64(0)
		for range rapid.IntRange(1, 30).Draw(t, "moves") {
			if have > 0 && rapid.Bool().Draw(t, "out") {
				m := calc.CostMove{Out: rapid.Int64Range(1, have).Draw(t, "amount")}
				have -= m.Out
				moves = append(moves, m)
				continue
			}
			m := calc.CostMove{In: rapid.Int64Range(1, 10_000_000).Draw(t, "in"), Paid: rapid.Int64Range(0, 1_000_000).Draw(t, "paid")}
			have += m.In
			moves = append(moves, m)
		}
		for _, method := range []string{"fifo", "average"} {
			s, err := calc.CostStock(moves, method)
			if err != nil {
				t.Fatal(err)
			}
			var used, paid int64
			ask := calc.CostAsk{Places: 2, Made: 3}
			for i, m := range moves {
				used, paid = used+s.Issues[i], paid+m.Paid
				ask.Parts = append(ask.Parts, calc.CostPart{Amount: s.Exact[i].Shift(-2)})
				if s.Issues[i] < 0 {
					t.Fatalf("%s: using gave money back: %+v", method, s)
				}
			}
			if used != s.Used || paid != s.Purchases || s.Used+s.Left != s.Purchases || s.Left < 0 || s.LeftAmount != have || have == 0 && s.Left != 0 {
				t.Fatalf("%s: %+v, %d used, %d paid", method, s, used, paid)
			}
			c, err := calc.Cost(ask)
			if err != nil {
				t.Fatal(err)
			}
			sum := decimal.Decimal{}
			for _, r := range c.Rows {
				sum = sum.Add(r.Rounded)
			}
			if !sum.Equal(c.Total) {
				t.Fatalf("rows %s, total %s", sum, c.Total)
			}
		}
	})
}
