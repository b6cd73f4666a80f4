package calc

import (
	"math"

	"github.com/shopspring/decimal"
)

// The ruler runs from pH 3 to 10, in hundredths; every position on it is a share, 0 at pH 3 and 1 at pH 10.
const (
	rulerLow  = 300
	rulerHigh = 1000
)

// RulerBar is one line that cares about pH.
type RulerBar struct {
	Line string  `json:"line"` // "" for the skin
	Name string  `json:"name"`
	Why  string  `json:"why"` // surfactant, preservative, thickener, colour, ingredient or skin
	From float64 `json:"from"`
	To   float64 `json:"to"`
	Text string  `json:"text"`
	// BeyondLow and BeyondHigh tell that the bar goes on past the ruler's ends.
	BeyondLow  bool   `json:"beyondLow"`
	BeyondHigh bool   `json:"beyondHigh"`
	Source     string `json:"source"`
}

// RulerOverlap is where every bar has its say. Open is false when no pH suits all, and Says then names the two that clash.
type RulerOverlap struct {
	Open bool    `json:"open"`
	From float64 `json:"from"`
	To   float64 `json:"to"`
	Text string  `json:"text"`
	Says string  `json:"says"`
}

// RulerShare is how much of one acid preservative works at a pH; Part is the same as a share from 0 to 1, for drawing.
type RulerShare struct {
	Line   string  `json:"line"`
	Acid   string  `json:"acid"`
	Text   string  `json:"text"`
	Part   float64 `json:"part"`
	Active string  `json:"active"` // per cent of the product that works
	Says   string  `json:"says"`
}

// RulerPoint is one pH on the ruler and what it means there.
type RulerPoint struct {
	Text   string       `json:"text"`
	At     float64      `json:"at"`
	Inside bool         `json:"inside"` // of the overlap
	Shares []RulerShare `json:"shares"`
}

// RulerNotch is a measured reading. Off tells that it lies beyond the ruler's ends and stands at the nearer one.
type RulerNotch struct {
	Text   string  `json:"text"`
	Method string  `json:"method"`
	At     float64 `json:"at"`
	Off    bool    `json:"off"`
	Inside bool    `json:"inside"`
}

// PHReading is a measured pH in hundredths, and how it was measured.
type PHReading struct {
	PH     int
	Method string
}

// PHRuler is all that is drawn; the figures are written, the positions are shares of the ruler's length.
type PHRuler struct {
	Bars    []RulerBar   `json:"bars"`
	Overlap RulerOverlap `json:"overlap"`
	Cursor  RulerPoint   `json:"cursor"`
	Notches []RulerNotch `json:"notches"`
	// Ticks are the whole points, with their figures.
	Ticks []RulerNotch `json:"ticks"`
	// Stops are all tenths of a point, for a cursor that is drawn along.
	Stops []RulerPoint `json:"stops"`
	// Missing are the names of lines that should care and whose window is not known.
	Missing  []string  `json:"missing"`
	Findings []Finding `json:"findings"`
}

