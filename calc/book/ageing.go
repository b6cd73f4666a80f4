package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

// conditions are where a retained sample stands, in the order in which they are shown.
var conditions = []string{"room", "warm", "cool", "window"}

// warmth is what "warm" stands for: the oven of the ageing tests, common practice.
var warmth = calc.Degrees{MilliC: 40000, Unit: "C", Text: "40 °C"}

func conditionName(condition string, in calc.Bench) string {
	if condition == "warm" {
		d := warmth
		d.Both = in.Fahrenheit
		return d.Show()
	}
	return condition
}

func conditionNames(of []string, in calc.Bench) []string {
	var out []string
	for _, c := range of {
		out = append(out, conditionName(c, in))
	}
	return out
}

// AgedAsk is one thing that eye, nose or hand can tell of a sample, with its words. All are said beside how it was when it
// was filled.
type AgedAsk struct {
	Of    string   `json:"of"`
	Words []string `json:"words"`
	of    string   // which products have it, "" for all
}

// agedWords is the maker's vocabulary by kind of product (common practice).
var agedWords = []AgedAsk{
	{"firmness", []string{"softer", "same", "firmer", "hard"}, ""},
	{"fluff", []string{"less", "same", "more"}, "air"},
	{"spread", []string{"stiffer", "same", "easier"}, ""},
	{"grit", []string{"sharp", "softer", "gone"}, "grit"},
	{"lather", []string{"less", "same", "more"}, "foam"},
	{"after-feel", []string{"drier", "same", "greasier"}, ""},
	{"held together", []string{"yes", "oil on top", "water out"}, "oil and water"},
	{"surface", []string{"level", "sunk", "risen", "wet"}, ""},
	{"colour", []string{"paler", "same", "deeper", "brown"}, ""},
	{"scent", []string{"same", "fainter", "off"}, ""},
}

// agedAsks are the words that this product has.
func (s *State) agedAsks(m *making) []AgedAsk {
	has := map[string]bool{"": true}
	for _, ask := range s.lookAsks(m) {
		has[map[string]string{"fluff": "air", "grit": "grit"}[ask]] = true
	}
	for _, l := range m.f.Lines {
		if i := s.ingredient(l.Ingredient); i != nil {
			has["foam"] = has["foam"] || slices.Contains(i.Functions, "surfactant")
		}
	}
	switch calc.EmulsionOf(m.f, m.known).Branch {
	case "complete wax", "hlb", "solubiliser", "co-emulsifier", "none":
		has["oil and water"] = true
	}
	var out []AgedAsk
	for _, a := range agedWords {
		if has[a.of] {
			out = append(out, a)
		}
	}
	return out
}

// says is a reading in words, "" when nothing was said.
func (b *BatchAged) says() string {
	var out []string
	if b.PHText != "" {
		out = append(out, "pH "+fixed(b.PH, 3, 1))
	}
	if b.Mass > 0 {
		out = append(out, grams(b.Mass, b.MassStep))
	}
	if b.Density > 0 {
		out = append(out, fixed(b.Density, 3, 2)+" g/mL")
	}
	for _, w := range b.Words {
		out = append(out, w.Of+" "+w.Word)
	}
	if b.Note != "" {
		out = append(out, b.Note)
	}
	return strings.Join(out, ", ")
}

// how says how a reading's pH was taken.
func (b *BatchAged) how() string {
	if b.PHText == "" {
		return ""
	}
	return phMethod(&BatchRead{Method: b.Method, Dilution: b.Dilution, Step: b.Step, SampleText: b.SampleText})
}

// age is the days between the filling and a day.
func (m *making) age(day int64) int {
	if f := m.b.filling(); f != nil {
		return max(daysBetween(f.Day, day), 0)
	}
	return 0
}

// aged is one figure of a sample with its place in time. Value is in thousandths of its unit.
type aged struct {
	what, condition, method string
	day                     int
	value, step             int64
	strip                   bool
}

// agedOf gathers the figures that a batch's record holds of its ageing. Looks and readings of pH after the filling, which say
// no condition, stand as room: they are of a jar at home. presumed tells that there are such.
func (m *making) agedOf(zone int) (out []aged, presumed bool) {
	filled := false
	add := func(a aged) {
		if a.method == "" {
			a.method = "how not said"
		}
		out = append(out, a)
	}
	m.b.stands(func(r *row, body visitable) {
		switch b := body.(type) {
		case *BatchFilled:
			filled = true
		case *BatchAged:
			day := m.age(b.Day)
			if b.PHText != "" {
				add(aged{"pH", b.Condition, phKept(b.Method, b.Dilution), day, b.PH, readBy(b.Step, b.PHText, 10), b.Method == "strip"})
			}
			if b.Mass > 0 {
				add(aged{"mass", b.Condition, "scale", day, b.Mass, readBy(b.MassStep, b.MassText, 1), false})
			}
			if b.Density > 0 {
				add(aged{"density", b.Condition, "cup", day, b.Density, readBy(0, b.DensityText, 1), false})
			}
		case *BatchLooked:
			if b.PH > 0 {
				presumed = true
				add(aged{"pH", "room", phKept(b.Method, b.Dilution), m.age(b.Day), b.PH, readBy(0, plain(b.PH, 3), 10), b.Method == "strip"})
			}
		case *BatchRead:
			if b.What == "ph" && filled {
				presumed = true
				add(aged{"pH", "room", phKept(b.Method, b.Dilution), m.age(dayOf(r.from.at, zone)), b.Value, readBy(b.Step, b.Text, 10), b.Method == "strip"})
			}
		}
	})
	return out, presumed
}

