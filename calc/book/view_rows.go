package book

import (
	"strconv"
	"strings"

	"stillroom/calc"
)

// rows shows a batch's record in its order. A correction stands behind what it struck, where it was written.
func (s *State) rows(ctx Context, m *making) []RowView {
	out := []RowView{}
	for i := range m.b.rows {
		out = append(out, s.rowView(ctx, m, &m.b.rows[i]))
	}
	return out
}

func (s *State) rowView(ctx Context, m *making, r *row) RowView {
	v := RowView{Entry: r.from.ref.String(), At: showTime(r.from.at, ctx.Zone), By: s.by(ctx, r.from), Struck: r.struck,
		Reason: r.reason, Now: r.now.String(), Where: s.where(Workshop, r.from.ref), Clash: r.clash}
	body, err := open(r.kind, r.v, r.body)
	if err != nil {
		v.What, v.Title, v.Value = "note", "A row that this program cannot read", ""
		v.Detail = "it is kept, and shows after an update"
		return v
	}
	switch b := body.(type) {
	case *BatchWeighed:
		s.weighedRow(&v, m, b)
	case *BatchRead:
		readRow(&v, m, b)
	case *BatchTreated:
		v.What, v.Title, v.Value = "note", phaseTitle(b.Phase, doWord(b.Do)), "done"
		v.Detail = b.Says
		if b.Do == combine {
			v.Title = "Pots combined"
		}
		if b.Do == coolingChanged {
			v.Title, v.Value, v.Detail = phaseTitle(b.Phase, "cooling changed"), b.Says, ""
		}
	case *BatchWore:
		v.What, v.Title, v.Value, v.Detail = "note", "Protective equipment is on", "", b.Says
	case *BatchNoted:
		v.What, v.Title, v.Value = "note", "Note", b.Text
		if t := wayTitles[b.Way]; t != "" {
			v.Title = t
		}
		if b.Way == wayTrial {
			s.trialRow(&v, b)
		}
	case *PhotoKept:
		v.What, v.Title, v.Detail = "photo", photoStages[b.Stage], b.Text
	case *BatchFilled:
		v.What, v.Title, v.Value = "filled", "Filled", pieces(b.Jars, b.Word)
		v.Detail = join("to "+s.placeName(b.Place), b.Note)
	case *BatchLooked:
		v.What, v.Title, v.Value = "looked", "Looked at", lookSays(b)
	case *BatchAged:
		v.What, v.Title = "aged", "Day "+strconv.Itoa(m.age(b.Day))+", "+conditionName(b.Condition, m.known.Bench)
		v.Value, v.Detail = b.says(), b.how()
	case *BatchState:
		v.What, v.Title, v.Value = "state", upper(b.State), b.Reason
		if b.State == Released {
			v.Value, v.Detail = "by "+b.By, b.Looked
			if b.ForSale {
				v.Detail = join("for sale: "+b.Reason, v.Detail)
			}
		} else if b.By != "" {
			v.Detail = "by " + b.By
		}
	}
	if r.of.Seq != 0 {
		v.Detail = join(v.Detail, "in place of the row above: "+r.reason)
		v.Reason = ""
	}
	return v
}

func (s *State) weighedRow(v *RowView, m *making, b *BatchWeighed) {
	v.What = "weighed"
	if l := m.line(b.Line); l != nil {
		v.Title = s.lineName(l.Ingredient, l.Base)
	} else {
		v.Title = s.lineName(b.Ingredient, "")
	}
	v.Value = s.mass(b.Mass, m.b.body.Plan.Step)
	if b.Mass < 0 {
		v.Title, v.Value = v.Title+wentHow(b.Why), "−"+s.mass(-b.Mass, m.b.body.Plan.Step)
		v.Detail = b.Why
		return
	}
	lot := "no lot said"
	if b.Lot != "" {
		lot = "lot " + s.lotCode(b.Lot)
	}
	how := ""
	if b.AsPlanned {
		how = "the scale read as planned"
	}
	more := ""
	if b.More {
		more = "more to come"
	}
	beside := ""
	if b.Line == "" {
		beside = "not in the formula"
	}
	v.Detail = join(lot, how, more, beside, b.Why)
}

// wentHow says how something left the pot.
func wentHow(why string) string {
	for _, w := range []string{whySteam, whyBehind} {
		if strings.HasPrefix(why, w) {
			return ", " + w
		}
	}
	return ", taken out"
}

func (s *State) lotCode(key string) string {
	if l := s.lots.get(key); l != nil {
		return l.body.Code
	}
	return key
}

func readRow(v *RowView, m *making, b *BatchRead) {
	switch b.What {
	case "temperature":
		v.What, v.Title = "temperature", phaseTitle(b.Phase, "temperature")
		v.Value = degrees(b, m.known.Bench)
	case "ph":
		v.What, v.Title, v.Value = "ph", "pH", fixed(b.Value, 3, 1)
		v.Detail = phMethod(b)
	case "density":
		v.What, v.Title, v.Value = "density", "Density", fixed(b.Value, 3, 2)+" g/mL"
		v.Detail = densityDetail(m, b)
	case "net":
		v.What, v.Title, v.Value = "net", "Jar "+plain(b.Jar, 0)+", net", grams(b.Value, m.b.body.Plan.Step)
		if b.Empty > 0 {
			v.Detail = grams(b.Full, m.b.body.Plan.Step) + " full, " + grams(b.Empty, m.b.body.Plan.Step) + " empty"
		}
	default:
		v.What, v.Title, v.Value = "note", upper(b.What), b.Text
	}
}

// phMethod says how a pH was read: a strip on a paste and a meter in water are different numbers.
func phMethod(b *BatchRead) string {
	how, step, sample := "neat", "", ""
	if b.Dilution > 0 {
		how = plain(b.Dilution, 4) + " % in distilled water"
	}
	if b.Step > 0 {
		step = "in steps of " + plain(b.Step, 3)
	}
	if b.SampleText != "" {
		sample = "at " + b.SampleText
	}
	return join(how, b.Method, step, sample)
}

// degrees writes a temperature as it was entered, with the other unit beside where it was not, or not hers.
func degrees(b *BatchRead, in calc.Bench) string {
	return calc.Degrees{MilliC: b.Value, Unit: b.Unit, Text: b.Text, Both: in.Fahrenheit}.Show()
}

func phaseTitle(phase, what string) string {
	if phase == "" {
		return upper(what)
	}
	return "Phase " + phase + ", " + what
}

func doWord(do string) string {
	if do == "" {
		return "treat"
	}
	return do
}

func join(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, "; ")
}

// looks are the rows of a batch that were looks on the next day, those that were corrected struck among them.
func (s *State) looks(ctx Context, m *making) []RowView {
	out := []RowView{}
	for i := range m.b.rows {
		if r := &m.b.rows[i]; r.kind == KindBatchLooked {
			out = append(out, s.rowView(ctx, m, r))
		}
	}
	return out
}
