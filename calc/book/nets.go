package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

// netArgs are one filled jar on the scale: what it weighs, and what it weighs empty; "" for a scale that was set to nothing
// under the empty jar.
type netArgs struct {
	Batch  string `json:"batch"`
	Jar    string `json:"jar"` // its number, "" for the next that was not weighed
	Full   string `json:"full"`
	Empty  string `json:"empty"`
	System string `json:"system"` // average, minimum or US; "" for that of the region
}

// Nets is the view nets: the filled jars that were weighed, against what their label says.
type Nets struct {
	Says    string    `json:"says"`
	Next    string    `json:"next"` // number of the jar to weigh, "" when all were
	Of      string    `json:"of"`   // "24 jars of 120 g"
	Empty   string    `json:"empty"`
	Typed   string    `json:"typed"` // the net mass as it is being typed
	Weighed []NetJar  `json:"weighed"`
	System  string    `json:"system"`
	Systems []NetRule `json:"systems"` // none where there is no choice
	// Findings say what failed, by number, and what to do.
	Findings []Note `json:"findings"`
}

// NetJar is one jar that was weighed.
type NetJar struct {
	Number string `json:"number"`
	Net    string `json:"net"`
	Short  bool   `json:"short"` // less than the label says
}

// NetRule is a system that may be chosen.
type NetRule struct {
	Value string `json:"value"`
	Text  string `json:"text"`
}

// nets are the net masses of a batch by the number of the jar, in mg; a jar that was weighed again counts as it is now.
func (m *making) nets() (numbers []int, masses []calc.Mass) {
	m.b.stands(func(_ *row, body visitable) {
		r, ok := body.(*BatchRead)
		if !ok || r.What != "net" {
			return
		}
		at, found := slices.BinarySearch(numbers, int(r.Jar))
		if !found {
			numbers, masses = slices.Insert(numbers, at, int(r.Jar)), slices.Insert(masses, at, 0)
		}
		masses[at] = calc.Mass(r.Value)
	})
	return numbers, masses
}

// filledJars is how many jars there are, as filled or else as planned, and what the label of each says, in mg.
func (m *making) filledJars() (jars int, net int64, word string) {
	if f := m.b.filling(); f != nil {
		return int(f.Jars), f.Net, f.Word
	}
	return int(m.b.body.Plan.Jars), m.b.body.Plan.Fill, ""
}

// nextJar is the first number that was not weighed, 0 when all were.
func (m *making) nextJar() int {
	numbers, _ := m.nets()
	jars, _, _ := m.filledJars()
	for n := 1; n <= jars; n++ {
		if !slices.Contains(numbers, n) {
			return n
		}
	}
	return 0
}

// readNet reads one jar as typed.
func (s *State) readNet(m *making, a netArgs) (*BatchRead, *Refusal) {
	b := &BatchRead{Batch: a.Batch, What: "net", Text: strings.TrimSpace(a.Full)}
	jars, net, word := m.filledJars()
	number := m.nextJar()
	if strings.TrimSpace(a.Jar) != "" {
		n, e := calc.ReadCount(a.Jar)
		if e != nil {
			return nil, misread(e, "jar")
		}
		number = n
	}
	switch filled := m.b.fill.Seq != 0; {
	case number == 0:
		return nil, refuse("all weighed", "jar", "all "+pieces(int64(jars), word)+" were weighed", "choose one of them to weigh it again")
	case filled && number > jars:
		return nil, refuse("jar unknown", "jar", "there are "+pieces(int64(jars), word)+", and none with the number "+plain(int64(number), 0), "choose a number up to "+plain(int64(jars), 0))
	}
	b.Jar = int64(number)
	full, no := readWeighing(a.Full, 0, "full")
	if no != nil {
		return nil, no
	}
	b.Value = full
	if strings.TrimSpace(a.Empty) != "" {
		empty, no := readWeighing(a.Empty, 0, "empty")
		if no != nil {
			return nil, no
		}
		if full <= empty {
			return nil, refuse("upside down", "full", "the full jar weighs no more than the empty one", "look which figure is which; leave the empty one out if the scale was set to nothing under it")
		}
		b.Value, b.Full, b.Empty = full-empty, full, empty
	}
	if net > 0 && b.Value > 3*net {
		return nil, refuse("too heavy", "full", grams(b.Value, 100)+" is more than three times the "+grams(net, 1000)+" of the label", "look at the decimal point, and say what the empty jar weighs")
	}
	return b, nil
}

