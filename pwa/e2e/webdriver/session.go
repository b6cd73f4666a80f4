// Package webdriver is a small client of the W3C WebDriver protocol: enough of it to drive Chromium and WebKit, the
// engine of every iPhone, through the same scenarios.
package webdriver

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"time"
)

// Session is one browser window under control.
type Session struct {
	// Engine is "chromium" or "webkit".
	Engine string

	base    string
	id      string
	browser int // process id of the browser itself, 0 where the driver does not tell
	driver  *process
	client  *http.Client
}

// Error is what a driver answers when it could not do as asked. Code is the protocol's own word for it, such as
// "no such element", "stale element reference" or "element click intercepted".
type Error struct {
	Code    string `json:"error"`
	Message string `json:"message"`
}

func (e *Error) Error() string { return e.Code + ": " + e.Message }

// call sends one command; into takes its value, nil drops it.
func (s *Session) call(method, path string, body, into any) error {
	var send io.Reader
	if method == http.MethodPost {
		if body == nil {
			body = struct{}{}
		}
		b, err := json.Marshal(body)
		if err != nil {
			return err
		}
		send = bytes.NewReader(b)
	}
	req, err := http.NewRequest(method, s.base+path, send)
	if err != nil {
		return err
	}
	req.Header.Set("Content-Type", "application/json; charset=utf-8")
	res, err := s.client.Do(req)
	if err != nil {
		return fmt.Errorf("%s's driver does not answer: %w", s.Engine, err)
	}
	defer res.Body.Close()
	var answer struct {
		Value json.RawMessage `json:"value"`
	}
	if err := json.NewDecoder(res.Body).Decode(&answer); err != nil {
		return fmt.Errorf("%s's driver answered %s to %s, which is not the protocol: %w", s.Engine, res.Status, path, err)
	}
	if res.StatusCode != http.StatusOK {
		var e Error
		if json.Unmarshal(answer.Value, &e) != nil || e.Code == "" {
			return fmt.Errorf("%s's driver: %s: %s", s.Engine, res.Status, answer.Value)
		}
		return &e
	}
	if into == nil {
		return nil
	}
	return json.Unmarshal(answer.Value, into)
}

func (s *Session) at(path string) string { return "/session/" + s.id + path }

// begin waits for the driver and asks it for a browser.
func (s *Session) begin(ctx context.Context, capabilities map[string]any) error {
	for {
		var status struct {
			Ready bool `json:"ready"`
		}
		err := s.call(http.MethodGet, "/status", nil, &status)
		if err == nil && status.Ready {
			break
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("%s's driver was not ready in time (%v): %s", s.Engine, err, s.driver.said())
		case <-s.driver.done:
			return fmt.Errorf("%s's driver ended at once: %s", s.Engine, s.driver.said())
		case <-time.After(50 * time.Millisecond):
		}
	}
	var made struct {
		ID           string `json:"sessionId"`
		Capabilities struct {
			Process int `json:"goog:processID"`
		} `json:"capabilities"`
	}
	ask := map[string]any{"capabilities": map[string]any{"alwaysMatch": capabilities}}
	if err := s.call(http.MethodPost, "/session", ask, &made); err != nil {
		return fmt.Errorf("%s did not start: %w\n%s", s.Engine, err, s.driver.said())
	}
	s.id, s.browser = made.ID, made.Capabilities.Process
	return nil
}

// Close ends the browser as a person would, then its driver.
func (s *Session) Close() {
	if s.id != "" {
		// A browser that was killed cannot answer; its driver is ended below in either case.
		_ = s.call(http.MethodDelete, s.at(""), nil, nil)
	}
	s.driver.stop()
}

// Kill ends browser and driver at once, with no chance to tidy up: what a dead battery does.
func (s *Session) Kill() {
	if s.browser > 0 {
		killProcess(s.browser)
	}
	s.driver.kill()
}

// Open goes to an address and waits until the page has loaded.
func (s *Session) Open(url string) error {
	return s.call(http.MethodPost, s.at("/url"), map[string]string{"url": url}, nil)
}

