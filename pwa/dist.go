// Package pwa carries the built app inside the program.
package pwa

import "embed"

// Dist is everything that the build put into pwa/dist, with .br and .gz beside what compresses. On a fresh clone it
// holds only dist/.keep, so that the sources compile before the first build; whoever serves it says so.
//
//go:embed all:dist
var Dist embed.FS
