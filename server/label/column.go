package label

import (
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

const (
	point = 25.4 / 72 // mm
	// digit is the height of the font's figures as a share of its size, a little less than measured, so that a height
	// asked for by law is reached.
	digit = 0.70
	// ascent is where the baseline lies below the top of a line, lead the height of a line, both as shares of the size.
	ascent = 0.80
	lead   = 1.12
)

// column is words on a label: lines run down from y and shall end above bottom. Nothing is drawn before all is known to
// fit: the lines are kept as runs.
type column struct {
	doc       *fpdf.Fpdf
	x, y, w   float64
	bottom    float64
	sizePoint float64
	style     string
	runs      []run
	// wide says that a word was wider than the column.
	wide bool
}

// run is a line as it will be drawn: its baseline's left end in millimetres, its style and size in points.
type run struct {
	x, y  float64
	style string
	size  float64
	text  string
}

func (c *column) fits() bool { return c.y <= c.bottom+0.05 && !c.wide }

func (c *column) font(style string, size float64) {
	c.doc.SetFont(family, style, size)
	c.style, c.sizePoint = style, size
}

// fit writes text in at most maxLines lines, from size down to least (points); what still does not fit is cut with an
// ellipsis, so that nothing runs into the QR code's quiet zone.
func (c *column) fit(text, style string, size, least float64, maxLines int) {
	var lines []string
	for size = max(size, least); ; size = max(size-0.5, least) {
		c.font(style, size)
		lines = c.wrap(text)
		if len(lines) <= maxLines || size == least {
			break
		}
	}
	if len(lines) > maxLines {
		lines = lines[:maxLines]
		lines[maxLines-1] = c.cut(lines[maxLines-1] + "…")
	}
	for _, line := range lines {
		c.line(c.cut(line))
	}
}

// name is the product's: on one line where it can be large enough there, or else on two.
func (c *column) name(text string, scale float64) {
	if text == "" {
		return
	}
	c.font("B", 8)
	if c.doc.GetStringWidth(text) <= c.w {
		c.fit(text, "B", 11*scale, 8, 1)
		return
	}
	c.fit(text, "B", 11*scale, 7, 2)
}

// batch is its code and the day of making, on one line where both have room.
func (c *column) batch(code, made string, scale float64) {
	if made == "" {
		c.fit(code, "", 7.5*scale, 6, 1)
		return
	}
	made = "made " + made
	both := code + " · " + made
	c.font("", 5.5)
	if c.doc.GetStringWidth(both) <= c.w {
		c.fit(both, "", 7.5*scale, 5.5, 1)
		return
	}
	c.fit(code, "", 7.5*scale, 6, 1)
	c.fit(made, "", 7*scale, 5.5, 1)
}

// whole writes all of a text at one size and cuts nothing.
func (c *column) whole(text, style string, size float64) {
	if text == "" {
		return
	}
	c.font(style, size)
	for _, line := range c.wrap(text) {
		c.wide = c.wide || c.doc.GetStringWidth(line) > c.w+0.01
		c.line(line)
	}
}

func (c *column) line(text string) {
	height := c.sizePoint * point
	c.runs = append(c.runs, run{c.x, c.y + ascent*height, c.style, c.sizePoint, text})
	c.y += lead * height
}

// net writes the content in figures as tall as the law of the EU and the UK asks, on two lines where one is too short.
func (c *column) net(mg int64) {
	c.font("", FigureHeight(mg)/digit/point)
	g, oz := Grams(mg), Ounces(mg)
	if both := g + " · " + oz; c.doc.GetStringWidth(both) <= c.w {
		c.line(both)
		return
	}
	c.line(g)
	c.font("", min(c.sizePoint, 8))
	c.line(oz)
}

func (c *column) wrap(text string) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && c.doc.GetStringWidth(next) > c.w {
			lines = append(lines, line)
			next = word
		}
		line = next
	}
	return append(lines, line)
}

// cut shortens a line that is one word too wide.
func (c *column) cut(line string) string {
	runes := []rune(strings.TrimSuffix(line, "…"))
	for c.doc.GetStringWidth(line) > c.w && len(runes) > 1 {
		runes = runes[:len(runes)-1]
		line = string(runes) + "…"
	}
	return line
}
