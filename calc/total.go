package calc

import "strconv"

// Totals is the sum of a formula's lines.
type Totals struct {
	Lines    []Line  // as given, with the q.s. line's percent filled in
	Sum      Percent // of all lines, the q.s. line included
	Gap      Percent // 100 − Sum: positive is air under the rim, negative stands over it
	QS       string  // id of the q.s. line, "" for none
	Findings []Finding
}

// Full tells whether the lines fill the jar exactly and nothing about the sum speaks against it.
func (t Totals) Full() bool { return t.Gap == 0 && len(t.Findings) == 0 }

// GapSays is the gap in words: "3.20 % of air under the rim", "1.40 % over the rim", or "" when the jar is exactly full.
func (t Totals) GapSays() string {
	switch {
	case t.Gap > 0:
		return t.Gap.String() + " % of air under the rim"
	case t.Gap < 0:
		return (-t.Gap).String() + " % over the rim"
	}
	return ""
}

const ownRule = "this book's own rule: a formula sums to exactly 100 % by weight"

// Total sums lines to 0.0001 % and fills in the q.s. line with what is left. Two q.s. lines, a q.s. line that would be below nothing,
// and a line that names nothing are each a stop.
func Total(lines []Line) Totals {
	t := Totals{Lines: append([]Line(nil), lines...)}
	qs := -1
	for i, l := range lines {
		where := "line " + strconv.Itoa(i+1)
		if l.Ingredient == "" && l.Base == "" {
			t.stop("nameless", l, where+" names no ingredient and no base", l.Percent.String()+" %", "choose one, or take the line out")
		}
		switch {
		case l.QS && qs >= 0:
			t.stop("two-qs", l, "two lines are q.s. (what is left to 100 %), so what is left cannot be shared out", "lines "+strconv.Itoa(qs+1)+" and "+strconv.Itoa(i+1), "leave one line q.s. and give the other a figure")
		case l.QS:
			qs, t.QS = i, l.ID
		case l.Percent < 0:
			t.stop("below-nothing", l, where+" is below nothing", l.Percent.String()+" %", "write 0 or more")
			t.Sum += l.Percent
		case l.Percent > Hundred:
			t.stop("above-full", l, where+" alone is more than a full jar", l.Percent.String()+" %", "write at most 100")
			t.Sum += min(l.Percent, 1000*Hundred)
		default:
			t.Sum += l.Percent
		}
	}
	if qs >= 0 {
		left := Hundred - t.Sum
		if left < 0 {
			t.stop("negative-qs", lines[qs], "the other lines leave less than nothing for the q.s. line", left.String()+" %", "take "+(-left).String()+" % out of the other lines")
			left = 0
		}
		t.Lines[qs].Percent = left
		t.Sum += left
	}
	t.Gap = Hundred - t.Sum
	if t.Gap != 0 && (qs < 0 || t.Gap > 0) {
		do := "add " + t.Gap.String() + " %, or make one line q.s."
		if t.Gap < 0 {
			do = "take " + (-t.Gap).String() + " % out"
		}
		t.Findings = append(t.Findings, Finding{Rule: "sum", Level: Stop, Says: "the lines do not fill the jar exactly: " + t.GapSays(),
			Figure: t.Sum.String() + " %", Limit: "100.00 %", Source: ownRule, Do: do})
	}
	return t
}

func (t *Totals) stop(rule string, l Line, says, figure, do string) {
	t.Findings = append(t.Findings, Finding{Rule: rule, Level: Stop, Subject: l.ID, Phase: l.Phase, Says: says, Figure: figure, Source: ownRule, Do: do})
}
