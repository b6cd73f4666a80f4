package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// file is one served file: its path under the root of the site and its bytes.
type file struct {
	name string
	data []byte
	// shell says that it works offline and so belongs to the precache list
	shell bool
}

// dist is everything that pwa/dist is to hold.
type dist struct {
	files []file
	build string
}

func (d *dist) add(name string, data []byte, shell bool) string {
	d.files = append(d.files, file{name, data, shell})
	return "/" + name
}

// addHashed names a file by its content, so that it can be kept for ever by whoever fetched it.
func (d *dist) addHashed(stem, ext string, data []byte) string {
	sum := sha256.Sum256(data)
	return d.add(stem+"-"+hex.EncodeToString(sum[:6])+ext, data, true)
}

// bundle builds the app's scripts around a compiled engine. Names flow one way, since a name is a hash of content:
// engine and scanner into the workers, these into the app, all of them into the service worker.
func bundle(h house, engine []byte) (dist, error) {
	var d dist
	zxing, err := os.ReadFile(h.path("pwa", "node_modules", "zxing-wasm", "dist", "reader", "zxing_reader.wasm"))
	if err != nil {
		return d, err
	}
	if err := d.icons(); err != nil {
		return d, err
	}
	if d.build, err = buildID(h, engine, zxing, d.files); err != nil {
		return d, err
	}
	names := map[string]string{
		"__BUILD__":      d.build,
		"__ENGINE_URL__": d.addHashed("engine", ".wasm", engine),
		"__ZXING_URL__":  d.addHashed("zxing_reader", ".wasm", zxing),
		"__WORKER_URL__": "",
		"__SCAN_URL__":   "",
	}
	pages := map[string]string{"engine.wasm": names["__ENGINE_URL__"], "build": d.build}

	js, _, err := script(h, "pwa/shell/scan-worker.ts", api.FormatIIFE, names, nil)
	if err != nil {
		return d, err
	}
	names["__SCAN_URL__"] = d.addHashed("scan", ".js", js)
	js, _, err = script(h, "pwa/shell/worker.ts", api.FormatIIFE, names, nil)
	if err != nil {
		return d, err
	}
	names["__WORKER_URL__"] = d.addHashed("worker", ".js", js)
	pages["worker.js"] = names["__WORKER_URL__"]

	js, css, err := script(h, "pwa/app/main.tsx", api.FormatESModule, names, nil)
	if err != nil {
		return d, err
	}
	pages["app.js"] = d.addHashed("app", ".js", js)
	pages["app.css"] = d.addHashed("app", ".css", css)
	if h.has("pwa", "shell", "rescue.ts") {
		js, _, err := script(h, "pwa/shell/rescue.ts", api.FormatIIFE, names, nil)
		if err != nil {
			return d, err
		}
		pages["rescue.js"] = d.addHashed("rescue", ".js", js)
		if err := d.page(h, "pwa/shell/rescue.html", "rescue.html", pages); err != nil {
			return d, err
		}
	}
	if err := d.page(h, "pwa/app/index.html", "index.html", pages); err != nil {
		return d, err
	}
	js, _, err = script(h, "pwa/shell/sw.ts", api.FormatIIFE, names, d.shell())
	if err != nil {
		return d, err
	}
	d.add("sw.js", js, false)
	return d, nil
}

// shell lists what the service worker keeps, "/" in place of index.html since that is what a person opens.
func (d *dist) shell() []string {
	list := []string{"/"}
	for _, f := range d.files {
		if f.shell && f.name != "index.html" {
			list = append(list, "/"+f.name)
		}
	}
	return list
}

// page copies a page with the names of this build in place of {{…}}, and refuses one that asks for a name unknown here.
func (d *dist) page(h house, source, name string, names map[string]string) error {
	b, err := os.ReadFile(h.path(filepath.FromSlash(source)))
	if err != nil {
		return err
	}
	text := string(b)
	for key, value := range names {
		text = strings.ReplaceAll(text, "{{"+key+"}}", value)
	}
	if _, rest, found := strings.Cut(text, "{{"); found {
		asked, _, _ := strings.Cut(rest, "}}")
		return fmt.Errorf("%s asks for {{%s}}, which the build does not know", source, asked)
	}
	d.add(name, []byte(text), true)
	return nil
}

// script bundles one entry point and gives its JavaScript and the CSS that it imports.
func script(h house, entry string, format api.Format, names map[string]string, shell []string) (js, css []byte, err error) {
	exec, err := wasmExec()
	if err != nil {
		return nil, nil, err
	}
	if shell == nil {
		shell = []string{}
	}
	list, err := json.Marshal(shell)
	if err != nil {
		return nil, nil, err
	}
	define := map[string]string{"__SHELL__": string(list), "process.env.NODE_ENV": `"production"`}
	for name, value := range names {
		define[name] = strconv.Quote(value)
	}
	result := api.Build(api.BuildOptions{
		AbsWorkingDir:     h.root,
		EntryPoints:       []string{entry},
		Outdir:            h.path(".build", "app"),
		Bundle:            true,
		Write:             false,
		Format:            format,
		Target:            api.ES2022,
		MinifyWhitespace:  true,
		MinifyIdentifiers: true,
		MinifySyntax:      true,
		Charset:           api.CharsetUTF8,
		LegalComments:     api.LegalCommentsNone,
		JSX:               api.JSXAutomatic,
		JSXImportSource:   "preact",
		Define:            define,
		LogLevel:          api.LogLevelWarning,
		Plugins: []api.Plugin{{Name: "go-glue", Setup: func(b api.PluginBuild) {
			b.OnResolve(api.OnResolveOptions{Filter: `^go:wasm_exec$`}, func(api.OnResolveArgs) (api.OnResolveResult, error) {
				return api.OnResolveResult{Path: exec}, nil
			})
		}}},
	})
	if n := len(result.Errors); n > 0 {
		return nil, nil, fmt.Errorf("%s: %d errors, printed above", entry, n)
	}
	for _, f := range result.OutputFiles {
		switch filepath.Ext(f.Path) {
		case ".js":
			js = f.Contents
		case ".css":
			css = f.Contents
		}
	}
	if js == nil {
		return nil, nil, errors.New(entry + ": gave no script")
	}
	return js, css, nil
}

// buildID is one name for everything that the shell is made from. It cannot be a hash of the results, because it is
// written into them.
func buildID(h house, engine, zxing []byte, made []file) (string, error) {
	sum := sha256.New()
	part := func(name string, data []byte) { fmt.Fprintf(sum, "%s %d\n%s", name, len(data), data) }
	part("engine", engine)
	part("zxing", zxing)
	for _, f := range made {
		part(f.name, f.data)
	}
	sources := []string{"pwa/package-lock.json"}
	for _, dir := range []string{"pwa/app", "pwa/shell"} {
		err := fs.WalkDir(os.DirFS(h.root), dir, func(path string, e fs.DirEntry, err error) error {
			if err == nil && !e.IsDir() {
				sources = append(sources, path)
			}
			return err
		})
		if err != nil {
			return "", err
		}
	}
	for _, path := range sources {
		b, err := os.ReadFile(h.path(filepath.FromSlash(path)))
		if err != nil {
			return "", err
		}
		part(path, b)
	}
	return hex.EncodeToString(sum.Sum(nil)[:6]), nil
}
