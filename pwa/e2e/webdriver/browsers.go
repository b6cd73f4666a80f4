package webdriver

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"time"
)

// Options say what kind of phone a browser stands for.
type Options struct {
	// Profile is the folder of Chromium's storage; the same folder again is the same phone. WebKit's driver keeps
	// nothing beyond a session.
	Profile string
	// Width and Height of the window in CSS pixels.
	Width, Height int
	// Camera is a .y4m film that stands for what Chromium's camera sees.
	Camera string
}

// Needs are the programs that an engine's browser and driver are made of.
var Needs = map[string][]string{
	"chromium": {"chromium", "chromedriver"},
	"webkit":   {"WebKitWebDriver", "xvfb-run", "xauth", "dbus-run-session"},
}

// Missing names what an engine needs and this machine does not have.
func Missing(engine string) []string {
	var missing []string
	for _, name := range Needs[engine] {
		if _, err := exec.LookPath(name); err != nil {
			missing = append(missing, name)
		}
	}
	if engine == "webkit" && miniBrowser() == "" {
		missing = append(missing, "MiniBrowser of WebKitGTK")
	}
	return missing
}

// miniBrowser finds WebKitGTK's own small browser, which lies outside the search path.
func miniBrowser() string {
	for _, pattern := range []string{"/usr/lib/*/webkit2gtk-4.1/MiniBrowser", "/usr/lib*/webkit2gtk-4.1/MiniBrowser"} {
		if found, err := filepath.Glob(pattern); err == nil && len(found) > 0 {
			return found[0]
		}
	}
	return ""
}

// Start opens a browser of an engine, "chromium" or "webkit". The caller closes it.
func Start(ctx context.Context, engine string, o Options) (*Session, error) {
	if Needs[engine] == nil {
		return nil, fmt.Errorf("there is no engine %q here: chromium or webkit", engine)
	}
	if missing := Missing(engine); len(missing) > 0 {
		return nil, fmt.Errorf("%s cannot be driven here: %v missing", engine, missing)
	}
	if engine == "chromium" {
		return startChromium(ctx, o)
	}
	return startWebKit(ctx, o)
}

func startChromium(ctx context.Context, o Options) (*Session, error) {
	args := []string{
		"--headless=new", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--disable-default-apps", "--no-default-browser-check",
		"--password-store=basic", "--lang=en-GB",
		fmt.Sprintf("--window-size=%d,%d", o.Width, o.Height),
	}
	if os.Geteuid() == 0 {
		args = append(args, "--no-sandbox") // Chromium refuses to start as root otherwise
	}
	if o.Profile != "" {
		args = append(args, "--user-data-dir="+o.Profile)
	}
	if o.Camera != "" {
		args = append(args, "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream",
			"--use-file-for-fake-video-capture="+o.Camera)
	}
	path, err := exec.LookPath("chromium")
	if err != nil {
		return nil, err
	}
	chrome := map[string]any{"binary": path, "args": args}
	if o.Width < 500 {
		// A desktop window is never narrower than 500; a phone's screen is set as metrics.
		chrome["mobileEmulation"] = map[string]any{"deviceMetrics": map[string]any{
			"width": o.Width, "height": o.Height, "pixelRatio": 2, "mobile": true, "touch": true}}
	}
	return open(ctx, "chromium", nil, []string{"chromedriver"}, map[string]any{
		"browserName":        "chrome",
		"goog:chromeOptions": chrome,
		"goog:loggingPrefs":  map[string]string{"browser": "ALL"},
		"timeouts":           timeouts,
	}, o)
}

func startWebKit(ctx context.Context, o Options) (*Session, error) {
	var env []string
	if os.Geteuid() == 0 {
		env = append(env, "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS=1") // bubblewrap does not run as root in a container
	}
	env = append(env, "LIBGL_ALWAYS_SOFTWARE=1", "NO_AT_BRIDGE=1")
	// The frame buffer is awaited for 1 s instead of xvfb-run's 3.
	wrap := []string{"xvfb-run", "-a", "-w", "1", "-s", "-screen 0 1400x1400x24 -nolisten tcp", "dbus-run-session", "--", "WebKitWebDriver", "--host=127.0.0.1"}
	return open(ctx, "webkit", env, wrap, map[string]any{
		"browserName":              "MiniBrowser",
		"webkitgtk:browserOptions": map[string]any{"binary": miniBrowser(), "args": []string{"--automation"}},
		"timeouts":                 timeouts,
	}, o)
}

// timeouts of scripts and page loads, in milliseconds.
var timeouts = map[string]int{"script": 30000, "pageLoad": 30000, "implicit": 0}

func open(ctx context.Context, engine string, env, command []string, capabilities map[string]any, o Options) (*Session, error) {
	port, err := FreePort()
	if err != nil {
		return nil, err
	}
	args := append(command[1:len(command):len(command)], "--port="+strconv.Itoa(port))
	driver, err := start(env, command[0], args...)
	if err != nil {
		return nil, err
	}
	s := &Session{
		Engine: engine,
		base:   "http://127.0.0.1:" + strconv.Itoa(port),
		driver: driver,
		client: &http.Client{Timeout: 90 * time.Second, Transport: &http.Transport{Proxy: nil}},
	}
	if err := s.begin(ctx, capabilities); err != nil {
		driver.kill()
		return nil, err
	}
	if engine == "webkit" {
		if err := s.Size(o.Width, o.Height); err != nil {
			s.Close()
			return nil, err
		}
	}
	return s, nil
}
