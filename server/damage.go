package server

import (
	"fmt"
	"net/http"
	"strings"

	"stillroom/server/store"
	"stillroom/sync"
)

// damaged tells what is wrong with the book, in a sentence each; nothing when it is whole.
func (s *Server) damaged() []string {
	var says []string
	for _, d := range s.folder.Store.Damage() {
		says = append(says, sentence(d.Error()))
	}
	return says
}

// Trouble is what a person at the home store ought to know: damage and what to do about it, or nothing.
func (s *Server) Trouble() []string {
	says := s.damaged()
	if len(says) > 0 {
		says = append(says, sentence(s.folder.Store.Damage()[0].Hint()))
	}
	return append(says, s.folder.Store.Notes()...)
}

// damageReason is what a phone is told that connects to a damaged book: it neither gives nor takes anything, since what
// this store has after the first bad number cannot be trusted.
func damageReason(found []*store.Damaged) reason {
	says := "At the home store " + found[0].Error()
	if more := len(found) - 1; more > 0 {
		says += fmt.Sprintf(", and %d more places are damaged", more)
	}
	return reason{sync.CodeDamaged, says + ". It takes nothing until that is mended; this phone keeps everything that it has.",
		"Go on working. Look after the home store: it says itself what is wrong and what to do."}
}

// refuseDamaged answers for what must not be drawn from a damaged book; false when the book is whole.
func (s *Server) refuseDamaged(w http.ResponseWriter) bool {
	says := s.damaged()
	if len(says) == 0 {
		return false
	}
	http.Error(w, strings.Join(says, " ")+" Nothing is written or printed from a damaged book. Phones keep what they have; look after the home store.", http.StatusServiceUnavailable)
	return true
}
