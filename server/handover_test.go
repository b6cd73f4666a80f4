package server

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

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
