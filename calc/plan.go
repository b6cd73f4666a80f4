package calc

import (
	"strconv"
	"strings"
)

// ReadPlan reads how much is to be made: jars, fill in grams (or with its unit), loss in per cent below 100 (none when empty), and the
// readability of the scale in grams (0.1 when empty).
func ReadPlan(p Plan) (PlanRead, *FieldError) {
	var out PlanRead
	var err *FieldError
	if out.Jars, err = ReadCount(p.Jars); err != nil {
		return PlanRead{}, err.under("jars")
	}
	if out.Fill, err = ReadGrams(p.Fill); err != nil {
		return PlanRead{}, err.under("fill")
	}
	if strings.TrimSpace(p.Loss) != "" {
		if out.Loss, err = ReadPercent(p.Loss); err != nil {
			return PlanRead{}, err.under("loss")
		}
		if out.Loss > 90*OnePercent {
			return PlanRead{}, &FieldError{Field: "loss", Says: "a loss of " + out.Loss.String() + " % leaves next to nothing", Want: "write at most 90"}
		}
	}
	out.Step = Gram / 10
	if strings.TrimSpace(p.Step) != "" {
		if out.Step, err = ReadStep(p.Step); err != nil {
			return PlanRead{}, err.under("step")
		}
	}
	out.Batch = BatchMass(out.Jars, out.Fill, out.Loss, out.Step)
	if out.Batch > heaviest {
		return PlanRead{}, &FieldError{Field: "jars", Says: "that is more than a tonne", Want: "make fewer jars at once"}
	}
	if out.Batch == 0 {
		return PlanRead{}, &FieldError{Field: "fill", Says: "that is less than the scale can show", Want: "make more, or take a finer scale"}
	}
	return out, nil
}

// ReadStep reads the readability of a scale in grams, from 0.001 to 1000.
func ReadStep(text string) (Mass, *FieldError) {
	step, err := ReadGrams(text)
	if err != nil {
		return 0, err
	}
	if step > Kilogram {
		return 0, &FieldError{Says: "no scale here reads in steps of " + step.String() + " g", Want: "write 0.1 or 0.01"}
	}
	return step, nil
}

// show writes the mass of the batch and its sum: "24 × 120 ÷ (1 − 4 ÷ 100) = 3,000.0".
func (p PlanRead) show() Figure {
	sum := strconv.Itoa(p.Jars) + " × " + p.Fill.On(Gram) + " g"
	if p.Fill%Gram != 0 {
		sum = strconv.Itoa(p.Jars) + " × " + p.Fill.String() + " g"
	}
	if p.Loss > 0 {
		sum += " ÷ (1 − " + plain(p.Loss) + " ÷ 100)"
	}
	return Figure{Text: p.Batch.On(p.Step) + " g", Sum: sum + " = " + p.Batch.On(p.Step) + " g, on your scale"}
}

// words says the plan in a sentence; the mass of the batch ends it.
func (Plan) words(p PlanRead, b Bench) string {
	jars := " jars of "
	if p.Jars == 1 {
		jars = " jar of "
	}
	out := strconv.Itoa(p.Jars) + jars + strings.TrimSuffix(p.Fill.String(), ".0") + " g" + b.Beside(p.Fill)
	if p.Loss > 0 {
		out += ", " + plain(p.Loss) + " % loss"
	}
	return out + ": " + p.Batch.On(p.Step) + " g" + b.Beside(p.Batch)
}
