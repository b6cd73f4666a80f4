package server

import (
	"fmt"
	"net/http"
	"strings"
	"unicode"
	"unicode/utf8"

	"stillroom/calc"
	"stillroom/calc/book"
	"stillroom/server/label"
)

// card is GET /j/{code}: what anyone who opens a jar's link may read, and nothing more. It is useful to someone who has
// no app: product, batch, ingredients, dates, cautions, whom to ask.
func (s *Server) card(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Cache-Control", "no-store")
	code, how, bad := calc.ReadJarCode(r.PathValue("code"))
	if bad != nil {
		plainPage(w, http.StatusBadRequest, page{Title: "This is not a jar's code", Kind: "note", Note: sentence(bad.Says),
			Says: []string{"Look at the code on the lid once more: " + bad.Want + "."}})
		return
	}
	var jar book.PublicJar
	known := false
	if err := s.shelf.look(r.Context(), func(b *book.State) { jar, known = b.PublicJar(code) }); err != nil {
		s.o.Log.Error("the book cannot be read", "error", err)
		plainPage(w, http.StatusInternalServerError, page{Title: "The book cannot be read now", Says: []string{"Nothing was changed. Try again later, or ask the maker."}})
		return
	}
	if !known {
		plainPage(w, http.StatusNotFound, page{Title: "No such jar in this book", Kind: "note",
			Note: "The code " + calc.ShowJarCode(code) + " is well formed, and this book has no jar with it.",
			Says: []string{"It may be only on the phone that filled it, until that phone is connected; or it belongs to another maker's book."}})
		return
	}
	p := cardPage(jar, how)
	if len(s.damaged()) > 0 {
		// What is missing may be that the batch is held.
		p.Says = append([]string{"The maker's book is being mended and a part of it cannot be read now, so this card may be out of date. Ask the maker before you use the product."}, p.Says...)
	}
	plainPage(w, http.StatusOK, p)
}

func cardPage(j book.PublicJar, how string) page {
	c := j.Card
	p := page{Title: j.Jars.Product, Jar: true}
	contact := c.Contact
	if contact == "" {
		contact = "the maker"
	}
	switch state := standing(j); {
	case state == book.Held:
		p.Kind, p.Note = "stop", "This batch is held: "+doNotUse(c.Contact)
	case state == book.Discarded:
		p.Kind, p.Note = "stop", "This batch was discarded: "+doNotUse(c.Contact)
	case j.Trial():
		p.Kind, p.Note = "note", "This is a trial: not for sale."
	case state == book.Resting:
		p.Kind, p.Note = "note", "This batch is resting: the maker has not released it yet."
	}
	if j.Demo {
		p.Says = append(p.Says, "This jar is invented: it belongs to the demo's workshop, and neither its maker nor its formula exists.")
	}
	if how != "" {
		p.Says = append(p.Says, "Read with help: "+how+".")
	}
	p.add("jar", calc.ShowJarCode(j.Code))
	p.add("batch", j.Jars.Code)
	p.add("made", book.ShowDay(j.Jars.Made))
	p.add("best before", strings.TrimPrefix(label.BestBefore(j.Jars.Best, j.Jars.Made), "best before "))
	if c.AfterOpen > 0 {
		p.add("after opening", months(c.AfterOpen))
	}
	if j.Jars.Net > 0 {
		p.add("net", label.Grams(j.Jars.Net)+" · "+label.Ounces(j.Jars.Net))
	}
	p.add("ingredients", c.Ingredients)
	for i, caution := range cautions(j) {
		name := ""
		if i == 0 {
			name = "cautions"
		}
		p.add(name, caution)
	}
	p.add("maker", c.Maker)
	if !strings.Contains(c.Address, "://") {
		p.add("address", c.Address)
	}
	p.add("contact", contact)
	p.Foot = "This page is the maker's own word on this jar. It does not say that the product is safe or legal; local law decides."
	return p
}

// doNotUse is what a holder of a held jar is told, and whom to ask.
func doNotUse(contact string) string {
	if contact == "" {
		return "do not use; contact the maker."
	}
	return "do not use; contact the maker: " + contact + "."
}

func months(n int64) string {
	if n == 1 {
		return "use within 1 month"
	}
	return fmt.Sprintf("use within %d months", n)
}

func (p *page) add(name, value string) {
	if value != "" {
		p.Rows = append(p.Rows, row{name, value})
	}
}

func sentence(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:] + "."
}
