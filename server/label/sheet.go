// Package label draws labels for jars as a PDF, exact to a tenth of a millimetre: one label for a jar, with the code
// in letters and as a QR code that opens the batch record.
package label

import "fmt"

// Sheet is the paper, in millimetres: where its labels lie and how fine the printer draws.
type Sheet struct {
	// Key is its name in a request; Says describes it to a person.
	Key, Says string
	// PageW and PageH are the page; on a roll the page is the label.
	PageW, PageH float64
	// Left and Top are the corner of the first label.
	Left, Top float64
	// Width and Height are one label.
	Width, Height float64
	// PitchX and PitchY lead from one label's corner to the next one's.
	PitchX, PitchY float64
	Columns, Rows  int
	// Dot is the distance of the printer's dots: modules of the QR code are whole dots, or their edges blur.
	Dot float64
}

const (
	inch = 25.4
	// officeDot suits printers of 300, 600 and 1,200 dots to the inch.
	officeDot = inch / 300
	// rollDot is that of the common label printers, 203 dots to the inch.
	rollDot = inch / 203
)

var sheets = []Sheet{
	{Key: "a4-21", Says: "A4, 21 labels of 63.5 × 38.1 mm", PageW: 210, PageH: 297,
		Left: 7.21, Top: 15.15, Width: 63.5, Height: 38.1, PitchX: 66.04, PitchY: 38.1, Columns: 3, Rows: 7, Dot: officeDot},
	{Key: "a4-8", Says: "A4, 8 labels of 99.1 × 67.7 mm", PageW: 210, PageH: 297,
		Left: 4.65, Top: 13.1, Width: 99.1, Height: 67.7, PitchX: 101.6, PitchY: 67.7, Columns: 2, Rows: 4, Dot: officeDot},
	{Key: "roll-57", Says: "roll, labels of 57 × 32 mm", PageW: 57, PageH: 32,
		Width: 57, Height: 32, PitchX: 57, PitchY: 32, Columns: 1, Rows: 1, Dot: rollDot},
}

// Sheets are all that can be printed on, the first being the usual one.
func Sheets() []Sheet { return append([]Sheet(nil), sheets...) }

// Find gives the sheet with a key; the empty key means the first.
func Find(key string) (Sheet, error) {
	if key == "" {
		return sheets[0], nil
	}
	known := ""
	for _, s := range sheets {
		if s.Key == key {
			return s, nil
		}
		known += " " + s.Key
	}
	return Sheet{}, fmt.Errorf("there is no sheet %q; known are%s", key, known)
}

// corner is where the i-th label of a page lies.
func (s Sheet) corner(i int) (x, y float64) {
	return s.Left + float64(i%s.Columns)*s.PitchX, s.Top + float64(i/s.Columns)*s.PitchY
}
