package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
)

// The mark of the app: a jar in outline, filled in layers under a rim. Colours are the look's own.
var (
	paper = color.RGBA{0xFA, 0xF6, 0xEC, 0xFF}
	leaf  = color.RGBA{0x2E, 0x6B, 0x58, 0xFF}
	tint1 = color.RGBA{0xA9, 0xC4, 0xC0, 0xFF}
	tint2 = color.RGBA{0xC3, 0xCB, 0xB0, 0xFF}
	tint3 = color.RGBA{0xD9, 0xD4, 0xC6, 0xFF}
)

// box is a rectangle with round corners, in a square of 100 by 100.
type box struct{ x, y, w, h, r float64 }

// depth tells how far inside (above zero) or outside a point is.
func (b box) depth(x, y float64) float64 {
	dx := math.Abs(x-(b.x+b.w/2)) - (b.w/2 - b.r)
	dy := math.Abs(y-(b.y+b.h/2)) - (b.h/2 - b.r)
	outside := math.Hypot(math.Max(dx, 0), math.Max(dy, 0))
	return b.r - outside - math.Min(math.Max(dx, dy), 0)
}

func (b box) svg(style string) string {
	return fmt.Sprintf(`<rect x="%g" y="%g" width="%g" height="%g" rx="%g" %s/>`, b.x, b.y, b.w, b.h, b.r, style)
}

var (
	jarBody = box{27, 30, 46, 52, 9}
	jarLid  = box{30, 17, 40, 9, 2.5}
)

const jarLine = 3.6

// layers of the picture, from the top: where each ends, and its colour.
var jarLayers = []struct {
	above float64
	fill  color.RGBA
}{{36, paper}, {54, tint3}, {65, tint2}, {100, tint1}}

// jarColor tells the colour at a point of the picture.
func jarColor(x, y float64) color.RGBA {
	if d := jarLid.depth(x, y); d >= 0 {
		if d < jarLine {
			return leaf
		}
		return paper
	}
	d := jarBody.depth(x, y)
	switch {
	case d < 0:
		return paper
	case d < jarLine:
		return leaf
	}
	for _, l := range jarLayers {
		if y < l.above {
			return l.fill
		}
	}
	return paper
}

// drawIcon paints the jar at a size in pixels, 16 samples a pixel. shrink is below 1 for a maskable icon, of which a
// system may cut off everything outside the middle 80 %.
func drawIcon(pixels int, shrink float64) ([]byte, error) {
	const side = 4
	img := image.NewRGBA(image.Rect(0, 0, pixels, pixels))
	scale := 100 / float64(pixels) / shrink
	at := func(p, s int) float64 {
		return (float64(p)+(float64(s)+0.5)/side-float64(pixels)/2)*scale + 50
	}
	for py := range pixels {
		for px := range pixels {
			var r, g, b int
			for s := range side * side {
				c := jarColor(at(px, s%side), at(py, s/side))
				r, g, b = r+int(c.R), g+int(c.G), b+int(c.B)
			}
			const n = side * side
			img.SetRGBA(px, py, color.RGBA{uint8(r / n), uint8(g / n), uint8(b / n), 0xFF})
		}
	}
	var out bytes.Buffer
	err := png.Encode(&out, img)
	return out.Bytes(), err
}

func hexColor(c color.RGBA) string { return fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B) }

// drawSVG is the same picture for a browser's tab.
func drawSVG() []byte {
	var b bytes.Buffer
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="15 10 70 80"><clipPath id="j">` + jarBody.svg("") + `</clipPath><g clip-path="url(#j)">`)
	from := jarBody.y
	for _, l := range jarLayers {
		fmt.Fprintf(&b, `<rect x="20" y="%g" width="60" height="%g" fill="%s"/>`, from, l.above-from, hexColor(l.fill))
		from = l.above
	}
	b.WriteString("</g>")
	for _, outline := range []box{jarBody, jarLid} {
		const in = jarLine / 2
		inner := box{outline.x + in, outline.y + in, outline.w - jarLine, outline.h - jarLine, math.Max(outline.r-in, 0)}
		b.WriteString(inner.svg(fmt.Sprintf(`fill="none" stroke="%s" stroke-width="%g"`, hexColor(leaf), jarLine)))
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// icons adds the pictures and the manifest that makes the app installable.
func (d *dist) icons() error {
	type icon struct {
		Src     string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose"`
	}
	list := []icon{{d.add("icon.svg", drawSVG(), true), "any", "image/svg+xml", "any"}}
	for _, p := range []struct {
		name    string
		pixels  int
		shrink  float64
		purpose string
	}{
		{"icon-180.png", 180, 1, ""}, // iOS asks for this one by a link in the page, not by the manifest
		{"icon-192.png", 192, 1, "any"},
		{"icon-512.png", 512, 1, "any"},
		{"icon-maskable-512.png", 512, 0.8, "maskable"},
	} {
		data, err := drawIcon(p.pixels, p.shrink)
		if err != nil {
			return err
		}
		src := d.add(p.name, data, true)
		if p.purpose != "" {
			list = append(list, icon{src, fmt.Sprintf("%dx%d", p.pixels, p.pixels), "image/png", p.purpose})
		}
	}
	manifest, err := json.MarshalIndent(map[string]any{
		"id":               "/",
		"name":             "Stillroom",
		"short_name":       "Stillroom",
		"description":      "The batch book of a maker of body-care products",
		"start_url":        "/",
		"scope":            "/",
		"display":          "standalone",
		"background_color": hexColor(paper),
		"theme_color":      hexColor(paper),
		"icons":            list,
	}, "", "  ")
	if err != nil {
		return err
	}
	d.add("manifest.webmanifest", append(manifest, '\n'), true)
	return nil
}
