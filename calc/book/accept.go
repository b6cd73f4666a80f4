package book

import (
	"slices"
	"strconv"
	"strings"
)

// WaitingView is the view waiting: rows that are in the book and count for nothing until the owner accepts them.
type WaitingView struct {
	Count int    `json:"count"`
	Says  string `json:"says"`
	// Mine tells that this device may give the owner's word.
	Mine bool `json:"mine"`
}

// mostAccepted bounds the entries of one command.
const mostAccepted = 500

// eachWaiting goes through what waits, stream by stream, in the order in which each has it.
func (s *State) eachWaiting(do func(streamRef, *waiting) bool) {
	more := true
	for _, stream := range slices.Backward(s.streams()) { // the workshop before the shelf
		s.held.each(func(k streamRef, w *waiting) bool {
			more = more && (w.done || k.stream != stream || do(k, w))
			return more
		})
	}
}

func (s *State) viewWaiting(ctx Context) WaitingView {
	v := WaitingView{Mine: ctx.Role == "" || ctx.Role == Owner}
	count := map[string]int{}
	var order []string
	s.eachWaiting(func(_ streamRef, w *waiting) bool {
		name := "of a later version"
		if k, known := KindOf(w.entry.Kind); known {
			name = strings.ReplaceAll(k.Name, ".", " ")
		}
		if count[name]++; count[name] == 1 {
			order = append(order, name)
		}
		v.Count++
		return true
	})
	if v.Count == 0 {
		return v
	}
	for i, name := range order {
		order[i] = strconv.Itoa(count[name]) + " × " + name
	}
	counts := " in the book count for nothing until the owner accepts them"
	if v.Count == 1 {
		counts = " in the book counts for nothing until the owner accepts it"
	}
	v.Says = pieces(int64(v.Count), "row") + counts + ", since the home store did not know the phone that wrote it, or that phone’s role does not write such a thing: " + listed(order) + "."
	return v
}

// acceptWaiting is the owner's word for what waits, at most mostAccepted rows at once. Each gets an entry of its own.
func (s *State) acceptWaiting() ([]Draft, any, *Refusal) {
	var words []kindBody
	s.eachWaiting(func(k streamRef, _ *waiting) bool {
		kind := KindAccepted
		if k.stream == Shelf {
			kind = KindShelfAccepted
		}
		words = append(words, kindBody{kind, &Accepted{Entry: k.ref}})
		return len(words) < mostAccepted
	})
	drafts, no := several(words...)
	return drafts, struct{}{}, no
}
