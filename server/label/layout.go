package label

import (
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

const (
	// LeastText is the smallest size of running words, points. Its lower-case letters are 0.83 mm tall: the law of the
	// EU and the UK asks for legible and names no height for ingredients, that of the US for 1/32 in (0.79 mm) on
	// labels below 12 sq in, as all of these sheets are (21 CFR 701.3, R~).
	LeastText = 4.5
	// inset keeps the code from a label's edge beside its own quiet zone, mm.
	inset = 0.6
	// elsewhere stands where the list has no room.
	elsewhere = "Ingredients: see the code or the stall card."
	more      = "More cautions: see the code."
)

// choice is how a label was made to fit: how much of it stands there, at which size, and how large its code is.
type choice struct {
	level int
	size  float64
	dots  int
}

// The levels of what a label says, the fullest first.
const (
	everything = iota
	firstCaution
	withoutList
	leastWords
	levels
)

// layOut finds the fullest label that fits, of those the one with the largest words, of those the one with the largest
// code. first is tried before all others: jars of one batch shall look alike.
func layOut(doc *fpdf.Fpdf, s Sheet, l Label, c code, first *choice) (choice, []run, error) {
	if first != nil {
		if runs, ok := try(doc, s, l, c, *first); ok {
			return *first, runs, nil
		}
	}
	for level := everything; level < levels; level++ {
		for size := mostText(s); size >= LeastText; size -= 0.5 {
			for dots := c.most; dots >= c.least; dots-- {
				at := choice{level, size, dots}
				if runs, ok := try(doc, s, l, c, at); ok {
					return at, runs, nil
				}
			}
		}
	}
	return choice{}, nil, fmt.Errorf("the label of %s does not fit on %s; choose a larger sheet", l.Shown, s.Says)
}

// try lays out one label from 0, 0: the words beside the code, and under both a strip as wide as the label.
func try(doc *fpdf.Fpdf, s Sheet, l Label, c code, at choice) ([]run, bool) {
	side := c.side(at.dots)
	scale := min(1.6, s.Height/38.1)
	beside := &column{doc: doc, x: margin, y: margin, w: s.Width - side - 2*margin, bottom: s.Height - margin}
	beside.name(l.Name, scale)
	if l.Mark != "" {
		beside.fit(l.Mark, "B", 8.5*scale, 6.5, 2)
	}
	if l.NetMG > 0 {
		beside.net(l.NetMG)
	}
	beside.fit(l.Shown, "B", 9.5*scale, 7, 1)
	beside.batch("batch "+l.Batch, l.Made, scale)
	beside.whole(l.BestBefore, "", 6*scale)
	strip := &column{doc: doc, x: margin, y: max(beside.y, inset+side), w: s.Width - 2*margin, bottom: beside.bottom}
	switch {
	case l.Ingredients == "":
	case at.level < withoutList:
		strip.whole("Ingredients: "+l.Ingredients, "", at.size)
	default:
		strip.whole(elsewhere, "", at.size)
	}
	if len(l.Cautions) > 0 {
		says := l.Cautions[0]
		if at.level == everything || at.level == withoutList {
			says = joined(l.Cautions)
		} else if len(l.Cautions) > 1 {
			says += " " + more
		}
		strip.whole(says, "", at.size)
	}
	strip.whole(l.Person, "", at.size)
	return append(beside.runs, strip.runs...), beside.fits() && strip.fits()
}

func joined(says []string) string {
	out := ""
	for i, s := range says {
		if i > 0 {
			out += " "
		}
		out += s
	}
	return out
}

// mostText is the largest size of running words on a sheet, points: larger labels are read from further off.
func mostText(s Sheet) float64 {
	if s.Height > 50 {
		return 9
	}
	return 7
}
