package server

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"stillroom/server/servertest"
	"stillroom/server/store"
	"stillroom/sync"
)

// A phone whose copy went bad is given what follows its good beginning, in pieces whose hashes add up; nothing where its
// history is another, and nothing to who may not read.
func TestTheRestOfALogIsGivenBehindAGoodBeginning(t *testing.T) {
	s := start(t, Options{Dir: t.TempDir()})
	p := servertest.New(t, s.URL())
	p.Connect()
	p.Write("workshop", 4_000_000, 1200)
	p.UntilAcked("workshop", 1200)
	epoch := s.folder.Store.Epoch()
	life := hex.EncodeToString(epoch[:])
	ask := func(token string, after uint64, hash sync.Hash) (*http.Response, string) {
		return get(t, s, fmt.Sprintf("/api/log/workshop?after=%d&hash=%s&epoch=%s", after, hex.EncodeToString(hash[:]), life), "Authorization", "Bearer "+token)
	}
	at, hash := uint64(100), sync.Hash{}
	hash, _ = s.folder.Store.HashAt("workshop", at)
	pieces := 0
	for ; ; pieces++ {
		answer, body := ask(p.Me.Token, at, hash)
		if answer.StatusCode == http.StatusNoContent {
			break
		}
		if answer.StatusCode != http.StatusOK || answer.Header.Get("Stillroom-Head") != "1200" {
			t.Fatalf("%d %v", answer.StatusCode, answer.Header)
		}
		for raw := []byte(body); len(raw) > 0; at++ {
			n := binary.LittleEndian.Uint32(raw)
			hash, raw = hash.Next(raw[4:4+n]), raw[4+n:]
		}
		if got := answer.Header.Get("Stillroom-Hash"); got != hex.EncodeToString(hash[:]) || answer.Header.Get("Stillroom-To") != fmt.Sprint(at) {
			t.Fatalf("at %d: %v", at, answer.Header)
		}
		mac := sync.HeadMAC(s.folder.Store.Key(), s.folder.Store.Epoch(), "workshop", at, hash)
		if got, _ := hex.DecodeString(answer.Header.Get("Stillroom-Mac")); !bytes.Equal(got, mac[:]) {
			t.Errorf("at %d another mark", at)
		}
	}
	if at != 1200 || pieces != 3 {
		t.Errorf("%d in %d pieces", at, pieces)
	}
	for name, test := range map[string]struct {
		token  string
		after  uint64
		hash   sync.Hash
		status int
	}{
		"another history": {p.Me.Token, 100, hash, http.StatusConflict},
		"beyond the end":  {p.Me.Token, 1201, hash, http.StatusGone},
		"not known":       {"x", 1200, hash, http.StatusUnauthorized},
	} {
		if answer, body := ask(test.token, test.after, test.hash); answer.StatusCode != test.status {
			t.Errorf("%s: %d %s", name, answer.StatusCode, body)
		}
	}
	if answer, _ := get(t, s, "/api/log/prices?after=0", "Authorization", "Bearer "+p.Me.Token); answer.StatusCode != http.StatusNotFound {
		t.Errorf("another stream: %d", answer.StatusCode)
	}
	life = "0102030405060708"
	if answer, _ := ask(p.Me.Token, 1200, hash); answer.StatusCode != http.StatusConflict {
		t.Errorf("another life: %d", answer.StatusCode)
	}
	if err := s.Revoke(p.ID); err != nil { // F28
		t.Fatal(err)
	}
	if answer, _ := ask(p.Me.Token, 0, sync.RunningSeed("workshop")); answer.StatusCode != http.StatusForbidden {
		t.Errorf("revoked: %d", answer.StatusCode)
	}
}

// badPage is a store of which one envelope is read otherwise than it was written.
type badPage struct {
	store.Store
	bad uint64
}

func (b badPage) Read(ctx context.Context, stream string, after uint64, maxItems, maxBytes int) ([][]byte, error) {
	items, err := b.Store.Read(ctx, stream, after, maxItems, maxBytes)
	if after < b.bad && b.bad <= after+uint64(len(items)) {
		bad := slices.Clone(items[b.bad-after-1])
		bad[len(bad)-1] ^= 4
		items[b.bad-after-1] = bad
	}
	return items, err
}

// F19: a page of the home store's disk that went bad under its eyes is named, and nothing of it mends a phone.
func TestAPageThatWentBadMendsNoPhone(t *testing.T) {
	s := start(t, Options{Dir: t.TempDir()})
	p := servertest.New(t, s.URL())
	p.Connect()
	p.Write("workshop", 4_000_000, 40)
	p.UntilAcked("workshop", 40)
	hash, _ := s.folder.Store.HashAt("workshop", 12)
	from := store.Head{Seq: 12, Hash: hash}
	if items, end, err := following(t.Context(), badPage{s.folder.Store, 10}, "workshop", from); err != nil || len(items) != 28 || end != s.folder.Store.Head("workshop") {
		t.Errorf("bad before it: %d to %d, %v", len(items), end.Seq, err)
	}
	items, _, err := following(t.Context(), badPage{s.folder.Store, 20}, "workshop", from)
	if !errors.As(err, new(*store.Damaged)) || items != nil {
		t.Fatalf("bad in it: %d, %v", len(items), err)
	}
	answer := httptest.NewRecorder()
	s.cannotRead(answer, err)
	if said := answer.Body.String(); answer.Code != http.StatusInternalServerError || !strings.HasPrefix(said, "At the home store entries 13 to 40 of the workshop's book do not match their hash. Nothing of it was given") {
		t.Errorf("%d %s", answer.Code, said)
	}
}