// Reload loads the page again.
func (s *Session) Reload() error { return s.call(http.MethodPost, s.at("/refresh"), nil, nil) }

// Back is the browser's back key.
func (s *Session) Back() error { return s.call(http.MethodPost, s.at("/back"), nil, nil) }

// URL is where the window is.
func (s *Session) URL() (string, error) {
	var url string
	err := s.call(http.MethodGet, s.at("/url"), nil, &url)
	return url, err
}

// Size sets the window, in CSS pixels. WebKit's narrowest is 447.
func (s *Session) Size(width, height int) error {
	return s.call(http.MethodPost, s.at("/window/rect"), map[string]int{"width": width, "height": height}, nil)
}

// Picture is a PNG of what the window shows.
func (s *Session) Picture() ([]byte, error) {
	var text string
	if err := s.call(http.MethodGet, s.at("/screenshot"), nil, &text); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(text)
}

// Print gives the page as the browser prints it on a sheet of width × height centimetres, as PDF. An engine that cannot answers an error.
func (s *Session) Print(width, height float64) (pdf []byte, err error) {
	var encoded string
	ask := map[string]any{"page": map[string]float64{"width": width, "height": height}, "background": true, "shrinkToFit": false}
	if err := s.call(http.MethodPost, s.at("/print"), ask, &encoded); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(encoded)
}

// Run runs the body of a function in the page; what it returns goes into the last value, nil to drop it.
func (s *Session) Run(script string, into any, args ...any) error {
	if args == nil {
		args = []any{}
	}
	return s.call(http.MethodPost, s.at("/execute/sync"), map[string]any{"script": script, "args": args}, into)
}

// Await runs the body of an async function in the page and waits for what it resolves to. A rejection is an error.
func (s *Session) Await(script string, into any, args ...any) error {
	if args == nil {
		args = []any{}
	}
	wrapped := `const args = [...arguments], done = args.pop();
(async function () { ` + script + ` }).apply(null, args).then(
  (value) => done({ value: value === undefined ? null : value }), (error) => done({ error: String(error) + (error && error.stack ? '\n' + error.stack : '') }));`
	var answer struct {
		Value json.RawMessage `json:"value"`
		Error string          `json:"error"`
	}
	if err := s.call(http.MethodPost, s.at("/execute/async"), map[string]any{"script": wrapped, "args": args}, &answer); err != nil {
		return err
	}
	if answer.Error != "" {
		return &Error{Code: "rejected", Message: answer.Error}
	}
	if into == nil {
		return nil
	}
	return json.Unmarshal(answer.Value, into)
}

// Console gives what the page wrote to the console since the last call, where the engine tells (Chromium).
func (s *Session) Console() []string {
	var rows []struct {
		Level   string `json:"level"`
		Message string `json:"message"`
	}
	if s.call(http.MethodPost, s.at("/se/log"), map[string]string{"type": "browser"}, &rows) != nil {
		return nil
	}
	var lines []string
	for _, r := range rows {
		lines = append(lines, r.Level+" "+r.Message)
	}
	return lines
}

// NewTab opens another tab of the same browser and looks at it; the tab before is given, for Look.
func (s *Session) NewTab() (before string, err error) {
	if err := s.call(http.MethodGet, s.at("/window"), nil, &before); err != nil {
		return "", err
	}
	var made struct {
		Handle string `json:"handle"`
	}
	if err := s.call(http.MethodPost, s.at("/window/new"), map[string]string{"type": "tab"}, &made); err != nil {
		return "", err
	}
	return before, s.Look(made.Handle)
}

// Look turns to another tab.
func (s *Session) Look(tab string) error {
	return s.call(http.MethodPost, s.at("/window"), map[string]string{"handle": tab}, nil)
}

// DevTools sends one command of Chromium's own protocol, for what WebDriver has no word for.
func (s *Session) DevTools(command string, params map[string]any) error {
	return s.call(http.MethodPost, s.at("/goog/cdp/execute"), map[string]any{"cmd": command, "params": params}, nil)
}
