package calc

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"stillroom/calc/matter"
)

// SheetOf is all that follows from a draft, at every keystroke: sums, grams, layers and findings. It never refuses: what cannot be read is
// said beside its line, and the rest is worked out.
func SheetOf(d Draft, k Known) Sheet {
	f, trouble, wrong := readDraft(&d, k)
	t := Total(f.Lines)
	f.Lines = t.Lines
	s := Sheet{Lines: make([]SheetLine, len(f.Lines)), Layers: layers(&f), Gap: t.GapSays(), Over: t.Gap < 0}
	plan, planErr := ReadPlan(d.Plan)
	asked := d.Plan != Plan{} && (d.Plan.Jars != "" || d.Plan.Fill != "")
	grams, batch, weighing := gramsOf(&f, k, t, plan, planErr)
	for i := range f.Lines {
		s.Lines[i] = sheetLine(&f.Lines[i], k, t, d.Lines[i].Percent, trouble[i])
		if planErr == nil && trouble[i] == "" {
			s.Lines[i].Grams = ShowPercentOf(f.Lines[i].Percent, batch, grams[i], plan.Step)
			if oz := k.Bench.Beside(grams[i]); oz != "" {
				s.Lines[i].Grams.Sum += "," + oz
			}
			w := weigh(&WeighLine{Percent: f.Lines[i].Percent, Mass: grams[i]}, batch, plan.Step)
			if w.Plus.GreaterThanOrEqual(quietest) {
				s.Lines[i].Grams.Sum += ", " + w.Quiet
			}
		}
	}
	s.Total = Figure{t.Sum.String() + " %", sumOf(&f, t)}
	switch {
	case planErr == nil:
		s.Mass = plan.show()
		s.PlanSays = d.Plan.words(plan, k.Bench)
		s.Mass.Text += k.Bench.Beside(plan.Batch)
	case asked:
		s.PlanSays = planErr.Error()
	}
	findings := started(&d, t.Findings)
	findings = append(findings, wrong...)
	judged := judge(&f, k, 0, weighed{batch, plan.Step, grams})
	findings = append(findings, judged...)
	findings = append(findings, weighing...)
	findings = append(findings, overScale(&f, k.Bench, grams)...)
	s.Findings = Margin(findings)
	for _, x := range findings {
		if x.Level == Unchecked {
			s.UncheckedCount++
		}
	}
	s.Because = whyNotSaved(&d, t, trouble, wrong, judged)
	s.CanSave = s.Because == ""
	switch {
	case !s.CanSave:
	case planErr != nil && asked:
		s.Because = planErr.Error()
	case planErr != nil:
		s.Because = "say how many jars, and how much goes into each"
	default:
		s.CanMake = true
	}
	return s
}

// quietest is the relative error in per cent from which the ± is shown at all: it is written to a tenth.
var quietest = decimal.New(1, -1)

// started leaves out what is only not written yet: an empty sheet is not a fault, nor is a line in which nothing stands. Neither can be saved.
func started(d *Draft, found []Finding) []Finding {
	blank := map[string]bool{}
	for _, l := range d.Lines {
		if l.Ingredient == "" && l.Base == "" && strings.TrimSpace(l.Percent) == "" && !l.QS {
			blank[l.ID] = true
		}
	}
	var out []Finding
	for _, f := range found {
		if len(blank) < len(d.Lines) && (f.Rule != "nameless" || !blank[f.Subject]) {
			out = append(out, f)
		}
	}
	return out
}

func whyNotSaved(d *Draft, t Totals, trouble []string, wrong, judged []Finding) string {
	if len(d.Lines) == 0 {
		return "there is no line yet"
	}
	for i, says := range trouble {
		if says != "" {
			return "line " + strconv.Itoa(i+1) + ": " + says
		}
	}
	if len(wrong) > 0 {
		return wrong[0].Says
	}
	if len(t.Findings) > 0 {
		return t.Findings[0].Says
	}
	for _, f := range judged {
		if f.Rule == "base" {
			return f.Says
		}
	}
	if strings.TrimSpace(d.Name) == "" {
		return "it has no name yet"
	}
	return ""
}