// phKept is how a pH was read as far as two readings must have it alike to stand on one line.
func phKept(method string, dilution int64) string {
	switch {
	case method == "":
		return ""
	case dilution > 0:
		return method + ", " + plain(dilution, 4) + " % in distilled water"
	}
	return method + ", neat"
}

// readBy is the step of an instrument in thousandths: as said, else as finely as the figure was written, never below least.
func readBy(said int64, text string, least int64) int64 {
	if said > 0 {
		return said
	}
	step := int64(1000)
	if i := strings.IndexAny(text, ".,"); i >= 0 {
		for _, c := range text[i+1:] {
			if c < '0' || c > '9' {
				break
			}
			step /= 10
		}
	}
	return max(step, least)
}

// forCalc is a figure as calc reads it.
func (a aged) forCalc() calc.Aged {
	return calc.Aged{What: a.what, Condition: a.condition, Method: a.method, Day: float64(a.day), Value: float64(a.value) / 1000, Step: float64(a.step) / 1000, Strip: a.strip}
}

// watch is a batch whose sample is watched: when it was looked at, by condition.
type watch struct {
	age   int
	looks map[string][]calc.Aged
}

// watched gathers the days on which a sample was read, whatever was read of it.
func (m *making) watched(today int64, zone int) watch {
	w := watch{age: m.age(today), looks: map[string][]calc.Aged{}}
	filled := false
	m.b.stands(func(r *row, body visitable) {
		day, condition := int64(0), "room"
		switch b := body.(type) {
		case *BatchFilled:
			filled = true
		case *BatchAged:
			day, condition = b.Day, b.Condition
		case *BatchLooked:
			day = b.Day
		case *BatchRead:
			if b.What == "ph" && filled {
				day = dayOf(r.from.at, zone)
			}
		}
		if day > 0 {
			w.looks[condition] = append(w.looks[condition], calc.Aged{Day: float64(m.age(day))})
		}
	})
	return w
}

// dueLook is what is to be read next of a sample, and in which conditions.
type dueLook struct {
	says  string // the next day, after a week …
	day   int    // days of age
	where []string
}

// due is the earliest look that is not served yet, over the conditions that this sample is read in; ok is false when none is left.
func (w watch) due() (d dueLook, ok bool) {
	in := conditions
	if len(w.looks) == 0 {
		in = []string{"room"}
	}
	for _, c := range in {
		looks, used := w.looks[c]
		if !used && len(w.looks) > 0 {
			continue
		}
		says, day, _, left := calc.DueLook(w.age, looks)
		switch {
		case !left:
		case !ok || day < d.day:
			d, ok = dueLook{says, day, []string{c}}, true
		case day == d.day:
			d.where = append(d.where, c)
		}
	}
	return d, ok
}

// now tells whether a look's day has come.
func (d dueLook) now(age int) bool { return age >= d.day }

// keptBack is how many jars of each batch stand where samples are kept.
func (x *shelfStock) keptBack() map[string]int64 {
	out := map[string]int64{}
	for _, k := range x.order {
		if k.place == "kept back" {
			out[k.batch] += max(int64(x.hand.get(k).N), 0)
		}
	}
	return out
}

// isWatched tells whether a batch's sample is read at all: a jar is kept back, or a reading was written.
func (b *batch) isWatched(kept int64) bool {
	if b.fill.Seq == 0 || b.state == Discarded {
		return false
	}
	return kept > 0 || slices.ContainsFunc(b.rows, func(r row) bool { return r.kind == KindBatchAged && !r.struck && r.clash == "" })
}

// samplesDue are the samples to be read now, those that have waited longest first.
func (s *State) samplesDue(ctx Context) []AttendRow {
	today, kept, l := dayOf(ctx.Now, ctx.Zone), s.shelfStock().keptBack(), s.listing()
	type waits struct {
		AttendRow
		days int
	}
	var found []waits
	s.batches.each(func(k string, b *batch) bool {
		if !b.isWatched(kept[k]) {
			return true
		}
		m := &making{b: b}
		w := m.watched(today, ctx.Zone)
		d, ok := w.due()
		// The look of the next day is Today's own row while the batch rests.
		if !ok || !d.now(w.age) || d.day <= 1 && b.state == Resting {
			return true
		}
		row := s.batchRow(ctx, b, l)
		says := "batch " + row.Code + ", " + counted(w.age, "day", "days") + " old"
		if len(d.where) > 1 || d.where[0] != "room" {
			says += ": " + listed(conditionNames(d.where, s.known(nil).Bench))
		}
		found = append(found, waits{AttendRow{Title: row.Name, Value: d.says, Says: says, To: "ageing", Key: k}, w.age - d.day})
		return true
	})
	slices.SortStableFunc(found, func(a, b waits) int { return b.days - a.days })
	var out []AttendRow
	for _, f := range found {
		out = append(out, f.AttendRow)
	}
	return out
}
