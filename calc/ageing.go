package calc

import (
	"math"
	"sort"
	"strconv"
	"strings"
)

// Aged is one reading of a product as it ages: what was measured, after how many days, in which condition, by which method. Step is the least that the
// instrument shows, 0 when not said; Strip tells of test strips, whose colours are words rather than figures.
type Aged struct {
	What, Condition, Method string
	Day                     float64
	Value, Step             float64
	Strip                   bool
}

// Drift is how one thing changed in one condition by one method (E6: no two methods are ever put on one line).
type Drift struct {
	What, Condition, Method string
	N                       int
	Known                   bool    // a slope stands
	Slope, Within           float64 // change in 30 days, and ± with 95 % certainty, never finer than the instrument
	Says                    string
	Short, Sum              string // the change as a figure, and how it came about in words and numbers
	Findings                []Finding
}

const driftSource = "least squares with Student's t; the ± is never finer than the instrument's step allows"

// DriftsOf works out the drift of each thing by condition and method, in order of their names. Fewer than three days say "too few".
func DriftsOf(readings []Aged) []Drift {
	type key struct{ what, condition, method string }
	groups := map[key][]Aged{}
	var keys []key
	for _, r := range readings {
		k := key{r.What, r.Condition, r.Method}
		if groups[k] == nil {
			keys = append(keys, k)
		}
		groups[k] = append(groups[k], r)
	}
	sort.Slice(keys, func(a, b int) bool {
		x, y := keys[a], keys[b]
		if x.what != y.what {
			return x.what < y.what
		}
		if x.condition != y.condition {
			return x.condition < y.condition
		}
		return x.method < y.method
	})
	methods := map[[2]string]int{}
	for _, k := range keys {
		methods[[2]string{k.what, k.condition}]++
	}
	out := make([]Drift, 0, len(keys))
	for _, k := range keys {
		d := driftOf(groups[k])
		if methods[[2]string{k.what, k.condition}] > 1 {
			d.Findings = append(d.Findings, Finding{Rule: "ageing", Level: Note, Says: "more than one method was used here; each stands by itself, since a strip and a meter do not give the same number", Figure: d.What + ", " + d.Condition, Source: driftSource, Do: "stay with one method"})
		}
		out = append(out, d)
	}
	return out
}

func driftOf(g []Aged) Drift {
	d := Drift{What: g[0].What, Condition: g[0].Condition, Method: g[0].Method, N: len(g)}
	days := map[float64]bool{}
	first, last, step := g[0], g[0], 0.0
	low, high := g[0].Value, g[0].Value
	for _, r := range g {
		days[r.Day] = true
		if r.Day < first.Day {
			first = r
		}
		if r.Day > last.Day {
			last = r
		}
		low, high, step = math.Min(low, r.Value), math.Max(high, r.Value), math.Max(step, r.Step)
	}
	switch {
	case g[0].Strip: // words, no slope
		step = math.Max(step, 0.2)
		d.Says = stepText(low, step)
		if high > low {
			d.Says += " to " + stepText(high, step)
		}
		d.Says += " by strip; "
		d.Short = "no slope"
		d.Sum = "by strip, " + pointsOf(g) + ": a strip shows colours " + stepText(step, step) + " apart, so no slope is drawn through them"
		if high-low <= step+tiny {
			d.Says += "no change that a strip can show"
		} else {
			d.Says += "it moved by more than one colour: measure it with a meter"
		}
		return d
	case len(days) < 3:
		d.Short = "too few"
		d.Sum = pointsOf(g) + ": a slope of fewer than three days would say more than they know"
		d.Says = "too few: " + strconv.Itoa(len(days)) + " of at least 3 days"
		d.Findings = []Finding{{Rule: "ageing", Level: Unchecked, Says: "not checked: the drift of " + d.What + "; readings of at least three days are missing", Figure: strconv.Itoa(len(days)), Limit: "3", Source: driftSource, Do: "measure again when it is due"}}
		return d
	}
	slope, within := slopeOf(g)
	// both ends may be off by half a step, so that a slope over this span cannot be known better
	floor := step / (last.Day - first.Day)
	d.Sum = pointsOf(g) + ": the straight line with the least squares changes by " + perDay(slope) + " a day, × 30 = " + stepText(slope*30, 0.01) +
		"; ± " + stepText(within*30, 0.01) + " with 95 % certainty (Student's t, " + strconv.Itoa(len(g)-2) + " degrees of freedom)"
	if floor > within {
		d.Sum += ", widened to ± " + stepText(floor*30, 0.01) + ", since the instrument shows steps of " + strconv.FormatFloat(step, 'f', -1, 64)
	}
	within = math.Max(within, floor)
	d.Known, d.Slope, d.Within = true, slope*30, within*30
	said := stepText(d.Slope, 0.01)
	if d.Slope > 0 {
		said = "+" + said
	}
	d.Short = said + " ± " + stepText(d.Within, 0.01)
	d.Says = said + " in 30 days, give or take " + stepText(d.Within, 0.01) + " (" + strconv.Itoa(d.N) + " readings)"
	if math.Abs(d.Slope) <= d.Within {
		d.Says += ": no drift that these readings can show"
	}
	return d
}

