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

// code is a QR code and how many of the printer's dots each of its modules may be, at most and at least.
type code struct {
	modules     [][]bool
	most, least int
	dot         float64
}

// readCode fits a payload to a sheet, or says that its modules would be too fine.
func readCode(s Sheet, payload string) (code, error) {
	modules, _, _, bad := calc.QR(payload)
	if bad != nil {
		return code{}, bad
	}
	room := min(s.Width*0.5, s.Height) / float64(len(modules)+2*quiet)
	c := code{modules: modules, most: int(math.Floor(min(room, mostModule) / s.Dot)), least: int(math.Ceil(leastModule/s.Dot - 1e-9)), dot: s.Dot}
	if c.most < c.least {
		return code{}, fmt.Errorf("the label address makes a code of %d modules, too fine for %s: use a shorter address or a larger sheet", len(modules), s.Says)
	}
	return c, nil
}

// side is how wide the code is with its quiet zone, mm.
func (c code) side(dots int) float64 { return float64((len(c.modules)+2*quiet)*dots) * c.dot }

// draw puts the code, quiet zone included, with its upper left corner at x, y. The corner is moved to the printer's grid,
// or modules of whole dots would be of no use.
func (c code) draw(doc *fpdf.Fpdf, dots int, x, y float64) {
	module := float64(dots) * c.dot
	left, top := snap(x, c.dot)+quiet*module, snap(y, c.dot)+quiet*module
	for row, line := range c.modules {
		for col := 0; col < len(line); {
			end := col
			for end < len(line) && line[end] {
				end++
			}
			if end > col {
				doc.Rect(left+float64(col)*module, top+float64(row)*module, float64(end-col)*module, module, "F")
			}
			col = end + 1
		}
	}
}

func snap(v, dot float64) float64 { return math.Floor(v/dot+1e-9) * dot }
