package calc

import (
	"math"
	"sort"
	"strconv"

	"github.com/shopspring/decimal"
)

// FillAsk is jars weighed against the contents that their label states.
type FillAsk struct {
	Nominal Mass   // as on the label
	Jars    []Mass // net, in the order in which they were weighed
	Numbers []int  // of the jars, in the same order; nil counts them from 1
	Batch   int    // jars in the batch; 0 means that all were weighed
	System  string // average (EU and UK), minimum (UK) or US
	Opened  bool   // weighed by emptying them, so that they cannot be sold
	Step    Mass   // of the scale
}

// FillChecked is what the weighing says. Pass is true when no test failed; Judged is false when too few were weighed to say.
type FillChecked struct {
	Judged, Pass bool
	Mean, S      decimal.Decimal // grams, to 0.0001
	TNE, T1, T2  Mass            // average system
	BelowT1      int             // short by more than TNE
	BelowT2      int
	Allowed      int             // how many may be below T1
	SEL          decimal.Decimal // US: sample error limit, grams
	MAV          Mass            // US: the most that one jar may be short, 0 when not known
	Says         string
	Findings     []Finding
}

const averageSource = "Directive 76/211/EEC Annex I and II; UK SI 2006/659"

// tolerable is one band of tolerable negative errors: up to this nominal mass, so many per cent or so many grams.
type tolerable struct {
	upTo    Mass
	percent Percent
	flat    Mass
	from    Cite
}

var tolerables = []tolerable{
	{50 * Gram, 9 * OnePercent, 0, annexI}, {100 * Gram, 0, 4500, annexI}, {200 * Gram, 45 * OnePercent / 10, 0, annexI}, {300 * Gram, 0, 9 * Gram, annexI},
	{500 * Gram, 3 * OnePercent, 0, annexI}, {1000 * Gram, 0, 15 * Gram, annexI}, {10_000 * Gram, 15 * OnePercent / 10, 0, annexI}, {15_000 * Gram, 0, 150 * Gram, annexI}, {heaviest, OnePercent, 0, annexI},
}

var annexI = Cite{Source: "76/211/EEC Annex I 2.4; UK packaged goods page above 10 kg", Mark: "R"}

// TolerableError is the tolerable negative error of a nominal content, a percentage rounded up to the next 0.1 g; nominal is 5 g up to a tonne.
func TolerableError(nominal Mass) Mass {
	for _, b := range tolerables {
		if nominal > b.upTo {
			continue
		}
		if b.flat > 0 {
			return b.flat
		}
		tenth := int64(Hundred) * int64(Gram/10)
		return Mass((int64(nominal)*int64(b.percent)+tenth-1)/tenth) * (Gram / 10)
	}
	return 0
}

