package calc

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"
)

// average is the EU and UK average system: the mean, not too many short by more than the tolerable error, none by more than twice.
func (ask *FillAsk) average(c *FillChecked, sum int64, s float64) {
	n := len(ask.Jars)
	var short, far string
	c.BelowT1, short = ask.short(c.T1)
	c.BelowT2, far = ask.short(c.T2)
	whole := ask.Batch < 100
	source := averageSource + " (read in the source)"
	switch {
	case whole && n < ask.Batch:
		c.notJudged("a batch below 100 jars is judged whole, and "+strconv.Itoa(ask.Batch-n)+" were not weighed", "weigh all "+strconv.Itoa(ask.Batch)+" jars", source)
	case !whole && n < ask.sample():
		c.notJudged("for a batch of "+strconv.Itoa(ask.Batch)+" at least "+strconv.Itoa(ask.sample())+" jars taken by chance are weighed", "weigh "+strconv.Itoa(ask.sample()-n)+" more", source)
	}
	// the mean: of a whole batch as it is, of a sample with the room that chance asks for
	least, room := int64(n)*int64(ask.Nominal), ""
	if !whole {
		k := StudentT(0.99, n-1) / math.Sqrt(float64(n))
		least -= int64(math.Floor(float64(n) * k * s * 1000))
		room = ", less " + rounded(k, 3).String() + " × s for chance"
	}
	if sum < least && (c.Judged || !whole) {
		lack := decimal.New(int64(n)*int64(ask.Nominal)-sum, -3).DivRound(decimal.New(int64(n), 0), 3)
		c.fail(Finding{Says: "on average a jar lacks " + lack.RoundCeil(2).String() + " g", Figure: c.Mean.StringFixed(2) + " g", Limit: "at least " + plainGrams(ask.Nominal) + " g on average" + room, Source: source,
			Do: "fill the lightest jars up until the average is reached, or print a smaller weight"})
	}
	c.Allowed = ask.Batch / 40 // 2.5 %
	if !whole {
		c.Allowed = ask.acceptable()
	}
	if c.BelowT1 > c.Allowed {
		limit := strconv.Itoa(c.Allowed) + " of " + strconv.Itoa(n) + " below " + plainGrams(c.T1) + " g"
		c.fail(Finding{Says: "too many jars are short by more than " + plainGrams(c.TNE) + " g, which only a few may be: " + short, Figure: someJars(c.BelowT1), Limit: limit,
			Source: source + "; 2.5 % is guidance, trading standards notes; counts of a sample: Annex II 2.2 (from memory)", Do: "fill these up and weigh them again"})
	}
	if c.BelowT2 > 0 {
		c.fail(Finding{Says: "short by more than " + plainGrams(2*c.TNE) + " g (twice what a few may be), which no jar may be: " + far, Figure: someJars(c.BelowT2), Limit: "none below " + plainGrams(c.T2) + " g", Source: source, Do: "fill these up, or keep them back"})
	}
}

// sample is how many are weighed of a batch of 100 and more.
func (ask *FillAsk) sample() int {
	switch {
	case ask.Opened:
		return 20
	case ask.Batch <= 500:
		return 30
	}
	return 50
}

// acceptable is how many of a first sample may be below T1 (Annex II 2.2, from memory).
func (ask *FillAsk) acceptable() int {
	switch {
	case ask.Opened || ask.Batch <= 500:
		return 1
	case ask.Batch <= 3200:
		return 2
	}
	return 3
}

// american is the inspector's test of NIST Handbook 133: the mean, with a limit for chance, and no jar short by more than is reasonable.
func (ask *FillAsk) american(c *FillChecked, sum int64, s float64) {
	n := len(ask.Jars)
	source := "NIST Handbook 133; factor Student's t ÷ √n (computed)"
	if need := ask.inspected(); n < need {
		c.notJudged("of a lot of "+strconv.Itoa(ask.Batch)+" jars "+strconv.Itoa(need)+" are weighed", "weigh "+strconv.Itoa(need-n)+" more, taken by chance", "NIST Handbook 133, sample sizes (from memory)")
	}
	factor := StudentT(0.95, n-1) / math.Sqrt(float64(n))
	c.SEL = rounded(factor*s, 3)
	room := int64(0)
	if n < ask.Batch || ask.Batch > 11 { // a larger lot that happens to be weighed whole keeps the room that the handbook gives a sample
		room = int64(math.Floor(float64(n) * factor * s * 1000))
	}
	if sum < int64(n)*int64(ask.Nominal)-room {
		lack := c.Mean.Sub(decimal.New(int64(ask.Nominal), -3))
		c.fail(Finding{Says: "on average a jar lacks " + lack.Neg().RoundCeil(2).String() + " g, more than chance explains", Figure: lack.StringFixed(3) + " g", Limit: "not below −" + c.SEL.String() + " g", Source: source, Do: "fill the lightest jars up, or print a smaller weight"})
	}
	var known bool
	if c.MAV, known = maximumVariation(ask.Nominal); !known {
		c.notJudged("how far one jar of this weight may be short stands in no table here", "look into NIST Handbook 133, Table 2-5", "NIST Handbook 133 Table 2-5 (from memory)")
		return
	}
	if far, names := ask.short(ask.Nominal - c.MAV); far > 0 {
		c.fail(Finding{Says: "short by more than " + plainGrams(c.MAV) + " g, which no jar of the sample may be: " + names, Figure: someJars(far), Limit: "none", Source: "NIST Handbook 133 Table 2-5 (from memory); none allowed, the strictest reading", Do: "fill these up, or keep them back"})
	}
}

// inspected is how many of a lot are weighed (from memory).
func (ask *FillAsk) inspected() int {
	switch {
	case ask.Batch <= 11:
		return ask.Batch
	case ask.Batch <= 250:
		return 12
	case ask.Batch <= 3200:
		return 24
	}
	return 48
}

// variation is a row of maximum allowable variations: below this labelled mass, so much.
type variation struct{ below, mav Mass }

// variations: packages labelled by weight, NIST Handbook 133 Table 2-5, from memory.
var variations = []variation{
	{54 * Gram, 3600}, {81 * Gram, 5400}, {117 * Gram, 7200}, {154 * Gram, 9 * Gram}, {208 * Gram, 10_800}, {263 * Gram, 12_700}, {317 * Gram, 14_500}, {381 * Gram, 16_300},
	{426 * Gram, 18_100}, {489 * Gram, 19_900}, {571 * Gram, 21_700}, {635 * Gram, 23_500}, {698 * Gram, 25_400}, {771 * Gram, 27_200}, {852 * Gram, 29 * Gram},
}

func maximumVariation(nominal Mass) (Mass, bool) {
	if nominal < 36*Gram {
		return nominal / 10, true
	}
	for _, v := range variations {
		if nominal < v.below {
			return v.mav, true
		}
	}
	return 0, false
}
