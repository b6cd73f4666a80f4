package book

import (
	"math"
	"slices"
	"strconv"

	"stillroom/calc"
)

// AgeingView is the view ageing: how the retained sample of a batch changes, and what is to be read next.
type AgeingView struct {
	Row BatchRow `json:"row"`
	Age string   `json:"age"`
	// Next is what to read next and when, "" when no look is left; Due tells that its day has come.
	Next string `json:"next"`
	Due  bool   `json:"due"`
	// Kept says how many are kept back; From is the place that one can still be kept back from, "" when one is or none is left.
	Kept       string      `json:"kept"`
	From       string      `json:"from"`
	Word       string      `json:"word"`
	CanWrite   bool        `json:"canWrite"`
	Conditions []Choice    `json:"conditions"`
	Asks       []AgedAsk   `json:"asks"`
	Charts     []AgedChart `json:"charts"`
	Said       []AgedSaid  `json:"said"`
	Rows       []RowView   `json:"rows"`
	// Says is what was taken for granted, "" when nothing was.
	Says     string     `json:"says"`
	Findings []Note     `json:"findings"`
	Others   []BatchRow `json:"others"`
}

// AgedChart is one thing over time, every condition and method a series of its own. Positions are shares of the picture.
type AgedChart struct {
	What   string       `json:"what"`
	Unit   string       `json:"unit"`
	Days   []AgedTick   `json:"days"`
	Values []AgedTick   `json:"values"`
	Series []AgedSeries `json:"series"`
}

// AgedTick is a mark on an edge of the picture.
type AgedTick struct {
	At   float64 `json:"at"`
	Text string  `json:"text"`
}

// AgedSeries is what was read in one condition by one method, and how it drifts.
type AgedSeries struct {
	// Condition is room, warm, cool or window: which mark its points have.
	Condition string      `json:"condition"`
	Name      string      `json:"name"`
	Drift     Figure      `json:"drift"`
	Says      string      `json:"says"`
	Points    []AgedPoint `json:"points"`
}

// AgedPoint is one reading.
type AgedPoint struct {
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Text string  `json:"text"`
}

// AgedSaid is what eye, nose and hand said on one day.
type AgedSaid struct {
	When string `json:"when"`
	Says string `json:"says"`
}

func (s *State) viewAgeing(ctx Context, args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	m := s.making(a.Key)
	if m == nil {
		return nil, unseenBatch("key")
	}
	v := AgeingView{Row: s.batchRow(ctx, m.b, s.listing()), Conditions: []Choice{}, Asks: s.agedAsks(m), Charts: []AgedChart{}, Said: []AgedSaid{}, Rows: []RowView{},
		Word: s.wordOf(m.b), CanWrite: m.b.fill.Seq != 0 && m.b.state != Discarded, Findings: []Note{}, Others: []BatchRow{}}
	if v.Word == "" {
		v.Word = "jar"
	}
	for i, name := range conditionNames(conditions, m.known.Bench) {
		v.Conditions = append(v.Conditions, Choice{conditions[i], name})
	}
	if m.b.fill.Seq == 0 {
		v.Next = "not filled yet: its age counts from the filling"
		return v, nil
	}
	today := dayOf(ctx.Now, ctx.Zone)
	w := m.watched(today, ctx.Zone)
	v.Age = counted(w.age, "day", "days") + " old"
	if w.age == 0 {
		v.Age = "filled today"
	}
	if d, ok := w.due(); ok && v.CanWrite {
		v.Due = d.now(w.age)
		v.Next = m.nextSays(d, w)
	}
	s.sampleStands(&v, a.Key)
	figures, presumed := m.agedOf(ctx.Zone)
	if presumed {
		v.Says = "Looks and readings of the record that name no place stand as room."
	}
	v.Charts, v.Findings = m.agedCharts(figures)
	for i := range m.b.rows {
		r := &m.b.rows[i]
		if r.kind == KindBatchAged {
			v.Rows = append(v.Rows, s.rowView(ctx, m, r))
		}
	}
	slices.Reverse(v.Rows)
	v.Said = m.agedSaid()
	v.Others = s.agedOthers(ctx, m)
	return v, nil
}

// nextSays is what to read next, in words.
func (m *making) nextSays(d dueLook, w watch) string {
	where := ""
	if len(d.where) > 1 || d.where[0] != "room" {
		where = ", " + listed(conditionNames(d.where, m.known.Bench))
	}
	on := showDay(dayAfter(m.b.filling().Day, d.day))
	switch {
	case w.age > d.day:
		return "Read it " + d.says + where + ": due since " + on + "."
	case w.age == d.day:
		return "Read it " + d.says + where + ": that is today."
	}
	return "Next reading " + d.says + where + ": " + on + "."
}

// sampleStands says what is kept back of a batch, and where one could still be kept back from.
func (s *State) sampleStands(v *AgeingView, batch string) {
	x := s.shelfStock()
	if n := x.keptBack()[batch]; n > 0 {
		v.Kept = pieces(n, v.Word) + " kept back"
		return
	}
	for _, k := range x.order {
		if k.batch == batch && x.hand.get(k).N > 0 && !outOfHand(k.place) {
			v.From = k.place
			return
		}
	}
}