// FillCheck judges jars against their label by one of three systems. A batch below 100 jars is judged whole: every jar weighed, plain mean.
func FillCheck(ask FillAsk) (FillChecked, *FieldError) {
	n := len(ask.Jars)
	switch {
	case n < 2:
		return FillChecked{}, &FieldError{Field: "jars", Says: "one jar says nothing of a batch", Want: "weigh at least two; of a small batch all"}
	case ask.Nominal < 5*Gram || ask.Nominal > 25*Kilogram:
		return FillChecked{}, &FieldError{Field: "nominal", Says: ask.Nominal.String() + " g is outside what these tests are for", Want: "write the contents stated on the label, 5 g to 25 kg"}
	case ask.Batch > 0 && ask.Batch < n:
		return FillChecked{}, &FieldError{Field: "batch", Says: "more jars were weighed than the batch has", Want: "write how many jars the batch has in all"}
	case ask.Step < 0:
		return FillChecked{}, &FieldError{Field: "step", Says: "no scale reads below nothing", Want: "write 0.1 or 0.01"}
	}
	if ask.Batch == 0 {
		ask.Batch = n
	}
	out := FillChecked{Judged: true, Pass: true}
	var sum int64
	for _, j := range ask.Jars {
		sum += int64(j)
	}
	mean := decimal.New(sum, 0).DivRound(decimal.New(int64(n), 0), quotientPlaces)
	var squares decimal.Decimal
	for _, j := range ask.Jars {
		d := decimal.New(int64(j), 0).Sub(mean)
		squares = squares.Add(d.Mul(d))
	}
	s := math.Sqrt(squares.InexactFloat64()/float64(n-1)) / 1000
	out.Mean, out.S = mean.Shift(-3).Round(4), rounded(s, 4)
	out.TNE = TolerableError(ask.Nominal)
	out.T1, out.T2 = ask.Nominal-out.TNE, ask.Nominal-2*out.TNE
	switch ask.System {
	case "average", "":
		ask.average(&out, sum, s)
	case "minimum":
		ask.minimum(&out)
	case "US":
		ask.american(&out, sum, s)
	default:
		return FillChecked{}, &FieldError{Field: "system", Says: "“" + short(ask.System) + "” is not a system known here", Want: "average, minimum or US"}
	}
	word := "The jars hold what the label says"
	switch {
	case !out.Pass:
		word = "The jars do not hold what the label says"
	case !out.Judged:
		word = "Not judged yet"
	}
	out.Says = word + ": " + strconv.Itoa(n) + " jars weigh " + out.Mean.StringFixed(2) + " g on average, the label says " + plainGrams(ask.Nominal) + " g; the lightest is " + ask.lightest() + "."
	if ask.Step > 0 && out.TNE > 0 && ask.Step*5 > out.TNE {
		out.Findings = append(out.Findings, Finding{Rule: "fill-scale", Level: Care, Says: "the scale is too coarse for this check", Figure: plainGrams(ask.Step) + " g", Limit: "at most " + decimal.New(int64(out.TNE), -3).DivRound(decimal.New(5, 0), 2).String() + " g",
			Source: "WELMEC 6.9: error of checking at most a fifth of the tolerable error (read in the source)", Do: "take a finer scale"})
	}
	return out, nil
}

func (ask *FillAsk) lightest() string {
	low := 0
	for i, j := range ask.Jars {
		if j < ask.Jars[low] {
			low = i
		}
	}
	return "jar " + ask.number(low) + " with " + ask.Jars[low].String() + " g"
}

// number is what a jar is called by.
func (ask *FillAsk) number(i int) string {
	if i < len(ask.Numbers) {
		return strconv.Itoa(ask.Numbers[i])
	}
	return strconv.Itoa(i + 1)
}

func someJars(n int) string {
	if n == 1 {
		return "1 jar"
	}
	return strconv.Itoa(n) + " jars"
}

// short names the jars that are below a mass, lightest first, at most five, with what each lacks to the label.
func (ask *FillAsk) short(limit Mass) (count int, names string) {
	var at []int
	for i, j := range ask.Jars {
		if j < limit {
			at = append(at, i)
		}
	}
	sort.SliceStable(at, func(a, b int) bool { return ask.Jars[at[a]] < ask.Jars[at[b]] })
	var parts []string
	for k, i := range at {
		if k == 5 {
			parts = append(parts, strconv.Itoa(len(at)-5)+" more")
			break
		}
		parts = append(parts, "jar "+ask.number(i)+" ("+(ask.Nominal-ask.Jars[i]).String()+" g)")
	}
	return len(at), list(parts)
}

func (c *FillChecked) fail(f Finding) {
	f.Rule, f.Level, c.Pass = "fill", Stop, false
	c.Findings = append(c.Findings, f)
}

// notJudged leaves the verdict open: what was weighed may have failed already, but it cannot pass.
func (c *FillChecked) notJudged(says, do, source string) {
	c.Judged = false
	c.Findings = append(c.Findings, Finding{Rule: "fill", Level: Unchecked, Says: "not judged: " + says, Source: source, Do: do})
}

// minimum: no jar below its label.
func (ask *FillAsk) minimum(c *FillChecked) {
	source := "gov.uk packaged goods: minimum system (read in the source)"
	if n, names := ask.short(ask.Nominal); n > 0 {
		c.fail(Finding{Says: strconv.Itoa(n) + " of " + strconv.Itoa(len(ask.Jars)) + " jars hold less than the label says: " + names, Figure: someJars(n), Limit: "none", Source: source, Do: "fill these up, or keep them back"})
	}
	if ask.Batch > len(ask.Jars) {
		c.notJudged(strconv.Itoa(ask.Batch-len(ask.Jars))+" jars were not weighed, and none may be short", "weigh the others as well", source)
	}
}
