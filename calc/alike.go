package calc

import (
	"math"
	"sort"
	"strconv"
)

// Variant is one of two that are compared: what was in it by line, and how it was kept and tested.
type Variant struct {
	Name                   string
	Lines                  map[string]string // line → what and how much
	Day                    int
	Condition, Method      string
	Preferred, Indifferent int // testers who took this one, and (on either) who found no difference
}

// SameAge tells whether readings of two days of age may stand beside each other: at most a tenth of the age apart, and a day at the least (this book's
// own rule, adjustable: what sets and fades does most of it in its first days).
func SameAge(a, b int) bool {
	apart := max(a, b) - min(a, b)
	return apart <= max(1, max(a, b)/10)
}

// LikeWithLike says what speaks against comparing two variants (G17): more than one line differs, or they are not of one age, condition and method.
func LikeWithLike(a, b Variant) (findings []Finding) {
	var differ []string
	for line := range a.Lines {
		if a.Lines[line] != b.Lines[line] {
			differ = append(differ, line)
		}
	}
	for line := range b.Lines {
		if _, there := a.Lines[line]; !there {
			differ = append(differ, line)
		}
	}
	sort.Strings(differ)
	care := func(says, figure, do string) {
		findings = append(findings, Finding{Rule: "compare", Level: Care, Says: says, Figure: figure, Source: "this book's own rule: compare only like with like", Do: do})
	}
	if len(differ) > 1 {
		number := strconv.Itoa(len(differ))
		if len(differ) == 2 {
			number = "two"
		}
		care(number+" things differ, so nobody can say which of them made the difference", list(differ), "change one line at a time")
	}
	if !SameAge(a.Day, b.Day) {
		care("they are not of the same age", strconv.Itoa(a.Day)+" and "+strconv.Itoa(b.Day)+" days", "compare them at the same age")
	}
	if a.Condition != b.Condition {
		care("they were not kept alike", a.Condition+" and "+b.Condition, "compare what stood side by side")
	}
	if a.Method != b.Method {
		care("they were not tested alike", a.Method+" and "+b.Method, "use one method for both")
	}
	return findings
}

// CompareBlind says whether two variants may be compared, and whether the testers found a difference that chance does not explain: an exact sign
// test, two-sided, at 5 %.
func CompareBlind(a, b Variant) (says string, p float64, findings []Finding) {
	findings = LikeWithLike(a, b)
	n := a.Preferred + b.Preferred
	if n == 0 {
		return "no tester took either of them", 1, findings
	}
	p = signTest(min(a.Preferred, b.Preferred), n)
	winner := a.Name
	if b.Preferred > a.Preferred {
		winner = b.Name
	}
	if p >= 0.05 {
		return "no difference seen: " + strconv.Itoa(a.Preferred) + " to " + strconv.Itoa(b.Preferred) + " may be chance", p, findings
	}
	return winner + " was taken more often than chance explains: " + strconv.Itoa(a.Preferred) + " to " + strconv.Itoa(b.Preferred), p, findings
}

// signTest is how likely so few or fewer of n are by chance, on either side.
func signTest(few, n int) float64 {
	sum, term := 0.0, math.Pow(0.5, float64(n))
	for i := 0; i <= few; i++ {
		sum += term
		term = term * float64(n-i) / float64(i+1)
	}
	return math.Min(1, 2*sum)
}
