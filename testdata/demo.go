// Package testdata holds what tests, and the demo, read: the invented workshop among it.
package testdata

import (
	"bytes"
	"embed"
	"io/fs"
)

//go:embed demo/*.json
var demo embed.FS

// Demo is the script of the demo's workshop, played by book.Demo: commands with times, one file for each topic, one after
// the other.
var Demo = func() []byte {
	var all bytes.Buffer
	names, err := fs.Glob(demo, "demo/*.json")
	if err != nil {
		panic(err) // the pattern above is wrong
	}
	for _, name := range names {
		data, err := demo.ReadFile(name)
		if err != nil {
			panic(err) // what is embedded can be read
		}
		all.Write(data)
	}
	return all.Bytes()
}()