// agedCharts draws each thing that was measured, and fits each series for its drift.
func (m *making) agedCharts(all []aged) ([]AgedChart, []Note) {
	out, findings := []AgedChart{}, []calc.Finding{}
	for _, what := range []struct{ name, unit string }{{"pH", ""}, {"mass", "g"}, {"density", "g/mL"}} {
		var of []aged
		for _, a := range all {
			if a.what == what.name {
				of = append(of, a)
			}
		}
		if len(of) == 0 {
			continue
		}
		c := AgedChart{What: what.name, Unit: what.unit, Series: []AgedSeries{}}
		var readings []calc.Aged
		last, low, high := 7, of[0].value, of[0].value
		for _, a := range of {
			last, low, high = max(last, a.day), min(low, a.value), max(high, a.value)
			readings = append(readings, a.forCalc())
		}
		c.Days = dayTicks(last)
		low, high, c.Values = valueTicks(low, high)
		for _, condition := range conditions {
			for _, d := range calc.DriftsOf(readings) {
				if d.Condition != condition {
					continue
				}
				series := AgedSeries{Condition: condition, Name: conditionName(condition, m.known.Bench) + ", " + d.Method, Drift: Figure{Text: d.Short, Sum: d.Sum}, Says: driftSays(d), Points: []AgedPoint{}}
				for _, a := range of {
					if a.condition == condition && a.method == d.Method {
						series.Points = append(series.Points, AgedPoint{share01(int64(a.day), 0, int64(last)), share01(a.value, low, high), "day " + strconv.Itoa(a.day) + ": " + fixed(a.value, 3, 1)})
					}
				}
				c.Series = append(c.Series, series)
				for _, f := range d.Findings {
					// "too few" stands beside the series already.
					if f.Level != calc.Unchecked {
						f.Figure = d.What + ", " + conditionName(condition, m.known.Bench)
						findings = append(findings, f)
					}
				}
			}
		}
		out = append(out, c)
	}
	return out, calc.Margin(findings[:min(len(findings), 1)]) // said once, it holds for all
}

// driftSays is a drift in words, its figure left out since that stands beside it.
func driftSays(d calc.Drift) string {
	if !d.Known {
		return d.Says
	}
	of := "in 30 days, from " + strconv.Itoa(d.N) + " readings: "
	switch {
	case math.Abs(d.Slope) <= d.Within:
		return of + "no drift that they can show"
	case d.Slope < 0:
		return of + "it falls"
	}
	return of + "it rises"
}

func share01(v, low, high int64) float64 {
	if high == low {
		return 0.5
	}
	return float64(v-low) / float64(high-low)
}

// dayTicks are the marks of time: the filling, and the days of the looks that have room beside each other.
func dayTicks(last int) []AgedTick {
	out := []AgedTick{{0, "filled"}}
	for _, day := range []int{7, 30, 91, 182, 365, 730, 1095} {
		at := share01(int64(day), 0, int64(last))
		if at > 1 {
			break
		}
		for len(out) > 1 && at-out[len(out)-1].At < 0.16 {
			out = out[:len(out)-1]
		}
		if at >= 0.2 {
			out = append(out, AgedTick{at, "day " + strconv.Itoa(day)})
		}
	}
	return out
}

// valueTicks are at most five round values that hold all readings between them, in thousandths; low and high are the ends.
func valueTicks(low, high int64) (int64, int64, []AgedTick) {
	step := int64(20)
	for n := 0; (high-low)/step >= 4; n++ { // 20, 50, 100, 200 and on, however far a slip of the finger lies from the rest
		if step *= 2; n%3 == 0 {
			step += step / 4
		}
	}
	if low -= low % step; low < 0 {
		low -= step
	}
	if high%step != 0 || high == low {
		high += step - high%step
	}
	var out []AgedTick
	for v := low; v <= high; v += step {
		out = append(out, AgedTick{share01(v, low, high), fixed(v, 3, 1)})
	}
	return low, high, out
}

// agedSaid are the words and notes of looks and readings, the newest first.
func (m *making) agedSaid() []AgedSaid {
	out := []AgedSaid{}
	m.b.stands(func(_ *row, body visitable) {
		switch b := body.(type) {
		case *BatchAged:
			only := BatchAged{Words: b.Words, Note: b.Note}
			if says := only.says(); says != "" {
				out = append(out, AgedSaid{"day " + strconv.Itoa(m.age(b.Day)) + ", " + conditionName(b.Condition, m.known.Bench), says})
			}
		case *BatchLooked:
			only := *b
			only.PH = 0
			if says := lookSays(&only); says != "" {
				out = append(out, AgedSaid{"day " + strconv.Itoa(m.age(b.Day)) + ", room", says})
			}
		}
	})
	slices.Reverse(out)
	return out
}
