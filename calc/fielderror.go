package calc

// FieldError says which field was wrong, what was wrong with it, and what would be right.
type FieldError struct {
	Field string `json:"field"`
	Says  string `json:"says"`
	Want  string `json:"want"`
}

func (e *FieldError) Error() string {
	out := e.Says
	if e.Field != "" {
		out = e.Field + ": " + out
	}
	if e.Want != "" {
		out += "; " + e.Want
	}
	return out
}

// under puts the error's field below a path: "percent" under "lines[3]" is "lines[3].percent".
func (e *FieldError) under(path string) *FieldError {
	if e == nil || path == "" {
		return e
	}
	switch {
	case e.Field == "":
		e.Field = path
	case e.Field[0] == '[':
		e.Field = path + e.Field
	default:
		e.Field = path + "." + e.Field
	}
	return e
}
