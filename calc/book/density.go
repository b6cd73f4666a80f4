package book

import (
	"strings"

	"stillroom/calc"
)

// Stages of a density: air is told by the first two, what fits a jar by the last that is not the first.
const (
	stageBefore  = "before whipping"
	stageWhipped = "whipped"
	stageGrit    = "with grit"
)

// cupArgs are a density as typed, or a cup weighed empty and full, with the volume that it holds.
type cupArgs struct {
	Batch  string `json:"batch"`
	Stage  string `json:"stage"`
	Value  string `json:"value"`
	Full   string `json:"full"`
	Empty  string `json:"empty"`
	Volume string `json:"volume"`
}

// reading is the row that the arguments mean.
func (a *cupArgs) reading() (*BatchRead, *Refusal) {
	if a.Stage != "" && !oneOf(a.Stage, stageBefore, stageWhipped, stageGrit) {
		return nil, refuse("word unknown", "stage", "“"+a.Stage+"” is not a stage of a density", "choose "+strings.Join([]string{stageBefore, stageWhipped, stageGrit}, ", "))
	}
	b := &BatchRead{Batch: a.Batch, What: "density", Stage: a.Stage}
	if typed := strings.TrimSpace(a.Value); typed != "" {
		v, e := calc.ReadDensity(typed)
		if e != nil {
			return nil, misread(e, "value")
		}
		b.Value, b.Text = v, typed
		return b, nil
	}
	full, e := calc.ReadGrams(a.Full)
	if e != nil {
		return nil, misread(e, "full")
	}
	empty, e := calc.ReadGrams(a.Empty)
	if e != nil {
		return nil, misread(e, "empty")
	}
	volume, e := calc.ReadVolume(a.Volume)
	if e != nil {
		return nil, misread(e, "volume")
	}
	if b.Value, e = calc.CupDensity(full, empty, volume); e != nil {
		return nil, misread(e, "full")
	}
	b.Full, b.Empty, b.Volume, b.Method = int64(full), int64(empty), volume, "cup"
	return b, nil
}

// measureDensity writes down a density: what fits a jar and how much air is in it are reckoned from it.
func (s *State) measureDensity(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[cupArgs](args)
	if no != nil {
		return nil, nil, no
	}
	if s.batches.get(a.Batch) == nil {
		return nil, nil, noBatch()
	}
	b, no := a.reading()
	if no != nil {
		return nil, nil, no
	}
	return s.one(ctx, KindBatchRead, b)
}

// density is the last density read in a batch after whipping, in mg/mL, 0 when none was.
func (b *batch) density() int64 {
	out := int64(0)
	b.stands(func(_ *row, body visitable) {
		if r, ok := body.(*BatchRead); ok && r.What == "density" && r.Stage != stageBefore {
			out = r.Value
		}
	})
	return out
}

// overrun is how much air whipping put in, "" unless both densities are known and no grit is in the second.
func (b *batch) overrun(r *BatchRead) Figure {
	before := int64(0)
	b.stands(func(_ *row, body visitable) {
		if x, ok := body.(*BatchRead); ok && x.What == "density" && x.Stage == stageBefore {
			before = x.Value
		}
	})
	if before == 0 || r == nil || r.Stage != stageWhipped {
		return Figure{}
	}
	y := calc.YieldOf(calc.BatchMade{MgPerML: r.Value, MgPerMLBefore: before})
	return Figure{Text: y.Says, Sum: "(" + fixed(before, 3, 2) + " − " + fixed(r.Value, 3, 2) + ") ÷ " + fixed(r.Value, 3, 2) + " × 100 = " + y.Overrun.StringFixed(1) + " % of air on the volume before whipping"}
}

// densityDetail says how a density was taken.
func densityDetail(m *making, b *BatchRead) string {
	cup := ""
	if b.Volume > 0 {
		cup = cupSays(b)
	}
	return join(b.Stage, cup, m.b.overrun(b).Text)
}

func cupSays(b *BatchRead) string {
	return "cup of " + plain(b.Volume, 3) + " mL, " + onGrid(b.Full, 100) + " g full, " + onGrid(b.Empty, 100) + " g empty"
}

// Cup is the view cup: a density as it is being typed, and what is known of it from before.
type Cup struct {
	// Empty and Volume are those of the cup that was used last in this book, ready to be taken again.
	Empty   string `json:"empty"`
	Volume  string `json:"volume"`
	Density Figure `json:"density"`
	Overrun Figure `json:"overrun"`
	Last    string `json:"last"`
	Fits    string `json:"fits"`
}

func (s *State) viewCup(args []byte) (any, *Refusal) {
	a, no := arguments[cupArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	m := s.making(a.Batch)
	if m == nil {
		return nil, unseenBatch("batch")
	}
	v := Cup{Last: s.lastTime(m).density[a.Stage]}
	s.batches.each(func(_ string, b *batch) bool {
		b.stands(func(_ *row, body visitable) {
			if r, ok := body.(*BatchRead); ok && r.What == "density" && r.Volume > 0 {
				v.Empty, v.Volume = plain(r.Empty, 3), plain(r.Volume, 3)
			}
		})
		return true
	})
	b, no := a.reading()
	if no != nil {
		return v, nil // half typed: nothing to show yet
	}
	v.Density = Figure{Text: fixed(b.Value, 3, 2) + " g/mL", Sum: "typed as " + fixed(b.Value, 3, 2) + " g/mL"}
	if b.Volume > 0 {
		v.Density.Sum = "(" + onGrid(b.Full, 100) + " − " + onGrid(b.Empty, 100) + ") g ÷ " + plain(b.Volume, 3) + " mL = " + fixed(b.Value, 3, 2) + " g/mL"
	}
	v.Overrun = m.b.overrun(b)
	if key := m.b.body.Container; key != "" && b.Stage != stageBefore {
		v.Fits, _ = s.fitAt(m.b.body.Plan.Fill, b.Value, key)
	}
	return v, nil
}
