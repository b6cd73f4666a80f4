package calc

import (
	"sort"
	"strconv"

	"github.com/shopspring/decimal"

	"stillroom/calc/matter"
)

// Container is what a jar can hold: to the brim, in microlitres (120 mL is 120,000).
type Container struct {
	Name       string
	BrimMicroL int64
}

// FillFit says whether a fill fits a container. Known is false when the density or the brimful volume is not known.
type FillFit struct {
	Known       bool
	NeedsMicroL int64           // what the fill needs, rounded up
	Holds       Mass            // what the brim holds at this density, rounded down
	Comfortable Mass            // 0.95 of it, rounded down
	Share       decimal.Decimal // of the brim, exact to 15 decimals
	Says        string
	Sum         string // fill ÷ density against the brim, "" when not known
	Findings    []Finding
}

const fitSource = "this book's own rule M1: fill ÷ density at most 0.95 × brimful; containers are sold by volume (common practice)"

// Fits checks a fill in a container (M1): above the brim is a stop, above 0.95 of it take care. Density is in mg/mL (860 is 0.86 g/mL), 0
// when not known, which is said and never guessed.
func Fits(fill Mass, mgPerML int64, c Container) FillFit {
	missing := ""
	switch {
	case mgPerML <= 0 && c.BrimMicroL <= 0:
		missing = "the density and the jar's brimful volume are missing"
	case mgPerML <= 0:
		missing = "the density is missing"
	case c.BrimMicroL <= 0:
		missing = "the jar's brimful volume is missing"
	case fill <= 0:
		missing = "the fill is missing"
	}
	if missing != "" {
		f := Finding{Rule: "fits", Level: Unchecked, Says: "not checked: whether it fits; " + missing, Source: fitSource, Do: "weigh a full cup of known volume, or the jar full of water"}
		return FillFit{Says: f.Says, Findings: []Finding{f}}
	}
	needs := decimal.New(int64(fill), 0).Shift(3).DivRound(decimal.New(mgPerML, 0), quotientPlaces) // mg ÷ (mg/mL) × 1000
	brim := decimal.New(c.BrimMicroL, 0)
	holds := decimal.New(mgPerML, 0).Mul(brim).Shift(-3)
	fit := FillFit{Known: true, NeedsMicroL: needs.RoundCeil(0).IntPart(), Holds: Mass(holds.RoundFloor(0).IntPart()),
		Comfortable: Mass(holds.Mul(decimal.New(95, -2)).RoundFloor(0).IntPart()), Share: needs.DivRound(brim, quotientPlaces)}
	fit.Says = plainGrams(fill) + " g at " + showDensity(mgPerML) + " g/mL needs " + needs.Shift(-3).Round(1).String() + " mL; this jar holds " +
		decimal.New(c.BrimMicroL, -3).Round(1).String() + " mL, " + holds.Shift(-3).RoundFloor(0).String() + " g."
	fit.Sum = plainGrams(fill) + " g ÷ " + showDensity(mgPerML) + " g/mL = " + needs.Shift(-3).Round(2).String() + " mL; ÷ " + matter.Decimals(c.BrimMicroL, 3, 0) +
		" mL brimful × 100 = " + fit.Share.Shift(2).Round(1).String() + " %; up to 95 % fits well (common practice)"
	f := Finding{Rule: "fits", Says: fit.Says, Figure: fit.Share.Shift(2).Round(1).String() + " % of the brim", Limit: "95 % of the brim", Source: fitSource}
	switch {
	case needs.GreaterThan(brim):
		f.Level, f.Do = Stop, "fill at most "+holds.Mul(decimal.New(95, -2)).Shift(-3).RoundFloor(0).String()+" g, or take a larger jar"
	case needs.GreaterThan(brim.Mul(decimal.New(95, -2))):
		f.Level, f.Do = Care, "it is nearly at the rim: fill at most "+holds.Mul(decimal.New(95, -2)).Shift(-3).RoundFloor(0).String()+" g, or take a larger jar"
	default:
		return fit
	}
	fit.Findings = []Finding{f}
	return fit
}

func plainGrams(m Mass) string { return matter.Decimals(int64(m), 3, 0) }

// showDensity writes mg/mL as g/mL with at least two decimals.
func showDensity(mgPerML int64) string { return matter.Decimals(mgPerML, 3, 2) }

// BatchMade is what one finished batch says of itself; 0 stands for what was not measured.
type BatchMade struct {
	Code          string
	Made          Mass // weighed in
	Filled        Mass // sum of the jars
	JarsExpected  int
	JarsMade      int
	MgPerML       int64 // density after whipping, before grit is folded in
	MgPerMLBefore int64 // density before whipping
	GritIn        bool  // the density after was taken with grit in it, so that it says nothing of air
}

