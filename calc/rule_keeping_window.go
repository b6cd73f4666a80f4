package calc

// ruleKeepingWindow (E3, E4): what every line keeps at must overlap; the two that clash are named. Overlapping values as supplied prove
// nothing, so only windows in which a line keeps are held against one another. The skin's bar never makes more than a note.
func ruleKeepingWindow(e *evidence) []Finding {
	w := e.window()
	var out []Finding
	for _, b := range w.Bars {
		if e.pH == 0 || e.pH >= b.Low && e.pH <= b.High {
			continue
		}
		f := Finding{Rule: "keeping-window", Level: Care, Subject: b.Line, Phase: e.phaseOf(b.Line), Says: b.Name + " does not keep or work at this pH",
			Figure: "pH " + showPH(e.pH), Limit: "pH " + showPH(b.Low) + " to " + showPH(b.High), Source: b.Source, Date: b.Date, Do: "adjust, and measure again"}
		if b.Why == "skin" {
			f.Level, f.Says = Note, "this is not a usual pH for skin"
		}
		out = append(out, f)
	}
	switch {
	case w.Empty():
		low, high := w.Bars[w.Lowest], w.Bars[w.Highest]
		f := Finding{Rule: "keeping-window", Level: Care, Subject: low.Line, Phase: e.phaseOf(low.Line),
			Says:   "no pH suits both: " + low.Name + " wants at most " + showPH(low.High) + ", " + high.Name + " at least " + showPH(high.Low),
			Figure: "no overlap", Limit: "pH " + showPH(high.Low) + " and above; " + showPH(low.High) + " and below", Source: low.Source + "; " + high.Source, Date: both(low.Date, high.Date), Do: "exchange one of the two"}
		if low.Why == "skin" || high.Why == "skin" {
			f.Level, f.Do = Note, "look whether that is meant"
			if f.Subject == "" {
				f.Subject, f.Phase = high.Line, e.phaseOf(high.Line)
			}
		}
		out = append(out, f)
	case len(w.Bars) > 0 && e.pH == 0 && len(ruleKeepingPH(e)) == 0: // an acid that waits for its pH has said so already
		low, high := w.Bars[w.Lowest], w.Bars[w.Highest]
		f := Finding{Rule: "keeping-window", Level: Unchecked, Says: "not checked: the pH of the product is missing. All its lines last from pH " + showPH(w.Low) + " to " + showPH(w.High),
			Figure: "not measured", Limit: "pH " + showPH(w.Low) + " to " + showPH(w.High), Source: low.Source + "; " + high.Source, Date: both(low.Date, high.Date), Do: "measure it in the finished product"}
		if len(w.Missing) > 0 {
			f.Says += "; not known of " + list(w.Missing)
		}
		out = append(out, f)
	}
	return out
}
