package server

import (
	"context"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"net/http"
	"slices"
	"strconv"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/sync"
)

// maxLogPiece is the most bytes of envelopes in one answer: a phone keeps each as one chunk.
const maxLogPiece = 256 << 10

// log is GET /api/log/STREAM?after=N&hash=H&epoch=E with a device's token, for a phone whose own copy went bad behind number N: the
// envelopes that follow, each after its length as 4 bytes, lowest first, and in headers where they end. It gives nothing
// unless H is the store's own hash at N and E its epoch: a store that was restored may lack entries of the phone's own,
// which would take their numbers for free.
func (s *Server) log(w http.ResponseWriter, r *http.Request) {
	d, known := s.bearer(r)
	stream := r.PathValue("stream")
	switch {
	case !known && s.refuseRevoked(w, bearerToken(r)):
		return
	case !known:
		refuseUnknown(w, unknownToken.says)
		return
	case !slices.Contains(book.Reads(d.Role), stream):
		http.Error(w, "This device does not hold that part of the book.", http.StatusNotFound)
		return
	}
	if s.refuseDamaged(w) {
		return
	}
	after, err := strconv.ParseUint(r.FormValue("after"), 10, 64)
	if err != nil {
		http.Error(w, "Say after which number.", http.StatusBadRequest)
		return
	}
	st := s.folder.Store
	epoch := st.Epoch()
	head := st.Head(stream)
	w.Header().Set("Stillroom-Head", strconv.FormatUint(head.Seq, 10))
	if hex.EncodeToString(epoch[:]) != r.FormValue("epoch") {
		http.Error(w, "The home store began a new life since this phone last met it.", http.StatusConflict)
		return
	}
	if after > head.Seq {
		http.Error(w, "The home store's log ends before what this phone has.", http.StatusGone)
		return
	}
	here, ok := st.HashAt(stream, after)
	if !ok {
		s.cannotRead(w, &store.Damaged{Stream: stream, First: after, Last: after, How: store.NotRead})
		return
	}
	if hex.EncodeToString(here[:]) != r.FormValue("hash") {
		http.Error(w, "The home store has another history than this phone. Both are kept as they are.", http.StatusConflict)
		return
	}
	items, end, err := following(r.Context(), st, stream, store.Head{Seq: after, Hash: here})
	if err != nil {
		s.cannotRead(w, err)
		return
	}
	if len(items) == 0 {
		w.WriteHeader(http.StatusNoContent)
		return
	}
	to, hash := end.Seq, end.Hash
	mac := sync.HeadMAC(st.Key(), epoch, stream, to, hash)
	for name, value := range map[string]string{"To": strconv.FormatUint(to, 10), "Hash": hex.EncodeToString(hash[:]), "Epoch": hex.EncodeToString(epoch[:]), "Mac": hex.EncodeToString(mac[:])} {
		w.Header().Set("Stillroom-"+name, value)
	}
	w.Header().Set("Content-Type", "application/octet-stream")
	w.Header().Set("Cache-Control", "no-store")
	var body []byte
	for _, item := range items {
		body = append(binary.LittleEndian.AppendUint32(body, uint32(len(item))), item...)
	}
	w.Write(body)
}

// following is the piece of a log behind a head, and where it ends. As sync's sender does, it compares what was read with
// the hash that was kept: a page that went bad is *store.Damaged and not passed on under the store's mark.
func following(ctx context.Context, st store.Store, stream string, from store.Head) ([][]byte, store.Head, error) {
	items, err := st.Read(ctx, stream, from.Seq, sync.MaxBatchEntries, maxLogPiece)
	if err != nil || len(items) == 0 {
		return nil, from, err
	}
	end := store.Head{Seq: from.Seq + uint64(len(items)), Hash: store.Through(from, items)}
	if kept, ok := st.HashAt(stream, end.Seq); !ok || kept != end.Hash {
		return nil, from, &store.Damaged{Stream: stream, First: from.Seq + 1, Last: end.Seq, How: store.Altered}
	}
	return items, end, nil
}

// cannotRead names what of the journal cannot be given, and gives nothing of it.
func (s *Server) cannotRead(w http.ResponseWriter, err error) {
	s.o.Log.Error("the book cannot be read", "error", err)
	says := "The home store cannot read its book there"
	if bad := new(store.Damaged); errors.As(err, &bad) {
		says = "At the home store " + bad.Error()
	}
	http.Error(w, says+". Nothing of it was given, and this phone keeps what it has. Run verify on the home store.", http.StatusInternalServerError)
}