// weighNet writes down what one filled jar holds. It may be written after the filling too, and each is optional.
func (s *State) weighNet(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[netArgs](args)
	if no != nil {
		return nil, nil, no
	}
	m := s.making(a.Batch)
	switch {
	case m == nil:
		return nil, nil, noBatch()
	case m.b.state == Discarded:
		return nil, nil, refuse("discarded", "batch", "batch "+m.b.body.Code+" was discarded", "start a new batch")
	}
	b, no := s.readNet(m, a)
	if no != nil {
		return nil, nil, no
	}
	return s.one(ctx, KindBatchRead, b)
}

// netSystem is by which rules the fill of a region is judged, and which others its maker may choose.
func (s *State) netSystem(asked string) (system string, choices []NetRule) {
	choices = []NetRule{}
	switch w := s.workshop(); w.labelRegion() {
	case "US":
		return "US", choices
	case "UK":
		choices = append(choices, NetRule{"average", "average"}, NetRule{"minimum", "no jar below its label"})
		if asked == "minimum" {
			return asked, choices
		}
	}
	return "average", choices
}

// judgedNets judges what was weighed; the error says why nothing can be said.
func (s *State) judgedNets(m *making, system string) (calc.FillChecked, *calc.FieldError) {
	numbers, masses := m.nets()
	jars, net, _ := m.filledJars()
	got, e := calc.FillCheck(calc.FillAsk{Nominal: calc.Mass(net), Jars: masses, Numbers: numbers, Batch: max(jars, len(masses)), System: system, Step: calc.Mass(m.b.body.Plan.Step)})
	if e == nil && strings.EqualFold(s.workshop().Region, "elsewhere") {
		got.Findings = append(got.Findings, calc.Finding{Rule: "fill", Level: calc.Unchecked, Says: "not checked: the rule of your region; it is not in this book's tables, and the average system of the EU and UK stands in its place",
			Source: "this book's own rule", Do: "ask the office of weights and measures of your region"})
	}
	return got, e
}

// fillFindings are what the record says of jars that were weighed, nothing when none was.
func (s *State) fillFindings(m *making) []calc.Finding {
	if numbers, _ := m.nets(); len(numbers) < 2 {
		return nil
	}
	system, _ := s.netSystem("")
	got, e := s.judgedNets(m, system)
	if e != nil {
		return nil
	}
	return got.Findings
}

func (s *State) viewNets(args []byte) (any, *Refusal) {
	a, no := arguments[netArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	m := s.making(a.Batch)
	if m == nil {
		return nil, unseenBatch("batch")
	}
	jars, net, word := m.filledJars()
	v := Nets{Weighed: []NetJar{}, Findings: []Note{}, Of: pieces(int64(jars), word) + " of " + s.mass(net, 1000)}
	v.System, v.Systems = s.netSystem(a.System)
	if n := m.nextJar(); n > 0 {
		v.Next = plain(int64(n), 0)
	}
	if c := s.containers.get(m.b.body.Container); c != nil {
		v.Empty = blankZero(c.body.Tare, 3)
	}
	numbers, masses := m.nets()
	for i, n := range numbers {
		v.Weighed = append(v.Weighed, NetJar{plain(int64(n), 0), grams(int64(masses[i]), m.b.body.Plan.Step), int64(masses[i]) < net})
	}
	if a.Full != "" {
		if b, no := s.readNet(m, a); no == nil {
			v.Typed = grams(b.Value, m.b.body.Plan.Step)
		}
	}
	if len(numbers) < 2 {
		v.Says = "Weigh some or all, in a row; fewer than 100 are judged all together. Leave the empty jar out where the scale was set to 0 under it."
		return v, nil
	}
	got, e := s.judgedNets(m, v.System)
	if e != nil {
		v.Says = sentence(e.Says) + " " + sentence(e.Want)
		return v, nil
	}
	v.Says = got.Says
	if len(got.Findings) > 0 {
		v.Findings = calc.Margin(got.Findings)
	}
	return v, nil
}
