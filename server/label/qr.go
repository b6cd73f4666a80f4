package label

import (
	"fmt"
	"math"

	"codeberg.org/go-pdf/fpdf"

	"stillroom/calc"
)

const (
	// quiet is the white around a QR code, modules (ISO/IEC 18004).
	quiet = 4
	// leastModule is the smallest that phones' cameras read well on a curved lid, mm; mostModule leaves room for words.
	leastModule = 0.4
	mostModule  = 0.65
)

// drawQR draws the code at the right of a label whose corner is x, y and gives the width that it takes, quiet zone
// included, in millimetres.
func drawQR(doc *fpdf.Fpdf, s Sheet, payload string, x, y float64) (side float64, err error) {
	modules, _, _, bad := calc.QR(payload)
	if bad != nil {
		return 0, bad
	}
	n := float64(len(modules) + 2*quiet)
	room := min(s.Width*0.5, s.Height)
	dots := math.Floor(min(room/n, mostModule) / s.Dot)
	module := dots * s.Dot
	if module < leastModule {
		return 0, fmt.Errorf("the label address makes a code of %d modules, too fine for %s: use a shorter address or a larger sheet", len(modules), s.Says)
	}
	side = n * module
	// The corner lies on the printer's grid too, or whole dots would be of no use.
	left := snap(x+s.Width-side, s.Dot) + quiet*module
	top := snap(y+(s.Height-side)/2, s.Dot) + quiet*module
	for row, line := range modules {
		for col := 0; col < len(line); {
			run := col
			for run < len(line) && line[run] {
				run++
			}
			if run > col {
				doc.Rect(left+float64(col)*module, top+float64(row)*module, float64(run-col)*module, module, "F")
			}
			col = run + 1
		}
	}
	return side, nil
}

func snap(v, dot float64) float64 { return math.Floor(v/dot+1e-9) * dot }
