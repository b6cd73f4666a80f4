package matter

// Cite says where a figure comes from and how it was come by.
// Marks: R read in the source, R~ read at second hand, M from memory (M+ very sure, M? check it), C computed from a stated rule,
// T made up to exercise a rule, CP common practice (no published source), own a rule of this program.
type Cite struct {
	Source string `json:"source"`
	Mark   string `json:"mark"`
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
