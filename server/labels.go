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
func (s *Server) labels(w http.ResponseWriter, r *http.Request) {
	if _, ok := s.bearer(r); !ok {
		w.Header().Set("WWW-Authenticate", "Bearer")
		http.Error(w, "This device is not known to the home store. Open the app on it once more.", http.StatusUnauthorized)
		return
	}
	sheet, err := label.Find(r.FormValue("sheet"))
	if err != nil {
		http.Error(w, "Labels cannot be printed on that: "+err.Error()+".", http.StatusBadRequest)
		return
	}
	var jars []book.PublicJar
	address := ""
	if err := s.shelf.look(r.Context(), func(b *book.State) { jars, address = b.PublicJars(r.FormValue("batch")), b.LabelAddress() }); err != nil {
		s.o.Log.Error("the book cannot be read", "error", err)
		http.Error(w, "The home store cannot read its book now.", http.StatusInternalServerError)
		return
	}
	if len(jars) == 0 {
		http.Error(w, "The home store knows no jars of this batch. Fill it first; what is only on a phone reaches the home store when they are connected.", http.StatusNotFound)
		return
	}
	var pdf bytes.Buffer
	if err := label.PDF(&pdf, sheet, labelsOf(jars, labelAddress(address, s.listen.Addr())), day(jars[0].Jars.Made)); err != nil {
		http.Error(w, "The labels were not made: "+err.Error()+".", http.StatusUnprocessableEntity)
		return
	}
	w.Header().Set("Content-Type", "application/pdf")
	w.Header().Set("Content-Disposition", fmt.Sprintf("inline; filename=%q", "labels-"+jars[0].Jars.Code+".pdf"))
	w.Header().Set("Cache-Control", "no-store")
	w.Write(pdf.Bytes())
}

func labelsOf(jars []book.PublicJar, address string) []label.Label {
	out := make([]label.Label, len(jars))
	for i, j := range jars {
		out[i] = label.Label{Name: j.Jars.Product, Batch: j.Jars.Code, Shown: calc.ShowJarCode(j.Code), Payload: address + "/j/" + j.Code,
			NetMG: j.Jars.Net, Made: book.ShowDay(j.Jars.Made), Trial: j.Jars.Purpose == "trial", Caution: caution(j)}
	}
	return out
}

// caution is one short line for the lid; the whole list stands on the card behind the code.
func caution(j book.PublicJar) string {
	if len(j.Card.Cautions) > 0 {
		return j.Card.Cautions[0].Says
	}
	return "Not in eyes. Stop if it irritates. Keep from children. Not food."
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
