package book

import (
	"encoding/json"
	"strings"

	"stillroom/calc"
)

// Refusal says in plain sentences what happened and what was kept (Says), and what to do (Hint). Field names what was
// typed wrong, in the request's own words.
type Refusal struct {
	Code  string `json:"code"`
	Says  string `json:"says"`
	Hint  string `json:"hint"`
	Field string `json:"field"`
}

func (r *Refusal) Error() string { return r.Says + " " + r.Hint }

const kept = " Nothing was written; what is in the book stands as it was."

// refuse says that nothing was written, and why.
func refuse(code, field, says, hint string) *Refusal {
	return &Refusal{Code: code, Field: field, Says: sentence(says) + kept, Hint: sentence(hint)}
}

// unseen is a refusal of a view, where there was nothing to write in the first place.
func unseen(code, field, says, hint string) *Refusal {
	return &Refusal{Code: code, Field: field, Says: sentence(says), Hint: sentence(hint)}
}

// misread turns what calc says of a field into a refusal. field overrides calc's own name where the request has another.
func misread(e *calc.FieldError, field string) *Refusal {
	if field == "" {
		field = e.Field
	}
	hint := e.Want
	if hint == "" {
		hint = "change it and try again"
	}
	return refuse("misread", field, e.Says, hint)
}

func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return s
	}
	s = upper(s)
	if last := s[len(s)-1]; last != '.' && last != '?' {
		s += "."
	}
	return s
}

func upper(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// arguments reads a request.
func arguments[T any](args []byte) (T, *Refusal) {
	var t T
	if len(args) == 0 {
		args = []byte("{}")
	}
	if err := json.Unmarshal(args, &t); err != nil {
		return t, refuse("request", "", "the app asked in words that this program does not understand: "+err.Error(), "reload the app; if it stays, the app and its engine are of different versions")
	}
	return t, nil
}

// noBatch refuses a command about a batch that the book does not hold.
func noBatch() *Refusal {
	return refuse("batch unknown", "batch", "this batch is not in this book", "choose it from the list of batches")
}

// unseenBatch is what a view answers for such a batch; field is the argument that names it.
func unseenBatch(field string) *Refusal {
	return unseen("batch unknown", field, "this batch is not in this book on this phone", "choose it from the list of batches")
}
