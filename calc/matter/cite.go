package matter

// Cite says where a figure comes from and how it was come by.
// Marks: R read in the source, R~ read at second hand, M from memory (M+ very sure, M? check it), C computed from a stated rule,
// T made up to exercise a rule, CP common practice (no published source), own a rule of this program.
type Cite struct {
	Source string `json:"source"`
	Mark   string `json:"mark"`
	// Date is the day of an own entry or of a supplier's document, as a person reads it; "" for the given list, whose day is ListDate.
	Date string `json:"date,omitempty"`
}

// ListDate is the day on which the figures of the given list were last gone through.
const ListDate = "25 Nov 2026"

// Dated says from when a figure is: "own entry, 12 Nov 2026", "given list, as of 25 Nov 2026"; "" where nothing is known of it.
func (c Cite) Dated() string {
	switch {
	case c.Date != "":
		return c.Date
	case c.Mark != "":
		return "given list, as of " + ListDate
	}
	return ""
}

// String is the source as a person should read it, with the honesty that its mark asks for.
func (c Cite) String() string {
	said := ""
	switch {
	case c.Mark == "CP":
		said = "common practice"
	case c.Mark == "own":
		said = "this book's own rule"
	case c.Mark == "R~":
		said = "read at second hand"
	case c.Mark == "C":
		said = "computed"
	case c.Mark != "" && c.Mark[0] == 'M':
		said = "from memory"
	}
	switch {
	case c.Source == "":
		return said
	case said == "" || c.Source == said:
		return c.Source
	}
	return c.Source + " (" + said + ")"
}