// gramsOf gives each line's grams: shared out exactly when the formula is full, otherwise each by itself so that a half-written formula
// already shows what its lines weigh. Findings tell of lines that the scale cannot show.
func gramsOf(f *Formula, k Known, t Totals, plan PlanRead, planErr *FieldError) ([]Mass, Mass, []Finding) {
	if planErr != nil {
		return nil, 0, nil
	}
	grams := make([]Mass, len(f.Lines))
	if t.Full() {
		if scaled, err := Scale(ScaleLines(*f, k), plan.Batch, plan.Step); err == nil {
			for i := range scaled.Lines {
				grams[i] = scaled.Lines[i].Mass
			}
			return grams, scaled.Batch, scaled.Findings
		}
	}
	for i, l := range f.Lines {
		if l.Percent > 0 && l.Percent <= Hundred {
			unit := int64(Hundred) * int64(plan.Step)
			grams[i] = Mass(roundDiv(int64(l.Percent)*int64(plan.Batch), unit)) * plan.Step
		}
	}
	return grams, plan.Batch, nil
}

func sheetLine(l *Line, k Known, t Totals, typed, trouble string) SheetLine {
	s := SheetLine{ID: l.ID, Name: k.name(*l), Trouble: trouble}
	if trouble != "" && l.Percent == 0 {
		return s
	}
	s.Percent.Text = l.Percent.String() + " %"
	if l.QS {
		s.Percent.Sum = "q.s., what is left: 100 − " + plain(t.Sum-l.Percent) + " = " + plain(l.Percent)
	} else {
		s.Percent.Sum = "as written: " + strings.TrimSpace(typed)
	}
	return s
}

// sumOf writes the addition out, as on paper.
func sumOf(f *Formula, t Totals) string {
	var b strings.Builder
	for i, l := range f.Lines {
		if i > 0 {
			b.WriteString(" + ")
		}
		b.WriteString(plain(l.Percent))
	}
	b.WriteString(" = ")
	b.WriteString(plain(t.Sum))
	return b.String()
}

func plain(p Percent) string { return matter.Decimals(int64(p), 4, 0) }

// layers adds the lines up by phase, in the order of the phases, then of first appearance.
func layers(f *Formula) []Layer {
	sums := map[string]Percent{}
	order := make([]string, 0, len(f.Phases))
	for _, p := range f.Phases {
		if _, seen := sums[p.Letter]; !seen {
			sums[p.Letter] = 0
			order = append(order, p.Letter)
		}
	}
	for _, l := range f.Lines {
		if _, seen := sums[l.Phase]; !seen {
			order = append(order, l.Phase)
		}
		sums[l.Phase] += l.Percent
	}
	out := make([]Layer, 0, len(order))
	for _, letter := range order {
		terms := make([]string, 0, len(f.Lines))
		for _, l := range f.Lines {
			if l.Phase == letter {
				terms = append(terms, plain(l.Percent))
			}
		}
		percent := sums[letter].String() + " %"
		out = append(out, Layer{Phase: letter, Share: float64(sums[letter]) / float64(Hundred), Percent: percent, Sum: "the lines of phase " + letter + ": " + strings.Join(terms, " + ") + " = " + percent})
	}
	return out
}

// Layers gives the layers of a formula's jar.
func Layers(f Formula) []Layer {
	f.Lines = Total(f.Lines).Lines
	return layers(&f)
}

// ShowPercentOf shows the sum of a line: "11.00 % of 2,084.2 g: 11 ÷ 100 × 2,084.2 = 229.262, on your scale 229.3".
// batch is at most a tonne; onScale is what Scale gave.
func ShowPercentOf(p Percent, batch, onScale, step Mass) Figure {
	whole := batch.On(step)
	exact := int64(p) * int64(batch) // 10⁻⁹ g
	sum := p.String() + " % of " + whole + " g: " + plain(p) + " ÷ 100 × " + whole + " = " + matter.Decimals(exact, 9, 0) + ", on your scale " + onScale.On(step)
	if step > 0 && exact >= 0 {
		if nearest := Mass(roundDiv(exact, int64(Hundred)*int64(step))) * step; nearest != onScale {
			sum += ", so that the grams sum to the batch and no maximum is passed"
		}
	}
	return Figure{Text: onScale.On(step) + " g", Sum: sum}
}
