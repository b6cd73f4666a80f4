// Package testdata holds what tests, and the demo, read: the invented workshop among it.
package testdata

import _ "embed"

// Demo is the script of the demo's workshop: commands with times, played by book.Demo.
//
//go:embed demo/workshop.json
var Demo []byte
