package calc

// LineBeside is one line before and after, side by side.
type LineBeside struct {
	Line          string `json:"line"`
	Before        string `json:"before"`
	BeforePercent string `json:"beforePercent"`
	After         string `json:"after"`
	AfterPercent  string `json:"afterPercent"`
	Changed       bool   `json:"changed"`
}

// FigureBeside is one figure of the whole formula before and after.
type FigureBeside struct {
	What   string `json:"what"`
	Before string `json:"before"`
	After  string `json:"after"`
	// BeforeSum and AfterSum say how the two came about, "" where a figure is not known.
	BeforeSum string `json:"beforeSum"`
	AfterSum  string `json:"afterSum"`
}

// LinesBeside sets the lines of two formulas side by side; both have the same lines in the same order, as Swap and Aim leave them.
func LinesBeside(before, after Formula, k Known) []LineBeside {
	out := []LineBeside{}
	for i := range before.Lines {
		a, b := before.Lines[i], after.Lines[i]
		out = append(out, LineBeside{a.ID, k.name(a), a.Percent.String(), k.name(b), b.Percent.String(), a.Percent != b.Percent || a.Ingredient != b.Ingredient})
	}
	return out
}

// FiguresBeside are the figures of the whole that a maker compares: active matter, water, everything oily, the HLB of the emulsifiers where there are
// some with a figure, and the pH at which every line keeps.
func FiguresBeside(before, after Formula, k Known) []FigureBeside {
	a, b := gatherEvidence(&before, k, 0), gatherEvidence(&after, k, 0)
	activeA, _ := a.active()
	activeB, _ := b.active()
	var out []FigureBeside
	add := func(name, what, was, is string) {
		t := Target{What: what}
		out = append(out, FigureBeside{name, was, is, t.Sum(before, k, nil, was), t.Sum(after, k, nil, is)})
	}
	add("active matter, %", "active matter", show(activeA), show(activeB))
	add("water, %", "water", show(a.waterIn()), show(b.waterIn()))
	add("oils and what is solid in them, %", "oil", show(a.emulsion().Oily), show(b.emulsion().Oily))
	hlb := func(f *Formula) string {
		if h, known := aimFigure(f, k, Target{What: "hlb"}, nil); known {
			return h.Round(1).String()
		}
		return "none"
	}
	if was, is := hlb(&before), hlb(&after); was != "none" || is != "none" {
		add("HLB of the emulsifiers", "hlb", was, is)
	}
	window := func(e *evidence) string {
		o := overlapOf(e.window())
		if o.Text == "" {
			return "not known"
		}
		return o.Text
	}
	return append(out, FigureBeside{"pH at which every line keeps", window(a), window(b), sumOfWindow(a.window()), sumOfWindow(b.window())})
}

// FindingsBeside are the findings that only the second list has, and those that only the first had. One that stands beside the same line under the same
// rule and level is the same, whatever its figure.
func FindingsBeside(before, after []Finding) (come, gone []Finding) {
	in := func(f *Finding, list []Finding) bool {
		for i := range list {
			if list[i].Rule == f.Rule && list[i].Level == f.Level && list[i].Subject == f.Subject {
				return true
			}
		}
		return false
	}
	for i := range after {
		if !in(&after[i], before) {
			come = append(come, after[i])
		}
	}
	for i := range before {
		if !in(&before[i], after) {
			gone = append(gone, before[i])
		}
	}
	return come, gone
}
