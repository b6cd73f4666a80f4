package calc

import "strings"

// ruleMelts: a fat or wax must melt whole in its phase. The range follows the grade (E1): what is sold as stearic acid is usually half palmitic
// and sets at 53 to 59 °C, not at 69. A phase without a temperature is not judged yet.
func ruleMelts(e *evidence) []Finding {
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil || ing.Melts == nil || l.Percent == 0 {
			continue
		}
		t := e.f.treatment(l.Phase)
		hot := t.Do == "heat" || t.Do == "melt"
		f := Finding{Rule: "melts", Level: Care, Subject: l.ID, Phase: l.Phase, Limit: "sets between " + Celsius(ing.Melts.LowMilliC) + " and " + Celsius(ing.Melts.HighMilliC), Source: ing.Melts.Cite.String(), Date: ing.Melts.Dated()}
		if ing.Grade != "" && !strings.Contains(ing.Name, "grade") {
			f.Limit += ", grade " + ing.Grade
		}
		switch {
		case hot && t.Degrees != nil && t.Degrees.MilliC < ing.Melts.LowMilliC:
			f.Says, f.Figure, f.Do = ing.Name+" does not melt at this temperature", t.Degrees.Show(), "heat the phase to "+Celsius(ing.Melts.HighMilliC+5000)+" or more, until no grain is left"
		case hot && t.Degrees != nil && t.Degrees.MilliC < ing.Melts.HighMilliC:
			f.Says, f.Figure, f.Do = ing.Name+" may not melt whole at this temperature", t.Degrees.Show(), "heat the phase to "+Celsius(ing.Melts.HighMilliC+5000)+" or more, until no grain is left"
		case !hot && t.Do != "" && ing.Melts.LowMilliC >= 45_000 && (t.Degrees == nil || t.Degrees.MilliC < ing.Melts.LowMilliC):
			f.Says, f.Figure, f.Do = ing.Name+" is hard at room temperature and goes in without melting", "phase "+l.Phase+": "+t.Do, "move it to a phase that is heated"
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}