// YieldAnswer is the yield of one batch. Loss is in per cent of what was weighed in, and negative when more was filled than weighed.
type YieldAnswer struct {
	LossKnown, OverrunKnown bool
	Loss                    decimal.Decimal
	Overrun                 decimal.Decimal
	Says                    string
	Findings                []Finding
}

// YieldOf works out what a finished batch lost and how much air it took. Overrun by weights of equal volumes is 100 (ρ mix ÷ ρ whipped − 1).
func YieldOf(b BatchMade) YieldAnswer {
	var y YieldAnswer
	if b.JarsExpected > 0 || b.JarsMade > 0 {
		y.Says = strconv.Itoa(b.JarsMade) + " of " + strconv.Itoa(b.JarsExpected) + " jars"
	}
	if b.Made > 0 && b.Filled > 0 {
		y.LossKnown = true
		y.Loss = decimal.New(int64(b.Made-b.Filled), 0).Shift(2).DivRound(decimal.New(int64(b.Made), 0), 2)
		y.add("loss " + y.Loss.StringFixed(2) + " %")
		if b.Filled > b.Made {
			y.Findings = append(y.Findings, Finding{Rule: "yield", Level: Care, Says: "more is in the jars than was weighed in", Figure: b.Filled.String() + " g", Limit: b.Made.String() + " g",
				Source: "mass balance, this book's own rule", Do: "look for a line that was not written down, or a jar's tare"})
		}
	}
	switch {
	case b.MgPerML <= 0 || b.MgPerMLBefore <= 0:
	case b.GritIn:
		y.Findings = append(y.Findings, Finding{Rule: "yield", Level: Unchecked, Says: "not checked: overrun; the density before the grit is missing", Source: overrunSource, Do: "measure the density before grit is folded in"})
	default:
		y.OverrunKnown = true
		y.Overrun = OverrunByWeight(decimal.New(b.MgPerMLBefore, 0), decimal.New(b.MgPerML, 0))
		y.add("overrun " + y.Overrun.StringFixed(1) + " %")
	}
	return y
}

func (y *YieldAnswer) add(says string) {
	if y.Says != "" {
		y.Says += ", "
	}
	y.Says += says
}

const overrunSource = "Univ. Guelph, Goff: overrun by weight of equal volumes; grit carries no air"

// OverrunByVolume is 100 (V whipped − V mix) ÷ V mix, in per cent to 0.01; the volumes are above 0 and in one unit.
func OverrunByVolume(mix, whipped decimal.Decimal) decimal.Decimal {
	return whipped.Sub(mix).Shift(2).DivRound(mix, 2)
}

// OverrunByWeight is 100 (W mix − W whipped) ÷ W whipped for equal volumes, in per cent to 0.01; densities serve as well.
func OverrunByWeight(mix, whipped decimal.Decimal) decimal.Decimal {
	return mix.Sub(whipped).Shift(2).DivRound(whipped, 2)
}

// DensityAt is the density of a mix after so much overrun (in per cent), to 1 mg/mL.
func DensityAt(mgPerMLMix int64, overrun decimal.Decimal) int64 {
	return decimal.New(mgPerMLMix, 2).DivRound(decimal.New(100, 0).Add(overrun), 0).IntPart()
}

// Forecast is what earlier batches of the same formula suggest: medians, each with the number of batches behind it. N 0 means not known.
type Forecast struct {
	LossN, DensityN int
	Loss            Percent // 0 when batches gained
	MgPerML         int64
	Says            string
}

// ForecastOf takes the median loss and density of earlier batches. Batches without the figure are left out and not guessed.
func ForecastOf(earlier []BatchMade) Forecast {
	var losses, densities []int64
	for _, b := range earlier {
		if b.Made > 0 && b.Filled > 0 && b.Filled <= b.Made {
			losses = append(losses, roundDiv(int64(b.Made-b.Filled)*int64(Hundred), int64(b.Made)))
		}
		if b.MgPerML > 0 && !b.GritIn {
			densities = append(densities, b.MgPerML)
		}
	}
	f := Forecast{LossN: len(losses), DensityN: len(densities), Loss: Percent(median(losses)), MgPerML: median(densities)}
	f.Says = "loss not known"
	if f.LossN > 0 {
		f.Says = "loss " + plain(f.Loss) + " % (median of " + strconv.Itoa(f.LossN) + ")"
	}
	if f.DensityN > 0 {
		f.Says += ", density " + showDensity(f.MgPerML) + " g/mL (median of " + strconv.Itoa(f.DensityN) + ")"
	} else {
		f.Says += ", density not known"
	}
	return f
}

// median of an even number is the mean of the middle two, rounded; 0 for none.
func median(v []int64) int64 {
	if len(v) == 0 {
		return 0
	}
	sort.Slice(v, func(a, b int) bool { return v[a] < v[b] })
	m := len(v) / 2
	if len(v)%2 == 1 {
		return v[m]
	}
	return roundDiv(v[m-1]+v[m], 2)
}
