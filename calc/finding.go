package calc

// Level says how much a finding weighs.
type Level string

// The levels, from "do not make or sell it like this" to "could not be checked".
const (
	Stop      Level = "stop"
	Care      Level = "care"
	Note      Level = "note"
	Wear      Level = "wear"
	Unchecked Level = "unchecked"
)

// Finding is what a check says, with its figure, the limit that it was held against and where that limit comes from.
type Finding struct {
	Rule  string `json:"rule"`
	Level Level  `json:"level"`
	// Subject is the id of the line that it stands beside, "" for the whole formula.
	Subject string `json:"subject"`
	// Phase is the letter of the phase, "" when it is not about one.
	Phase  string `json:"phase"`
	Says   string `json:"says"`
	Figure string `json:"figure"`
	Limit  string `json:"limit"`
	Source string `json:"source"`
	Do     string `json:"do"`
	// Date is from when what it was held against is: the table of law, the list that a figure comes from, a certificate, an own entry.
	// "" where nothing of that kind was used.
	Date string `json:"date"`
}

// MarginNote is a Finding in the words of the screen, where the subject is called line.
type MarginNote struct {
	Rule   string `json:"rule"`
	Level  Level  `json:"level"`
	Line   string `json:"line"`
	Phase  string `json:"phase"`
	Says   string `json:"says"`
	Figure string `json:"figure"`
	Limit  string `json:"limit"`
	Source string `json:"source"`
	Do     string `json:"do"`
	Date   string `json:"date"`
}

// Margin puts findings into the words of the screen, in the same order, each with a date. It never answers nil, so that JSON shows a list.
func Margin(findings []Finding) []MarginNote {
	out := make([]MarginNote, 0, len(findings))
	for _, f := range findings {
		date := f.Date
		if date == "" && f.Source != "" {
			date = rulesDate
		}
		out = append(out, MarginNote{f.Rule, f.Level, f.Subject, f.Phase, f.Says, f.Figure, f.Limit, f.Source, f.Do, date})
	}
	return out
}