// pointsOf writes the readings in their order of days: "day 1: 5.42, day 7: 5.40".
func pointsOf(g []Aged) string {
	sorted := append([]Aged{}, g...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].Day < sorted[j].Day })
	out := make([]string, 0, len(g))
	for _, r := range sorted {
		out = append(out, "day "+strconv.FormatFloat(r.Day, 'f', -1, 64)+": "+strconv.FormatFloat(r.Value, 'f', -1, 64))
	}
	return strings.Join(out, ", ")
}

func perDay(v float64) string {
	return strings.Replace(strconv.FormatFloat(v, 'f', 5, 64), "-", "−", 1)
}

// slopeOf is the slope per day by least squares and its 95 % half width.
func slopeOf(g []Aged) (slope, within float64) {
	n := float64(len(g))
	x, y := 0.0, 0.0
	for _, r := range g {
		x, y = x+r.Day/n, y+r.Value/n
	}
	xx, xy := 0.0, 0.0
	for _, r := range g {
		xx, xy = xx+(r.Day-x)*(r.Day-x), xy+(r.Day-x)*(r.Value-y)
	}
	slope = xy / xx
	rest := 0.0
	for _, r := range g {
		e := r.Value - y - slope*(r.Day-x)
		rest += e * e
	}
	return slope, student95(len(g)-2) * math.Sqrt(rest/(n-2)/xx)
}

// student are the 0.975 quantiles of Student's t for 1 to 30 degrees of freedom.
var student = [...]float64{12.7062, 4.3027, 3.1824, 2.7764, 2.5706, 2.4469, 2.3646, 2.3060, 2.2622, 2.2281, 2.2010, 2.1788, 2.1604, 2.1448, 2.1314, 2.1199, 2.1098, 2.1009, 2.0930, 2.0860, 2.0796, 2.0739, 2.0687, 2.0639, 2.0595, 2.0555, 2.0518, 2.0484, 2.0452, 2.0423}

// student95 is the two-sided 95 % point; beyond 30 degrees of freedom the 30th stands, which is a little too wide and never too narrow.
func student95(free int) float64 {
	return student[min(max(free, 1), len(student))-1]
}

// stepText writes a float to the decimals of a step.
func stepText(v, step float64) string {
	places := 2
	if step >= 0.1 {
		places = 1
	}
	text := strconv.FormatFloat(v, 'f', places, 64)
	if text == "-0.00" || text == "-0.0" {
		return text[1:]
	}
	return strings.Replace(text, "-", "−", 1)
}

// looks are the days at which a product is looked at again (common practice): the next day, a week, a month, three, six and twelve months.
var looks = []struct {
	day  int
	says string
}{{1, "the next day"}, {7, "after a week"}, {30, "after a month"}, {91, "after three months"}, {182, "after six months"}, {365, "after a year"}}

// DueLook is the first look that no reading has served: from that day on, until the next look's day, any reading serves it. age is in days.
func DueLook(age int, readings []Aged) (says string, day int, overdue, ok bool) {
	for i, l := range looks {
		end := math.Inf(1)
		if i+1 < len(looks) {
			end = float64(looks[i+1].day)
		}
		served := float64(age) >= end // its time is over, and the next one stands for it
		for _, r := range readings {
			served = served || r.Day >= float64(l.day) && r.Day < end
		}
		if !served {
			return l.says, l.day, age > l.day, true
		}
	}
	return "", 0, false, false
}
