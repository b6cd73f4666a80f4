package server

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/sync"
)

func TestAPhoneHandsOverByHTTPAndARevokedOneDoesNot(t *testing.T) {
	s := start(t, Options{Dir: t.TempDir()})
	was, now := servertest.Register(t, s.URL()), servertest.Register(t, s.URL())
	raw := sync.Entry{Seq: 1, Kind: book.KindBatchNoted, V: 1, At: 3, Body: []byte("x")}.Append(nil)
	lines := fmt.Sprintf(`{"stillroom":"rescue 1","device":%q}`+"\n"+`{"kept":"pending","key":["workshop",1],"value":{"stream":"workshop","seq":1,"bytes":%q}}`+"\n",
		was.Device, base64.StdEncoding.EncodeToString(raw))
	give := func(headers ...string) (int, string) {
		answer, body := do(t, s, "POST", "/api/handover", strings.NewReader(lines), append(headers, "Origin", strings.TrimSuffix(s.URL(), "/"))...)
		return answer.StatusCode, body
	}
	if code, body := give("Authorization", "Bearer "+was.Token+"x", "Stillroom-Was", was.Token); code != http.StatusUnauthorized {
		t.Errorf("unknown: %d %s", code, body)
	}
	if code, body := give("Authorization", "Bearer "+now.Token); code != http.StatusConflict || !strings.Contains(body, "not that device") {
		t.Errorf("without a proof: %d %s", code, body)
	}
	code, body := give("Authorization", "Bearer "+now.Token, "Stillroom-Was", was.Token)
	var got struct {
		Device string
		Has    map[string][]uint64
		Heads  map[string]uint64
		Epoch  string
		Held   int
		Left   []string
	}
	if err := json.Unmarshal([]byte(body), &got); err != nil || code != http.StatusOK || got.Device != was.Device || len(got.Has["workshop"]) != 1 || got.Heads["workshop"] != 1 || len(got.Epoch) != 16 || got.Held != 0 || got.Left == nil {
		t.Errorf("%d %s", code, body)
	}
	id, _ := sync.ParseDeviceID(was.Device)
	if h := s.folder.Store.DeviceHead("workshop", id).Seq; h != 1 {
		t.Errorf("the device's line ends at %d", h)
	}

	// F28: revoked, it is neither taken in as a new device nor may it hand over through another.
	if err := s.Revoke(id); err != nil {
		t.Fatal(err)
	}
	before := len(s.folder.Devices.All())
	answer, body := do(t, s, "POST", "/api/devices", strings.NewReader("{}"), "Content-Type", "application/json", "Stillroom-Was", was.Token)
	if answer.StatusCode != http.StatusForbidden || !strings.Contains(body, "ask the owner") || len(s.folder.Devices.All()) != before {
		t.Errorf("revoked, as a new device: %d %s", answer.StatusCode, body)
	}
	if code, body := give("Authorization", "Bearer "+now.Token, "Stillroom-Was", was.Token); code != http.StatusForbidden {
		t.Errorf("revoked, handing over: %d %s", code, body)
	}
}

// Few bring at once, each device one thing; who has to wait is told so, and nothing of it was read.
func TestFewHandOverAtOnce(t *testing.T) {
	s := start(t, Options{Dir: t.TempDir()})
	begin := func(me servertest.Identity) (body *io.PipeWriter, answered chan int) {
		r, body := io.Pipe()
		answered = make(chan int, 1)
		go func() {
			answer, _ := do(t, s, "POST", "/api/handover", r, "Authorization", "Bearer "+me.Token, "Origin", strings.TrimSuffix(s.URL(), "/"))
			answered <- answer.StatusCode
		}()
		fmt.Fprintf(body, `{"stillroom":"rescue 1","device":%q}`+"\n", me.Device)
		return body, answered
	}
	a, b, c := servertest.Register(t, s.URL()), servertest.Register(t, s.URL()), servertest.Register(t, s.URL())
	busy := func(me servertest.Identity) string {
		answer, body := do(t, s, "POST", "/api/handover", strings.NewReader("x"), "Authorization", "Bearer "+me.Token, "Origin", strings.TrimSuffix(s.URL(), "/"))
		if answer.StatusCode == http.StatusServiceUnavailable && answer.Header.Get("Retry-After") == "" {
			t.Errorf("it is not told when to try again")
		}
		return body
	}
	wait := func(n int) {
		t.Helper()
		for range 500 {
			s.handing.mu.Lock()
			now := len(s.handing.now)
			s.handing.mu.Unlock()
			if now == n {
				return
			}
			time.Sleep(10 * time.Millisecond)
		}
		t.Fatalf("never %d at once", n)
	}
	first, firstDone := begin(a)
	wait(1)
	if said := busy(a); !strings.HasPrefix(said, "The home store is still at what this phone brought") {
		t.Errorf("the same once more: %s", said)
	}
	second, secondDone := begin(b)
	wait(2)
	if said := busy(c); !strings.HasPrefix(said, "The home store is taking in what other phones bring. Nothing was changed") {
		t.Errorf("a third: %s", said)
	}
	first.Close()
	second.Close()
	// Neither proves to have been who wrote it; either way its place is free again.
	if one, two := <-firstDone, <-secondDone; one != http.StatusConflict || two != http.StatusConflict {
		t.Errorf("%d and %d", one, two)
	}
	wait(0)
	if said := busy(c); !strings.HasPrefix(said, "What was brought could not be read") {
		t.Errorf("after them: %s", said)
	}
}
