package server

import (
	"bytes"
	"fmt"
	"net"
	"net/http"
	"strings"
	"time"

	"stillroom/calc"
	"stillroom/calc/book"
	"stillroom/server/label"
)

// labels is GET /api/labels?batch=KEY&sheet=KEY with a device's token: one label for each jar of the batch, as a PDF.
// What had no room is said in the header Stillroom-Says. A batch that nobody released has no labels, a trial has.
func (s *Server) labels(w http.ResponseWriter, r *http.Request) {
	if _, ok := s.bearer(r); !ok {
		refuseUnknown(w, "This device is not known to the home store. Open the app on it once more.")
		return
	}
	if s.refuseDamaged(w) {
		return
	}
	sheet, err := label.Find(r.FormValue("sheet"))
	if err != nil {
		http.Error(w, "Labels cannot be printed on that: "+err.Error()+".", http.StatusBadRequest)
		return
	}
	var jars []book.PublicJar
	address, words := "", ""
	if err := s.shelf.look(r.Context(), func(b *book.State) {
		key := r.FormValue("batch")
		jars, address, words = b.PublicJars(key), b.LabelAddress(), b.UnprintedWords(key)
	}); err != nil {
		s.o.Log.Error("the book cannot be read", "error", err)
		http.Error(w, "The home store cannot read its book now.", http.StatusInternalServerError)
		return
	}
	if len(jars) == 0 {
		http.Error(w, "The home store knows no jars of this batch. Fill it first; what is only on a phone reaches the home store when they are connected.", http.StatusNotFound)
		return
	}
	why := unprinted(jars[0])
	if why == "" {
		why = words
	}
	if why != "" {
		http.Error(w, why, http.StatusConflict)
		return
	}
	var pdf bytes.Buffer
	says, err := label.PDF(&pdf, sheet, labelsOf(jars, labelAddress(address, s.listen.Addr())), day(jars[0].Jars.Made))
	if err != nil {
		http.Error(w, "The labels were not made: "+err.Error()+".", http.StatusUnprocessableEntity)
		return
	}
	if len(says) > 0 {
		w.Header().Set("Stillroom-Says", strings.Join(says, "; "))
	}
	w.Header().Set("Content-Type", "application/pdf")
	w.Header().Set("Content-Disposition", fmt.Sprintf("inline; filename=%q", "labels-"+jars[0].Jars.Code+".pdf"))
	w.Header().Set("Cache-Control", "no-store")
	w.Write(pdf.Bytes())
}

// unprinted says why a batch has no labels and how to go on, "" where it has.
func unprinted(j book.PublicJar) string {
	switch state := standing(j); {
	case state == book.Held:
		return "Batch " + j.Jars.Code + " is held, so no labels are printed for it. Look at why it is held; release it by name when that is settled, or discard it."
	case state == book.Discarded:
		return "Batch " + j.Jars.Code + " was discarded, so no labels are printed for it. Start a new batch."
	case state != book.Released && j.Jars.Purpose != "trial":
		return "Batch " + j.Jars.Code + " is resting, so no labels are printed for it yet. Look at it the next day and release it by name; then print."
	}
	return ""
}

// standing is a batch's state as the shelf last heard of it.
func standing(j book.PublicJar) string {
	if j.Bar.Batch == "" || j.Bar.State == "" {
		return book.Resting
	}
	return j.Bar.State
}

func labelsOf(jars []book.PublicJar, address string) []label.Label {
	out := make([]label.Label, len(jars))
	for i, j := range jars {
		out[i] = label.Label{Name: j.Jars.Product, Batch: j.Jars.Code, Shown: calc.ShowJarCode(j.Code), Payload: address + "/j/" + j.Code,
			NetMG: j.Jars.Net, Made: book.ShowDay(j.Jars.Made), BestBefore: bestBefore(j),
			Mark: mark(j), Ingredients: j.Card.Ingredients, Cautions: cautions(j), Person: person(j.Card)}
	}
	return out
}

// bestBefore is the line of the date, with the months after opening beside it.
func bestBefore(j book.PublicJar) string {
	best := label.BestBefore(j.Jars.Best, j.Jars.Made)
	if n := j.Card.AfterOpen; n > 0 {
		opened := fmt.Sprintf("opened: %d M", n)
		if best == "" {
			return opened
		}
		return best + " · " + opened
	}
	return best
}

// mark is what stands under the name of what may not be sold. What the demo invented is never the maker's own, whoever the
// workshop belongs to by now.
func mark(j book.PublicJar) string {
	switch {
	case j.Demo:
		return "invented: not for sale"
	case j.Trial():
		return "trial: not for sale"
	}
	return ""
}

// cautions are those of the card. A card from before cautions were worked out has the few that suit anything.
func cautions(j book.PublicJar) []string {
	if len(j.Card.Cautions) == 0 {
		return []string{"Not in eyes.", "Stop if it irritates.", "Out of children's reach.", "Not food."}
	}
	out := make([]string, len(j.Card.Cautions))
	for i, c := range j.Card.Cautions {
		if out[i] = strings.TrimSpace(c.Says); !strings.HasSuffix(out[i], ".") {
			out[i] += "."
		}
	}
	return out
}

func person(c book.CardPublished) string {
	parts := []string{}
	for _, p := range []string{c.Maker, c.Contact} {
		if p = strings.TrimSpace(p); p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " · ")
}

// labelAddress is what a printed link begins with: the address that the maker named, where it is one, or this store's
// own as a browser on this computer knows it.
func labelAddress(named string, listens net.Addr) string {
	named = strings.TrimRight(strings.TrimSpace(named), "/")
	if strings.HasPrefix(named, "http://") || strings.HasPrefix(named, "https://") {
		return named
	}
	_, port, err := net.SplitHostPort(listens.String())
	if err != nil {
		port = "8417"
	}
	return "http://localhost:" + port
}

func day(d int64) time.Time {
	return time.Date(int(d/10000), time.Month(d/100%100), int(d%100), 0, 0, 0, 0, time.UTC)
}