// PHRulerOf draws up the ruler of a formula, bases taken apart. Cursor is in hundredths; 0 takes the latest reading, else the middle of the
// overlap, else 5.5. The latest reading is judged against every bar.
func PHRulerOf(f Formula, k Known, cursor int, readings []PHReading) PHRuler {
	f.Lines = Total(f.Lines).Lines
	last := 0
	if len(readings) > 0 {
		last = readings[len(readings)-1].PH
	}
	e := gatherEvidence(&f, k, last)
	w := e.window()
	out := PHRuler{Bars: []RulerBar{}, Notches: []RulerNotch{}, Missing: append([]string{}, w.Missing...), Findings: orNone(append(ruleKeepingPH(e), ruleKeepingWindow(e)...))}
	for _, b := range w.Bars {
		out.Bars = append(out.Bars, RulerBar{b.Line, b.Name, b.Why, onRuler(b.Low), onRuler(b.High), showPH(b.Low) + " to " + showPH(b.High), b.Low < rulerLow, b.High > rulerHigh, b.Source})
	}
	out.Overlap = overlapOf(w)
	inside := func(pH int) bool { return out.Overlap.Open && w.Low <= pH && pH <= w.High }
	for _, r := range readings {
		out.Notches = append(out.Notches, RulerNotch{showPH(r.PH), r.Method, onRuler(r.PH), r.PH < rulerLow || r.PH > rulerHigh, inside(r.PH)})
	}
	switch {
	case cursor == 0 && last > 0:
		cursor = last
	case cursor == 0 && out.Overlap.Open:
		cursor = (w.Low + w.High) / 2
	case cursor == 0:
		cursor = 550
	}
	cursor = max(rulerLow, min(rulerHigh, cursor))
	acids := e.acidsIn()
	point := func(pH int) RulerPoint {
		p := RulerPoint{showPH(pH), onRuler(pH), inside(pH), []RulerShare{}}
		for _, a := range acids {
			p.Shares = append(p.Shares, a.at(pH))
		}
		return p
	}
	out.Cursor = point(cursor)
	for pH := rulerLow; pH <= rulerHigh; pH += 10 {
		out.Stops = append(out.Stops, point(pH))
		if pH%100 == 0 {
			out.Ticks = append(out.Ticks, RulerNotch{Text: showPH(pH)[:len(showPH(pH))-2], At: onRuler(pH), Inside: inside(pH)})
		}
	}
	return out
}

// onRuler is a position, 0 to 1, to four decimals; what is beyond an end stands at it.
func onRuler(pH int) float64 {
	pH = max(rulerLow, min(rulerHigh, pH))
	return math.Round(float64(pH-rulerLow)*10_000/(rulerHigh-rulerLow)) / 10_000
}

func overlapOf(w PHWindow) RulerOverlap {
	switch {
	case len(w.Bars) == 0:
		return RulerOverlap{Says: "No line here says at which pH it keeps."}
	case w.Empty():
		low, high := w.Bars[w.Lowest], w.Bars[w.Highest]
		return RulerOverlap{Text: "none", Says: "No pH suits all: " + low.Name + " wants at most " + showPH(low.High) + ", " + high.Name + " at least " + showPH(high.Low) + "."}
	}
	text := showPH(w.Low) + " to " + showPH(w.High)
	if w.Low == w.High {
		return RulerOverlap{true, onRuler(w.Low), onRuler(w.High), showPH(w.Low), "Only pH " + showPH(w.Low) + " itself suits all that is known here: there is no room to miss it."}
	}
	return RulerOverlap{true, onRuler(w.Low), onRuler(w.High), text, "All that is known here keeps from pH " + text + "."}
}

// acidIn is an acid that keeps the product, and how much of it there is in per cent as acid.
type acidIn struct {
	line    string
	acid    *acid
	percent decimal.Decimal
}

// acidsIn sums the preservatives that work only undissociated, as acid, each acid once.
func (e *evidence) acidsIn() []acidIn {
	var out []acidIn
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		s, form := e.k.Substances[p.Key], findForm(p.Key)
		if s == nil || s.Keeping != "preservative" || form == nil || p.Percent.IsZero() || findAcid(form.acid).pKa == 0 {
			continue
		}
		at := -1
		for j := range out {
			if out[j].acid.name == form.acid {
				at = j
			}
		}
		if at < 0 {
			at = len(out)
			out = append(out, acidIn{line: first(p), acid: findAcid(form.acid)})
		}
		out[at].percent = out[at].percent.Add(AsAcid(p.Key, p.Percent))
	}
	return out
}

func (a acidIn) at(pH int) RulerShare {
	share := Undissociated(float64(pH)/100, a.acid.pKa)
	active := a.percent.Mul(share).Shift(-2)
	out := RulerShare{Line: a.line, Acid: a.acid.name, Text: share.StringFixed(1) + " %", Active: active.StringFixed(3) + " %"}
	out.Part = share.Shift(-2).InexactFloat64()
	out.Says = "at pH " + showPH(pH) + ", " + out.Text + " of the " + a.acid.name + " works, which is " + out.Active + " of the product"
	return out
}
